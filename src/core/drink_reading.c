#include "drink_reading.h"

#include <math.h>

#include "density_mixture.h"
#include "strength.h"

static const double GLASS = 25e-6;               /* soda glass, per K, by volume; [oiml1975] */
static const double AIR = 1.2, WEIGHTS = 8000.0; /* kg/m3; [oiml1975] */
static const double L_M3 = 1000.0, G_KG = 1e-3;

/* A drink, nothing of it negative. */
struct drink {
    double w[ST_NCOMP], grams, rho_20;
};

static enum st_status drink_of(const double m[ST_NCOMP], struct drink *d)
{
    d->grams = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        d->grams += m[c];
    const enum st_status s = st_mixture_from_masses(m, d->w);
    return s < 0 ? s : st_density_mixture(d->w, ST_T20, &d->rho_20);
}

/* g/L at 20 C, of what is a share w of the mass. */
static double per_litre(const struct drink *d, double w)
{
    return w * d->rho_20;
}

static enum st_status volume(const struct drink *d, double T, double *ml)
{
    double rho;
    const enum st_status s = st_density_mixture(d->w, T, &rho);
    if (s >= 0)
        *ml = d->grams * L_M3 / rho;
    return s;
}

/* The other way round from st_density_from_flask. */
static enum st_status flask(const struct drink *d, double T, double flask_ml, double *g)
{
    double rho;
    if (!(flask_ml > 0.0) || isinf(flask_ml))
        return ST_E_DOMAIN;
    const enum st_status s = st_density_mixture(d->w, T, &rho);
    if (s >= 0)
        *g = (rho - AIR) / (1.0 - AIR / WEIGHTS) * flask_ml * (1.0 + GLASS * (T - ST_T20)) * G_KG;
    return s;
}

static enum st_status boiled(const struct drink *d, double T, double *sg)
{
    double solute[ST_NCOMP], w[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++)
        solute[c] = per_litre(d, d->w[c]);
    const enum st_status s = st_mixture_from_strength(0.0, solute, w);
    return s < 0 ? s : st_status_worse(s, st_hydrometer_reading(w, T, ST_HYDROMETER_20C, sg));
}

static enum st_status reading(const double m[ST_NCOMP], enum st_shows what, double T, double flask_ml, double *y)
{
    struct drink d;
    const enum st_status s = drink_of(m, &d);
    if (s < 0)
        return s;
    switch (what) {
    case ST_SHOWS_STRENGTH: return st_status_worse(s, st_strength_mixture(d.w, y));
    case ST_SHOWS_SUGAR: *y = per_litre(&d, st_mixture_sugars(d.w)); return s;
    case ST_SHOWS_ACID: *y = per_litre(&d, d.w[ST_ACID]); return s;
    case ST_SHOWS_VOLUME: return st_status_worse(s, volume(&d, T, y));
    case ST_SHOWS_MASS: *y = d.grams; return s;
    case ST_SHOWS_DENSITY: return st_status_worse(s, st_density_mixture(d.w, T, y));
    case ST_SHOWS_SG: return st_status_worse(s, st_hydrometer_reading(d.w, T, ST_HYDROMETER_20C, y));
    case ST_SHOWS_BRIX: return st_status_worse(s, st_refractometer_reading(d.w, T, true, y));
    case ST_SHOWS_BRIX_PLAIN: return st_status_worse(s, st_refractometer_reading(d.w, T, false, y));
    case ST_SHOWS_FLASK: return st_status_worse(s, flask(&d, T, flask_ml, y));
    case ST_SHOWS_SG_BOILED: return st_status_worse(s, boiled(&d, T, y));
    case ST_NSHOWS: break;
    }
    return ST_E_DOMAIN;
}

enum st_status st_drink_reading(const double m[ST_NCOMP], enum st_shows what, double T, double flask_ml, double *y)
{
    double at_0[ST_NCOMP], mirrored[ST_NCOMP], edge, beyond;
    bool negative = false;
    for (int c = 0; c < ST_NCOMP; c++) {
        at_0[c] = fmax(m[c], 0.0);
        mirrored[c] = fabs(m[c]);
        negative = negative || m[c] < 0.0;
    }
    if (!negative)
        return reading(m, what, T, flask_ml, y);
    enum st_status s = reading(at_0, what, T, flask_ml, &edge);
    s = s < 0 ? s : st_status_worse(s, reading(mirrored, what, T, flask_ml, &beyond));
    if (s >= 0)
        *y = 2.0 * edge - beyond;
    return s;
}
