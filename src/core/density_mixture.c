#include "density_mixture.h"

#include <math.h>
#include <stdbool.h>

#include "mixture_kernel.h"

const double st_zeros[ST_BLOCK] = { 0.0 };

/* Densities of dry matter, kg/m3 at 0 degC and per K: [choi1986] protein, carbohydrate, fat, fibre; polyol
 * between the partial volumes of glycerol (0.77) and sorbitol (0.655 L/kg).  All from memory. */
static double volume_of(double rho_0, double slope, double t)
{
    return 1.0 / (rho_0 + slope * t);
}

enum st_status st_mix_at(double T, struct st_mix *mix)
{
    const enum st_status s = st_ew_at(T, &mix->ew);
    if (s < 0) return s;
    (void)st_sw_at(T, &mix->sw); /* same limits of T */
    const double t = T - 273.15;
    mix->T = T;
    mix->v_polyol = 0.71e-3;
    mix->v_protein = volume_of(1329.9, -0.51840, t);
    mix->v_extract = volume_of(1599.1, -0.31046, t);
    mix->v_fat = volume_of(925.59, -0.41757, t);
    mix->v_solids = volume_of(1311.5, -0.36589, t);
    return s;
}

ST_CLONES static int64_t flags_n(size_t n, const struct st_columns *columns)
{
    const struct st_columns col = *columns;
    int64_t flags = 0;
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        flags |= st_mix_flags(&l);
    }
    return flags;
}

/* Is one of n liquids without stable liquid water at T?  Only asked below 0 C. */
static bool any_below_freezing(size_t n, const struct st_columns *col, double T)
{
    for (size_t i = 0; i < n; i++) {
        const double E = col->c[ST_ETHANOL][i], W = col->c[ST_WATER][i];
        const double p = E > 0.0 ? E / (E + W) : 0.0;
        if (p == 0.0 || (p <= 0.60 && T < st_freezing_curve_ethanol(p) - 0.36)) return true;
    }
    return false;
}

static enum st_status status_of(int64_t flags, double T, bool freezing)
{
    if (flags & ST_FLAG_BAD) return ST_E_DOMAIN;
    if (T < ST_T_LOWEST || T > ST_T_WATER_HIGHEST) return ST_E_REFUSED;
    if ((flags & ST_FLAG_ETHANOL) && T > ST_T_HIGHEST) return ST_E_REFUSED;
    if (flags & ST_FLAG_ESTIMATED) return ST_ESTIMATED;
    if ((flags & ST_FLAG_BEYOND) || T > ST_T_HIGHEST || freezing) return ST_EXTRAPOLATED;
    if ((flags & ST_FLAG_FITTED_20) && (T < ST_T_FITTED_LOW || T > ST_T_FITTED_HIGH)) return ST_EXTRAPOLATED;
    return ST_OK;
}

enum st_status st_mix_status_n(size_t n, const double *const w[ST_NCOMP], double T)
{
    if (!(T > 0.0)) return ST_E_DOMAIN;
    int64_t flags = 0;
    bool freezing = false;
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(w, i);
        const size_t m = n - i < ST_BLOCK ? n - i : ST_BLOCK;
        flags |= flags_n(m, &col);
        if (T < ST_T_ICE && !freezing) freezing = any_below_freezing(m, &col, T);
    }
    return status_of(flags, T, freezing);
}

/* A block of liquids in local columns, which no result can alias; rows of step results below them. */
struct block {
    double W[ST_BLOCK], E[ST_BLOCK], A[ST_BLOCK];
    double S[ST_BLOCK], G[ST_BLOCK], F[ST_BLOCK], sugars[ST_BLOCK]; /* S: sucrose and lactose */
    double other[ST_BLOCK], v_other[ST_BLOCK];                      /* mass and volume of the rest */
    double rho_ew[ST_BLOCK], rho_sw[ST_BLOCK], rho_aw[ST_BLOCK], rho[ST_BLOCK];
};

static inline void gather(const struct st_mix *m, size_t n, const struct st_columns *col, struct block *b)
{
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(col, i);
        b->W[i] = l.W;
        b->E[i] = l.E;
        b->A[i] = l.A;
        b->S[i] = l.S + l.L;
        b->G[i] = l.G;
        b->F[i] = l.F;
        b->sugars[i] = l.S + l.L + l.G + l.F;
        b->other[i] = l.polyol + l.protein + l.extract + l.fat + l.solids;
        b->v_other[i] = l.polyol * m->v_polyol + l.protein * m->v_protein + l.extract * m->v_extract
                        + l.fat * m->v_fat + l.solids * m->v_solids;
    }
}

static inline void binaries(const struct st_mix *m, size_t n, struct block *b)
{
    for (size_t i = 0; i < n; i++)
        b->rho_ew[i] = st_ew_rho(&m->ew, b->E[i] / st_divisor(b->E[i] + b->W[i], 1.0));
    for (size_t i = 0; i < n; i++)
        b->rho_sw[i] = st_sw_increment(&m->sw, b->sugars[i] / st_divisor(b->sugars[i] + b->W[i], 1.0));
    for (size_t i = 0; i < n; i++) {
        const double x = b->sugars[i] / st_divisor(b->sugars[i] + b->W[i], 1.0);
        b->rho_sw[i] = st_sugar_rho(m->sw.rho_w, b->rho_sw[i], x, b->S[i], b->G[i], b->F[i], b->sugars[i]);
    }
    for (size_t i = 0; i < n; i++)
        b->rho_aw[i] = m->sw.rho_w + st_citric_increment(b->A[i] / st_divisor(b->A[i] + b->W[i], 1.0));
}

/* The rule of the header, Note 1. */
static inline void share_water(const struct st_mix *m, size_t n, struct block *b)
{
    for (size_t i = 0; i < n; i++) {
        const double W = b->W[i], E = b->E[i], A = b->A[i], s = b->sugars[i];
        const double mass = W + E + s + A + b->other[i];
        double V = (E + W) / b->rho_ew[i] + (s + W) / b->rho_sw[i] + (A + W) / b->rho_aw[i];
        V += b->v_other[i] - 2.0 * W / m->sw.rho_w + mass * st_excess(W, E, s, m->T);
        b->rho[i] = mass / V;
    }
}

/* At the edges each binary mixture exactly. */
static inline void meet_edges(size_t n, const struct block *b, double *restrict rho)
{
    for (size_t i = 0; i < n; i++) {
        const double E = b->E[i], A = b->A[i], s = b->sugars[i], other = b->other[i];
        double r = st_pick(E + s + other == 0.0, b->rho_aw[i], b->rho[i]);
        r = st_pick(E + A + other == 0.0, b->rho_sw[i], r);
        rho[i] = st_pick(s + A + other == 0.0, b->rho_ew[i], r);
    }
}

ST_CLONES static void density_block(const struct st_mix *mix, size_t n, const struct st_columns *columns,
                                    double *restrict rho)
{
    const struct st_mix m = *mix;
    const struct st_columns col = *columns;
    struct block b;
    gather(&m, n, &col, &b);
    binaries(&m, n, &b);
    share_water(&m, n, &b);
    meet_edges(n, &b, rho);
}

void st_mix_rho_block(const struct st_mix *mix, size_t n, const struct st_columns *col, double rho[])
{
    density_block(mix, n, col, rho);
}

enum st_status st_density_mixture_n(size_t n, const double *const w[ST_NCOMP], double T, double rho[])
{
    const enum st_status s = st_mix_status_n(n, w, T);
    if (s < 0) return s;
    struct st_mix mix;
    (void)st_mix_at(T, &mix); /* T was judged above */
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(w, i);
        density_block(&mix, n - i < ST_BLOCK ? n - i : ST_BLOCK, &col, rho + i);
    }
    return s;
}

enum st_status st_density_mixture(const double w[ST_NCOMP], double T, double *rho)
{
    const double *col[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++) col[c] = &w[c];
    return st_density_mixture_n(1, col, T, rho);
}

double st_ternary_excess(const double w[ST_NCOMP], double T)
{
    return st_excess(w[ST_WATER], w[ST_ETHANOL], st_mixture_sugars(w), T);
}

enum st_status st_density_mixture_band(const double w[ST_NCOMP], double T, double *half_width)
{
    double rho;
    const enum st_status s = st_density_mixture(w, T, &rho);
    if (s < 0) return s;

    /* spread of the specific volumes, m3/kg, from memory */
    const double spread = w[ST_LACTOSE] * 0.01e-3 + w[ST_ACID] * 0.01e-3 + w[ST_POLYOL] * 0.07e-3
                          + w[ST_PROTEIN] * 0.03e-3 + w[ST_EXTRACT] * 0.08e-3 + w[ST_FAT] * 0.03e-3
                          + w[ST_SOLIDS] * 0.15e-3;
    const double q = 100.0 * w[ST_ETHANOL] * rho / 789.239;
    const double g_l = st_mixture_sugars(w) * rho;
    const double hexose = w[ST_GLUCOSE] + w[ST_FRUCTOSE] > 0.005 ? 0.1 : 0.0;
    const double band = 0.1 + hexose + 0.0095 * sqrt(q * g_l) + rho * rho * spread;
    *half_width = s == ST_EXTRAPOLATED ? 2.0 * band : band;
    return s;
}
