#include "density_acid.h"

#include "mixture_kernel.h"
#include "water.h"

enum st_status st_density_citric(double w, double T, double *rho)
{
    if (!(w >= 0.0 && w <= 1.0)) return ST_E_DOMAIN;
    double rho_w;
    const enum st_status s = st_density_water(T, &rho_w);
    if (s < 0) return s;

    *rho = rho_w + st_citric_increment(w);

    if (w > 0.60) return ST_ESTIMATED;
    return w > 0.30 || (w > 0.0 && (T < ST_T_FITTED_LOW || T > ST_T_FITTED_HIGH)) ? ST_EXTRAPOLATED : s;
}
