#include "viscosity.h"

#include <math.h>

#include "basis.h"

static const double ETA_WATER = 1.002e-3; /* Pa s at 20 C */
static const double T20 = 293.15;

/* ln(eta/eta_W) at 20 C; fit of ours to every second row of [crc102] ethanol, within 1.1 %; no constant, so that it
 * is 0 for water */
static double ln_ethanol(double p)
{
    static const double A[7] = { 3.7794141, 8.1807041, -61.47464, 130.54459, -146.76978, 88.483394, -22.561164 };
    double sum = 0.0;
    for (int i = 6; i >= 0; i--)
        sum = (sum + A[i]) * p;
    return sum;
}

/* Likewise for sucrose, u = s/(1 - 0.75 s): to every second row of [crc102], within 0.7 % but for the row at 32 % */
static double ln_sucrose(double s)
{
    static const double B[3] = { 2.57649511, 1.02403042, 0.04809389 };
    const double u = s / (1.0 - 0.75 * s);
    return u * (B[0] + u * (B[1] + u * B[2]));
}

static enum st_status viscosity_status(const struct st_basis *b, double s, double T)
{
    if (st_basis_kind(b) != ST_OK || fabs(T - T20) > 0.5)
        return ST_ESTIMATED;
    return s > 0.70 ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_viscosity(const double w[ST_NCOMP], double T_K, double *eta)
{
    struct st_basis b;
    const enum st_status c = st_basis_of(w, &b);
    if (c < 0)
        return c;
    if (!(T_K > 0.0))
        return ST_E_DOMAIN;

    /* sugars, acid, polyol and extract in the liquid without fat and solids */
    const double liquid = 1.0 - w[ST_FAT] - w[ST_SOLIDS];
    const double s = (liquid - w[ST_WATER] - w[ST_ETHANOL]) / liquid;
    if (!(T_K >= 253.15 && T_K <= 353.15) || s > 0.75 || liquid < 0.98)
        return ST_E_REFUSED;

    const double ln20 = ln_ethanol(b.p) + (s > 0.0 ? ln_sucrose(s) : 0.0);
    const double B = 2050.0 + 630.0 * ln20; /* K, from memory (Note 3) */
    *eta = ETA_WATER * exp(ln20 + B * (1.0 / T_K - 1.0 / T20));

    return viscosity_status(&b, s, T_K);
}
