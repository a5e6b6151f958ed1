#include "crank.h"

#include <math.h>
#include <stdbool.h>

static const double PI = 3.14159265358979323846;

/* ---- Bessel functions J0 and J1 of x >= 0 (math.h of C17 has none) ---- */

/* Up to 25 the integral of cos(n t - x sin t)/pi over half a turn, by the trapezium rule, whose error falls faster than
 * any power of the number of points: 64 leave less than 1e-16. */
static double bessel_near(int n, double x)
{
    enum { POINTS = 64 };
    double sum = 0.5 * (1.0 + (n % 2 == 0 ? 1.0 : -1.0));
    for (int i = 1; i < POINTS; i++) {
        const double t = PI * i / POINTS;
        sum += cos(n * t - x * sin(t));
    }
    return sum / POINTS;
}

/* Above, Hankel's expansion, to its smallest term at most. */
static double bessel_far(int n, double x)
{
    const double m = 4.0 * n * n;
    double term = 1.0, P = 1.0, Q = 0.0;
    for (int k = 1; k < 40; k++) {
        const double odd = 2.0 * k - 1.0, next = term * (m - odd * odd) / (8.0 * k * x);
        if (fabs(next) >= fabs(term) || fabs(next) < 1e-18)
            break;
        term = next;
        const double sign = k / 2 % 2 == 0 ? 1.0 : -1.0;
        if (k % 2 == 0)
            P += sign * term;
        else
            Q += sign * term;
    }
    const double angle = x - (0.5 * n + 0.25) * PI;
    return sqrt(2.0 / (PI * x)) * (P * cos(angle) - Q * sin(angle));
}

static double bessel(int n, double x)
{
    return x < 25.0 ? bessel_near(n, x) : bessel_far(n, x);
}

/* ---- roots ---- */

/* The equation of a body, written so that it has one root in its bracket and no pole. */
struct line {
    double value, slope;
};

static struct line of_sphere(double alpha, int n, double q)
{
    const double s = 3.0 + alpha * q * q, y = 3.0 * q / s;
    return (struct line){ q - n * PI - atan(y), 1.0 - (3.0 / s - 2.0 * alpha * y * q / s) / (1.0 + y * y) };
}

static struct line of_slab(double alpha, int n, double q)
{
    return (struct line){ q - n * PI + atan(alpha * q), 1.0 + alpha / (1.0 + alpha * alpha * q * q) };
}

/* Divided by alpha + 1, so that a large bath is no large number. */
static struct line of_cylinder(double alpha, double q)
{
    const double a = isinf(alpha) ? 1.0 : alpha / (1.0 + alpha), c = isinf(alpha) ? 0.0 : 2.0 / (1.0 + alpha);
    const double J0 = bessel(0, q), J1 = bessel(1, q);
    return (struct line){ a * q * J0 + c * J1, a * (J0 - q * J1) + c * (J0 - J1 / q) };
}

static struct line equation(enum st_body body, double alpha, int n, double q)
{
    switch (body) {
    case ST_BODY_SPHERE: return of_sphere(alpha, n, q);
    case ST_BODY_SLAB: return of_slab(alpha, n, q);
    default: return of_cylinder(alpha, q);
    }
}

static enum st_status find_root(enum st_body body, double alpha, int n, double low, double high, double *q)
{
    const bool rises = equation(body, alpha, n, high).value > 0.0;
    double x = 0.5 * (low + high);
    for (int i = 0; i < 100; i++) {
        const struct line f = equation(body, alpha, n, x);
        if (f.value > 0.0 ? rises : !rises)
            high = x;
        else
            low = x;
        double to = x - f.value / f.slope;
        if (!(to > low && to < high))
            to = 0.5 * (low + high);
        const bool done = fabs(to - x) <= 1e-15 * x;
        x = to;
        if (done || high - low <= 1e-15 * x) {
            *q = x;
            return ST_OK;
        }
    }
    return ST_E_NOCONV;
}

static bool is_body(enum st_body body)
{
    return body == ST_BODY_SPHERE || body == ST_BODY_CYLINDER || body == ST_BODY_SLAB;
}

enum st_status st_crank_root(enum st_body body, double alpha, int n, double *q)
{
    if (!is_body(body) || !(alpha > 0.0) || n < 1 || n > 100000)
        return ST_E_DOMAIN;
    if (body == ST_BODY_CYLINDER)
        return find_root(body, alpha, n, (n - 0.25) * PI, (n + 0.25) * PI, q);
    if (isinf(alpha)) {
        *q = (body == ST_BODY_SPHERE ? n : n - 0.5) * PI;
        return ST_OK;
    }
    if (body == ST_BODY_SPHERE)
        return find_root(body, alpha, n, n * PI, (n + 0.5) * PI, q);
    return find_root(body, alpha, n, (n - 0.5) * PI, n * PI, q);
}

/* ---- uptake ---- */

/* exp(z^2) erfc(z) */
static double eerfc(double z)
{
    if (z < 20.0)
        return exp(z * z) * erfc(z);
    const double u = 1.0 / (2.0 * z * z);
    return (1.0 - u * (1.0 - 3.0 * u * (1.0 - 5.0 * u * (1.0 - 7.0 * u)))) / (z * sqrt(PI));
}

/* From this alpha on the bath counts as endless in the forms for short times, where 1 + alpha times a small difference
 * would lose digits. */
static const double ENDLESS = 1e7;

static double short_endless(enum st_body body, double Fo)
{
    const double root = sqrt(Fo / PI);
    switch (body) {
    case ST_BODY_SPHERE: return 6.0 * root - 3.0 * Fo;
    case ST_BODY_SLAB: return 2.0 * root;
    default: return 4.0 * root - Fo - root * Fo / 3.0;
    }
}

/* [crank1975] eq. 4.43, 6.34.  For the cylinder the same way: in the transform, with p^2 its variable, I1/I0 of p is
 * taken as 1 - 1/(2p), and the rest is exact. */
static double short_time(enum st_body body, double alpha, double Fo)
{
    if (alpha >= ENDLESS)
        return short_endless(body, Fo);
    const double root = sqrt(Fo);
    if (body == ST_BODY_SLAB)
        return (1.0 + alpha) * (1.0 - eerfc(root / alpha));
    const bool round = body == ST_BODY_SPHERE;
    const double n = round ? 3.0 : 2.0, sum = sqrt(round ? 1.0 + 4.0 * alpha / 3.0 : 1.0 + alpha);
    const double g1 = 0.5 * (sum + 1.0), g2 = 0.5 * (sum - 1.0);
    const double left = (g1 * eerfc(n * g1 / alpha * root) + g2 * eerfc(-n * g2 / alpha * root)) / sum;
    return (1.0 + alpha) * (1.0 - left);
}

/* The factor of exp(-q^2 Fo); divided by alpha^2 throughout, so that it holds for an endless bath too. */
static double weight(enum st_body body, double alpha, double q)
{
    const double u = 1.0 / alpha, v = u * (1.0 + u), q2 = q * q;
    switch (body) {
    case ST_BODY_SPHERE: return 6.0 * (1.0 + u) / (9.0 * v + q2);
    case ST_BODY_SLAB: return 2.0 * (1.0 + u) / (v + q2);
    default: return 4.0 * (1.0 + u) / (4.0 * v + q2);
    }
}

static enum st_status series(enum st_body body, double alpha, double Fo, double *F)
{
    double left = 0.0;
    for (int n = 1; n <= 100000; n++) {
        double q = 0.0;
        const enum st_status s = st_crank_root(body, alpha, n, &q);
        if (s < 0)
            return s;
        const double term = weight(body, alpha, q) * exp(-q * q * Fo);
        left += term;
        if (term < 1e-12) {
            *F = fmin(fmax(1.0 - left, 0.0), 1.0);
            return ST_OK;
        }
    }
    return ST_E_NOCONV;
}

enum st_status st_crank_uptake(enum st_body body, double alpha, double Fo, double *F)
{
    if (!is_body(body) || !(alpha > 0.0) || !(Fo >= 0.0))
        return ST_E_DOMAIN;
    if (isinf(Fo)) {
        *F = 1.0;
        return ST_OK;
    }
    if (Fo >= (body == ST_BODY_CYLINDER ? 2e-5 : 0.01))
        return series(body, alpha, Fo, F);
    *F = fmin(fmax(short_time(body, alpha, Fo), 0.0), 1.0);
    return ST_OK;
}

enum st_status st_crank_time(enum st_body body, double alpha, double F, double *Fo)
{
    if (!is_body(body) || !(alpha > 0.0) || !(F >= 0.0 && F < 1.0))
        return ST_E_DOMAIN;
    if (F == 0.0) {
        *Fo = 0.0;
        return ST_OK;
    }
    double low = -700.0, high = 5.0; /* log Fo: at 148 all three bodies are done to the last digit */
    for (int i = 0; i < 200 && high - low > 1e-13; i++) {
        const double middle = 0.5 * (low + high);
        double done = 0.0;
        const enum st_status s = st_crank_uptake(body, alpha, exp(middle), &done);
        if (s < 0)
            return s;
        if (done < F)
            low = middle;
        else
            high = middle;
    }
    *Fo = exp(0.5 * (low + high));
    return ST_OK;
}
