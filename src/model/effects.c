#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan_inside.h"
#include "text.h"

/* Total effects after Jansen: two independent sets of draws A and B; for each group the results of A with that
 * group's inputs from B.  S_T = mean((y_A - y_AB)^2)/(2 var y).  Only what depends on the group is worked out again.
 * Source: [jansen1999] */

enum { BLOCK = ST_TAPE_BLOCK, BASE = 256, NWATCH = 3 };
static const enum st_figure WATCH[NWATCH] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_VOLUME };

/* Set B is far away in the same stream of numbers. */
static const uint64_t FAR = (uint64_t)1 << 40;

struct work {
    const struct st_plan *p;
    bool *need;
    uint64_t *touched;                     /* [n_reg] groups a register depends on */
    int *slot, n_slot;                     /* [n_reg] which column a needed register has */
    double *base, *again, *other;          /* [n_slot*BLOCK]: set A, what is worked out again, set B */
    const double **reg;                    /* [n_reg] */
    double sum[ST_MAX_GROUPS][NWATCH];     /* of (y_A - y_AB)^2 */
    double without[ST_MAX_GROUPS][NWATCH]; /* share of the variance that is left when the group is known exactly */
};

/* Groups below this total effect are not asked what knowing them would bring: next to nothing. */
static const double WORTH_ASKING = 0.01;

static double *column(const struct work *w, double *room, int reg)
{
    return room + (size_t)w->slot[reg] * BLOCK;
}

static void find_touched(struct work *w)
{
    const struct st_tape *t = &w->p->tape;
    for (int i = 0; i < t->n_in; i++)
        w->touched[t->column_reg[i]] = (uint64_t)1 << t->column[i].group;
    for (int i = 0; i < t->n_op; i++) {
        int in[ST_NCOMP];
        for (int k = st_op_reads(t, &t->op[i], in) - 1; k >= 0; k--)
            w->touched[t->op[i].dst] |= w->touched[in[k]];
    }
}

static void run_base(struct work *w, uint64_t seed, uint64_t first)
{
    const struct st_tape *t = &w->p->tape;
    for (int r = 0; r < t->n_reg; r++)
        w->reg[r] = column(w, w->base, r);
    for (int i = 0; i < t->n_in; i++)
        if (w->need[t->column_reg[i]]) {
            st_column_draw(&t->column[i], seed, first, BLOCK, column(w, w->base, t->column_reg[i]));
            st_column_draw(&t->column[i], seed, FAR + first, BLOCK, column(w, w->other, t->column_reg[i]));
        }
    for (int i = 0; i < t->n_op; i++)
        if (w->need[t->op[i].dst])
            (void)st_op_run(&t->op[i], t->arg, w->reg, column(w, w->base, t->op[i].dst), BLOCK);
}

/* Set A with one group's inputs from set B, or at their value; results stay in reg[] until restore(). */
static void run_group(struct work *w, int group, bool at_value)
{
    const struct st_tape *t = &w->p->tape;
    const uint64_t bit = (uint64_t)1 << group;

    for (int i = 0; i < t->n_in; i++) {
        if (t->column[i].group != group || !w->need[t->column_reg[i]])
            continue;
        double *x = at_value ? column(w, w->again, t->column_reg[i]) : column(w, w->other, t->column_reg[i]);
        for (int k = 0; at_value && k < BLOCK; k++)
            x[k] = t->column[i].value;
        w->reg[t->column_reg[i]] = x;
    }
    for (int i = 0; i < t->n_op; i++) {
        const int dst = t->op[i].dst;
        if (!w->need[dst] || !(w->touched[dst] & bit))
            continue;
        (void)st_op_run(&t->op[i], t->arg, w->reg, column(w, w->again, dst), BLOCK);
        w->reg[dst] = column(w, w->again, dst);
    }
}

static void restore(struct work *w)
{
    for (int r = 0; r < w->p->tape.n_reg; r++)
        w->reg[r] = column(w, w->base, r);
}

static void add_differences(struct work *w, int group)
{
    for (int f = 0; f < NWATCH; f++) {
        const int r = w->p->figure[WATCH[f]];
        const double *a = column(w, w->base, r), *ab = w->reg[r];
        double s = 0.0;
        for (int i = 0; i < BLOCK; i++)
            s += (a[i] - ab[i]) * (a[i] - ab[i]);
        w->sum[group][f] += s;
    }
}

static bool is_used(const struct work *w, int group)
{
    const struct st_tape *t = &w->p->tape;
    for (int i = 0; i < t->n_in; i++)
        if (t->column[i].group == group && w->need[t->column_reg[i]])
            return true;
    return false;
}

static struct st_effect effect_of(const struct work *w, int group, const struct st_foretold *f)
{
    const struct st_group *g = &w->p->group[group];
    struct st_effect e = { .cause = g->cause, .tool = g->tool, .step = g->step, .line = g->line };
    st_say(e.what, sizeof e.what, g->what, NULL, NULL);
    for (int i = 0; i < NWATCH; i++) {
        const struct st_interval *v = &f->fig[WATCH[i]];
        e.total[i] = w->sum[group][i];
        e.half[i] = 0.5 * (v->high - v->low);
        e.half_without[i] = e.half[i] * sqrt(fmin(w->without[group][i], 1.0));
    }
    return e;
}

/* By falling effect on strength and sugar; insertion keeps the best ST_MAX_EFFECTS. */
static void put_effect(struct st_foretold *out, const struct st_effect *e)
{
    const double key = e->total[0] + e->total[1];
    int at = out->n_effect;
    while (at > 0 && out->effect[at - 1].total[0] + out->effect[at - 1].total[1] < key)
        at--;
    if (at == ST_MAX_EFFECTS)
        return;
    if (out->n_effect < ST_MAX_EFFECTS)
        out->n_effect++;
    memmove(&out->effect[at + 1], &out->effect[at], (size_t)(out->n_effect - 1 - at) * sizeof *e);
    out->effect[at] = *e;
}

static bool allocate(struct work *w, const int result[NWATCH])
{
    const struct st_tape *t = &w->p->tape;
    const size_t n = (size_t)t->n_reg;
    w->need = calloc(n, sizeof *w->need);
    w->touched = calloc(n, sizeof *w->touched);
    w->slot = calloc(n, sizeof *w->slot);
    w->reg = calloc(n, sizeof *w->reg);
    if (!w->need || !w->touched || !w->slot || !w->reg)
        return false;
    st_tape_needs(t, result, NWATCH, w->need);
    for (int r = 0; r < t->n_reg; r++)
        if (w->need[r])
            w->slot[r] = w->n_slot++;
    const size_t room = (size_t)w->n_slot * BLOCK * sizeof *w->base;
    w->base = aligned_alloc(64, room);
    w->again = aligned_alloc(64, room);
    w->other = aligned_alloc(64, room);
    return w->base && w->again && w->other;
}

static void release(struct work *w)
{
    free(w->need);
    free(w->touched);
    free(w->slot);
    free(w->reg);
    free(w->base);
    free(w->again);
    free(w->other);
}

static void fill_constants(struct work *w)
{
    const struct st_tape *t = &w->p->tape;
    for (int r = 0; r < t->n_reg; r++)
        if (w->need[r] && t->kind[r] == ST_REG_CONSTANT)
            for (int i = 0; i < BLOCK; i++)
                column(w, w->base, r)[i] = t->nominal[r];
}

/* First pass: total effects of all groups. */
static void find_totals(struct work *w, uint64_t seed, const double variance[3])
{
    for (uint64_t first = 0; first < BASE; first += BLOCK) {
        run_base(w, seed, first);
        for (int g = 0; g < w->p->n_group; g++)
            if (is_used(w, g)) {
                run_group(w, g, false);
                add_differences(w, g);
                restore(w);
            }
    }
    for (int g = 0; g < w->p->n_group; g++)
        for (int f = 0; f < NWATCH; f++)
            w->sum[g][f] = variance[f] > 0.0 ? fmin(w->sum[g][f] / (2.0 * BASE * variance[f]), 1.0) : 0.0;
}

static double squares(const double *x, double about)
{
    double s = 0.0;
    for (int i = 0; i < BLOCK; i++)
        s += (x[i] - about) * (x[i] - about);
    return s;
}

/* Second pass: the variance that stays with the group at its value, on the same draws; about the nominal result, which
 * serves both. */
static void find_without(struct work *w, uint64_t seed)
{
    double all[NWATCH] = { 0 }, left[ST_MAX_GROUPS][NWATCH] = { { 0 } };
    for (uint64_t first = 0; first < BASE; first += BLOCK) {
        run_base(w, seed, first);
        for (int f = 0; f < NWATCH; f++)
            all[f] += squares(column(w, w->base, w->p->figure[WATCH[f]]), w->p->tape.nominal[w->p->figure[WATCH[f]]]);
        for (int g = 0; g < w->p->n_group; g++) {
            if (fmax(w->sum[g][0], fmax(w->sum[g][1], w->sum[g][2])) < WORTH_ASKING)
                continue;
            run_group(w, g, true);
            for (int f = 0; f < NWATCH; f++)
                left[g][f] += squares(w->reg[w->p->figure[WATCH[f]]], w->p->tape.nominal[w->p->figure[WATCH[f]]]);
            restore(w);
        }
    }
    for (int g = 0; g < w->p->n_group; g++)
        for (int f = 0; f < NWATCH; f++)
            w->without[g][f] = left[g][f] > 0.0 && all[f] > 0.0 ? left[g][f] / all[f] : 1.0 - w->sum[g][f];
}

bool st_effects_find(const struct st_plan *p, uint64_t seed, const double variance[3], struct st_foretold *out)
{
    struct work w = { .p = p };
    int result[NWATCH];
    for (int f = 0; f < NWATCH; f++)
        result[f] = p->figure[WATCH[f]];
    if (!allocate(&w, result)) {
        release(&w);
        return false;
    }
    find_touched(&w);
    fill_constants(&w);
    find_totals(&w, seed, variance);
    find_without(&w, seed);
    for (int g = 0; g < p->n_group; g++)
        if (is_used(&w, g)) {
            const struct st_effect e = effect_of(&w, g, out);
            put_effect(out, &e);
        }
    release(&w);
    return true;
}
