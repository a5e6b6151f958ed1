#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "quantity.h"
#include "take_whole.h"

/* Things whose amount is not told, or not in its place. */

static bool read_one(struct st_parting *p, const char *text, struct st_take_item *out)
{
    struct st_take_item one[ST_TAKE_ITEMS];
    struct st_take_context context = p->context;

    memset(one, 0, sizeof one);
    context.in_method = false;
    if (st_take_line(text, strlen(text), p->t->catalogue, &context, one) != 1 || one[0].role != ST_TAKE_INGREDIENT ||
        !one[0].line.what || !*one[0].as)
        return false;
    *out = one[0];
    return true;
}

static bool names_sweet(const struct st_take_item item[], int n)
{
    for (int i = 0; i < n; i++)
        if (item[i].role == ST_TAKE_INGREDIENT && item[i].line.what && item[i].line.what->kind == ST_KIND_SUGAR)
            return true;
    return false;
}

int st_take_unmeasured(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    static const char *const VERB[] = { "shake in ", "sprinkle in ", "sprinkle over ",
                                        "strew in ", "stir in ",     "sprinkle with " };
    const char *bare = st_take_bare(sentence);

    if (n >= ST_TAKE_ITEMS || (p->goods > 0 && !p->story) || names_sweet(item, n))
        return n;
    for (size_t i = 0; i < sizeof VERB / sizeof VERB[0]; i++) {
        if (strncasecmp(bare, VERB[i], strlen(VERB[i])) != 0)
            continue;
        const char *name = bare + strlen(VERB[i]), *until = strstr(name, " until ");
        size_t k = strcspn(name, ".,;(");
        k = until && (size_t)(until - name) < k ? (size_t)(until - name) : k;
        const char *said = st_arena_printf(p->t->arena, "some %.*s", (int)k, name);
        if (k > 40 || !read_one(p, said, &item[n]))
            return n;
        item[n].at = (size_t)(name - sentence);
        item[n].n = k;
        item[n].sure = ST_GUESS;
        (void)snprintf(item[n].because, sizeof item[n].because, "no amount is written");
        return n + 1;
    }
    return n;
}

/* The first weight or volume in a text, as it is written; 0 bytes when there is none. */
static size_t amount_at(const struct st_taking *t, const char *text, size_t *n)
{
    struct st_problem p;
    struct st_amount a;
    for (size_t i = 0; text[i]; i++)
        if (st_take_is_word_byte(text[i]) && (i == 0 || !st_take_is_word_byte(text[i - 1])) &&
            st_quantity_parse(text + i, strlen(text + i), t->measures, &a, n, &p) >= 0 &&
            (a.dim == ST_DIM_MASS || a.dim == ST_DIM_VOLUME))
            return i;
    *n = 0;
    return 0;
}

int st_take_hearsay(struct st_parting *p, const char *sentence, struct st_take_item item[], int n)
{
    const char *bare = st_take_bare(sentence), *colon = strchr(bare, ':');
    size_t size = 0;

    if (n != 1 || item[0].role != ST_TAKE_NOTE || p->section == ST_SECTION_NOTES || !colon || colon == bare ||
        colon - bare > 30 || !st_catalogue_find(p->t->catalogue, bare, (size_t)(colon - bare)))
        return n;
    const size_t at = amount_at(p->t, colon + 1, &size);
    if (size == 0)
        return n;
    const char *said = st_arena_printf(p->t->arena, "%.*s %.*s", (int)size, colon + 1 + at, (int)(colon - bare), bare);
    struct st_take_item one;
    if (!read_one(p, said, &one))
        return n;
    item[0] = one;
    item[0].at = 0;
    item[0].n = strlen(sentence);
    item[0].sure = one.sure < ST_GUESS ? ST_GUESS : one.sure;
    if (!*item[0].because || one.sure < ST_GUESS)
        (void)snprintf(item[0].because, sizeof item[0].because, "the amount stands in a remark");
    return 1;
}
