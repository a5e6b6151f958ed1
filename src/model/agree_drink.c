#include <math.h>

#include "agree_inside.h"
#include "core/density_mixture.h"
#include "core/refraction.h"
#include "core/strength.h"

static const double NORMAL_975 = 1.959963984540054;
static const double OPTICS_PCT_VOL = 0.5; /* half width, gauge.h Note 4 */
static const double ROUNDING = 1e-10;     /* of the whole weight */
enum { DRAWS_LEAST = 50 };

static bool is_sugar(int c)
{
    return c == ST_SUCROSE || c == ST_GLUCOSE || c == ST_FRUCTOSE || c == ST_LACTOSE;
}

/* Which unknown a component belongs to. */
static int unknown_of(int c)
{
    switch (c) {
    case ST_WATER: return AGREE_WATER;
    case ST_ETHANOL: return AGREE_ETHANOL;
    case ST_ACID: return AGREE_ACID;
    default: return is_sugar(c) ? AGREE_SUGAR : AGREE_OTHER;
    }
}

void st_agree_masses(const struct agree_drink *d, const double x[], double m[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++)
        m[c] = d->share[c] * x[unknown_of(c)];
}

static void set_shares(struct agree_drink *d, const double g[ST_NCOMP])
{
    double sum[AGREE_N] = { 0 };
    for (int c = 0; c < ST_NCOMP; c++)
        sum[unknown_of(c)] += g[c];
    for (int c = 0; c < ST_NCOMP; c++)
        d->share[c] = sum[unknown_of(c)] > 0.0 ? g[c] / sum[unknown_of(c)] : 0.0;
    d->share[ST_WATER] = d->share[ST_ETHANOL] = d->share[ST_ACID] = 1.0;
    if (!(sum[AGREE_SUGAR] > 0.0))
        d->share[ST_SUCROSE] = 1.0; /* what a reading may find where the recipe has none */
    if (!(sum[AGREE_OTHER] > 0.0))
        d->share[ST_EXTRACT] = 1.0;
}

/* ---- the draws ---- */

static double drawn(const struct st_foretold *t, enum st_figure f, int i)
{
    return t->draw[f] ? t->draw[f][i] : 0.0;
}

static void unknowns_of_draw(const struct st_foretold *t, const struct st_agree_drained *drained, double ethanol_g_ml,
                             int i, double x[AGREE_N])
{
    const double ml = drawn(t, ST_FIG_VOLUME, i), l = 1e-3 * ml;
    x[AGREE_ETHANOL] = 0.01 * drawn(t, ST_FIG_STRENGTH, i) * ml * ethanol_g_ml;
    x[AGREE_SUGAR] = drawn(t, ST_FIG_SUGAR, i) * l;
    x[AGREE_ACID] = drawn(t, ST_FIG_ACID, i) * l;
    x[AGREE_OTHER] = (drawn(t, ST_FIG_EXTRACT, i) + drawn(t, ST_FIG_FAT, i)) * l - x[AGREE_SUGAR] - x[AGREE_ACID];
    x[AGREE_OTHER] = fmax(x[AGREE_OTHER], 0.0) + t->final_g[ST_SOLIDS];
    x[AGREE_WATER] = drawn(t, ST_FIG_MASS, i) - x[AGREE_ETHANOL] - x[AGREE_SUGAR] - x[AGREE_ACID] - x[AGREE_OTHER];
    for (int k = 0; k < ST_AGREE_STEEPS; k++)
        x[AGREE_DRAINED + k] = drained && k < drained->n ? drained->g[k][i] : 0.0;
    x[AGREE_RULE] = x[AGREE_OPTICS] = 0.0;
}

static bool is_foretold(const struct st_foretold *t)
{
    static const enum st_figure NEEDED[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_VOLUME, ST_FIG_MASS };
    for (int i = 0; i < 4; i++)
        if (!t->fig[NEEDED[i]].known || !t->draw[NEEDED[i]])
            return false;
    return true;
}

void st_agree_drawn(const struct st_foretold *told, const struct st_agree_drained *drained, int i, double x[AGREE_N])
{
    double rho = 0.0;
    (void)st_spirit_density(100.0, &rho);
    unknowns_of_draw(told, drained, 1e-3 * rho, i, x);
}

/* Mean and covariance of the draws; false where one is no number. */
static bool joint(struct agree_drink *d, const struct st_foretold *t, const struct st_agree_drained *drained)
{
    double x[AGREE_N], rho = 0.0;
    (void)st_spirit_density(100.0, &rho);
    for (int i = 0; i < t->draws; i++) {
        unknowns_of_draw(t, drained, 1e-3 * rho, i, x);
        for (int a = 0; a < AGREE_N; a++)
            d->x0[a] += x[a] / t->draws;
    }
    for (int i = 0; i < t->draws; i++) {
        unknowns_of_draw(t, drained, 1e-3 * rho, i, x);
        for (int a = 0; a < AGREE_N; a++)
            for (int b = 0; b < AGREE_N; b++)
                d->P[a * AGREE_N + b] += (x[a] - d->x0[a]) * (x[b] - d->x0[b]) / (t->draws - 1);
    }
    for (int a = 0; a < AGREE_N; a++)
        if (!isfinite(d->x0[a]) || !isfinite(d->P[a * AGREE_N + a]))
            return false;
    /* what only rounding makes uncertain is exact */
    double whole = 0.0;
    for (int a = AGREE_ETHANOL; a <= AGREE_WATER; a++)
        whole += d->x0[a];
    for (int a = 0; a < AGREE_N; a++)
        if (sqrt(d->P[a * AGREE_N + a]) <= ROUNDING * whole)
            for (int b = 0; b < AGREE_N; b++)
                d->P[a * AGREE_N + b] = d->P[b * AGREE_N + a] = 0.0;
    return true;
}

/* ---- the errors that readings share ---- */

/* Brix that 0.5 % vol more amounts to, the density kept by sugar. */
static double optics_shift(const double m[ST_NCOMP])
{
    double more[ST_NCOMP], here, with_ethanol, with_sugar, rho, rho_e, rho_s, q, q_e;
    enum st_status s = st_drink_reading(m, ST_SHOWS_BRIX, ST_T20, 0.0, &here);
    s = st_status_worse(s, st_drink_reading(m, ST_SHOWS_DENSITY, ST_T20, 0.0, &rho));
    s = st_status_worse(s, st_drink_reading(m, ST_SHOWS_STRENGTH, ST_T20, 0.0, &q));
    double step = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        more[c] = m[c];
        step += 0.005 * m[c];
    }
    more[ST_ETHANOL] += step;
    s = st_status_worse(s, st_drink_reading(more, ST_SHOWS_BRIX, ST_T20, 0.0, &with_ethanol));
    s = st_status_worse(s, st_drink_reading(more, ST_SHOWS_DENSITY, ST_T20, 0.0, &rho_e));
    s = st_status_worse(s, st_drink_reading(more, ST_SHOWS_STRENGTH, ST_T20, 0.0, &q_e));
    more[ST_ETHANOL] = m[ST_ETHANOL];
    more[ST_SUCROSE] += step;
    s = st_status_worse(s, st_drink_reading(more, ST_SHOWS_BRIX, ST_T20, 0.0, &with_sugar));
    s = st_status_worse(s, st_drink_reading(more, ST_SHOWS_DENSITY, ST_T20, 0.0, &rho_s));
    if (s < 0 || !(rho_s > rho) || !(q_e > q))
        return 0.0;
    const double sugar = (rho - rho_e) / (rho_s - rho); /* steps of sugar to a step of ethanol */
    return OPTICS_PCT_VOL * (with_ethanol - here + sugar * (with_sugar - here)) / (q_e - q);
}

static void add_shared(struct agree_drink *d)
{
    double m[ST_NCOMP], w[ST_NCOMP], rho, band, n;
    st_agree_masses(d, d->x0, m);
    if (st_mixture_from_masses(m, w) < 0)
        return;
    if (st_density_mixture(w, ST_T20, &rho) >= 0 && st_density_mixture_band(w, ST_T20, &band) >= 0)
        d->P[AGREE_RULE * AGREE_N + AGREE_RULE] = pow(band / NORMAL_975 / rho, 2.0);
    double low, high, variance = 0.0;
    if (st_n_mixture(w, ST_T20, &n) >= 0 && st_n_mixture_band(w, ST_T20, &band) >= 0 &&
        st_brix_from_n(n - band, &low) >= 0 && st_brix_from_n(n + band, &high) >= 0)
        variance = pow(0.5 * (high - low) / NORMAL_975, 2.0);
    const double shift = optics_shift(m);
    d->P[AGREE_OPTICS * AGREE_N + AGREE_OPTICS] = variance + shift * shift / 3.0; /* a rectangle */
}

enum st_status st_agree_before(struct agree_drink *d, const struct st_foretold *told,
                               const struct st_agree_drained *drained)
{
    *d = (struct agree_drink){ .n_drained = drained ? drained->n : 0 };
    if (told->draws < DRAWS_LEAST)
        return ST_E_DOMAIN;
    if (!is_foretold(told))
        return ST_E_REFUSED;
    set_shares(d, told->final_g);
    if (!joint(d, told, drained))
        return ST_E_REFUSED;
    add_shared(d);
    return ST_OK;
}

/* ---- readings ---- */

bool st_agree_is_warm(enum st_seen what)
{
    return what == ST_SEEN_SG || what == ST_SEEN_BRIX || what == ST_SEEN_FLASK_G || what == ST_SEEN_SG_BOILED ||
           what == ST_SEEN_LIQUOR_ML;
}

static enum st_shows shown_by(enum st_seen what)
{
    switch (what) {
    case ST_SEEN_STRENGTH: return ST_SHOWS_STRENGTH;
    case ST_SEEN_SUGAR: return ST_SHOWS_SUGAR;
    case ST_SEEN_ACID: return ST_SHOWS_ACID;
    case ST_SEEN_LIQUOR_ML: return ST_SHOWS_VOLUME;
    case ST_SEEN_LIQUOR_G: return ST_SHOWS_MASS;
    case ST_SEEN_SG: return ST_SHOWS_SG;
    case ST_SEEN_SG_BOILED: return ST_SHOWS_SG_BOILED;
    case ST_SEEN_BRIX: return ST_SHOWS_BRIX;
    case ST_SEEN_FLASK_G: return ST_SHOWS_FLASK;
    default: return ST_NSHOWS;
    }
}

enum st_status st_agree_shown(const struct agree_drink *d, const double x[], const struct agree_reading *r, double *y)
{
    double m[ST_NCOMP], shown;
    if (r->what == ST_SEEN_DRAINED_G) {
        if (r->steep < 0 || r->steep >= d->n_drained)
            return ST_E_REFUSED;
        *y = x[AGREE_DRAINED + r->steep];
        return ST_OK;
    }
    const enum st_shows what = shown_by(r->what);
    if (what == ST_NSHOWS)
        return ST_E_REFUSED;
    st_agree_masses(d, x, m);
    const enum st_status s = st_drink_reading(m, what, r->T, r->flask_ml, &shown);
    if (s < 0)
        return s;
    const double denser = 1.0 + x[AGREE_RULE];
    switch (r->what) {
    case ST_SEEN_LIQUOR_ML: *y = shown / denser; break;
    case ST_SEEN_STRENGTH:
    case ST_SEEN_SUGAR:
    case ST_SEEN_ACID:
    case ST_SEEN_SG:
    case ST_SEEN_FLASK_G: *y = shown * denser; break;
    case ST_SEEN_BRIX: *y = shown + x[AGREE_OPTICS]; break;
    default: *y = shown; break;
    }
    return s;
}
