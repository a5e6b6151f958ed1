#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/refraction.h"
#include "core/strength.h"
#include "plan_inside.h"

/* Plans with dials, run: nominal figures come from a second, sharp plan, whose tape holds only what depends on dials. */

enum { BLOCK = ST_TAPE_BLOCK, HOLDS = ST_NFIG + ST_NCOMP, ACID_SHARE };

struct st_plan *st_plan_create_dials(const struct st_recipe *r, const struct st_dial *dial, int n_dial,
                                     struct st_problem *problem)
{
    const struct st_dials d = { dial, n_dial, NULL };
    struct st_plan *p = st_plan_build(r, &d, false, problem);
    if (!p)
        return NULL;
    p->sharp = st_plan_build(r, &d, true, problem);
    if (p->sharp)
        return p;
    st_plan_free(p);
    return NULL;
}

int st_plan_dial_input(const struct st_plan *p, int k)
{
    for (int i = 0; k >= 0 && k < p->n_dial && i < p->program.n_in; i++)
        if (p->tape.column_reg[p->program.input[i]] == p->dial_reg[k])
            return i;
    return -1;
}

double st_plan_dial_written(const struct st_plan *p, int k)
{
    return k >= 0 && k < p->n_dial ? st_dial_as_written(p->recipe, &p->dial[k]) : (double)NAN;
}

/* ---- nominal figures ---- */

struct st_plan_room {
    const double **reg; /* columns to read */
    double **out;       /* the same to write */
    double *store;
    int *dial;          /* [n_in] which dial an input of the program is */
};

static int dial_of(const struct st_plan *sharp, int input)
{
    int k = 0;
    while (k < sharp->n_dial && sharp->dial_reg[k] != sharp->tape.column_reg[input])
        k++;
    return k;
}

struct st_plan_room *st_plan_room_create(const struct st_plan *p)
{
    if (!p->sharp)
        return NULL;
    const struct st_program *g = &p->sharp->program;
    const size_t n = (size_t)g->n_constant + (size_t)g->n_in + (size_t)g->n_room;
    struct st_plan_room *room = calloc(1, sizeof *room);
    if (!room)
        return NULL;
    room->reg = malloc(n * sizeof *room->reg);
    room->out = malloc(n * sizeof *room->out);
    room->dial = malloc(((size_t)g->n_in + 1) * sizeof *room->dial);
    room->store = aligned_alloc(64, n * BLOCK * sizeof *room->store);
    if (!room->reg || !room->out || !room->dial || !room->store) {
        st_plan_room_free(room);
        return NULL;
    }
    for (size_t r = 0; r < n; r++)
        room->reg[r] = room->out[r] = room->store + r * BLOCK;
    for (size_t i = 0; i < (size_t)g->n_constant * BLOCK; i++)
        room->store[i] = g->constant[i / BLOCK];
    for (int i = 0; i < g->n_in; i++)
        room->dial[i] = dial_of(p->sharp, g->input[i]);
    return room;
}

void st_plan_room_free(struct st_plan_room *room)
{
    if (!room)
        return;
    free(room->reg);
    free(room->out);
    free(room->store);
    free(room->dial);
    free(room);
}

static bool can_be_set(const struct st_plan *p, size_t n, size_t i, const double factor[])
{
    for (int k = 0; k < p->n_dial; k++) {
        const double x = factor[(size_t)k * n + i];
        const struct st_dial *d = &p->dial[k];
        if (d->of == ST_DIAL_STRENGTH ? !(x > 0.0 && x <= 100.0)
                                      : !(x >= 0.0 && x * p->recipe->step[d->step].line[d->line].amount.value < 1e9))
            return false;
    }
    return true;
}

/* m <= BLOCK points from first on, of n: every column of the program. */
static void run_block(const struct st_program *g, const struct st_plan_room *room, size_t n, size_t first, size_t m,
                      const double factor[])
{
    for (int i = 0; i < g->n_in; i++)
        memcpy(room->out[g->n_constant + i], factor + (size_t)room->dial[i] * n + first, m * sizeof *factor);
    for (int i = 0; i < g->n_op;) {
        int k = i + 1;
        while (k < g->n_op && g->op[k].code == g->op[i].code)
            k++;
        (void)st_ops_run(&g->op[i], k - i, g->arg, room->reg, room->out, m);
        i = k;
    }
}

/* The status of the figures of one drink. */
static enum st_status status_of(const struct st_plan *p, const double g[ST_NCOMP])
{
    double w[ST_NCOMP], x;
    if (st_mixture_from_masses(g, w) < 0)
        return ST_E_DOMAIN;
    const enum st_status s = st_density_mixture(w, ST_T20, &x), n = st_n_mixture(w, ST_T20, &x);
    return s < 0 ? s : st_status_worse(p->made_of, n < 0 ? s : st_status_worse(s, n));
}

/* Point k of the block into y[f*n]. */
static enum st_status tell(const struct st_plan *sharp, const struct st_plan_room *room, size_t k, size_t n, double *y)
{
    const int *output = sharp->program.output;
    double g[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++)
        g[c] = room->reg[output[ST_NFIG + c]][k];
    if (!(room->reg[output[HOLDS]][k] > 0.0))
        return ST_E_REFUSED;
    const enum st_status s = status_of(sharp, g);
    if (s < 0)
        return s;
    const bool acid = room->reg[output[ACID_SHARE]][k] > ST_ACID_TOLD;
    for (int f = 0; f < ST_NFIG; f++)
        y[(size_t)f * n] = sharp->figure[f] < 0 || (f == ST_FIG_SUGAR_ACID && !acid) ? (double)NAN
                                                                                     : room->reg[output[f]][k];
    return s;
}

enum st_status st_plan_at_n(const struct st_plan *p, struct st_plan_room *room, size_t n, const double factor[], double y[])
{
    enum st_status worst = ST_OK;
    if (!p->sharp || !room)
        return ST_E_REFUSED;
    for (size_t first = 0; first < n; first += BLOCK) {
        const size_t m = n - first < BLOCK ? n - first : BLOCK;
        run_block(&p->sharp->program, room, n, first, m, factor);
        for (size_t k = 0; k < m; k++) {
            const enum st_status s = can_be_set(p, n, first + k, factor) ? tell(p->sharp, room, k, n, y + first + k)
                                                                         : ST_E_DOMAIN;
            for (size_t f = 0; s < 0 && f < ST_NFIG; f++)
                y[f * n + first + k] = (double)NAN;
            worst = st_status_worse(worst, s);
        }
    }
    return worst;
}

enum st_status st_plan_at(const struct st_plan *p, const double factor[], double y[ST_NFIG])
{
    double at[ST_NFIG];
    struct st_plan_room *room = st_plan_room_create(p);
    const enum st_status s = room ? st_plan_at_n(p, room, 1, factor, at) : p->sharp ? ST_E_NOCONV : ST_E_REFUSED;
    st_plan_room_free(room);
    if (s >= 0)
        memcpy(y, at, sizeof at);
    return s;
}

/* ---- the recipe so changed ---- */

enum st_status st_plan_run_at(const struct st_plan *p, const struct st_options *o, const double factor[],
                              struct st_foretold *out)
{
    const struct st_dials d = { p->dial, p->n_dial, factor };
    struct st_problem problem;
    memset(out, 0, sizeof *out);
    if (!can_be_set(p, 1, 0, factor))
        return ST_E_DOMAIN;
    struct st_plan *changed = st_plan_build(p->recipe, &d, false, &problem);
    if (!changed)
        return ST_E_REFUSED;
    const enum st_status s = st_plan_run(changed, o, out);
    st_plan_free(changed);
    return s;
}

bool st_plan_dial_problem(const struct st_plan *p, const double factor[], struct st_problem *problem)
{
    const struct st_dials d = { p->dial, p->n_dial, factor };
    struct st_plan *changed = st_plan_build(p->recipe, &d, true, problem);
    st_plan_free(changed);
    return !changed;
}
