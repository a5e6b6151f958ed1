#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "correct_inside.h"
#include "quantile.h"
#include "random.h"
#include "range.h"

/* What a correction gives, by draws of everything that is uncertain. */

enum { BATCH_PARTS = 4 }; /* water, ethanol, sucrose, acid */
static const int PART[BATCH_PARTS] = { ST_WATER, ST_ETHANOL, ST_SUCROSE, ST_ACID };

struct st_correct_draws {
    const struct st_correct_base *base;
    size_t n;
    double *ml;                   /* of the batch */
    double *c[BATCH_PARTS];       /* grams in a mL of it */
    double *z[ST_CORRECT_INPUTS]; /* NULL until asked for */
    double *m, *y, *room;         /* [ST_NCOMP * n], [(ST_CORRECT_NFIG + 1) * n], [n] */
};

enum { Z_DRAW = 5, Z_THING = 6, Z_TOOL = Z_THING + ST_CORRECT_THINGS * (1 + ST_CORRECT_DEVIATIONS) };
_Static_assert(Z_TOOL - 1 + ST_NTOOL == ST_CORRECT_INPUTS, "numbers of inputs");

static double *numbers(size_t n)
{
    return malloc(n * sizeof(double));
}

void st_correct_draws_free(struct st_correct_draws *d)
{
    if (!d)
        return;
    free(d->ml);
    for (int k = 0; k < BATCH_PARTS; k++)
        free(d->c[k]);
    for (int k = 0; k < ST_CORRECT_INPUTS; k++)
        free(d->z[k]);
    free(d->m);
    free(d->y);
    free(d->room);
    free(d);
}

/* Standard normal numbers of an input; NULL: memory ran out. */
static const double *normals(struct st_correct_draws *d, int input)
{
    if (!d->z[input]) {
        d->z[input] = numbers(d->n);
        if (d->z[input]) {
            st_uniform_n(d->base->ask->seed, (uint32_t)(0x0C0 + input), 0, d->n, d->z[input]);
            st_normal_from_uniform_n(d->n, d->z[input], d->z[input]);
        }
    }
    return d->z[input];
}

/* The water that fills a mL up, by its partial volume of about 1: what is missed shrinks by tens each turn. */
static bool fill_up(struct st_correct_draws *d)
{
    const double *of[ST_NCOMP] = { NULL };
    double *rho = d->y;
    for (int k = 0; k < BATCH_PARTS; k++)
        of[PART[k]] = d->c[k];
    for (int turn = 0; turn < 12; turn++) {
        if (st_density_masses_n(d->n, of, ST_T20, rho) < 0)
            return false;
        double worst = 0.0;
        for (size_t i = 0; i < d->n; i++) {
            const double mass = d->c[0][i] + d->c[1][i] + d->c[2][i] + d->c[3][i], missed = 1.0 - 1e3 * mass / rho[i];
            d->c[0][i] = fmax(d->c[0][i] + missed, 0.0);
            worst = fmax(worst, fabs(missed));
        }
        if (worst < 1e-11)
            break;
    }
    return true;
}

static bool draw_batch(struct st_correct_draws *d)
{
    const struct st_correct_batch *b = &d->base->ask->batch;
    const double *v = normals(d, 0), *q = normals(d, 1), *s = normals(d, 2), *a = normals(d, 3);
    double pure = 789.24;
    if (!v || !q || !s || !a)
        return false;
    (void)st_spirit_density(100.0, &pure);
    const double r = b->is.correlation, rest = sqrt(1.0 - r * r);
    for (size_t i = 0; i < d->n; i++) {
        d->ml[i] = fmax(b->ml + b->ml_u * v[i], 0.1 * b->ml);
        d->c[0][i] = d->base->c[ST_WATER];
        d->c[1][i] = fmin(fmax(b->is.strength + b->is.strength_u * q[i], 0.0), 100.0) * pure * 1e-5;
        d->c[2][i] = fmax(b->is.sugar + b->is.sugar_u * (r * q[i] + rest * s[i]), 0.0) * 1e-3;
        d->c[3][i] = fmax(b->is.acid + b->is.acid_u * a[i], 0.0) * 1e-3;
    }
    return fill_up(d);
}

struct st_correct_draws *st_correct_draws_create(const struct st_correct_base *b)
{
    struct st_correct_draws *d = calloc(1, sizeof *d);
    if (!d)
        return NULL;
    d->base = b;
    d->n = b->ask->draws > 0 ? (size_t)b->ask->draws : 4000;
    d->ml = numbers(d->n);
    d->m = numbers(d->n * ST_NCOMP);
    d->y = numbers(d->n * (ST_CORRECT_NFIG + 1));
    d->room = numbers(d->n);
    bool good = d->ml && d->m && d->y && d->room;
    for (int k = 0; k < BATCH_PARTS; k++) {
        d->c[k] = numbers(d->n);
        good = good && d->c[k];
    }
    if (good && draw_batch(d))
        return d;
    st_correct_draws_free(d);
    return NULL;
}

/* ---- masses of each draw ---- */

static bool add_thing(struct st_correct_draws *d, const struct st_correct_point *p, int t)
{
    const struct st_correct_thing *thing = &d->base->ask->thing[t];
    const int first = Z_THING + t * (1 + ST_CORRECT_DEVIATIONS);
    const double *own = normals(d, first), *tool = normals(d, Z_TOOL + (int)p->with[t].tool - 1);
    const double *wrong[ST_CORRECT_DEVIATIONS];
    double *stands = d->y + ST_CORRECT_NFIG * d->n, *units = d->room;
    bool good = own && tool;
    for (int j = 0; j < ST_CORRECT_DEVIATIONS; j++) {
        wrong[j] = normals(d, first + 1 + j);
        good = good && wrong[j];
    }
    for (size_t i = 0; i < d->n && good; i++) {
        units[i] = fmax(p->x[t] * (1.0 + p->with[t].scale * tool[i]) + p->with[t].own * own[i], 0.0);
        stands[i] += units[i] * d->base->ml_of[t];
    }
    for (int c = 0; c < ST_NCOMP && good; c++) {
        const double g = thing->g[c], *w[3] = { thing->wrong[0], thing->wrong[1], thing->wrong[2] };
        double *m = d->m + (size_t)c * d->n;
        if (g == 0.0 && w[0][c] == 0.0 && w[1][c] == 0.0 && w[2][c] == 0.0)
            continue;
        for (size_t i = 0; i < d->n; i++)
            m[i] += units[i] * fmax(g + w[0][c] * wrong[0][i] + w[1][c] * wrong[1][i] + w[2][c] * wrong[2][i], 0.0);
    }
    return good;
}

static bool draw_masses(struct st_correct_draws *d, const struct st_correct_point *p)
{
    const struct st_correct_measure *w = &p->draw_with;
    const double *own = normals(d, Z_DRAW - 1), *tool = normals(d, Z_TOOL + (int)w->tool - 1);
    double *stands = d->y + ST_CORRECT_NFIG * d->n;
    if (!own || !tool)
        return false;
    memset(d->m, 0, d->n * ST_NCOMP * sizeof *d->m);
    for (size_t i = 0; i < d->n; i++) {
        const double off = p->draw_ml > 0.0 ? p->draw_ml * (1.0 + w->scale * tool[i]) + w->own * own[i] : 0.0;
        stands[i] = fmax(d->ml[i] - fmax(off, 0.0), 0.01 * d->ml[i]);
        for (int k = 0; k < BATCH_PARTS; k++)
            d->m[(size_t)PART[k] * d->n + i] = stands[i] * d->c[k][i];
    }
    bool good = true;
    for (int t = 0; t < d->base->ask->n_thing && good; t++)
        good = !(p->x[t] > 0.0) || add_thing(d, p, t);
    return good;
}

/* ---- what is told of them ---- */

static void count_inside(const struct st_correct_draws *d, struct st_correct_made *out)
{
    const struct st_correct_wish *w = d->base->ask->wish;
    size_t all = 0, each[ST_CORRECT_NFIG] = { 0 };
    for (size_t i = 0; i < d->n; i++) {
        bool in = true;
        for (int f = 0; f < ST_CORRECT_NFIG; f++) {
            const double y = d->y[(size_t)f * d->n + i];
            const bool one = !w[f].asked || (y >= w[f].low && y <= w[f].high);
            each[f] += one;
            in = in && one;
        }
        all += in;
    }
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        out->each[f] = (double)each[f] / (double)d->n;
    out->all = (double)all / (double)d->n;
}

/* Sucrose as a part of what its water and ethanol dissolve; 0 not known or none. */
static double sugar_full(const double w[ST_NCOMP])
{
    double most;
    const double liquid = w[ST_WATER] + w[ST_ETHANOL];
    if (!(w[ST_SUCROSE] > 0.0) || st_sucrose_solubility(w, ST_T20, &most) < 0 || !(most > 0.0 && most < 1.0))
        return 0.0;
    return w[ST_SUCROSE] / (liquid * most / (1.0 - most));
}

static void tell_middle(const struct st_correct_base *b, const struct st_correct_point *p, struct st_correct_made *out)
{
    const struct st_correct_batch *batch = &b->ask->batch;
    double m[ST_NCOMP], y[ST_CORRECT_NFIG];
    st_correct_masses(b, p->x, p->draw_ml, m);
    if (st_correct_figures(1, 1, m, y) < 0 || st_mixture_from_masses(m, out->w) < 0)
        return;
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        out->fig[f].value = y[f];
    out->sugar_full = sugar_full(out->w);
    out->stands_ml = batch->ml - p->draw_ml;
    for (int i = 0; i < b->ask->n_thing; i++) {
        out->stands_ml += p->x[i] * b->ml_of[i];
        out->g += p->x[i] * b->g_of[i];
        const bool free_water = b->ask->thing[i].kind == ST_ADD_WATER && isnan(b->ask->thing[i].cost);
        if (p->x[i] > 0.0 && !free_water)
            out->cost += p->x[i] * b->ask->thing[i].cost;
    }
    struct st_oil_part part[ST_MAX_OILS];
    const double left = (batch->ml - p->draw_ml) / y[ST_CORRECT_VOLUME];
    for (int i = 0; i < batch->n_oil && i < ST_MAX_OILS; i++) {
        part[i] = batch->oil[i];
        part[i].g_l *= left;
        part[i].low *= left;
        part[i].high *= left;
    }
    if (st_clear_judge(part, batch->n_oil, &out->fig[ST_CORRECT_STRENGTH], y[ST_CORRECT_SUGAR], ST_T20, 1.0,
                       batch->oil_known, &out->clear) < 0)
        out->clear = (struct st_clear_verdict){ .is = ST_CLEARNESS_UNKNOWN };
}

enum st_status st_correct_draw(struct st_correct_draws *d, const struct st_correct_point *p,
                               struct st_correct_made *out)
{
    if (!draw_masses(d, p))
        return ST_E_NOCONV;
    const enum st_status s = st_correct_figures(d->n, d->n, d->m, d->y);
    if (s < 0)
        return s;
    memset(out, 0, sizeof *out);
    memcpy(out->amount, p->x, sizeof out->amount);
    out->draw_ml = p->draw_ml;
    count_inside(d, out);
    double low, high;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        st_quantile_pair(d->n, d->y + (size_t)f * d->n, 0.025, 0.975, d->room, &low, &high);
        out->fig[f] = (struct st_interval){ 0.0, low, high, ST_OK, true };
    }
    st_quantile_pair(d->n, d->y + ST_CORRECT_NFIG * d->n, 0.025, 0.975, d->room, &low, &out->stands_high_ml);
    double m[ST_NCOMP], y[ST_CORRECT_NFIG]; /* the interval of the strength holds its middle before it is judged */
    st_correct_masses(d->base, p->x, p->draw_ml, m);
    if (st_correct_figures(1, 1, m, y) >= 0)
        for (int f = 0; f < ST_CORRECT_NFIG; f++) {
            out->fig[f].value = y[f];
            out->fig[f].low = fmin(out->fig[f].low, y[f]);
            out->fig[f].high = fmax(out->fig[f].high, y[f]);
        }
    tell_middle(d->base, p, out);
    const struct st_correct_ask *ask = d->base->ask;
    out->met = out->all >= ask->certainty && !(out->sugar_full > 1.0) &&
               !(ask->jar_ml > 0.0 && out->stands_ml > ask->jar_ml * (1.0 + 1e-9));
    return s;
}
