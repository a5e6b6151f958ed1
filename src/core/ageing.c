#include "ageing.h"

#include <math.h>

#include "arrhenius.h"
#include "steep_constants.h"
#include "strength.h"

static const double LN2 = 0.69314718055994530942;
static const double M_SUCROSE = 342.297, M_WATER = 18.015; /* g/mol */

enum st_status st_first_order_left(double k, double t, double *left)
{
    if (!(k >= 0.0) || !isfinite(k) || !(t >= 0.0) || !isfinite(t))
        return ST_E_DOMAIN;
    *left = exp(-k * t);
    return ST_OK;
}

enum st_status st_half_life(double k, double *half)
{
    if (!(k > 0.0) || !isfinite(k))
        return ST_E_DOMAIN;
    *half = LN2 / k;
    return ST_OK;
}

enum st_status st_inversion_rate(double pH, double T, double *k)
{
    double warm = 0.0;
    if (!(pH >= 0.0 && pH <= 14.0) || !(T > 0.0))
        return ST_E_DOMAIN;
    if (!(pH >= 1.0 && pH <= 7.0) || !(T >= 253.15 && T <= 353.15))
        return ST_E_REFUSED;

    const enum st_status s = st_arrhenius_factor(st_steep_constant(ST_EA_INVERSION), T, 298.15, &warm);
    if (s < 0)
        return s;
    const double acid = 1000.0 * pow(10.0, -pH); /* mol/m3 */
    *k = st_steep_constant(ST_INVERSION_KH) * acid * warm;
    return ST_ESTIMATED;
}

enum st_status st_inversion_solids(double share, double *ratio)
{
    if (!(share >= 0.0 && share <= 1.0))
        return ST_E_DOMAIN;
    *ratio = 1.0 + share * M_WATER / M_SUCROSE;
    return ST_OK;
}

enum st_status st_fading_rate(double T, double *k)
{
    double warm = 0.0;
    if (!(T > 0.0))
        return ST_E_DOMAIN;
    if (!(T >= 253.15 && T <= 333.15))
        return ST_E_REFUSED;

    const enum st_status s = st_arrhenius_factor(st_steep_constant(ST_EA_FADING), T, ST_T20, &warm);
    if (s < 0)
        return s;
    *k = LN2 / st_steep_constant(ST_FADING_HALF_LIFE) * warm;
    return T < 288.15 || T > 308.15 ? ST_EXTRAPOLATED : ST_ESTIMATED;
}

enum st_status st_absorbance(double A0, double dilution, double path, double *A)
{
    if (!(A0 >= 0.0) || !isfinite(A0) || !(dilution >= 0.0 && dilution <= 1.0) || !(path >= 0.0) || !isfinite(path))
        return ST_E_DOMAIN;
    *A = A0 * dilution * path;
    return ST_OK;
}
