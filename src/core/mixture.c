#include "mixture.h"

#include <math.h>

const char *st_component_name(enum st_component c)
{
    switch (c) {
    case ST_WATER: return "water";
    case ST_ETHANOL: return "ethanol";
    case ST_SUCROSE: return "sucrose";
    case ST_GLUCOSE: return "glucose";
    case ST_FRUCTOSE: return "fructose";
    case ST_LACTOSE: return "lactose";
    case ST_ACID: return "acid";
    case ST_POLYOL: return "polyol";
    case ST_PROTEIN: return "protein";
    case ST_EXTRACT: return "extract";
    case ST_FAT: return "fat";
    case ST_SOLIDS: return "solids";
    case ST_NCOMP: break;
    }
    return "unknown";
}

enum st_status st_mixture_check(const double w[ST_NCOMP])
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        if (!(w[c] >= 0.0 && w[c] <= 1.0)) return ST_E_DOMAIN;
        sum += w[c];
    }
    return fabs(sum - 1.0) <= 1e-9 ? ST_OK : ST_E_DOMAIN;
}

enum st_status st_mixture_from_masses(const double m[ST_NCOMP], double w[ST_NCOMP])
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        if (!(m[c] >= 0.0)) return ST_E_DOMAIN;
        sum += m[c];
    }
    if (!(sum > 0.0 && isfinite(sum))) return ST_E_DOMAIN;
    for (int c = 0; c < ST_NCOMP; c++) w[c] = m[c] / sum;
    return ST_OK;
}

double st_mixture_sugars(const double w[ST_NCOMP])
{
    return w[ST_SUCROSE] + w[ST_GLUCOSE] + w[ST_FRUCTOSE] + w[ST_LACTOSE];
}
