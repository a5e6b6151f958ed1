#include "yaml_take.h"

#include <stdio.h>
#include <string.h>

#include "near.h"
#include "quantity.h"

/* A piece of the line. */
struct words {
    const char *text;
    size_t size;
};

/* ---- small things on words ---- */

static char folded(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c == '-' || c == '_' || c == '\n' || c == '\t' ? ' ' : c;
}

static bool same(struct words w, const char *text, size_t size)
{
    if (w.size != size)
        return false;
    for (size_t i = 0; i < size; i++)
        if (folded(w.text[i]) != folded(text[i]))
            return false;
    return true;
}

static struct words trimmed(struct words w)
{
    while (w.size && folded(w.text[0]) == ' ')
        w.text++, w.size--;
    while (w.size && (folded(w.text[w.size - 1]) == ' ' || w.text[w.size - 1] == '.'))
        w.size--;
    return w;
}

static bool is_one_of(struct words w, const char *const list[])
{
    for (; *list; list++)
        if (same(w, *list, strlen(*list)))
            return true;
    return false;
}

/* Cut the last word off *w when it is in the list. */
static bool cut_last(struct words *w, const char *const list[])
{
    struct words last = *w;
    for (size_t i = w->size; i > 0; i--)
        if (folded(w->text[i - 1]) == ' ') {
            last = (struct words){ w->text + i, w->size - i };
            break;
        }
    if (!is_one_of(last, list))
        return false;
    *w = trimmed((struct words){ w->text, w->size - last.size });
    return true;
}

static struct words without_article(struct words w)
{
    w = trimmed(w);
    return w.size > 4 && same((struct words){ w.text, 4 }, "the ", 4)
               ? trimmed((struct words){ w.text + 4, w.size - 4 })
               : w;
}

/* ---- names of steps ---- */

int st_step_named(const struct st_recipe *recipe, const char *name, size_t size)
{
    const struct words w = trimmed((struct words){ name, size });
    for (int i = 0; w.size && i < recipe->n_step; i++)
        if (same(w, recipe->step[i].id, strlen(recipe->step[i].id)))
            return i;
    return -1;
}

/* "the syrup, cooled": the article and what stands behind a comma do not count. */
static int step_in(const struct st_recipe *recipe, struct words w)
{
    const char *comma = memchr(w.text, ',', w.size);
    if (comma)
        w.size = (size_t)(comma - w.text);
    const int i = st_step_named(recipe, w.text, w.size);
    const struct words bare = without_article(w);
    return i >= 0 ? i : st_step_named(recipe, bare.text, bare.size);
}

const char *st_step_hint(struct st_reader *r, int step, const char *name, size_t size)
{
    const char *best = NULL, *all = "";
    double most = 0.5;

    for (int i = 0; i < step; i++) {
        const char *id = r->recipe->step[i].id;
        const double like = st_near_word(name, size, id, strlen(id));
        if (like > most) {
            most = like;
            best = id;
        }
        if (strlen(all) < 120)
            all = st_arena_printf(r->report.arena, "%s%s`%s`", all, *all ? ", " : "", id);
    }
    if (best)
        return st_arena_printf(r->report.arena, "did you mean `%s`?", best);
    return *all ? st_arena_printf(r->report.arena, "the steps before this one are %s", all)
                : "no step comes before this one: write ingredients with their amounts";
}

/* ---- how much ---- */

static const char *const PART[] = { "fruit",   "fruits", "solids", "spice", "spices", "peel",    "peels",  "herbs",
                                    "kernels", "nuts",   "roots",  "seeds", "beans",  "berries", "leaves", NULL };
static const char *const DRAINED[] = { "drained", "strained", "spent", "used", "pressed", NULL };
static const char *const LIQUOR[] = { "liquor", "liquid", NULL };
static const char *const LINK[] = { "of", "the", "from", NULL };
static const char *const ALL[] = { "all", "everything", "rest", "whole", "what is left", NULL };

static const struct {
    const char *words;
    double share;
} SHARE[] = {
    { "half", 0.5 },        { "a half", 0.5 },        { "one half", 0.5 },        { "third", 1.0 / 3 },
    { "a third", 1.0 / 3 }, { "one third", 1.0 / 3 }, { "two thirds", 2.0 / 3 },  { "quarter", 0.25 },
    { "a quarter", 0.25 },  { "one quarter", 0.25 },  { "three quarters", 0.75 },
};

void st_take_all_of(struct st_line *out, int step)
{
    *out = (struct st_line){ .from_step = step, .part = ST_LIQUOR };
    out->amount.dim = ST_DIM_OPEN;
    out->amount.open = ST_OPEN_SOME;
}

static void set_share(struct st_amount *a, double value, double low, double high)
{
    *a = (struct st_amount){
        .dim = ST_DIM_PIECE, .value = value, .low = low, .high = high, .written = value, .fills = 1
    };
}

/* "half", "25 %", "1/3"; true when it is a share of 0..1. */
static bool read_share(struct words w, struct st_amount *a)
{
    struct st_span s;
    for (size_t i = 0; i < sizeof SHARE / sizeof SHARE[0]; i++)
        if (same(w, SHARE[i].words, strlen(SHARE[i].words))) {
            set_share(a, SHARE[i].share, SHARE[i].share, SHARE[i].share);
            return true;
        }
    if (!st_span_read(w.text, w.size, &s) || !st_span_unit_is(&s, "%|percent|per cent") ||
        !(s.high <= 100 && s.low > 0))
        return false;
    set_share(a, s.value / 100, s.low / 100, s.high / 100);
    return true;
}

/* What stands before "of NAME": amount and part.  False when it is neither. */
static bool read_head(struct st_reader *r, struct words w, struct st_line *out)
{
    struct st_problem p;
    size_t used = 0;

    out->part = ST_LIQUOR;
    if (cut_last(&w, PART)) {
        out->part = ST_SPENT;
        while (cut_last(&w, DRAINED))
            continue;
    } else
        (void)cut_last(&w, LIQUOR);
    while (cut_last(&w, LINK))
        continue;
    w = without_article(w);
    if (w.size == 0 || is_one_of(w, ALL))
        return true; /* all of it is what out says already */
    if (read_share(w, &out->amount))
        return true;
    struct st_amount a;
    if (st_quantity_parse(w.text, w.size, r->recipe->measures, &a, &used, &p) != 0 ||
        trimmed((struct words){ w.text + used, w.size - used }).size || a.open != ST_CLOSED || a.make_up_to)
        return false;
    if (a.dim == ST_DIM_PIECE && a.value > 0 && a.value <= 1)
        set_share(&a, a.value, a.low, a.high);
    else if (a.dim != ST_DIM_MASS && a.dim != ST_DIM_VOLUME)
        return false;
    out->amount = a;
    return true;
}

/* ---- the line ---- */

static bool strains(enum st_do kind)
{
    return kind == ST_DO_STEEP || kind == ST_DO_SYRUP || kind == ST_DO_FILTER;
}

static enum st_take told(struct st_reader *r, const struct st_yaml *v, const char *why, const char *try_)
{
    st_report(&r->report, v->at, why, try_, "cannot take `%s`", st_report_clip(&r->report, v->text, v->size));
    return ST_TAKE_TOLD;
}

static enum st_take refuse_order(struct st_reader *r, const struct st_yaml *v, int step, int from, struct words name)
{
    if (st_catalogue_find(r->catalogue, name.text, name.size))
        return ST_TAKE_NO; /* "200 g of sugar" in a step that is called sugar */
    return told(r, v, from == step ? "a step cannot take from itself" : "that step comes later",
                from == step ? "name the step it takes from" : "move that step up, above this one");
}

static enum st_take finish(struct st_reader *r, const struct st_yaml *v, int step, int from, struct words head,
                           struct words name, struct st_line *out)
{
    struct st_line line;
    if (from >= step)
        return refuse_order(r, v, step, from, name);
    st_take_all_of(&line, from);
    if (!read_head(r, head, &line))
        return told(r, v, "how much of that step is meant cannot be read",
                    "write for example `all of NAME`, `300 mL of NAME`, `half of NAME`, `fruit of NAME`");
    const enum st_do kind = r->recipe->step[from].kind;
    if (line.part == ST_SPENT && !strains(kind))
        return told(
            r, v,
            st_arena_printf(r->report.arena, "a step of the kind %s strains off no fruit or spice", st_do_name(kind)),
            "take it from the step in which the fruit was steeped");
    if (line.part == ST_SPENT && line.amount.dim == ST_DIM_VOLUME)
        return told(r, v, "drained fruit has no sure volume", "write its weight, a share, or all of it");
    *out = line;
    return ST_TAKE_DONE;
}

/* Where " of " or " from " begins at or after i; size when nowhere. */
static size_t next_link(struct words w, size_t i, size_t *length)
{
    for (; i < w.size; i++) {
        const struct words rest = { w.text + i, w.size - i };
        *length = rest.size > 4 && same((struct words){ rest.text, 4 }, " of ", 4)     ? 4
                  : rest.size > 6 && same((struct words){ rest.text, 6 }, " from ", 6) ? 6
                                                                                       : 0;
        if (*length)
            return i;
    }
    return w.size;
}

/* "300 mL syrup": the link word left out. */
static enum st_take without_link(struct st_reader *r, const struct st_yaml *v, int step, struct words w,
                                 struct st_line *out)
{
    struct st_problem p;
    struct st_amount a;
    size_t used = 0;
    int from = step_in(r->recipe, w);

    if (from >= 0) /* the name alone */
        return finish(r, v, step, from, (struct words){ w.text, 0 }, w, out);
    if (st_quantity_parse(w.text, w.size, r->recipe->measures, &a, &used, &p) != 0 || used > w.size)
        return ST_TAKE_NO;
    const struct words name = trimmed((struct words){ w.text + used, w.size - used });
    from = step_in(r->recipe, name);
    if (from < 0 || from >= step)
        return ST_TAKE_NO;
    if (st_catalogue_find(r->catalogue, name.text, name.size))
        return told(r, v, "both a step and an ingredient have this name",
                    "write `... of NAME` for the step, or give the step another name");
    return finish(r, v, step, from, (struct words){ w.text, used }, name, out);
}

/* Reads like a take although no step has the name: "all of jr", "300 mL from jr". */
static bool reads_like_take(struct st_reader *r, struct words head, size_t length)
{
    struct st_line line;
    st_take_all_of(&line, -1);
    if (!read_head(r, trimmed(head), &line))
        return false;
    return length == 6 || line.part == ST_SPENT || line.amount.dim == ST_DIM_OPEN || line.amount.dim == ST_DIM_PIECE;
}

enum st_take st_take_read(struct st_reader *r, const struct st_yaml *v, int step, struct st_line *out)
{
    const struct words w = trimmed((struct words){ v->text, v->size });
    bool like = false;

    for (size_t length, i = next_link(w, 0, &length); i < w.size; i = next_link(w, i + 1, &length)) {
        const struct words head = { w.text, i }, name = { w.text + i + length, w.size - i - length };
        const int from = step_in(r->recipe, name);
        if (from >= 0)
            return finish(r, v, step, from, trimmed(head), trimmed(name), out);
        like = like || reads_like_take(r, head, length);
    }
    const enum st_take bare = without_link(r, v, step, w, out);
    return bare == ST_TAKE_NO && like ? ST_TAKE_UNKNOWN : bare;
}

void st_take_unknown(struct st_reader *r, const struct st_yaml *v, int step)
{
    const struct words w = trimmed((struct words){ v->text, v->size });
    struct words name = w;
    size_t at = 0;

    for (size_t length, i = next_link(w, 0, &length); i < w.size; i = next_link(w, i + 1, &length)) {
        at = i + length;
        name = without_article((struct words){ w.text + at, w.size - at });
    }
    st_report(&r->report, st_yaml_place(v, (size_t)(name.text - v->text)), "a line takes from a step by its name",
              st_step_hint(r, step, name.text, name.size), "no step is called `%s`",
              st_report_clip(&r->report, name.text, name.size));
}
