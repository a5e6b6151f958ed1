#include "try_changes.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "figure_words.h"
#include "try_inside.h"

/* What the changes do: each by itself, and all together. */

enum { MOST_RUNS = 60 };

static bool nominal(const struct st_recipe *r, double y[ST_NFIG], struct st_problem *problem)
{
    struct st_foretold f = { 0 };
    const struct st_options o = { .seed = 1 };
    struct st_plan *p = st_plan_create(r, problem);
    if (!p)
        return false;
    const bool run = st_plan_run(p, &o, &f) >= 0;
    for (int i = 0; run && i < ST_NFIG; i++)
        y[i] = f.fig[i].known ? f.fig[i].value : (double)NAN;
    if (!run)
        *problem = (struct st_problem){ .what = "no figures for this recipe",
                                        .why = "it lies outside what the rules know",
                                        .try_ = "look at what foresee says of it" };
    st_foretold_done(&f);
    st_plan_free(p);
    return run;
}

/* ---- one change ---- */

static void say_does(const struct st_try_changes *c, struct st_try_change *x, enum st_measures units)
{
    size_t n = 0;
    x->does[0] = '\0';
    for (int k = 0; k < ST_TRY_NTOLD; k++) {
        char part[120];
        const enum st_figure of = st_try_told[k].of;
        if (st_try_moves(c, k, c->before[of], x->y[of], units, part, sizeof part) && n < sizeof x->does)
            n += (size_t)snprintf(x->does + n, sizeof x->does - n, "%s%s", n ? ", " : "", part);
    }
    if (n)
        return;
    const bool pace = x->what == ST_TRY_CUT || x->what == ST_TRY_TIME || x->what == ST_TRY_TEMPERATURE;
    snprintf(x->does, sizeof x->does, "%s",
             pace ? "no figure moves, but what is drawn out of the pieces may" : "no figure moves");
}

static double weigh(const struct st_try_changes *c, const double y[ST_NFIG])
{
    double most = 0.0;
    for (int k = 0; k < ST_TRY_NTOLD; k++) {
        const struct st_try_told *t = &st_try_told[k];
        const double was = c->before[t->of], is = y[t->of];
        const double by = fabs(is - was) / (t->share ? t->much * fmax(fabs(was), 1e-9) : t->much);
        most = by > most ? by : most; /* never so for what is not a number */
    }
    return most;
}

static void run_alone(struct st_try_changes *c, int k, enum st_measures units, bool *take)
{
    struct st_try_change *x = &c->change[k];
    struct st_arena arena = { 0 };
    struct st_problem problem = { .what = "" };
    memset(take, 0, (size_t)c->n * sizeof *take);
    take[k] = true;
    const struct st_recipe *r = st_try_apply(c, take, &arena);
    if (nominal(r, x->y, &problem)) {
        x->alone = ST_TRY_RUN;
        x->weight = weigh(c, x->y);
        say_does(c, x, units);
    } else {
        x->alone = ST_TRY_REFUSED;
        x->weight = 1e9; /* what cannot be told stands first */
        snprintf(x->does, sizeof x->does, "by itself it cannot be made (%.120s: %.120s)", problem.what, problem.why);
    }
    st_arena_done(&arena);
}

/* Changes of what the steps are run once; the others of them hang on the first. */
static void run_each(struct st_try_changes *c, enum st_measures units)
{
    bool *take = calloc((size_t)c->n + 1, sizeof *take);
    int runs = 0;
    const struct st_try_change *whole = NULL;
    for (int i = 0; take && i < c->n; i++) {
        struct st_try_change *x = &c->change[i];
        if (st_try_is_wording(x->what))
            snprintf(x->does, sizeof x->does, "only said otherwise");
        else if (x->whole && whole) {
            x->alone = ST_TRY_TOGETHER;
            x->weight = whole->weight;
            snprintf(x->does, sizeof x->does, "reckoned together with the first of these");
        } else if (runs++ < MOST_RUNS) {
            run_alone(c, i, units, take);
            whole = x->whole ? x : whole;
        } else
            snprintf(x->does, sizeof x->does, "not reckoned by itself: there are too many changes");
    }
    free(take);
}

static int by_weight(const void *p, const void *q)
{
    const struct st_try_change *x = p, *y = q;
    const bool say_x = st_try_is_wording(x->what), say_y = st_try_is_wording(y->what);
    if (say_x != say_y)
        return say_x ? 1 : -1;
    if (x->weight < y->weight || x->weight > y->weight)
        return x->weight > y->weight ? -1 : 1;
    if (x->whole != y->whole)
        return x->whole ? -1 : 1;
    if ((x->alone == ST_TRY_TOGETHER) != (y->alone == ST_TRY_TOGETHER))
        return x->alone == ST_TRY_TOGETHER ? 1 : -1;
    if (x->what != y->what)
        return x->what < y->what ? -1 : 1;
    const int side = x->step[1] >= 0 && y->step[1] >= 0;
    return x->step[side] != y->step[side] ? x->step[side] - y->step[side] : x->line[side] - y->line[side];
}

/* ---- all together ---- */

static struct st_interval figure_of(const struct st_foretold *f, const double y[ST_NFIG], enum st_figure k)
{
    if (f)
        return f->fig[k];
    return (struct st_interval){ y[k], y[k], y[k], ST_OK, !isnan(y[k]) };
}

static struct st_interval nominally(const struct st_interval *a, const struct st_interval *b)
{
    const double by = b->value - a->value;
    return (struct st_interval){ by, by, by, st_status_worse(a->status, b->status), a->known && b->known };
}

/* What all do together; both recipes give figures. */
static void together(struct st_try_changes *c, const struct st_foretold *fa, const struct st_foretold *fb,
                     uint64_t seed, enum st_measures units, const double after[ST_NFIG])
{
    struct st_interval by[ST_NFIG];
    const bool drawn = fa && fb && fa->draws > 1 && st_try_differ(c, seed, (size_t)fa->draws, by);
    for (int k = 0; k < ST_TRY_NTOLD; k++) {
        const enum st_figure of = st_try_told[k].of;
        struct st_try_figure *g = &c->figure[c->n_figure];
        g->is[0] = figure_of(fa, c->before, of);
        g->is[1] = figure_of(fb, after, of);
        g->by = drawn ? by[of] : nominally(&g->is[0], &g->is[1]);
        if (st_try_figure(c, k, units, g))
            c->n_figure++;
    }
}

void st_try_changes(const struct st_recipe *a, const struct st_recipe *b, const struct st_foretold *fa,
                    const struct st_foretold *fb, uint64_t seed, enum st_measures units, struct st_try_changes *c)
{
    double after[ST_NFIG];
    st_try_find(a, b, c);
    for (int i = 0; i < ST_NFIG; i++)
        c->before[i] = after[i] = (double)NAN;
    if (c->n == c->n_wording) {
        run_each(c, units);
        return;
    }
    if (nominal(a, c->before, &c->why))
        run_each(c, units);
    qsort(c->change, (size_t)c->n, sizeof *c->change, by_weight);
    if (!*c->why.what && nominal(b, after, &c->why))
        together(c, fa, fb, seed, units, after);
}

static void capital(struct st_buf *out, const char *text)
{
    const char first = *text >= 'a' && *text <= 'z' ? (char)(*text - 'a' + 'A') : *text;
    if (*text)
        st_buf_printf(out, "%c%s", first, text + 1);
}

void st_try_changes_print(const struct st_try_changes *c, struct st_buf *out)
{
    if (c->n == 0) {
        st_buf_add(out, "Nothing changed.\n");
        return;
    }
    for (int i = 0; i < c->n; i++) {
        const struct st_try_change *x = &c->change[i];
        if (st_try_said_before(c, i))
            continue;
        capital(out, x->text);
        st_buf_printf(out, "%s%s.\n", *x->does ? ": " : "", x->does);
    }
    if (*c->why.what)
        st_buf_printf(out, "What it does cannot be told: %s: %s; %s.\n", c->why.what, c->why.why, c->why.try_);
    else if (c->n == c->n_wording)
        st_buf_add(out, "What is done is the same.\n");
    else if (c->n_figure == 0)
        st_buf_add(out, "Together: no figure moves.\n");
    for (int i = 0; i < c->n_figure; i++) {
        st_buf_add(out, i ? "" : "Together: ");
        if (i)
            capital(out, c->figure[i].text);
        else
            st_buf_add(out, c->figure[i].text);
        st_buf_add(out, ".\n");
    }
}
