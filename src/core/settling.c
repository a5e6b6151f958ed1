#include "settling.h"

#include <math.h>

#include "steep_constants.h"

static const double G = 9.80665;  /* m/s2, the standard one */
static const double RHO = 1000.0; /* kg/m3, of the liquid in the Reynolds number only */

enum st_status st_settling_speed(double d, double drho, double eta, double phi, double *v)
{
    if (!(d >= 1e-9 && d <= 5e-3) || !(drho >= -2000.0 && drho <= 20000.0) || !(eta >= 1e-4 && eta <= 100.0) ||
        !(phi >= 0.0 && phi <= 0.6))
        return ST_E_DOMAIN;

    const double alone = G * d * d * drho / (18.0 * eta);
    *v = alone * pow(1.0 - phi, st_steep_constant(ST_HINDRANCE));
    return d * fabs(*v) * RHO / eta > 0.2 || phi > 0.3 ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_settling_time(double height, double v, double *t)
{
    if (!(height >= 0.0 && height <= 10.0) || !(fabs(v) > 0.0) || !isfinite(v))
        return ST_E_DOMAIN;

    *t = height / fabs(v);
    return ST_OK;
}
