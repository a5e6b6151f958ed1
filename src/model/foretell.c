#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan_inside.h"
#include "quantile.h"

enum { CHUNK = 1024 }; /* draws whose inputs are held at a time */

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

/* One column of draws into low..high; the column is reordered. */
static void fill_interval(struct st_interval *v, size_t n, double *x)
{
    for (size_t i = 0; i < n; i++)
        if (isnan(x[i])) {
            v->known = false; /* some draws leave what the figure is known for */
            v->value = v->low = v->high = (double)NAN;
            return;
        }
    v->low = fmin(st_quantile(n, x, 0.025), v->value);
    v->high = fmax(st_quantile(n, x, 0.975), v->value);
}

/* Inputs, evaluation and the draws of all results, chunk by chunk. */
static enum st_status draw_all(const struct st_plan *p, const struct st_options *o, double *all)
{
    const size_t n = (size_t)o->draws, n_in = (size_t)p->program.n_in, n_out = (size_t)p->program.n_output;
    double *X = aligned_alloc(64, (n_in + 1) * CHUNK * sizeof *X), *y = malloc((n_out + 1) * CHUNK * sizeof *y);
    enum st_status s = X && y ? ST_OK : ST_E_NOCONV;

    for (size_t first = 0; first < n && s >= 0; first += CHUNK) {
        const size_t m = n - first < CHUNK ? n - first : CHUNK;
        st_plan_inputs(p, o->seed, first, m, X);
        s = st_program_run(&p->program, m, X, y);
        for (size_t f = 0; f < n_out && s >= 0; f++)
            memcpy(all + f * n + first, y + f * m, m * sizeof *y);
    }
    free(X);
    free(y);
    return s;
}

static double variance(size_t n, const double *x)
{
    double mean = 0.0, s = 0.0;
    for (size_t i = 0; i < n; i++)
        mean += x[i];
    mean /= (double)n;
    for (size_t i = 0; i < n; i++)
        s += (x[i] - mean) * (x[i] - mean);
    return n > 1 ? s / (double)(n - 1) : 0.0;
}

static bool keep_draws(const struct st_plan *p, size_t n, const double *all, struct st_foretold *out)
{
    for (int f = 0; f < ST_NFIG; f++) {
        if (p->figure[f] < 0)
            continue;
        out->draw[f] = malloc(n * sizeof *all);
        if (!out->draw[f])
            return false;
        memcpy(out->draw[f], all + (size_t)f * n, n * sizeof *all);
    }
    out->draws = (int)n;
    return true;
}

static enum st_status run_draws(const struct st_plan *p, const struct st_options *o, struct st_foretold *out)
{
    const size_t n = (size_t)o->draws;
    double *all = malloc(((size_t)p->program.n_output * n + 1) * sizeof *all);
    if (!all)
        return ST_E_NOCONV;
    enum st_status s = draw_all(p, o, all);
    if (s >= 0 && !keep_draws(p, n, all, out))
        s = ST_E_NOCONV;
    if (s >= 0) {
        const double v[3] = { variance(n, out->draw[ST_FIG_STRENGTH]), variance(n, out->draw[ST_FIG_SUGAR]),
                              variance(n, out->draw[ST_FIG_VOLUME]) };
        for (int f = 0; f < ST_NFIG; f++)
            if (p->figure[f] >= 0 && p->tape.kind[p->figure[f]] != ST_REG_CONSTANT)
                fill_interval(&out->fig[f], n, all + (size_t)f * n);
        for (int m = 0; m < p->n_marker; m++)
            fill_interval(&out->marker_mg_l[m], n, all + (size_t)(ST_NFIG + m) * n);
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
