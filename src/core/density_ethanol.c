#include "density_ethanol.h"

#include <stdbool.h>

#include "mixture_kernel.h"
#include "water.h"

/* [oiml1975] general formula, theta = t - 20 degC; B1..B6, the part of water, are in water.c */
static const double A[12] = {
    9.982012300e2,   -1.929769495e2, 3.891238958e2,  -1.668103923e3, 1.352215441e4, -8.829278388e4,
    3.062874042e5,   -6.138381234e5, 7.470172998e5,  -5.478461354e5, 2.234460334e5, -3.903285426e4,
};

/* C[i][k]: theta^(i+1) p^(k+1) */
static const double C[5][11] = {
    { 1.693443461530087e-1, -1.046914743455169e1, 7.196353469546523e1, -7.047478054272792e2, 3.924090430035045e3,
      -1.210164659068747e4, 2.248646550400788e4, -2.605562982188164e4, 1.852373922069467e4, -7.420201433430137e3,
      1.285617841998974e3 },
    { -1.193013005057010e-2, 2.517399633803461e-1, -2.170575700536993, 1.353034988843029e1, -5.029988758547014e1,
      1.096355666577570e2, -1.422753946421155e2, 1.080435942856230e2, -4.414153236817392e1, 7.442971530188783 },
    { -6.802995733503803e-4, 1.876837790289664e-2, -2.002561813734156e-1, 1.022992966719220, -2.895696483903638,
      4.810060584300675, -4.672147440794683, 2.458043105903461, -5.411227621436812e-1 },
    { 4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6 },
    { -2.788074354782409e-8, 1.345612883493354e-8 },
};

/* Coefficients of p^0 .. p^11 at T.  Above 40 C only p^0, the water line, has a meaning. */
enum st_status st_ew_at(double T, struct st_ew *ew)
{
    double rho_w;
    const enum st_status s = st_density_water(T, &rho_w);
    if (s < 0) return s;

    const double theta = T - 293.15;
    for (int k = 0; k < 12; k++) ew->c[k] = A[k];
    ew->c[0] = rho_w;
    if (theta == 0.0) return s;
    for (int k = 0; k < 11; k++) {
        double sum = 0.0;
        for (int i = 4; i >= 0; i--) sum = (sum + C[i][k]) * theta;
        ew->c[k + 1] += sum;
    }
    return s;
}

/* [melinder2010], y = p - 0.292361, 0 .. 60 % mass */
double st_freezing_curve_ethanol(double p)
{
    static const double c[6] = { 253.74, -95.40, -26.48, 385.1, -28.58, -1670.0 };
    const double y = p - 0.292361;
    double s = c[5];
    for (int k = 4; k >= 0; k--) s = s * y + c[k];
    return s;
}

/* below the curve by more than its misfit to the tables */
static bool frozen(double p, double T)
{
    return p <= 0.60 && T < st_freezing_curve_ethanol(p) - 0.36;
}

/* The greatest pattern of bits of p[n].  Of numbers that are not negative it belongs to the greatest; patterns of
 * negative numbers and NaN are greater than that of any highest. */
ST_CLONES static uint64_t greatest_pattern(size_t n, const double p[])
{
    enum { LANES = 32 }; /* enough that no comparison waits for the one before */
    uint64_t lane[LANES] = { 0 }, greatest = 0;
    size_t i = 0;
    for (; i + LANES <= n; i += LANES)
        for (size_t k = 0; k < LANES; k++) {
            const uint64_t bits = st_pattern(p[i + k]);
            lane[k] = bits > lane[k] ? bits : lane[k];
        }
    for (; i < n; i++) {
        const uint64_t bits = st_pattern(p[i]);
        greatest = bits > greatest ? bits : greatest;
    }
    for (size_t k = 0; k < LANES; k++) greatest = lane[k] > greatest ? lane[k] : greatest;
    return greatest;
}

bool st_all_within(size_t n, const double x[], double highest)
{
    if (greatest_pattern(n, x) <= st_pattern(highest)) return true;
    for (size_t i = 0; i < n; i++) /* -0.0 is within as well */
        if (!(x[i] >= 0.0 && x[i] <= highest)) return false;
    return true;
}

static enum st_status batch_status(size_t n, const double p[], double T)
{
    if (!(T > 0.0) || !st_all_within(n, p, 1.0)) return ST_E_DOMAIN;
    if (T >= ST_T_ICE && T <= ST_T_HIGHEST) return ST_OK;
    bool ethanol = false, extrapolated = false;
    for (size_t i = 0; i < n; i++) {
        ethanol = ethanol || p[i] > 0.0;
        extrapolated = extrapolated || p[i] == 0.0 || frozen(p[i], T);
    }
    if (T < ST_T_LOWEST || T > ST_T_WATER_HIGHEST) return ST_E_REFUSED;
    if (T > ST_T_HIGHEST) return ethanol ? ST_E_REFUSED : ST_EXTRAPOLATED;
    return extrapolated ? ST_EXTRAPOLATED : ST_OK;
}

ST_CLONES static void polynomial_n(const struct st_ew *coef, size_t n, const double p[], double rho[])
{
    const struct st_ew ew = *coef;
    for (size_t i = 0; i < n; i++) rho[i] = st_ew_rho(&ew, p[i]);
}

enum st_status st_density_ethanol_n(size_t n, const double p[], double T, double rho[])
{
    const enum st_status s = batch_status(n, p, T);
    if (s < 0) return s;
    struct st_ew ew;
    (void)st_ew_at(T, &ew); /* T was judged above */
    polynomial_n(&ew, n, p, rho);
    return s;
}

enum st_status st_density_ethanol(double p, double T, double *rho)
{
    return st_density_ethanol_n(1, &p, T, rho);
}
