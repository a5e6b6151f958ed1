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
    uint64_t *touched;   /* [n_reg] groups a register depends on */
    double *base, *again, *other; /* [n_reg*BLOCK], [n_reg*BLOCK], [n_in*BLOCK] (set B) */
    const double **reg;  /* [n_reg] */
    double sum[ST_MAX_GROUPS][NWATCH];
};

static double *column(double *room, int i)
{
    return room + (size_t)i*BLOCK;
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
        w->reg[r] = column(w->base, r);
    for (int i = 0; i < t->n_in; i++)
        if (w->need[t->column_reg[i]]) {
            st_column_draw(&t->column[i], seed, first, BLOCK, column(w->base, t->column_reg[i]));
            st_column_draw(&t->column[i], seed, FAR + first, BLOCK, column(w->other, i));
        }
    for (int i = 0; i < t->n_op; i++)
        if (w->need[t->op[i].dst])
            (void)st_op_run(&t->op[i], t->arg, w->reg, column(w->base, t->op[i].dst), BLOCK);
}

static void run_group(struct work *w, int group)
{
    const struct st_tape *t = &w->p->tape;
    const uint64_t bit = (uint64_t)1 << group;

    for (int i = 0; i < t->n_in; i++)
        if (t->column[i].group == group)
            w->reg[t->column_reg[i]] = column(w->other, i);
    for (int i = 0; i < t->n_op; i++) {
        const int dst = t->op[i].dst;
        if (!w->need[dst] || !(w->touched[dst] & bit))
            continue;
        (void)st_op_run(&t->op[i], t->arg, w->reg, column(w->again, dst), BLOCK);
        w->reg[dst] = column(w->again, dst);
    }
    for (int f = 0; f < NWATCH; f++) {
        const int r = w->p->figure[WATCH[f]];
        const double *a = column(w->base, r), *ab = w->reg[r];
        double s = 0.0;
        for (int i = 0; i < BLOCK; i++)
            s += (a[i] - ab[i])*(a[i] - ab[i]);
        w->sum[group][f] += s;
    }
    for (int r = 0; r < t->n_reg; r++)
        w->reg[r] = column(w->base, r);
}

static bool is_used(const struct work *w, int group)
{
    const struct st_tape *t = &w->p->tape;
    for (int i = 0; i < t->n_in; i++)
        if (t->column[i].group == group && w->need[t->column_reg[i]])
            return true;
    return false;
}

static struct st_effect effect_of(const struct work *w, int group, const double variance[3], const struct st_foretold *f)
{
    const struct st_group *g = &w->p->group[group];
    struct st_effect e = { .cause = g->cause, .tool = g->tool, .step = g->step, .line = g->line };
    st_say(e.what, sizeof e.what, g->what, NULL, NULL);
    for (int i = 0; i < NWATCH; i++) {
        const double S = variance[i] > 0.0 ? w->sum[group][i]/(2.0*BASE*variance[i]) : 0.0;
        const struct st_interval *v = &f->fig[WATCH[i]];
        e.total[i] = fmin(S, 1.0);
        e.half[i] = 0.5*(v->high - v->low);
        e.half_without[i] = e.half[i]*sqrt(1.0 - e.total[i]);
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
    memmove(&out->effect[at + 1], &out->effect[at], (size_t)(out->n_effect - 1 - at)*sizeof *e);
    out->effect[at] = *e;
}

static bool allocate(struct work *w)
{
    const struct st_tape *t = &w->p->tape;
    const size_t n = (size_t)t->n_reg;
    w->need = calloc(n, sizeof *w->need);
    w->touched = calloc(n, sizeof *w->touched);
    w->reg = calloc(n, sizeof *w->reg);
    w->base = malloc(n*BLOCK*sizeof *w->base);
    w->again = malloc(n*BLOCK*sizeof *w->again);
    w->other = malloc(((size_t)t->n_in + 1)*BLOCK*sizeof *w->other);
    return w->need && w->touched && w->reg && w->base && w->again && w->other;
}

static void release(struct work *w)
{
    free(w->need);
    free(w->touched);
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
                column(w->base, r)[i] = t->nominal[r];
}

bool st_effects_find(const struct st_plan *p, uint64_t seed, const double variance[3], struct st_foretold *out)
{
    struct work w = { .p = p };
    int result[NWATCH];
    if (!allocate(&w)) {
        release(&w);
        return false;
    }
    for (int f = 0; f < NWATCH; f++)
        result[f] = p->figure[WATCH[f]];
    st_tape_needs(&p->tape, result, NWATCH, w.need);
    find_touched(&w);
    fill_constants(&w);
    for (uint64_t first = 0; first < BASE; first += BLOCK) {
        run_base(&w, seed, first);
        for (int g = 0; g < p->n_group; g++)
            if (is_used(&w, g))
                run_group(&w, g);
    }
    for (int g = 0; g < p->n_group; g++)
        if (is_used(&w, g)) {
            const struct st_effect e = effect_of(&w, g, variance, out);
            put_effect(out, &e);
        }
    release(&w);
    return true;
}
