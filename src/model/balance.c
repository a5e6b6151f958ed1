#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan_inside.h"

/* The balance of a step by its own books: what its lines brought is added up with compensation, apart from the sums of the
 * tape, so that a gram lost among kilograms would show. */

void st_join(struct st_build *b, int into[ST_NSLOT], const int from[ST_NSLOT], int share)
{
    struct st_plan *p = b->plan;
    st_pour(b->tape, into, from, share);
    if (b->tape->sharp) /* nobody asks for its balance */
        return;
    if (p->n_joined == p->cap_joined) {
        const int cap = p->cap_joined ? 2 * p->cap_joined : 64;
        struct st_joined *more = realloc(p->joined, (size_t)cap * sizeof *more);
        if (!more) {
            b->tape->failed = true;
            return;
        }
        p->joined = more;
        p->cap_joined = cap;
    }
    struct st_joined *j = &p->joined[p->n_joined++];
    j->step = b->step;
    j->share = share;
    memcpy(j->from, from, sizeof j->from);
}

/* A sum and what rounding took off it.
 * Source: [neumaier1974] */
struct sum {
    double s, rest;
};

static void add(struct sum *x, double y)
{
    const double t = x->s + y;
    x->rest += fabs(x->s) >= fabs(y) ? (x->s - t) + y : (y - t) + x->s;
    x->s = t;
}

static double total(const struct sum *x)
{
    return x->s + x->rest;
}

static void add_line(const struct st_joined *j, const double *value, struct sum in[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++)
        if (j->from[c] != ST_ZERO)
            add(&in[c], value[j->share] * value[j->from[c]]);
}

void st_balance_close(const struct st_plan *p, int step, const double *value, struct st_balance *out)
{
    struct sum in[ST_NCOMP] = { { 0.0, 0.0 } };
    for (int i = 0; i < p->n_joined; i++)
        if (p->joined[i].step == step)
            add_line(&p->joined[i], value, in);
    out->closure = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        struct sum gap = in[c];
        add(&gap, -out->mass_g[c]);
        add(&gap, -out->spent_g[c]);
        add(&gap, -out->lost_g[c]);
        out->in_g[c] = total(&in[c]);
        out->closure = fmax(out->closure, fabs(total(&gap)) / fmax(out->in_g[c], 1e-6));
    }
}
