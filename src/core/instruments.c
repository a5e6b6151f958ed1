#include "instruments.h"

#include <math.h>

#include "density_mixture.h"
#include "refraction.h"
#include "refraction_kernel.h"
#include "strength.h"
#include "water.h"

static const double GLASS = 25e-6;     /* soda glass, per K, by volume; [oiml1975] */
static const double AIR = 1.2;         /* kg/m3; [oiml1975] */
static const double WEIGHTS = 8000.0;  /* kg/m3; [oiml1975] */

/* The w whose index at T is n, by steps with the slope of the 20 C scale, which is within 2 % of the slope at
 * any T here: each step gains at least a digit and a half. */
static enum st_status compensated(double n, const struct st_refract *r, double *brix)
{
    double w = 0.0;
    enum st_status s = ST_E_NOCONV;
    for (int i = 0; i < 60 && s < 0; i++) {
        const double step = (n - st_sucrose_n(r, w)) / st_scale_slope(w);
        w += step;
        w = w < ST_W_LOWEST - 0.05 ? ST_W_LOWEST - 0.05 : w > 0.95 ? 0.95 : w;
        if (fabs(step) < 1e-14) s = ST_OK;
    }
    if (!(w >= ST_W_LOWEST && w <= ST_W_HIGHEST)) return ST_E_REFUSED;
    if (s < 0) return s;
    *brix = 100.0 * w;
    return w < 0.0 ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_refractometer_reading(const double w[ST_NCOMP], double T, bool atc, double *brix)
{
    double n;
    const enum st_status s = st_n_mixture(w, T, &n);
    if (s < 0) return s;
    if (!atc) return st_status_worse(s, st_brix_from_n(n, brix));

    struct st_refract r;
    (void)st_refract_at(T, &r); /* T was judged above */
    return st_status_worse(s, compensated(n, &r, brix));
}

enum st_status st_n_from_reading(double brix, double T, bool atc, double *n)
{
    if (isnan(brix)) return ST_E_DOMAIN;
    struct st_refract r;
    const enum st_status s = st_refract_at(T, &r);
    if (s < 0) return s;
    double scale;
    const enum st_status range = st_n_from_brix(brix, &scale);
    if (range < 0) return range;
    *n = atc ? st_sucrose_n(&r, 0.01 * brix) : scale;
    return st_status_worse(s, range);
}

static double reference_temperature(enum st_hydrometer cal)
{
    return cal == ST_HYDROMETER_60F ? ST_T60F : ST_T20;
}

/* what a density of 1 kg/m3 at T reads */
static double sg_per_density(double T, enum st_hydrometer cal)
{
    const double T_ref = reference_temperature(cal);
    double rho_w = 0.0;
    (void)st_density_water(T_ref, &rho_w); /* both references are inside its limits */
    return (1.0 + GLASS * (T - T_ref)) / rho_w;
}

enum st_status st_hydrometer_reading(const double w[ST_NCOMP], double T, enum st_hydrometer cal, double *sg)
{
    double rho;
    const enum st_status s = st_density_mixture(w, T, &rho);
    if (s >= 0) *sg = rho * sg_per_density(T, cal);
    return s;
}

enum st_status st_density_from_hydrometer(double sg, double T, enum st_hydrometer cal, double *rho)
{
    if (!(sg >= 0.7 && sg <= 1.7) || !(T > 0.0)) return ST_E_DOMAIN;
    *rho = sg / sg_per_density(T, cal);
    return ST_OK;
}

enum st_status st_sg_20_20(const double w[ST_NCOMP], double *sg)
{
    double rho, rho_w = 0.0;
    const enum st_status s = st_density_mixture(w, ST_T20, &rho);
    if (s < 0) return s;
    (void)st_density_water(ST_T20, &rho_w);
    *sg = rho / rho_w;
    return s;
}

enum st_status st_density_from_flask(double m_kg, double V_m3, double T, bool in_air, double *rho)
{
    if (!(m_kg > 0.0) || !(V_m3 > 0.0) || !(T > 0.0)) return ST_E_DOMAIN;
    if (!isfinite(m_kg) || !isfinite(V_m3) || !isfinite(T)) return ST_E_DOMAIN;
    const double V = V_m3 * (1.0 + GLASS * (T - ST_T20));
    *rho = in_air ? m_kg / V * (1.0 - AIR / WEIGHTS) + AIR : m_kg / V;
    return ST_OK;
}
