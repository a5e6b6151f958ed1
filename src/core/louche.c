#include "louche.h"

#include <math.h>

#include "arrhenius.h"
#include "steep_constants.h"
#include "strength.h"

enum st_status st_solubility_chilled(double S20, double dH, double T, double *S)
{
    double factor = 0.0;
    if (!(S20 > 0.0) || !isfinite(S20) || !(dH >= 0.0 && dH <= 200e3) || !(T > 0.0))
        return ST_E_DOMAIN;
    if (!(T >= 233.15 && T <= 353.15))
        return ST_E_REFUSED;

    const enum st_status s = st_arrhenius_factor(dH, T, ST_T20, &factor);
    if (s < 0)
        return s;
    *S = S20 * factor;
    return ST_ESTIMATED;
}

enum st_status st_louche_index(double oil, double S, double sugar, double ks, double *L)
{
    if (!(oil >= 0.0) || !isfinite(oil) || !(S > 0.0) || !isfinite(S) || !(sugar >= 0.0 && sugar <= 1500.0) ||
        !(ks >= 0.0 && ks <= 0.01))
        return ST_E_DOMAIN;

    *L = oil / (S * pow(10.0, -ks * sugar));
    return ST_ESTIMATED;
}

enum st_status st_haze_of_index(double L, enum st_haze *verdict)
{
    return st_haze_of_interval(L, L, verdict);
}

enum st_status st_haze_of_interval(double low, double high, enum st_haze *verdict)
{
    if (!(low >= 0.0) || !(high >= low))
        return ST_E_DOMAIN;

    *verdict = high < st_steep_constant(ST_LOUCHE_CLEAR)  ? ST_HAZE_CLEAR
               : low > st_steep_constant(ST_LOUCHE_CLOUD) ? ST_HAZE_CLOUD
                                                          : ST_HAZE_UNDECIDED;
    return ST_OK;
}
