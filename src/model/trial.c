#include "trial.h"

#include <math.h>
#include <string.h>

#include "amount.h"
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
    return (struct st_range){ ml, 0.5 * ml, 2.0 * ml, true, 'p', "common practice, no source" };
}

/* ---- glasses ---- */

static const double ROOT3 = 1.7320508075688772;

/* Of an amount: its relative standard deviation; by factor: of its logarithm. */
struct doubt {
    double sd;
    bool by_factor;
};

static double marks_doubt(enum st_trial_with with, double ml)
{
    return hypot(0.05, (with == ST_TRIAL_SYRINGE ? 0.1 : 0.5) / ml) / ROOT3;
}

static struct doubt doubt_of(const struct st_trial_add *a, enum st_trial_with with, double count)
{
    if (!(count > 0.0))
        return (struct doubt){ 0.0, false };
    if (a->by == ST_TRIAL_BY_ML)
        return (struct doubt){ marks_doubt(with, count), false };
    if (a->by == ST_TRIAL_BY_G)
        return (struct doubt){ 0.1 / count / sqrt(6.0), false }; /* a digit of 0.1 g, read twice */
    const double size = log(a->drop_ml.high / a->drop_ml.low) / (2.0 * ST_Z975);
    return (struct doubt){ hypot(0.10 / ROOT3 / sqrt(count), size), true };
}

static struct doubt glass_doubt(const struct st_trial *t)
{
    const struct st_tolerance jug = st_tolerance_default(ST_TOOL_JUG, t->glass_ml);
    const double by = t->with == ST_TRIAL_SYRINGE ? 0.02 : hypot(jug.scale, jug.step / t->glass_ml);
    return (struct doubt){ by / ROOT3, false };
}

/* What 1 may be, at the low and at the high end of 19 in 20. */
static double end_of(struct doubt d, bool high)
{
    const double by = high ? ST_Z975 * d.sd : -ST_Z975 * d.sd;
    return d.by_factor ? exp(by) : fmax(1.0 + by, 0.0);
}

static double ml_of(const struct st_trial_add *a, double count)
{
    return a->by == ST_TRIAL_BY_ML  ? count
           : a->by == ST_TRIAL_BY_G ? count / mass_of(&a->unit)
                                    : count * a->drop_ml.value;
}

static struct st_interval about(double x, double below, double above)
{
    return (struct st_interval){ x, fmax(x - below, 0.0), x + above, ST_OK, true };
}

static struct st_interval times(double x, struct doubt d)
{
    return about(x, x - x * end_of(d, false), x * end_of(d, true) - x);
}

static struct st_trial_dose dose_of(const struct st_trial_add *a, double count, struct doubt d)
{
    const double ml = ml_of(a, count), g = ml * mass_of(&a->unit);
    /* what was counted is sure, what it holds is not */
    return (struct st_trial_dose){ count, times(ml, d), times(g, d) };
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

struct ends {
    struct figures below, above;
};

static void spread(double change, double *below, double *above)
{
    if (change < 0.0)
        *below = hypot(*below, change);
    else
        *above = hypot(*above, change);
}

static void add_ends(struct ends *e, const struct figures *moved, const struct figures *f)
{
    spread(moved->strength - f->strength, &e->below.strength, &e->above.strength);
    spread(moved->sugar - f->sugar, &e->below.sugar, &e->above.sugar);
    spread(moved->acid - f->acid, &e->below.acid, &e->above.acid);
    spread(moved->volume - f->volume, &e->below.volume, &e->above.volume);
}

static enum st_status tell(const struct figures *f, const struct ends *e, enum st_status s, struct st_trial_glass *out)
{
    out->strength = about(f->strength, e->below.strength, e->above.strength);
    out->sugar = about(f->sugar, e->below.sugar, e->above.sugar);
    out->acid = about(f->acid, e->below.acid, e->above.acid);
    out->volume = about(f->volume, e->below.volume, e->above.volume);
    out->strength.status = out->sugar.status = out->acid.status = out->volume.status = s;
    return s;
}

/* Each error in turn to either end; what they do adds up as squares, below and above by itself. */
static enum st_status fill_glass(const struct st_trial *t, double base_ml, const double count[],
                                 const struct doubt doubt[], struct doubt base_doubt, struct st_trial_glass *out)
{
    double ml[ST_TRIAL_ADDS] = { 0.0 };
    struct figures f, moved;
    struct ends e;
    for (int i = 0; i < t->n_add; i++) {
        out->dose[i] = dose_of(&t->add[i], count[i], doubt[i]);
        ml[i] = out->dose[i].ml.value;
    }
    memset(&e, 0, sizeof e);
    const double share = base_ml / t->batch.ml;
    const enum st_status s = mix(t, share, ml, &f);
    if (s < 0)
        return s;
    for (int k = 0; k < 2 * t->n_add + 2; k++) {
        const int i = k / 2 - 1; /* -1: the glass */
        const double by = end_of(i < 0 ? base_doubt : doubt[i], k % 2), was = i < 0 ? 0.0 : ml[i];
        if (i >= 0)
            ml[i] *= by;
        if (mix(t, i < 0 ? share * by : share, ml, &moved) >= 0)
            add_ends(&e, &moved, &f);
        if (i >= 0)
            ml[i] = was;
    }
    return tell(&f, &e, s, out);
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
        double count[ST_TRIAL_ADDS];
        struct doubt doubt[ST_TRIAL_ADDS];
        for (int i = 0; i < t->n_add; i++) {
            count[i] = count_in(t, k, i);
            doubt[i] = doubt_of(&t->add[i], t->with, count[i]);
        }
        const enum st_status s = fill_glass(t, t->glass_ml, count, doubt, glass_doubt(t), &all[k]);
        if (s < 0)
            return s;
        worst = st_status_worse(worst, s);
    }
    memcpy(glass, all, sizeof all);
    return worst;
}

enum st_status st_trial_pick(const struct st_trial *t, int pick, double drunk_ml, struct st_trial_rest *out)
{
    double count[ST_TRIAL_ADDS];
    struct doubt doubt[ST_TRIAL_ADDS];
    struct st_trial_rest r;
    if (!makes_sense(t) || pick < 0 || pick >= t->n_glass || !(drunk_ml >= 0.0 && drunk_ml < t->batch.ml))
        return ST_E_DOMAIN;
    memset(&r, 0, sizeof r);
    r.left_ml = t->batch.ml - drunk_ml;
    for (int i = 0; i < t->n_add; i++) {
        const double in_glass = count_in(t, pick, i);
        count[i] = in_glass * r.left_ml / t->glass_ml;
        doubt[i] = doubt_of(&t->add[i], t->with, in_glass);
        doubt[i].sd = in_glass > 0.0 ? hypot(doubt[i].sd, glass_doubt(t).sd) : 0.0;
    }
    const enum st_status s = fill_glass(t, r.left_ml, count, doubt, (struct doubt){ 0.0, false }, &r.after);
    if (s < 0)
        return s;
    memcpy(r.dose, r.after.dose, sizeof r.dose);
    *out = r;
    return s;
}
