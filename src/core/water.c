#include "water.h"

#include <math.h>

#include "mixture_kernel.h"

/* [oiml1975] A1 and B1..B6; theta = t - 20 degC */
static const double A1 = 9.982012300e2;
static const double B[6] = { -2.0618513e-1, -5.2682542e-3,  3.6130013e-5,
                             -3.8957702e-7,  7.1693540e-9, -9.9739231e-11 };

static double oiml_line(double theta)
{
    double s = 0.0;
    for (int k = 5; k >= 0; k--) s = (s + B[k]) * theta;
    return A1 + s;
}

/* [sps4] water equation; t in degC */
static double sps4_line(double t)
{
    static const double a[6] = { 999.83952,    16.952577,    -7.9905127e-3,
                                 -46.241757e-6, 105.84601e-9, -281.03006e-12 };
    double s = a[5];
    for (int k = 4; k >= 0; k--) s = s * t + a[k];
    return s / (1.0 + 16.887236e-3 * t);
}

enum st_status st_density_water(double T, double *rho)
{
    if (!(T > 0.0)) return ST_E_DOMAIN;
    if (T < ST_T_LOWEST || T > ST_T_WATER_HIGHEST) return ST_E_REFUSED;

    if (T <= ST_T_HIGHEST)
        *rho = oiml_line(T - 293.15);
    else
        *rho = oiml_line(ST_T_HIGHEST - 293.15) + (sps4_line(T - 273.15) - sps4_line(ST_T_HIGHEST - 273.15));

    return T < ST_T_ICE || T > ST_T_HIGHEST ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_n_water(double T, double *n)
{
    if (!(T > 0.0)) return ST_E_DOMAIN;
    if (T < ST_T_LOWEST || T > ST_T_WATER_HIGHEST) return ST_E_REFUSED;

    /* cubic of the property notes through the [iso1743] values; theta = t - 20 degC */
    const double theta = T - 293.15;
    *n = ST_N_WATER_20 + theta * (-8.97667e-5 + theta * (-1.58333e-6 + theta * 6.0e-9));
    return T < ST_T_FITTED_LOW ? ST_EXTRAPOLATED : ST_OK;
}
