#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan_inside.h"
#include "quantile.h"

static double nominal(const struct st_plan *p, int reg)
{
    return p->tape.nominal[reg];
}

static void fill_nominal(const struct st_plan *p, struct st_foretold *out)
{
    const struct st_recipe *r = p->recipe;
    for (int f = 0; f < ST_NFIG; f++) {
        struct st_interval *v = &out->fig[f];
        v->status = p->figure_status[f];
        v->known = p->figure[f] >= 0;
        v->value = v->low = v->high = v->known ? nominal(p, p->figure[f]) : (double)NAN;
    }
    for (int m = 0; m < p->n_marker; m++) {
        struct st_interval *v = &out->marker_mg_l[m];
        out->marker[m] = p->marker[m];
        *v = (struct st_interval){ .status = ST_ESTIMATED, .known = true };
        v->value = v->low = v->high = nominal(p, p->marker_reg[m]);
    }
    out->n_marker = p->n_marker;
    for (int c = 0; c < ST_NCOMP; c++)
        out->final_g[c] = nominal(p, p->final[c]);
    out->bottle_ml = r->step[r->n_step - 1].bottle_ml;
    memcpy(out->note, p->note, sizeof out->note);
    out->n_note = p->n_note;
}

/* One column of draws into low..high. */
static void fill_interval(struct st_interval *v, size_t n, const double *x, double *room)
{
    int64_t unknown = 0;
    for (size_t i = 0; i < n; i++)
        unknown |= x[i] == x[i] ? 0 : 1;
    if (unknown) {
        v->known = false; /* some draws leave what the figure is known for */
        v->value = v->low = v->high = (double)NAN;
        return;
    }
    double low, high;
    st_quantile_pair(n, x, 0.025, 0.975, room, &low, &high);
    v->low = fmin(low, v->value);
    v->high = fmax(high, v->value);
}

/* In eight sums, which do not wait for each other. */
static double variance(size_t n, const double *x)
{
    enum { LANES = 8 };
    double sum[LANES] = { 0 }, squares[LANES] = { 0 }, mean = 0.0, s = 0.0;
    for (size_t i = 0; i < n; i++)
        sum[i % LANES] += x[i];
    for (int k = 0; k < LANES; k++)
        mean += sum[k];
    mean /= (double)n;
    for (size_t i = 0; i < n; i++)
        squares[i % LANES] += (x[i] - mean) * (x[i] - mean);
    for (int k = 0; k < LANES; k++)
        s += squares[k];
    return n > 1 ? s / (double)(n - 1) : 0.0;
}

/* Where the draws of each result of the program go: figures to the caller's columns, the others to all[]. */
static bool place_draws(const struct st_plan *p, size_t n, double *all, double **column, struct st_foretold *out)
{
    for (int f = 0; f < ST_NFIG; f++) {
        column[f] = NULL;
        if (p->figure[f] < 0)
            continue;
        column[f] = out->draw[f] = malloc(n * sizeof **column);
        if (!column[f])
            return false;
    }
    for (int m = 0; m < p->n_marker; m++)
        column[ST_NFIG + m] = all + (size_t)m * n;
    out->draws = (int)n;
    return true;
}

static enum st_status run_draws(const struct st_plan *p, const struct st_options *o, struct st_foretold *out)
{
    const size_t n = (size_t)o->draws;
    double *all = malloc((size_t)(p->n_marker + 1) * n * sizeof *all), *column[ST_NFIG + ST_MAX_MARKERS];
    if (!all)
        return ST_E_NOCONV;
    double *room = all + (size_t)p->n_marker * n;
    enum st_status s = place_draws(p, n, all, column, out) ? st_plan_draw(p, o->seed, n, column) : ST_E_NOCONV;
    if (s >= 0) {
        const double v[3] = { variance(n, out->draw[ST_FIG_STRENGTH]), variance(n, out->draw[ST_FIG_SUGAR]),
                              variance(n, out->draw[ST_FIG_VOLUME]) };
        for (int f = 0; f < ST_NFIG; f++)
            if (p->figure[f] >= 0 && p->tape.kind[p->figure[f]] != ST_REG_CONSTANT)
                fill_interval(&out->fig[f], n, column[f], room);
        for (int m = 0; m < p->n_marker; m++)
            fill_interval(&out->marker_mg_l[m], n, column[ST_NFIG + m], room);
        if (o->effects && !st_effects_find(p, o->seed, v, out))
            s = ST_E_NOCONV;
    }
    free(all);
    return s;
}

enum st_status st_plan_run(const struct st_plan *p, const struct st_options *o, struct st_foretold *out)
{
    enum st_status s = ST_OK;
    memset(out, 0, sizeof *out);
    fill_nominal(p, out);
    out->balance = calloc((size_t)p->recipe->n_step, sizeof *out->balance);
    if (!out->balance || st_plan_balance(p, NULL, out->balance) < 0)
        return ST_E_NOCONV;
    out->n_balance = p->recipe->n_step;
    if (o->draws > 1)
        s = run_draws(p, o, out);
    if (s < 0)
        return s;
    for (int f = 0; f < ST_NFIG; f++)
        if (out->fig[f].known)
            s = st_status_worse(s, out->fig[f].status);
    return s;
}

void st_foretold_done(struct st_foretold *f)
{
    for (int i = 0; i < ST_NFIG; i++)
        free(f->draw[i]);
    free(f->balance);
    memset(f, 0, sizeof *f);
}
