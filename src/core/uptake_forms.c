#include "uptake_forms.h"

#include <math.h>
#include <stdbool.h>

static bool is_time(double t)
{
    return t >= 0.0 && isfinite(t);
}

static bool is_amount(double x)
{
    return x > 0.0 && isfinite(x);
}

static bool is_shape(double n)
{
    return n >= 0.05 && n <= 5.0;
}

enum st_status st_uptake_weibull(double tau, double n, double t, double *F)
{
    if (!is_amount(tau) || !is_shape(n) || !is_time(t))
        return ST_E_DOMAIN;
    *F = -expm1(-pow(t / tau, n));
    return ST_OK;
}

enum st_status st_uptake_peleg(double K1, double K2, double t, double *c)
{
    if (!is_amount(K1) || !is_amount(K2) || !is_time(t))
        return ST_E_DOMAIN;
    *c = t / (K1 + K2 * t);
    return ST_OK;
}

enum st_status st_uptake_two_speeds(double w, double k_w, double k_d, double t, double *F)
{
    if (!(w >= 0.0 && w <= 1.0) || !is_time(k_w) || !is_time(k_d) || !is_time(t))
        return ST_E_DOMAIN;
    *F = -w * expm1(-k_w * t) - (1.0 - w) * expm1(-k_d * t);
    return ST_OK;
}

/* y = a + b x by least squares, x and y made by f from each pair; false when a pair is outside or all x are the same.
 */
typedef bool to_line(double t, double value, double *x, double *y);

static bool straight_line(int n, const double t[], const double value[], to_line *f, double *a, double *b)
{
    double mx = 0.0, my = 0.0, xx = 0.0, xy = 0.0, x = 0.0, y = 0.0, low = (double)INFINITY, high = -(double)INFINITY;
    if (n < 2 || n > 1000)
        return false;
    for (int i = 0; i < n; i++) {
        if (!f(t[i], value[i], &x, &y))
            return false;
        mx += x / n;
        my += y / n;
        low = fmin(low, t[i]);
        high = fmax(high, t[i]);
    }
    for (int i = 0; i < n; i++) {
        (void)f(t[i], value[i], &x, &y);
        xx += (x - mx) * (x - mx);
        xy += (x - mx) * (y - my);
    }
    if (!(high > low) || !(xx > 0.0))
        return false;
    *b = xy / xx;
    *a = my - *b * mx;
    return true;
}

static bool weibull_line(double t, double F, double *x, double *y)
{
    if (!is_amount(t) || !(F > 0.0 && F < 1.0))
        return false;
    *x = log(t);
    *y = log(-log1p(-F));
    return true;
}

static bool peleg_line(double t, double c, double *x, double *y)
{
    if (!is_amount(t) || !is_amount(c))
        return false;
    *x = t;
    *y = t / c;
    return true;
}

enum st_status st_weibull_fit(int n, const double t[], const double F[], double *tau, double *shape)
{
    double a = 0.0, b = 0.0;
    if (!straight_line(n, t, F, weibull_line, &a, &b))
        return ST_E_DOMAIN;
    const double when = exp(-a / b);
    if (!is_shape(b) || !is_amount(when))
        return ST_E_REFUSED;
    *tau = when;
    *shape = b;
    return ST_OK;
}

enum st_status st_peleg_fit(int n, const double t[], const double c[], double *K1, double *K2)
{
    double a = 0.0, b = 0.0;
    if (!straight_line(n, t, c, peleg_line, &a, &b))
        return ST_E_DOMAIN;
    if (!is_amount(a) || !is_amount(b))
        return ST_E_REFUSED;
    *K1 = a;
    *K2 = b;
    return ST_OK;
}
