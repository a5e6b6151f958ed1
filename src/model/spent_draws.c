#include <stdlib.h>

#include "plan_inside.h"

/* What there is of a step in every draw: of the tape only what leads there is run, block by block. */

enum { BLOCK = ST_TAPE_BLOCK };

struct room {
    bool *needed;       /* [n_reg] */
    const double **reg; /* [n_reg] to read; only where needed */
    double **out;
    double *store;
};

static void drop(struct room *w)
{
    free(w->needed);
    free(w->reg);
    free(w->out);
    free(w->store);
}

static void need_result(const struct st_step_account *a, enum st_drawn_of of, bool *needed)
{
    for (int c = 0; c < ST_NCOMP; c++)
        if (of == ST_DRAWN_SPENT_G || (of == ST_DRAWN_SPENT_ETHANOL_G && c == ST_ETHANOL))
            needed[a->spent[c]] = true;
    if (of == ST_DRAWN_LOST_ETHANOL_G)
        needed[a->lost[ST_ETHANOL]] = true;
    if (of == ST_DRAWN_LYING_ETHANOL_G)
        needed[a->lying] = true;
    if (of == ST_DRAWN_STRENGTH)
        needed[a->strength] = needed[a->strength_in_steep] = true;
}

static int need(const struct st_plan *p, const struct st_drawn want[], int n_want, bool *needed)
{
    const struct st_tape *t = &p->tape;
    int in[ST_NCOMP], n = 0;
    for (int k = 0; k < n_want; k++)
        need_result(&p->account[want[k].step], want[k].of, needed);
    for (int i = t->n_op - 1; i >= 0; i--)
        if (needed[t->op[i].dst])
            for (int k = st_op_reads(t, &t->op[i], in) - 1; k >= 0; k--)
                needed[in[k]] = true;
    for (int r = 0; r < t->n_reg; r++)
        n += needed[r];
    return n;
}

/* Columns begin with the nominal number, which constants and inputs that are not drawn keep. */
static bool lay(const struct st_plan *p, const struct st_drawn want[], int n_want, struct room *w)
{
    const size_t n_reg = (size_t)p->tape.n_reg;
    w->needed = calloc(n_reg + 1, sizeof *w->needed);
    w->reg = calloc(n_reg + 1, sizeof *w->reg);
    w->out = calloc(n_reg + 1, sizeof *w->out);
    if (!w->needed || !w->reg || !w->out)
        return false;
    const int n = need(p, want, n_want, w->needed);
    w->store = aligned_alloc(64, ((size_t)n + 1) * BLOCK * sizeof *w->store);
    if (!w->store)
        return false;
    double *next = w->store;
    for (size_t r = 0; r < n_reg; r++) {
        if (!w->needed[r])
            continue;
        w->reg[r] = w->out[r] = next;
        for (size_t k = 0; k < BLOCK; k++)
            next[k] = p->tape.nominal[r];
        next += BLOCK;
    }
    return true;
}

static void run(const struct st_plan *p, uint64_t seed, size_t first, size_t n, struct room *w)
{
    const struct st_tape *t = &p->tape;
    for (int i = 0; i < p->program.n_in; i++) {
        const int at = p->program.input[i], r = t->column_reg[at];
        if (w->needed[r])
            st_column_draw(&t->column[at], seed, first, n, w->out[r]);
    }
    for (int i = 0; i < t->n_op; i++)
        if (w->needed[t->op[i].dst])
            (void)st_op_run(&t->op[i], t->arg, w->reg, w->out[t->op[i].dst], n);
}

static double result(const struct st_step_account *a, enum st_drawn_of of, const double *const *reg, size_t i)
{
    double sum = 0.0;
    switch (of) {
    case ST_DRAWN_SPENT_G:
        for (int c = 0; c < ST_NCOMP; c++)
            sum += reg[a->spent[c]][i];
        return sum;
    case ST_DRAWN_SPENT_ETHANOL_G: return reg[a->spent[ST_ETHANOL]][i];
    case ST_DRAWN_LOST_ETHANOL_G: return reg[a->lost[ST_ETHANOL]][i];
    case ST_DRAWN_LYING_ETHANOL_G: return reg[a->lying][i];
    case ST_DRAWN_STRENGTH: break;
    }
    return reg[a->strength_in_steep][i] > 0.0 ? reg[a->strength_in_steep][i] : reg[a->strength][i];
}

enum st_status st_plan_drawn(const struct st_plan *p, uint64_t seed, size_t n, const struct st_drawn want[], int n_want)
{
    struct room w = { NULL, NULL, NULL, NULL };
    const enum st_status s = lay(p, want, n_want, &w) ? ST_OK : ST_E_NOCONV;
    for (size_t first = 0; s >= 0 && first < n; first += BLOCK) {
        const size_t m = n - first < BLOCK ? n - first : BLOCK;
        run(p, seed, first, m, &w);
        for (int k = 0; k < n_want; k++)
            for (size_t i = 0; i < m; i++)
                want[k].x[first + i] = result(&p->account[want[k].step], want[k].of, w.reg, i);
    }
    drop(&w);
    return s;
}

enum st_status st_plan_spent(const struct st_plan *p, uint64_t seed, size_t n, const int step[], int n_step,
                             double *const g[])
{
    struct st_drawn *want = calloc((size_t)n_step + 1, sizeof *want);
    if (!want)
        return ST_E_NOCONV;
    for (int k = 0; k < n_step; k++)
        want[k] = (struct st_drawn){ g[k], step[k], ST_DRAWN_SPENT_G };
    const enum st_status s = st_plan_drawn(p, seed, n, want, n_step);
    free(want);
    return s;
}
