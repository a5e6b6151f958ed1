#include "rules_built.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "built_sheet.h"
#include "stone_words.h"

struct st_rule_books *st_rules_built(struct st_problem *problem)
{
    struct st_rule_text text[ST_NRULE_SHEET];
    for (int i = 0; i < ST_NRULE_SHEET; i++) {
        const struct st_embedded *e = st_built_sheet(st_rule_sheet_name((enum st_rule_sheet)i), problem);
        if (!e)
            return NULL;
        text[i] = (struct st_rule_text){ (const char *)e->bytes, e->size };
    }
    struct st_rule_books *b = st_rule_books_create(text, NULL, problem);
    if (b)
        b->stones = st_stones_said;
    return b;
}

struct st_homes *st_homes_built(struct st_problem *problem)
{
    const struct st_embedded *e = st_built_sheet("data/places.tsv", problem);
    return e ? st_homes_create((const char *)e->bytes, e->size, problem) : NULL;
}

bool st_home_is_place(const struct st_home *h)
{
    return strcmp(h->code, "health") != 0 && strcmp(h->code, "old") != 0;
}

const struct st_home *st_home_chosen(const struct st_homes *all, const char *words)
{
    const struct st_home *h = st_home_find(all, words);
    return h && st_home_is_place(h) ? h : NULL;
}

const char *st_homes_list(const struct st_homes *all, char *buf, size_t size)
{
    size_t used = 0;
    int last = -1;
    if (size)
        buf[0] = '\0';
    for (int i = 0; i < all->n; i++)
        last = st_home_is_place(&all->home[i]) ? i : last;
    for (int i = 0; i < all->n && used < size; i++) {
        if (!st_home_is_place(&all->home[i]))
            continue;
        const int w = snprintf(buf + used, size - used, "%s%s",
                               !used       ? ""
                               : i == last ? " or "
                                           : ", ",
                               all->home[i].code);
        used += w > 0 ? (size_t)w : 0;
    }
    return buf;
}
