#include "trial.h"

#include <math.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "range.h"

/* ---- mixtures ---- */

static double ethanol_density(void)
{
    double rho = 789.239;
    (void)st_spirit_density(100.0, &rho);
    return rho;
}

struct figures {
    double strength, sugar, acid, volume;
};

static enum st_status figures_of(const double g[ST_NCOMP], struct figures *f)
{
    double w[ST_NCOMP], rho, mass = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        mass += g[c];
    if (st_mixture_from_masses(g, w) < 0)
        return ST_E_DOMAIN;
    const enum st_status s = st_density_mixture(w, ST_T20, &rho);
    if (s < 0)
        return s;
    f->volume = 1000.0 * mass / rho;
    f->strength = 1e5 * g[ST_ETHANOL] / f->volume / ethanol_density();
    f->sugar = 1000.0 * st_mixture_sugars(g) / f->volume;
    f->acid = 1000.0 * g[ST_ACID] / f->volume;
    return s;
}

static double mass_of(const struct st_trial_liquid *l)
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        sum += l->g[c];
    return sum;
}

/* Volume rises with the water: halved until nothing is left between. */
enum st_status st_trial_liquid_of(double strength, double sugar_g_l, double ml, struct st_trial_liquid *out)
{
    struct st_trial_liquid l = { .ml = ml };
    struct figures f;
    double low = 0.0, high = 1.2 * ml;
    if (!(strength >= 0.0 && strength <= 100.0) || !(sugar_g_l >= 0.0 && sugar_g_l <= 1200.0) ||
        !(ml > 0.0 && ml < 1e9))
        return ST_E_DOMAIN;
    l.g[ST_ETHANOL] = strength * 1e-5 * ethanol_density() * ml;
    l.g[ST_SUCROSE] = sugar_g_l * 1e-3 * ml;
    if (figures_of(l.g, &f) >= 0 && f.volume > ml * (1.0 + 1e-9))
        return ST_E_DOMAIN; /* full before any water is in */
    enum st_status s = ST_E_DOMAIN;
    for (int i = 0; i < 60; i++) {
        l.g[ST_WATER] = 0.5 * (low + high);
        s = figures_of(l.g, &f);
        if (s < 0)
            return s;
        *(f.volume > ml ? &high : &low) = l.g[ST_WATER];
    }
    *out = l;
    return s;
}

/* ---- drops ---- */

struct st_range st_trial_drop(const struct st_trial_liquid *unit, double g_of_50, double step_g)
{
    struct figures f = { .strength = 0.0 };
    if (g_of_50 > 0.0) {
        const double ml = g_of_50 / 50.0 / mass_of(unit);
        const double step = step_g / g_of_50 / sqrt(6.0);          /* half a step, read twice: triangular, sd */
        const double count = 0.10 / sqrt(3.0) / sqrt(50.0) + 0.02; /* one count against the next: from memory */
        const double by = ST_Z975 * sqrt(step * step + count * count);
        return (struct st_range){ ml, ml * fmax(1.0 - by, 0.1), ml * (1.0 + by), true, 'u', "50 drops weighed" };
    }
    (void)figures_of(unit->g, &f);
    const double ml = 0.05 - 0.025 * fmin(fmax(f.strength, 0.0), 96.0) / 96.0;
    return (struct st_range){ ml, 0.5 * ml, 1.5 * ml, true, 'p', "common practice, no source" };
}

/* ---- glasses ---- */

/* Relative standard deviation of a dose. */
static double doubt_of(const struct st_trial_add *a, double count)
{
    const double root3 = sqrt(3.0);
    if (!(count > 0.0))
        return 0.0;
    if (a->by == ST_TRIAL_BY_ML)
        return hypot(0.05, 0.1 / count) / root3;
    if (a->by == ST_TRIAL_BY_G)
        return 0.1 / count / sqrt(6.0); /* a digit of 0.1 g, read twice */
    const double size = (a->drop_ml.high - a->drop_ml.low) / (2.0 * ST_Z975 * a->drop_ml.value);
    return hypot(0.10 / root3 / sqrt(count), size);
}

static const double GLASS_DOUBT = 0.02 / 1.7320508075688772;

static double ml_of(const struct st_trial_add *a, double count)
{
    return a->by == ST_TRIAL_BY_ML  ? count
           : a->by == ST_TRIAL_BY_G ? count / mass_of(&a->unit)
                                    : count * a->drop_ml.value;
}

static struct st_interval about(double x, double sd, double least)
{
    return (struct st_interval){ x, fmax(x - ST_Z975 * sd, least), x + ST_Z975 * sd, ST_OK, true };
}

static struct st_trial_dose dose_of(const struct st_trial_add *a, double count, double doubt)
{
    const double ml = ml_of(a, count), g = ml * mass_of(&a->unit);
    /* what was counted is sure, what it holds is not */
    return (struct st_trial_dose){ count, about(ml, doubt * ml, 0.0), about(g, doubt * g, 0.0) };
}

/* The batch times share, and ml[] of the additions. */
static enum st_status mix(const struct st_trial *t, double share, const double ml[], struct figures *f)
{
    double g[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++) {
        g[c] = share * t->batch.g[c];
        for (int i = 0; i < t->n_add; i++)
            g[c] += ml[i] * t->add[i].unit.g[c];
    }
    return figures_of(g, f);
}

/* First order: each error in turn. */
static enum st_status fill_glass(const struct st_trial *t, double base_ml, const double count[], const double doubt[],
                                 double base_doubt, struct st_trial_glass *out)
{
    double ml[ST_TRIAL_ADDS];
    struct figures f, moved, sum = { 0 };
    for (int i = 0; i < t->n_add; i++) {
        out->dose[i] = dose_of(&t->add[i], count[i], doubt[i]);
        ml[i] = out->dose[i].ml.value;
    }
    const enum st_status s = mix(t, base_ml / t->batch.ml, ml, &f);
    if (s < 0)
        return s;
    for (int i = -1; i < t->n_add; i++) {
        const double was = i >= 0 ? ml[i] : 0.0;
        if (i >= 0)
            ml[i] *= 1.0 + doubt[i];
        if (mix(t, base_ml / t->batch.ml * (i < 0 ? 1.0 + base_doubt : 1.0), ml, &moved) >= 0) {
            sum.strength = hypot(sum.strength, moved.strength - f.strength);
            sum.sugar = hypot(sum.sugar, moved.sugar - f.sugar);
            sum.acid = hypot(sum.acid, moved.acid - f.acid);
            sum.volume = hypot(sum.volume, moved.volume - f.volume);
        }
        if (i >= 0)
            ml[i] = was;
    }
    out->strength = about(f.strength, sum.strength, 0.0);
    out->sugar = about(f.sugar, sum.sugar, 0.0);
    out->acid = about(f.acid, sum.acid, 0.0);
    out->volume = about(f.volume, sum.volume, 0.0);
    out->strength.status = out->sugar.status = out->acid.status = out->volume.status = s;
    return s;
}

static double count_in(const struct st_trial *t, int glass, int i)
{
    const struct st_trial_add *a = &t->add[i];
    double x = t->n_glass > 1 ? glass / (double)(t->n_glass - 1) : 0.0;
    if (t->n_add == 2)
        x = glass == 4 ? 0.5 : i == 0 ? glass % 2 : glass / 2;
    const double count = a->from + x * (a->to - a->from);
    return a->by == ST_TRIAL_BY_DROPS ? round(count) : count;
}

static bool makes_sense(const struct st_trial *t)
{
    if (!(t->batch.ml > 0.0) || !(t->glass_ml > 0.0) || t->n_add < 1 || t->n_add > ST_TRIAL_ADDS ||
        t->n_glass < (t->n_add == 2 ? 5 : 2) || t->n_glass > ST_TRIAL_GLASSES || t->n_glass * t->glass_ml > t->batch.ml)
        return false;
    for (int i = 0; i < t->n_add; i++)
        if (!(t->add[i].from >= 0.0 && t->add[i].from < t->add[i].to && t->add[i].to < 1e6) ||
            !(mass_of(&t->add[i].unit) > 0.0))
            return false;
    return true;
}

enum st_status st_trial_plan(const struct st_trial *t, struct st_trial_glass glass[ST_TRIAL_GLASSES])
{
    struct st_trial_glass all[ST_TRIAL_GLASSES];
    enum st_status worst = ST_OK;
    if (!makes_sense(t))
        return ST_E_DOMAIN;
    memset(all, 0, sizeof all);
    for (int k = 0; k < t->n_glass; k++) {
        double count[ST_TRIAL_ADDS], doubt[ST_TRIAL_ADDS];
        for (int i = 0; i < t->n_add; i++) {
            count[i] = count_in(t, k, i);
            doubt[i] = doubt_of(&t->add[i], count[i]);
        }
        const enum st_status s = fill_glass(t, t->glass_ml, count, doubt, GLASS_DOUBT, &all[k]);
        if (s < 0)
            return s;
        worst = st_status_worse(worst, s);
    }
    memcpy(glass, all, sizeof all);
    return worst;
}

enum st_status st_trial_pick(const struct st_trial *t, int pick, double drunk_ml, struct st_trial_rest *out)
{
    double count[ST_TRIAL_ADDS], doubt[ST_TRIAL_ADDS];
    struct st_trial_rest r;
    if (!makes_sense(t) || pick < 0 || pick >= t->n_glass || !(drunk_ml >= 0.0 && drunk_ml < t->batch.ml))
        return ST_E_DOMAIN;
    memset(&r, 0, sizeof r);
    r.left_ml = t->batch.ml - drunk_ml;
    for (int i = 0; i < t->n_add; i++) {
        const double in_glass = count_in(t, pick, i);
        count[i] = in_glass * r.left_ml / t->glass_ml;
        doubt[i] = hypot(doubt_of(&t->add[i], in_glass), in_glass > 0.0 ? GLASS_DOUBT : 0.0);
    }
    const enum st_status s = fill_glass(t, r.left_ml, count, doubt, 0.0, &r.after);
    if (s < 0)
        return s;
    memcpy(r.dose, r.after.dose, sizeof r.dose);
    *out = r;
    return s;
}
