#include "solvent_power.h"

#include <math.h>
#include <stdbool.h>

#include "steep_constants.h"
#include "strength.h"
#include "viscosity.h"

static const double MIXES = 900.0;              /* kg/m3, Note 2 of st_solubility_in_spirit */
static const double WINDOW[2] = { 0.35, 0.65 }; /* of the floor of the hump */

static bool is_share(double f)
{
    return f >= 0.0 && f <= 1.0;
}

static bool is_slope(double s)
{
    return s >= 0.0 && s <= 12.0;
}

static bool is_amount(double x)
{
    return x > 0.0 && isfinite(x);
}

enum st_status st_sigma_of_log_p(double log_p, double *sigma)
{
    if (!(log_p >= -5.0 && log_p <= 12.0))
        return ST_E_DOMAIN;

    *sigma = fmax(0.0, st_steep_constant(ST_SIGMA_SLOPE) * log_p + st_steep_constant(ST_SIGMA_INTERCEPT));
    return ST_OK;
}

enum st_status st_solubility_in_spirit(double S_w, double sigma, double f, double *S)
{
    if (!is_amount(S_w) || !is_slope(sigma) || !is_share(f))
        return ST_E_DOMAIN;

    const double law = S_w * pow(10.0, sigma * f);
    *S = fmin(law, MIXES);
    return f < 0.10 || f > 0.90 || law > MIXES ? ST_EXTRAPOLATED : ST_ESTIMATED;
}

enum st_status st_partition_in_spirit(double K0, double s, double f0, double f, double *K)
{
    if (!is_amount(K0) || !is_slope(s) || !is_share(f0) || !is_share(f))
        return ST_E_DOMAIN;

    *K = K0 * pow(10.0, -s * (f - f0));
    return ST_ESTIMATED;
}

static double bell(double f, double f0)
{
    const double u = (f - f0) / st_steep_constant(ST_HUMP_WIDTH);
    return exp(-0.5 * u * u);
}

enum st_status st_hump(double f, double f0, double *E)
{
    if (!is_share(f) || !(f0 >= WINDOW[0] && f0 <= WINDOW[1]))
        return ST_E_DOMAIN;

    const double floor = st_steep_constant(ST_HUMP_FLOOR);
    if (f >= WINDOW[0] && f <= WINDOW[1])
        *E = fmax(bell(f, f0), floor);
    else /* lifted by what the floor lifts the edge, so that the curve has no jump */
        *E = bell(f, f0) * fmax(1.0, floor / bell(f < WINDOW[0] ? WINDOW[0] : WINDOW[1], f0));
    return f < 0.20 || f > 0.80 ? ST_EXTRAPOLATED : ST_ESTIMATED;
}

enum st_status st_viscosity_factor(const double w[ST_NCOMP], double *factor)
{
    static const double water[ST_NCOMP] = { [ST_WATER] = 1.0 };
    double eta = 0.0, eta_water = 0.0;
    const enum st_status s = st_status_worse(st_viscosity(water, ST_T20, &eta_water), st_viscosity(w, ST_T20, &eta));
    if (s < 0)
        return s;
    *factor = eta_water / eta;
    return s;
}
