#include "boiling.h"

#include <math.h>

#include "activity.h"
#include "basis.h"

static const double MMHG = 101325.0 / 760.0; /* Pa */

/* [antoine_ew]: log10(P/mmHg) = A - B/(t + C), t in degC */
static const double ETHANOL[3] = { 8.1122, 1592.864, 226.184 };
static const double WATER[3] = { 8.07131, 1730.63, 233.426 };

static enum st_status antoine(const double k[3], double T, double *P)
{
    if (!(T > 0.0))
        return ST_E_DOMAIN;
    if (T < 273.15 || T > 433.15)
        return ST_E_REFUSED;
    *P = MMHG * pow(10.0, k[0] - k[1] / (T - 273.15 + k[2]));
    return T > 373.15 ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_vapour_pressure_ethanol(double T, double *P)
{
    return antoine(ETHANOL, T, P);
}

enum st_status st_vapour_pressure_water(double T, double *P)
{
    return antoine(WATER, T, P);
}

/* Total pressure at T of ethanol and water of activities a_E and a_W. */
static double pressure(double T, double a_E, double a_W)
{
    double P_E = 0.0, P_W = 0.0;
    (void)st_vapour_pressure_ethanol(T, &P_E); /* T is inside the bracket, hence inside Antoine's limits */
    (void)st_vapour_pressure_water(T, &P_W);
    return a_E * P_E + a_W * P_W;
}

static enum st_status bubble_point(double a_E, double a_W, double *T)
{
    double low = 340.0, high = 433.15;
    if (pressure(low, a_E, a_W) > 101325.0 || pressure(high, a_E, a_W) < 101325.0)
        return ST_E_NOCONV;
    for (int i = 0; i < 64 && high - low > 1e-9; i++) {
        const double mid = 0.5 * (low + high);
        if (pressure(mid, a_E, a_W) < 101325.0)
            low = mid;
        else
            high = mid;
    }
    *T = 0.5 * (low + high);
    return ST_OK;
}

enum st_status st_boiling_point(const double w[ST_NCOMP], double *T_K)
{
    struct st_basis b;
    double x_E = 0.0, g_E = 0.0, g_W = 0.0, ln_a = 0.0, T = 0.0;
    enum st_status s = st_basis_of(w, &b);
    if (s < 0)
        return s;
    if (b.dissolved > 0.85)
        return ST_E_REFUSED;
    if (w[ST_WATER] > 0.0)
        s = st_activity_sugar(w, &ln_a);
    if (s < 0)
        return s;
    s = st_activity_ethanol_water(b.p, &x_E, &g_E, &g_W);
    if (s < 0)
        return s;
    s = bubble_point(x_E * g_E, (1.0 - x_E) * g_W * exp(ln_a), &T);
    if (s < 0)
        return s;
    *T_K = T;
    return (b.sugar || b.others > ST_TRACE) ? ST_ESTIMATED : ST_OK;
}
