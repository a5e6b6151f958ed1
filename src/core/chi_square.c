#include "chi_square.h"

#include <math.h>
#include <stdbool.h>

enum { TERMS = 1000 };
static const double SMALL = 1e-16, TINY = 1e-300;

/* P(a, x) by its series: exp(-x) x^a / Gamma(a + 1) (1 + x/(a + 1) + ...); [dlmf_8] 8.7.1 */
static enum st_status below(double a, double x, double front, double *p)
{
    double term = 1.0 / a, sum = term;
    for (int k = 1; k <= TERMS; k++) {
        term *= x / (a + k);
        sum += term;
        if (term <= SMALL * sum) {
            *p = sum * front;
            return ST_OK;
        }
    }
    return ST_E_NOCONV;
}

/* Q(a, x) by its continued fraction, from the front; [dlmf_8] 8.9.2 */
static enum st_status above(double a, double x, double front, double *q)
{
    double b = x + 1.0 - a, c = 1.0 / TINY, d = 1.0 / b, h = d;
    for (int k = 1; k <= TERMS; k++) {
        const double an = -k * (k - a);
        b += 2.0;
        d = an * d + b;
        c = b + an / c;
        d = 1.0 / (fabs(d) < TINY ? TINY : d);
        c = fabs(c) < TINY ? TINY : c;
        h *= c * d;
        if (fabs(c * d - 1.0) <= 4.0 * SMALL) {
            *q = h * front;
            return ST_OK;
        }
    }
    return ST_E_NOCONV;
}

enum st_status st_chi_square_above(double x, int df, double *p)
{
    if (!(x >= 0.0) || df < 1 || df > 1000)
        return ST_E_DOMAIN;
    const double a = 0.5 * df, y = 0.5 * x;
    if (isinf(x) || x == 0.0) {
        *p = x == 0.0;
        return ST_OK;
    }
    const double front = exp(a * log(y) - y - lgamma(a));
    double part;
    const bool small = y < a + 1.0;
    const enum st_status s = small ? below(a, y, front, &part) : above(a, y, front, &part);
    if (s >= 0)
        *p = fmin(fmax(small ? 1.0 - part : part, 0.0), 1.0);
    return s;
}

double st_normal_beyond(double z)
{
    return erfc(fabs(z) * 0.70710678118654752440);
}
