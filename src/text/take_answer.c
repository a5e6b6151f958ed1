#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "quantity.h"
#include "take_per.h"
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
    const char *behind = hole + 2;
    int n = (int)strcspn(value, "\n");
    while (n && (value[n - 1] == ' ' || (value[n - 1] == '%' && strchr(behind, '%'))))
        n--; /* the sign stands in the sentence already */
    if (n > 5 && strncasecmp(value + n - 5, "proof", 5) == 0 && strncmp(behind, " %", 2) == 0)
        behind += 2; /* "80 proof" has a unit of its own */
    const int wrote =
        snprintf(out, ST_TAKE_TEXT, "%.*s%.*s%s%s", (int)(hole - ask->with), ask->with, n, value, after, behind);
    return n > 0 && wrote > 0 && wrote < ST_TAKE_TEXT;
}

static bool parses(const struct st_taking *t, const char *as, struct st_line *line)
{
    struct st_problem p;
    return *as && st_line_parse(as, t->measures, t->catalogue, line, &p) == 0;
}

/* ---- into the item ---- */

/* What turned `was` into `now`, done to another text that holds the same words: all three share what stands before and
 * behind. */
static bool change_alike(const char *was, const char *now, char text[ST_TAKE_TEXT])
{
    size_t head = 0, tail = 0;
    const size_t n_was = strlen(was), n_now = strlen(now);
    while (was[head] && was[head] == now[head])
        head++;
    while (tail < n_was - head && tail < n_now - head && was[n_was - 1 - tail] == now[n_now - 1 - tail])
        tail++;
    char gone[ST_TAKE_TEXT], out[ST_TAKE_TEXT];
    (void)snprintf(gone, sizeof gone, "%.*s", (int)(n_was - head - tail), was + head);
    char *at = *gone ? strstr(text, gone) : NULL;
    if (!at || strstr(at + 1, gone))
        return false;
    const int wrote = snprintf(out, sizeof out, "%.*s%.*s%s", (int)(at - text), text, (int)(n_now - head - tail),
                               now + head, at + strlen(gone));
    if (wrote < 0 || wrote >= ST_TAKE_TEXT)
        return false;
    (void)snprintf(text, ST_TAKE_TEXT, "%s", out);
    return true;
}

/* Another question of the item, after one was answered: put again by the new words, or the old one with the answer in
 * its options ("how large" and "how strong" of one bottle).  1 when it is still there. */
static int still_asked(const struct st_taking *t, const struct st_take_item *was, const char *now,
                       const struct st_take_ask *old, const struct st_take_ask *again, int n_again, bool which,
                       struct st_take_ask *out)
{
    for (int k = 0; k < n_again; k++)
        if (again[k].kind == old->kind) {
            *out = again[k];
            return 1;
        }
    struct st_line line;
    if (which && old->kind == ST_ASK_STRENGTH)
        return 0; /* it was the other's */
    *out = *old;
    for (int i = 0; i < out->n_option; i++)
        if (!change_alike(was->as, now, out->option[i].as) || !parses(t, out->option[i].as, &line))
            return 0;
    if (*out->with && !change_alike(was->as, now, out->with))
        out->with[0] = '\0';
    return out->n_option > 0;
}

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
    for (int i = 0; i < was.n_ask; i++)
        if (was.ask[i].kind != kind && n < ST_TAKE_ASKS)
            n += still_asked(t, &was, item->as, &was.ask[i], again[0].ask, again[0].n_ask, kind == ST_ASK_WHICH,
                             &item->ask[n]);
    item->n_ask = n;
}

bool st_take_choose(struct st_taking *t, struct st_take_item *item, enum st_take_kind kind, const char *label,
                    const char *because)
{
    for (int i = 0; i < item->n_ask; i++) {
        const struct st_take_ask ask = item->ask[i];
        const int k = ask.kind == kind ? st_take_option(&ask, label) : -1;
        struct st_line line;
        if (k < 0 || !parses(t, ask.option[k].as, &line))
            continue;
        say_again(t, item, kind, ask.option[k].as);
        (void)snprintf(item->because, sizeof item->because, "%s", because);
        item->line.text = item->as;
        return true;
    }
    return false;
}

/* "don't know": the range that stands is left, and the question is put away. */
static bool is_not_known(const char *value)
{
    char words[32];
    (void)bare(value, words, sizeof words);
    return strcmp(words, "dontknow") == 0 || strcmp(words, "donotknow") == 0 || strcmp(words, "notknown") == 0 ||
           strcmp(words, "don\xe2\x80\x99tknow") == 0;
}

/* Why an answer cannot be: no spirit is weaker than nothing or stronger than all of it. */
static const char *cannot_be(enum st_take_kind kind, const char *value)
{
    char *rest;
    const double x = strtod(value, &rest);
    if (kind != ST_ASK_STRENGTH || rest == value || strstr(rest, "proof"))
        return NULL;
    return !(x > 0.0) ? "it is not above 0 %" : x > 100.0 ? "it is above the pure spirit, 100 %" : NULL;
}

void st_take_refuse(struct st_take_ask *ask, const char *value)
{
    const char *why = cannot_be(ask->kind, value);
    if (!why && ask->kind == ST_ASK_STRENGTH)
        why = "a number is needed, such as 40";
    const size_t n = strlen(ask->ask);
    (void)snprintf(ask->ask + n, sizeof ask->ask - n, " (\"%.12s\": %s)", value, why ? why : "could not be read");
    ask->refused = true;
}

/* "400 ml", of two mugs: both of them. */
static const char *all_of_them(struct st_taking *t, const struct st_take_ask *ask, const char *value)
{
    struct st_amount a;
    struct st_problem p;
    size_t used = 0, n = strcspn(value, "\n");
    while (n && value[n - 1] == ' ')
        n--;
    if (!(ask->times[1] > 0) || (ask->times[0] > 0.999 && ask->times[1] < 1.001) ||
        st_quantity_parse(value, n, t->measures, &a, &used, &p) != 0 || used < n || !(a.value > 0) ||
        (a.dim != ST_DIM_MASS && a.dim != ST_DIM_VOLUME))
        return value;
    const char *unit = a.dim == ST_DIM_MASS ? "g" : "mL";
    const double low = ask->times[0] * a.low, high = ask->times[1] * a.high;
    return low < 0.999 * high ? st_arena_printf(t->arena, "%.5g-%.5g %s", low, high, unit)
                              : st_arena_printf(t->arena, "%.6g %s", ask->times[1] * a.value, unit);
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
        if (own_words(ask, all_of_them(t, ask, value), AFTER[i], as) && parses(t, as, &line)) {
            say_again(t, item, kind, as);
            return true;
        }
    return false;
}

/* "250 g per litre" answers how much, too. */
static bool answer(struct st_taking *t, struct st_taken *row, enum st_take_kind kind, const char *value)
{
    struct st_take_per per = { .what = NULL };
    size_t at;
    const char *plain = kind == ST_ASK_AMOUNT ? st_take_per_said(t, value, &per, &at) : value;
    if (!try_answer(t, row->item, row->asked[kind], plain))
        return false;
    if (plain != value)
        row->per = per;
    return true;
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
        if (is_not_known(value)) {
            row->answered[kind] = value;
            for (; k + 1 < item->n_ask; k++)
                item->ask[k] = item->ask[k + 1];
            item->n_ask--;
        } else if (!cannot_be((enum st_take_kind)kind, value) && answer(t, row, (enum st_take_kind)kind, value))
            row->answered[kind] = value;
        else
            st_take_refuse(&item->ask[k], value);
    }
    item->line.text = item->as;
}
