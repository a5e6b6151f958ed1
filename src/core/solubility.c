#include "solubility.h"

#include <math.h>

#include "basis.h"

/* kg/kg; a fit of ours to seven points of [browne_sucrose] (0, 10, 20, 30, 40, 55, 80 C), within 0.07 % mass */
static double in_water(double t)
{
    static const double A[4] = { 64.167287e-2, 0.13888377e-2, 4.2268976e-6, 7.3150032e-9 };
    return A[0] + t * (A[1] + t * (A[2] + t * A[3]));
}

/* [schrefeld1894] at 14 C: % sucrose in the saturated solution for 0, 10 .. 100 % mass of ethanol in the solvent */
static double at_14C(double p)
{
    static const double S[11] = { 66.2, 62.2, 58.55, 54.05, 47.75, 38.55, 26.7, 12.25, 4.05, 0.95, 0.0 };
    int i = (int)(10.0 * p);
    if (i > 9)
        i = 9;
    return (S[i] + (S[i + 1] - S[i]) * (10.0 * p - i)) / 100.0;
}

static double to_solvent(double ws)
{
    return ws / (1.0 - ws);
}

enum st_status st_sucrose_solubility(const double w[ST_NCOMP], double T_K, double *ws_sat)
{
    struct st_basis b;
    const enum st_status s = st_basis_of(w, &b);
    if (s < 0)
        return s;
    if (!(T_K > 0.0))
        return ST_E_DOMAIN;
    if (!(T_K >= 263.15 && T_K <= 373.15))
        return ST_E_REFUSED;

    const double water = in_water(T_K - 273.15);
    if (b.ethanol) {
        const double r = to_solvent(water) * to_solvent(at_14C(b.p)) / to_solvent(at_14C(0.0));
        *ws_sat = r / (1.0 + r);
        return ST_ESTIMATED;
    }
    *ws_sat = water;
    if (!b.only_sucrose || b.others > ST_TRACE)
        return ST_ESTIMATED;
    return (T_K < 273.15 || T_K > 353.15) ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_sucrose_solubility_band(const double w[ST_NCOMP], double T_K, double *half)
{
    static const double MEMORY_14C = 0.02, MOVED = 0.5, WATER = 0.005, PER_K = 0.0005, OTHER_SUGARS = 0.05;
    struct st_basis b;
    double ws;
    const enum st_status s = st_sucrose_solubility(w, T_K, &ws);
    if (s < 0)
        return s;
    (void)st_basis_of(w, &b);
    *half = WATER + PER_K * fmax(0.0, fmax(273.15 - T_K, T_K - 353.15));
    if (!b.only_sucrose || b.others > ST_TRACE)
        *half += OTHER_SUGARS;
    if (b.ethanol)
        *half += MEMORY_14C + MOVED * fabs(ws - at_14C(b.p));
    return s;
}
