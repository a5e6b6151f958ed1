#include <math.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "correct_inside.h"

/* Liquids of a correction: from figures to grams and back. */

/* Grams in a mL; what is dissolved counts as sucrose and citric acid. */
static enum st_status grams_of(double strength, double sugar, double acid, double g[ST_NCOMP])
{
    double solutes[ST_NCOMP] = { 0.0 }, w[ST_NCOMP], rho;
    solutes[ST_SUCROSE] = sugar;
    solutes[ST_ACID] = acid;
    const enum st_status s = st_mixture_from_strength(strength, solutes, w);
    if (s < 0 || st_density_mixture(w, ST_T20, &rho) < 0)
        return ST_E_DOMAIN;
    for (int c = 0; c < ST_NCOMP; c++)
        g[c] = w[c] * rho * 1e-3;
    return s;
}

/* A thousandth of the way and a thousand times what it does, so that no figure leaves what is possible. */
static enum st_status deviation(const struct st_correct_liquid *l, double dq, double ds, double da,
                                const double g[ST_NCOMP], double wrong[ST_NCOMP])
{
    const double part = 1e-3;
    double moved[ST_NCOMP];
    memset(wrong, 0, ST_NCOMP * sizeof *wrong);
    if (dq == 0.0 && ds == 0.0 && da == 0.0)
        return ST_OK;
    double sign = l->strength + part * dq > 99.0 ? -1.0 : 1.0;
    if (l->sugar + sign * part * ds < 0.0 || l->strength + sign * part * dq < 0.0)
        sign = -sign;
    const enum st_status s = grams_of(fmax(l->strength + sign * part * dq, 0.0), fmax(l->sugar + sign * part * ds, 0.0),
                                      l->acid + part * da, moved);
    for (int c = 0; c < ST_NCOMP && s >= 0; c++)
        wrong[c] = (da > 0.0 ? 1.0 : sign) * (moved[c] - g[c]) / part;
    return s;
}

static enum st_status liquid_of(const struct st_correct_liquid *l, double g[ST_NCOMP],
                                double wrong[ST_CORRECT_DEVIATIONS][ST_NCOMP])
{
    const double r = l->correlation;
    if (!(l->strength >= 0.0 && l->strength <= 100.0) || !(l->sugar >= 0.0) || !(l->acid >= 0.0) ||
        !(l->strength_u >= 0.0) || !(l->sugar_u >= 0.0) || !(l->acid_u >= 0.0) || !(fabs(r) <= 1.0) ||
        !isfinite(l->strength_u + l->sugar_u + l->acid_u))
        return ST_E_DOMAIN;
    enum st_status s = grams_of(l->strength, l->sugar, l->acid, g);
    if (s >= 0)
        s = st_status_worse(s, deviation(l, l->strength_u, r * l->sugar_u, 0.0, g, wrong[0]));
    if (s >= 0)
        s = st_status_worse(s, deviation(l, 0.0, sqrt(1.0 - r * r) * l->sugar_u, 0.0, g, wrong[1]));
    if (s >= 0)
        s = st_status_worse(s, deviation(l, 0.0, 0.0, l->acid_u, g, wrong[2]));
    return s;
}

enum st_status st_correct_poured(const struct st_correct_liquid *l, struct st_correct_thing *t)
{
    double g[ST_NCOMP], wrong[ST_CORRECT_DEVIATIONS][ST_NCOMP];
    const enum st_status s = liquid_of(l, g, wrong);
    if (s < 0)
        return ST_E_DOMAIN;
    t->by_weight = false;
    memcpy(t->g, g, sizeof g);
    memcpy(t->wrong, wrong, sizeof wrong);
    return s;
}

void st_correct_dry(enum st_component c, struct st_correct_thing *t)
{
    t->by_weight = true;
    memset(t->g, 0, sizeof t->g);
    memset(t->wrong, 0, sizeof t->wrong);
    t->g[c] = 1.0;
}

/* ---- an ask ---- */

static bool thing_makes_sense(const struct st_correct_thing *t)
{
    double mass = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        if (!(t->g[c] >= 0.0) || !isfinite(t->g[c]))
            return false;
        mass += t->g[c];
    }
    return mass > 0.0 && t->have >= 0.0 && !(t->cost < 0.0);
}

static const char *senseless(const struct st_correct_ask *a)
{
    if (!(a->batch.ml > 0.0 && a->batch.ml <= 1e6) || !(a->batch.ml_u >= 0.0 && a->batch.ml_u < a->batch.ml))
        return "the volume of the batch";
    if (a->n_thing < 0 || a->n_thing > ST_CORRECT_THINGS)
        return "the number of things to add";
    for (int i = 0; i < a->n_thing; i++)
        if (!thing_makes_sense(&a->thing[i]))
            return a->thing[i].name;
    int asked = 0;
    for (int f = 0; f < ST_CORRECT_NFIG; f++) {
        asked += a->wish[f].asked;
        if (a->wish[f].asked && !(a->wish[f].low < a->wish[f].high))
            return "a wish";
    }
    if (asked == 0)
        return "the wishes";
    if (!(a->certainty >= 0.5 && a->certainty <= 0.999))
        return "the certainty";
    if (!(a->jar_ml >= 0.0) || !(a->draw_most_ml >= 0.0) || !(a->digit_g >= 0.0) || a->draws < 0)
        return "the jar";
    return NULL;
}

enum st_status st_correct_begin(const struct st_correct_ask *ask, struct st_correct_base *b, const char **what)
{
    *what = senseless(ask);
    if (*what)
        return ST_E_DOMAIN;
    memset(b, 0, sizeof *b);
    b->ask = ask;
    const enum st_status s = liquid_of(&ask->batch.is, b->c, b->wrong);
    if (s < 0) {
        *what = "the figures of the batch";
        return ST_E_DOMAIN;
    }
    for (int c = 0; c < ST_NCOMP; c++)
        b->batch_g_ml += b->c[c];
    for (int i = 0; i < ask->n_thing; i++) {
        for (int c = 0; c < ST_NCOMP; c++)
            b->g_of[i] += ask->thing[i].g[c];
        b->ml_of[i] = ask->thing[i].by_weight ? ST_CORRECT_DRY_ML : 1.0;
    }
    return s;
}

/* ---- figures ---- */

static double ethanol_g_ml(void)
{
    double rho = 789.24;
    (void)st_spirit_density(100.0, &rho);
    return rho * 1e-3;
}

enum st_status st_correct_figures(size_t n, size_t stride, const double m[], double y[])
{
    const double *of[ST_NCOMP], pure = ethanol_g_ml();
    double *volume = y + ST_CORRECT_VOLUME * stride;
    for (int c = 0; c < ST_NCOMP; c++)
        of[c] = m + (size_t)c * stride;
    const enum st_status s = st_density_masses_n(n, of, ST_T20, volume);
    if (s < 0)
        return s;
    for (size_t i = 0; i < n; i++) {
        double mass = 0.0;
        for (int c = 0; c < ST_NCOMP; c++)
            mass += of[c][i];
        const double ml = 1e3 * mass / volume[i];
        y[ST_CORRECT_STRENGTH * stride + i] = 100.0 * of[ST_ETHANOL][i] / pure / ml;
        y[ST_CORRECT_SUGAR * stride + i] =
            1e3 * (of[ST_SUCROSE][i] + of[ST_GLUCOSE][i] + of[ST_FRUCTOSE][i] + of[ST_LACTOSE][i]) / ml;
        y[ST_CORRECT_ACID * stride + i] = 1e3 * of[ST_ACID][i] / ml;
        volume[i] = ml;
    }
    return ST_OK;
}

void st_correct_masses(const struct st_correct_base *b, const double x[], double draw_ml, double m[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++) {
        m[c] = (b->ask->batch.ml - draw_ml) * b->c[c];
        for (int i = 0; i < b->ask->n_thing; i++)
            m[c] += x[i] * b->ask->thing[i].g[c];
    }
}

/* ---- how amounts are measured ---- */

struct st_correct_measure st_correct_by_jug(double ml)
{
    const struct st_tolerance t = st_tolerance_default(ST_TOOL_JUG, ml);
    const double root3 = 1.7320508075688772;
    return (struct st_correct_measure){ .own = hypot(t.step, t.fill * ml) / root3,
                                        .scale = t.scale / root3,
                                        .tool = ST_TOOL_JUG };
}

void st_correct_weighed(const struct st_correct_base *b, const double x[], double draw_ml, struct st_correct_point *p)
{
    const double digit = b->ask->digit_g > 0.0 ? b->ask->digit_g : 1.0;
    *p = (struct st_correct_point){ .draw_ml = draw_ml };
    for (int i = 0; i < b->ask->n_thing; i++) {
        p->x[i] = x[i];
        /* rectangular, read twice: 2 digit^2/12 */
        p->with[i] =
            (struct st_correct_measure){ .own = digit / sqrt(6.0) / b->g_of[i], .scale = 0.0, .tool = ST_TOOL_SCALE };
    }
    if (draw_ml > 0.0)
        p->draw_with = st_correct_by_jug(draw_ml);
}

/* ---- two exactly ---- */

/* Newton in grams of ethanol and sugar against volume: both equations are linear but for what shrinks. */
enum st_status st_correct_pair(const struct st_correct_batch *batch, const struct st_correct_thing *first,
                               const struct st_correct_thing *second, double strength, double sugar, double amount[2],
                               double *ml)
{
    const struct st_correct_thing *thing[2] = { first, second };
    double c[ST_NCOMP], wrong[ST_CORRECT_DEVIATIONS][ST_NCOMP], x[2] = { 0.0, 0.0 }, m[ST_NCOMP], y[ST_CORRECT_NFIG];
    if (liquid_of(&batch->is, c, wrong) < 0)
        return ST_E_DOMAIN;
    for (int turn = 0; turn < 60; turn++) {
        double f[3][2];
        for (int k = 0; k < 3; k++) { /* as it is, and with each a little more */
            for (int i = 0; i < ST_NCOMP; i++)
                m[i] = batch->ml * c[i] + (x[0] + (k == 1 ? 0.1 : 0.0)) * thing[0]->g[i] +
                       (x[1] + (k == 2 ? 0.1 : 0.0)) * thing[1]->g[i];
            if (st_correct_figures(1, 1, m, y) < 0)
                return ST_E_NOCONV;
            f[k][0] = y[ST_CORRECT_VOLUME] * (y[ST_CORRECT_STRENGTH] - strength);
            f[k][1] = y[ST_CORRECT_VOLUME] * (y[ST_CORRECT_SUGAR] - sugar);
        }
        const double a = (f[1][0] - f[0][0]) * 10.0, b = (f[2][0] - f[0][0]) * 10.0, d = (f[1][1] - f[0][1]) * 10.0,
                     e = (f[2][1] - f[0][1]) * 10.0, det = a * e - b * d;
        const double step[2] = { (b * f[0][1] - e * f[0][0]) / det, (d * f[0][0] - a * f[0][1]) / det };
        if (!isfinite(step[0] + step[1]))
            return ST_E_NOCONV;
        x[0] += step[0];
        x[1] += step[1];
        if (fabs(step[0]) + fabs(step[1]) < 1e-9 * batch->ml) {
            amount[0] = x[0];
            amount[1] = x[1];
            double total[ST_NCOMP];
            for (int i = 0; i < ST_NCOMP; i++)
                total[i] = batch->ml * c[i] + x[0] * thing[0]->g[i] + x[1] * thing[1]->g[i];
            (void)st_correct_figures(1, 1, total, y);
            *ml = y[ST_CORRECT_VOLUME];
            return ST_OK;
        }
    }
    return ST_E_NOCONV;
}
