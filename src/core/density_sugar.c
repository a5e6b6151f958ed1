#include "density_sugar.h"

#include <math.h>
#include <stdbool.h>

#include "mixture_kernel.h"
#include "water.h"

/* [sps4], a[i][k]: ((t - 20 degC)/100)^i w^(k+1) */
static const double a[5][6] = {
    { 385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890 },
    { -46.2720, -7.1720, 1.1597, 5.1126, 17.5254 },
    { 59.7712, 7.2491, 12.3630, -35.4791 },
    { -47.2207, -21.6977, 27.6301 },
    { 18.3184, 12.3081 },
};

enum st_status st_sw_at(double T, struct st_sw *sw)
{
    const enum st_status s = st_density_water(T, &sw->rho_w);
    if (s < 0) return s;

    const double x = (T - 293.15) / 100.0;
    for (int k = 0; k < 6; k++) {
        double sum = 0.0;
        for (int i = 4; i >= 1; i--) sum = (sum + a[i][k]) * x;
        sw->a[k] = a[0][k] + sum;
    }
    return s;
}

/* Density of sugars in water by shares that add up to 1, and its status. */
static enum st_status one_sugar(double w, double T, double glucose, double fructose, double *rho)
{
    if (!(w >= 0.0 && w <= 1.0)) return ST_E_DOMAIN;
    struct st_sw sw;
    const enum st_status s = st_sw_at(T, &sw);
    if (s < 0) return s;

    const double G = glucose * w, F = fructose * w;
    const bool hexose = glucose + fructose > 0.0;
    const double S = hexose ? 0.0 : w;
    const struct st_sugar_mix mix = st_sugar_mix_of(sw.rho_w, st_sw_increment(&sw, w), st_lower(w, ST_X_GLUCOSE),
                                                    st_lower(w, ST_X_FRUCTOSE), S + ST_LITTLE, G, F, w + ST_LITTLE);
    *rho = st_sugar_rho(&mix, S, G, F, w);

    if (w > 0.85) return ST_ESTIMATED;
    if (w > 0.70 || (w > 0.60 && glucose > 0.0) || (w > 0.48 && fructose > 0.0)) return ST_EXTRAPOLATED;
    if (hexose && w > 0.0 && (T < ST_T_FITTED_LOW || T > ST_T_FITTED_HIGH)) return ST_EXTRAPOLATED;
    return s;
}

enum st_status st_density_sucrose(double w, double T, double *rho)
{
    return one_sugar(w, T, 0.0, 0.0, rho);
}

enum st_status st_density_glucose(double w, double T, double *rho)
{
    return one_sugar(w, T, 1.0, 0.0, rho);
}

enum st_status st_density_fructose(double w, double T, double *rho)
{
    return one_sugar(w, T, 0.0, 1.0, rho);
}

enum st_status st_density_invert(double w, double T, double *rho)
{
    return one_sugar(w, T, 0.5, 0.5, rho);
}

static double sucrose_slope(const struct st_sw *sw, double w)
{
    double s = 6.0 * sw->a[5];
    for (int k = 4; k >= 0; k--) s = s * w + (k + 1) * sw->a[k];
    return s;
}

enum st_status st_w_from_density_sucrose(double rho, double T, double *w)
{
    struct st_sw sw;
    const enum st_status s = st_sw_at(T, &sw);
    if (s < 0) return s;
    const double target = rho - sw.rho_w;
    if (!(target >= 0.0 && target <= st_sw_increment(&sw, 1.0))) return ST_E_DOMAIN;

    double lo = 0.0, hi = 1.0, x = target / 500.0;
    x = x < 1.0 ? x : 1.0;
    for (int i = 0; i < 60; i++) {
        const double f = st_sw_increment(&sw, x) - target;
        *(f > 0.0 ? &hi : &lo) = x;
        double next = x - f / sucrose_slope(&sw, x);
        if (!(next >= lo && next <= hi)) next = 0.5 * (lo + hi);
        const double step = fabs(next - x);
        x = next;
        if (step < 1e-15) break;
    }
    double again;
    *w = x;
    return st_density_sucrose(x, T, &again);
}
