#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "take_whole.h"

/* ---- what was answered ---- */

const char *st_take_id(struct st_arena *a, int line, enum st_take_kind kind, int nth)
{
    if (kind == ST_ASK_MEASURES)
        return "measures";
    return nth > 1 ? st_arena_printf(a, "l%d.%s.%d", line, st_take_kind_name(kind), nth)
                   : st_arena_printf(a, "l%d.%s", line, st_take_kind_name(kind));
}

const char *st_take_answer_to(const struct st_take_given *g, const char *id)
{
    for (int i = g ? g->n_answer - 1 : -1; i >= 0; i--)
        if (strcasecmp(g->answer[i].id, id) == 0)
            return g->answer[i].value;
    return NULL;
}

/* Letters and figures alone count: "40" chooses "40 %". */
static size_t bare(const char *text, char *out, size_t size)
{
    size_t n = 0;
    for (; *text && n + 1 < size; text++)
        if (isalnum((unsigned char)*text) || (unsigned char)*text >= 0x80 || *text == '.' || *text == ',')
            out[n++] = (char)tolower((unsigned char)*text);
    out[n] = '\0';
    return n;
}

int st_take_option(const struct st_take_ask *ask, const char *value)
{
    char wish[ST_TAKE_TEXT], label[64];
    if (bare(value, wish, sizeof wish) == 0)
        return -1;
    for (int i = 0; i < ask->n_option; i++)
        if (bare(ask->option[i].label, label, sizeof label) && strcmp(label, wish) == 0)
            return i;
    return -1;
}

/* The item said again with the maker's words in the place of %s. */
static bool own_words(const struct st_take_ask *ask, const char *value, const char *after, char out[ST_TAKE_TEXT])
{
    const char *hole = strstr(ask->with, "%s");
    if (!hole || strlen(value) > 60)
        return false;
    int n = (int)strcspn(value, "\n");
    while (n && (value[n - 1] == ' ' || (value[n - 1] == '%' && strchr(hole + 2, '%'))))
        n--; /* the sign stands in the sentence already */
    const int wrote =
        snprintf(out, ST_TAKE_TEXT, "%.*s%.*s%s%s", (int)(hole - ask->with), ask->with, n, value, after, hole + 2);
    return n > 0 && wrote > 0 && wrote < ST_TAKE_TEXT;
}

static bool parses(const struct st_taking *t, const char *as, struct st_line *line)
{
    struct st_problem p;
    return *as && st_line_parse(as, t->measures, t->catalogue, line, &p) == 0;
}

/* ---- into the item ---- */

/* The item as it is after the answer; the questions that are still open are those of the new words. */
static void say_again(struct st_taking *t, struct st_take_item *item, enum st_take_kind kind, const char *as)
{
    struct st_take_item again[ST_TAKE_ITEMS];
    struct st_take_context context = { .measures = t->measures };
    const struct st_take_item was = *item;
    int n = 0;

    memset(again, 0, sizeof again);
    (void)st_take_line(as, strlen(as), t->catalogue, &context, again);
    (void)snprintf(item->as, sizeof item->as, "%s", as);
    (void)parses(t, item->as, &item->line);
    item->sure = ST_LIKELY;
    (void)snprintf(item->because, sizeof item->because, "as you answered");
    for (int i = 0; i < was.n_ask; i++) {
        if (was.ask[i].kind == kind)
            continue;
        for (int k = 0; k < again[0].n_ask; k++)
            if (again[0].ask[k].kind == was.ask[i].kind && n < ST_TAKE_ASKS)
                item->ask[n++] = again[0].ask[k];
    }
    item->n_ask = n;
}

static bool try_answer(struct st_taking *t, struct st_take_item *item, const struct st_take_ask *ask, const char *value)
{
    static const char *const AFTER[] = { "", " %" };
    char as[ST_TAKE_TEXT];
    struct st_line line;
    const int k = st_take_option(ask, value);
    const enum st_take_kind kind = ask->kind;

    if (k >= 0 && parses(t, ask->option[k].as, &line)) {
        (void)snprintf(as, sizeof as, "%s", ask->option[k].as);
        say_again(t, item, kind, as);
        return true;
    }
    for (size_t i = 0; i < (kind == ST_ASK_STRENGTH ? 2u : 1u); i++)
        if (own_words(ask, value, AFTER[i], as) && parses(t, as, &line)) {
            say_again(t, item, kind, as);
            return true;
        }
    return false;
}

/* How many rows before this one, of the same line, put the same question. */
static int nth_of(const struct st_taking *t, const struct st_taken *row, enum st_take_kind kind)
{
    int n = 1;
    for (const struct st_taken *r = t->row; r < row; r++)
        n += r->line == row->line && r->put[kind];
    return n;
}

void st_take_answer_row(struct st_taking *t, struct st_taken *row)
{
    struct st_take_item *item = row->item;
    item->line.text = item->as;
    for (int i = 0; i < item->n_ask; i++)
        row->put[item->ask[i].kind] = true;
    for (int kind = 0; kind < ST_NASK; kind++) {
        if (!row->put[kind])
            continue;
        row->id[kind] =
            st_take_id(t->arena, row->line, (enum st_take_kind)kind, nth_of(t, row, (enum st_take_kind)kind));
        const char *value = st_take_answer_to(t->given, row->id[kind]);
        int k = 0;
        while (k < item->n_ask && item->ask[k].kind != (enum st_take_kind)kind)
            k++;
        if (!value || k == item->n_ask || kind == ST_ASK_MEASURES)
            continue;
        row->asked[kind] = st_arena_alloc(t->arena, sizeof *row->asked[kind]);
        *row->asked[kind] = item->ask[k];
        if (try_answer(t, item, row->asked[kind], value))
            row->answered[kind] = value;
        else
            (void)snprintf(item->because, sizeof item->because, "the answer \"%.40s\" could not be read here", value);
    }
    item->line.text = item->as;
}
