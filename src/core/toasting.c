#include "toasting.h"

#include <math.h>
#include <stdbool.h>

#include "arrhenius.h"
#include "steep_constants.h"

static const double T_FLAVOUR = 423.15, T_GLYCOSIDE = 433.15; /* K: 150 and 160 C */
static const double TEN_MINUTES = 600.0;                      /* s */
static const double NEVER_BELOW = 0.1;                        /* Note 1 of st_toast */

static bool in(double x, double low, double high)
{
    return x >= low && x <= high;
}

static bool is_heat(double T)
{
    return in(T, 253.15, 573.15);
}

static bool is_piece(const struct st_piece_heat *p)
{
    return in(p->half_thickness, 1e-5, 0.1) && in(p->h, 1.0, 500.0) && in(p->rho, 100.0, 3000.0) &&
           in(p->cp, 500.0, 5000.0);
}

static bool is_oven(int n, const struct st_oven_point oven[])
{
    if (n < 1 || n > ST_OVEN_POINTS)
        return false;
    for (int i = 0; i < n; i++)
        if (!in(oven[i].t, i ? oven[i - 1].t : 0.0, 86400.0) || !is_heat(oven[i].T))
            return false;
    return true;
}

/* One straight leg of the oven's path, from t to t + length. */
struct leg {
    double length, T, slope;
};

/* Leg k of n + 1, cut at t_end; no length: nothing of it lies before t_end. */
static struct leg leg_of(int n, const struct st_oven_point oven[], int k, double t_end)
{
    const double from = k == 0 ? 0.0 : oven[k - 1].t;
    const double to = k == n ? t_end : fmin(oven[k].t, t_end);
    struct leg leg = { .length = fmax(0.0, to - from), .T = oven[k == 0 ? 0 : k - 1].T, .slope = 0.0 };
    if (k > 0 && k < n && oven[k].t > from)
        leg.slope = (oven[k].T - leg.T) / (oven[k].t - from);
    return leg;
}

/* The piece at s into a leg that it entered with T0; tau = 0: as hot as the oven.  In terms of expm1, so that a heavy
 * piece in a steep leg keeps its digits. */
static double piece_at(const struct leg *leg, double tau, double T0, double s)
{
    if (tau == 0.0)
        return leg->T + leg->slope * s;
    const double gone = -expm1(-s / tau);
    return T0 + leg->slope * (s - tau * gone) + (leg->T - T0) * gone;
}

/* The most in a leg: at an end, or where the piece meets an oven that cools. */
static double peak_in(const struct leg *leg, double tau, double T0)
{
    double most = fmax(T0, piece_at(leg, tau, T0, leg->length));
    const double lag = leg->slope * tau, B = T0 - leg->T + lag;
    if (lag < 0.0 && B < lag) {
        const double s = tau * log(B / lag);
        if (s < leg->length)
            most = fmax(most, piece_at(leg, tau, T0, s));
    }
    return most;
}

static double speed(double Ea, double T, double T_ref)
{
    return exp(-Ea / ST_GAS_CONSTANT * (1.0 / T - 1.0 / T_ref));
}

/* Integral of the speed over a leg: five points of Gauss a step; steps begin at tau/32, where the piece warms fast, and
 * grow to a 64th of the leg. */
static double dose_in(const struct leg *leg, double tau, double T0, double Ea, double T_ref)
{
    static const double X[5] = { -0.90617984593866399, -0.53846931010568309, 0.0, 0.53846931010568309,
                                 0.90617984593866399 };
    static const double W[5] = { 0.23692688505618909, 0.47862867049936647, 0.56888888888888889, 0.47862867049936647,
                                 0.23692688505618909 };
    const double longest = leg->length / 64.0;
    double step = tau > 0.0 ? fmin(tau / 32.0, longest) : longest, sum = 0.0;
    double s = 0.0;
    while (s < leg->length) {
        step = fmin(step, leg->length - s);
        double part = 0.0;
        for (int i = 0; i < 5; i++)
            part += W[i] * speed(Ea, piece_at(leg, tau, T0, s + 0.5 * step * (1.0 + X[i])), T_ref);
        sum += 0.5 * step * part;
        s += step;
        step = fmin(1.2 * step, longest);
    }
    return sum;
}

/* A toasting that was found sound. */
struct toasting {
    int n;
    const struct st_oven_point *oven;
    double tau, T0, t_end;
};

static enum st_status begin(const struct st_piece_heat *p, int n, const struct st_oven_point oven[], double T0,
                            double t_end, struct toasting *w)
{
    if (!is_piece(p) || !is_oven(n, oven) || !is_heat(T0) || !in(t_end, 0.0, 86400.0))
        return ST_E_DOMAIN;
    *w = (struct toasting){ n, oven, p->rho * p->cp * p->half_thickness / p->h, T0, t_end };
    return ST_OK;
}

static double core_at_end(const struct toasting *w, double *peak)
{
    double T = w->T0;
    *peak = T;
    for (int k = 0; k <= w->n; k++) {
        const struct leg leg = leg_of(w->n, w->oven, k, w->t_end);
        *peak = fmax(*peak, peak_in(&leg, w->tau, T));
        T = piece_at(&leg, w->tau, T, leg.length);
    }
    return T;
}

static double dose(const struct toasting *w, double tau, double Ea, double T_ref)
{
    double T = w->T0, sum = 0.0;
    for (int k = 0; k <= w->n; k++) {
        const struct leg leg = leg_of(w->n, w->oven, k, w->t_end);
        if (leg.length > 0.0) {
            sum += dose_in(&leg, tau, T, Ea, T_ref);
            T = piece_at(&leg, tau, T, leg.length);
        }
    }
    return sum;
}

/* Least and most of the dose over the range of an activation energy: convex in it, so that the most is at an end. */
static void dose_range(const struct toasting *w, double tau, enum st_steep_constant c, double T_ref, double *low,
                       double *high)
{
    enum { STEPS = 8 };
    const struct st_steep_constant_row *Ea = st_steep_constant_get(c);
    *low = (double)INFINITY;
    *high = 0.0;
    for (int i = 0; i <= STEPS; i++) {
        const double d = dose(w, tau, Ea->low + (Ea->high - Ea->low) * i / STEPS, T_ref);
        *low = fmin(*low, d);
        *high = fmax(*high, d);
    }
}

enum st_status st_toast_core(const struct st_piece_heat *p, int n, const struct st_oven_point oven[], double T0,
                             double t, double *T)
{
    struct toasting w;
    double peak = 0.0;
    const enum st_status s = begin(p, n, oven, T0, t, &w);
    if (s < 0)
        return s;
    *T = core_at_end(&w, &peak);
    return ST_ESTIMATED;
}

enum st_status st_toast_index(const struct st_piece_heat *p, int n, const struct st_oven_point oven[], double T0,
                              double t_end, double Ea, double *index)
{
    struct toasting w;
    const enum st_status s = begin(p, n, oven, T0, t_end, &w);
    if (s < 0)
        return s;
    if (!in(Ea, 0.0, 300e3))
        return ST_E_DOMAIN;
    *index = dose(&w, w.tau, Ea, T_FLAVOUR) / TEN_MINUTES;
    return ST_ESTIMATED;
}

static void glycoside(const struct toasting *w, double *low, double *high)
{
    const struct st_steep_constant_row *k = st_steep_constant_get(ST_GLYCOSIDE_RATE);
    double core_least = 0.0, core_most = 0.0, oven_least = 0.0, oven_most = 0.0;
    dose_range(w, w->tau, ST_EA_GLYCOSIDE, T_GLYCOSIDE, &core_least, &core_most);
    dose_range(w, 0.0, ST_EA_GLYCOSIDE, T_GLYCOSIDE, &oven_least, &oven_most);
    *low = exp(-k->high * fmax(core_most, oven_most));
    *high = fmax(NEVER_BELOW, exp(-k->low * fmin(core_least, oven_least)));
}

enum st_status st_toast(const struct st_piece_heat *p, int n, const struct st_oven_point oven[], double T0,
                        double t_end, struct st_toasted *out)
{
    struct toasting w;
    const enum st_status s = begin(p, n, oven, T0, t_end, &w);
    if (s < 0)
        return s;

    out->core_K = core_at_end(&w, &out->core_peak_K);
    dose_range(&w, w.tau, ST_EA_FLAVOUR, T_FLAVOUR, &out->index_low, &out->index_high);
    out->index_low /= TEN_MINUTES;
    out->index_high /= TEN_MINUTES;
    out->index_mid = dose(&w, w.tau, st_steep_constant(ST_EA_FLAVOUR), T_FLAVOUR) / TEN_MINUTES;
    out->enzyme = ST_ENZYME_NO_NUMBER;
    glycoside(&w, &out->glycoside_low, &out->glycoside_high);
    return ST_ESTIMATED;
}

enum st_status st_apparent_rate(double before, double after, double t, double *k)
{
    if (!(after > 0.0) || !(before >= after) || !isfinite(before) || !(t > 0.0) || !isfinite(t))
        return ST_E_DOMAIN;
    *k = log(before / after) / t;
    return ST_OK;
}
