#include "strength.h"

#include <math.h>

#include "density_ethanol.h"
#include "density_mixture.h"
#include "mixture_kernel.h"

/* q = 100 p rho(p)/rho(1) at the temperature of ew */
static inline double strength_of(const struct st_ew *ew, double p, double rho_1)
{
    return 100.0 * p * st_ew_rho(ew, p) / rho_1;
}

/* p within 1e-3 of the answer; own fit of degree 6 to [oiml1975] at 20 C, x = q/100 */
static inline double start(double x)
{
    static const double c[7] = { 8.50815658e-05, 7.82262107e-01,  2.59800229e-01, -1.00549796e+00,
                                 2.55125567e+00, -2.61447647e+00, 1.02575051e+00 };
    double s = c[6];
    for (int k = 5; k >= 0; k--) s = s * x + c[k];
    return s;
}

/* Coefficients of d(p rho(p))/dp */
static struct st_ew slope_at(const struct st_ew *ew)
{
    struct st_ew slope;
    for (int k = 0; k < 12; k++) slope.c[k] = (k + 1) * ew->c[k];
    return slope;
}

enum { MANY = 512 }; /* strengths a block */

/* Each pass over a block is short enough to keep its coefficients in registers.  p rho(p) = y, kg of ethanol in
 * 1 m3. */
static inline void densities(const struct st_ew *ew, size_t n, const double *restrict p, double *restrict rho)
{
    for (size_t i = 0; i < n; i++) rho[i] = st_ew_rho(ew, p[i]);
}

/* Newton's step with rho at p; the slope is kept */
static inline void step(const struct st_ew *ew_slope, size_t n, const double *restrict y, const double *restrict rho,
                        double *restrict slope, double *restrict p)
{
    for (size_t i = 0; i < n; i++) {
        slope[i] = st_ew_rho(ew_slope, p[i]);
        p[i] = p[i] - (p[i] * rho[i] - y[i]) / slope[i];
    }
}

/* By the slope of the step before: off by what that step moved times what it left.  The ends are exact by
 * definition. */
static inline void last_step(const struct st_ew *ew, size_t n, const double *y, const double *slope, const double *x,
                             double *p)
{
    const double y_1 = st_ew_rho(ew, 1.0);
    for (size_t i = 0; i < n; i++) {
        const double next = x[i] - (x[i] * st_ew_rho(ew, x[i]) - y[i]) / slope[i];
        const double above = next > 0.0 ? next : 0.0, held = above < 1.0 ? above : 1.0;
        const double low = y[i] > 0.0 ? held : 0.0;
        p[i] = y[i] < y_1 ? low : 1.0;
    }
}

ST_CLONES static void invert_n(const struct st_ew *coef, const struct st_ew *coef_slope, size_t n, const double *q,
                               double *p)
{
    const struct st_ew ew = *coef, ew_slope = *coef_slope;
    const double y_1 = st_ew_rho(&ew, 1.0);
    _Alignas(64) double x[MANY], y[MANY], rho[MANY], slope[MANY];
    for (size_t i = 0; i < n; i++) {
        const double part = 0.01 * q[i]; /* 0.01 times 100 is 1 */
        y[i] = y_1 * part;
        x[i] = start(part);
    }
    for (int i = 0; i < 2; i++) {
        densities(&ew, n, x, rho);
        step(&ew_slope, n, y, rho, slope, x);
    }
    last_step(&ew, n, y, slope, x, p);
}

static enum st_status p_from_percent_n(size_t n, const double q[], double T, double p[])
{
    if (!st_all_within(n, q, 100.0)) return ST_E_DOMAIN;

    struct st_ew ew;
    const enum st_status s = st_ew_at(T, &ew);
    const struct st_ew slope = slope_at(&ew);
    for (size_t i = 0; i < n; i += MANY)
        invert_n(&ew, &slope, n - i < MANY ? n - i : MANY, q + i, p + i);
    return s;
}

static enum st_status percent_from_p(double p, double T, double *q)
{
    if (!(p >= 0.0 && p <= 1.0)) return ST_E_DOMAIN;
    struct st_ew ew;
    const enum st_status s = st_ew_at(T, &ew);
    *q = strength_of(&ew, p, st_ew_rho(&ew, 1.0));
    return s;
}

enum st_status st_strength_from_p(double p, double *q)
{
    return percent_from_p(p, ST_T20, q);
}

enum st_status st_p_from_strength(double q, double *p)
{
    return p_from_percent_n(1, &q, ST_T20, p);
}

enum st_status st_p_from_strength_n(size_t n, const double q[], double p[])
{
    return p_from_percent_n(n, q, ST_T20, p);
}

enum st_status st_proof_from_p(double p, double *proof)
{
    double q;
    const enum st_status s = percent_from_p(p, ST_T60F, &q);
    if (s >= 0) *proof = 2.0 * q;
    return s;
}

enum st_status st_p_from_proof(double proof, double *p)
{
    const double q = 0.5 * proof;
    return p_from_percent_n(1, &q, ST_T60F, p);
}

enum st_status st_spirit_density(double q, double *rho)
{
    double p;
    const enum st_status s = st_p_from_strength(q, &p);
    return s < 0 ? s : st_density_ethanol(p, ST_T20, rho);
}

static double ethanol_density_20(void)
{
    double rho = 0.0;
    (void)st_density_ethanol(1.0, ST_T20, &rho);
    return rho;
}

enum st_status st_strength_mixture(const double w[ST_NCOMP], double *q)
{
    double rho;
    const enum st_status s = st_density_mixture(w, ST_T20, &rho);
    if (s >= 0) *q = 100.0 * w[ST_ETHANOL] * rho / ethanol_density_20();
    return s;
}

enum st_status st_grams_per_litre(const double w[ST_NCOMP], enum st_component c, double *g_l)
{
    double rho;
    const enum st_status s = st_density_mixture(w, ST_T20, &rho);
    if (s < 0) return s;
    if ((int)c < 0 || c >= ST_NCOMP) return ST_E_DOMAIN;
    *g_l = w[c] * rho;
    return s;
}

/* Masses in 1 m3 at 20 C that total rho: w[], or ST_E_DOMAIN when no water is left. */
static enum st_status fractions(double rho, double ethanol, const double solutes[ST_NCOMP], double w[ST_NCOMP])
{
    double water = rho - ethanol;
    for (int c = 0; c < ST_NCOMP; c++) {
        if (c == ST_WATER || c == ST_ETHANOL) continue;
        w[c] = solutes[c] / rho;
        water -= solutes[c];
    }
    w[ST_ETHANOL] = ethanol / rho;
    w[ST_WATER] = water / rho;
    if (water < 0.0 && water > -1e-9 * rho) w[ST_WATER] = 0.0;
    return w[ST_WATER] >= 0.0 ? ST_OK : ST_E_DOMAIN;
}

/* g(rho) = density of the mixture that weighs rho a cubic metre */
static enum st_status weigh(double rho, double ethanol, const double solutes[ST_NCOMP], double w[ST_NCOMP],
                            double *again)
{
    const enum st_status s = fractions(rho, ethanol, solutes, w);
    return s < 0 ? s : st_density_mixture(w, ST_T20, again);
}

enum st_status st_mixture_from_strength(double q, const double solutes[ST_NCOMP], double w[ST_NCOMP])
{
    if (!(q >= 0.0 && q <= 100.0)) return ST_E_DOMAIN;
    const double ethanol = 0.01 * q * ethanol_density_20();
    double sum = ethanol;
    for (int c = 0; c < ST_NCOMP; c++) {
        if (c == ST_WATER || c == ST_ETHANOL) continue;
        if (!(solutes[c] >= 0.0 && solutes[c] <= 2000.0)) return ST_E_DOMAIN;
        sum += solutes[c];
    }

    /* f(rho) = g(rho) - rho falls through 0 once: below the answer too much of the litre is solute.  Secant
     * steps held in a bracket from "no water" to well above any liquid. */
    double x[ST_NCOMP] = { 0.0 }, g;
    double lo = sum > 1.0 ? sum : 1.0, hi = 2600.0, rho = lo + 0.6 * (1000.0 - sum > 0.0 ? 1000.0 - sum : 0.0);
    double last_rho = 0.0, last_f = 0.0;
    for (int i = 0; i < 100; i++) {
        const enum st_status s = weigh(rho, ethanol, solutes, x, &g);
        if (s < 0) return s;
        const double f = g - rho;
        if (fabs(f) <= 1e-13 * rho || hi - lo <= 1e-13 * rho) {
            if (fabs(f) > 1e-9 * rho) return ST_E_DOMAIN; /* more than a litre of solutes in a litre */
            for (int c = 0; c < ST_NCOMP; c++) w[c] = x[c];
            return s;
        }
        *(f > 0.0 ? &lo : &hi) = rho;
        double next = i > 0 && f != last_f ? rho - f * (rho - last_rho) / (f - last_f) : rho + f;
        if (!(next > lo && next < hi)) next = 0.5 * (lo + hi);
        last_rho = rho;
        last_f = f;
        rho = next;
    }
    return ST_E_NOCONV;
}

enum st_status st_contraction(double m1, const double w1[ST_NCOMP], double m2, const double w2[ST_NCOMP], double *dV)
{
    double m[ST_NCOMP], w[ST_NCOMP], r1, r2, r;
    if (!(m1 >= 0.0) || !(m2 >= 0.0)) return ST_E_DOMAIN;
    for (int c = 0; c < ST_NCOMP; c++) m[c] = m1 * w1[c] + m2 * w2[c];

    enum st_status s = st_density_mixture(w1, ST_T20, &r1);
    s = st_status_worse(s, st_density_mixture(w2, ST_T20, &r2));
    s = st_status_worse(s, st_mixture_from_masses(m, w));
    if (s < 0) return s;
    s = st_status_worse(s, st_density_mixture(w, ST_T20, &r));
    if (s >= 0) *dV = m1 / r1 + m2 / r2 - (m1 + m2) / r;
    return s;
}
