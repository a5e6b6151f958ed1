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

/* The rule of the header, Note 1, over one common denominator; masses of any sum. */
static inline double shared_water(const struct st_mix *m, const struct st_liquid *l, double rho_ew,
                                  const struct st_sugar_mix *sugar, double s, double rho_aw, double one_w)
{
    const double other = l->polyol + l->protein + l->extract + l->fat + l->solids;
    const double v_other = l->polyol * m->v_polyol + l->protein * m->v_protein + l->extract * m->v_extract
                           + l->fat * m->v_fat + l->solids * m->v_solids;
    const double W = l->W, E = l->E, A = l->A, mass = W + E + s + A + other;
    const double rest = v_other - 2.0 * W * one_w + mass * st_excess(W, E, s, m->T);
    const double ea = rho_ew * rho_aw, down = ea * sugar->down;
    const double up = ((E + W) * rho_aw + (A + W) * rho_ew) * sugar->down + (s + W) * (sugar->up * ea) + rest * down;
    return mass * down / up;
}

/* What one pass over a block leaves for the next, in local columns, which no result can alias.  In one pass the compiler makes branches of the comparisons, and
 * the loop is then not vectorised. */
struct block {
    double x[ST_BLOCK], xg[ST_BLOCK], xf[ST_BLOCK];  /* sugar/(sugar + water), and held for the factors */
    double rho_ew[ST_BLOCK], rho_aw[ST_BLOCK];       /* the binary mixtures */
    double rs[ST_BLOCK], rg[ST_BLOCK], rf[ST_BLOCK]; /* single sugars, and all of them */
    double up[ST_BLOCK], down[ST_BLOCK];
    double rho_sw[ST_BLOCK], rho[ST_BLOCK];
    double E[ST_BLOCK], A[ST_BLOCK], s[ST_BLOCK], other[ST_BLOCK]; /* masses: ethanol, acid, sugars, the rest */
};

static inline void sugar_share(const struct st_liquid *l, struct block *b, size_t i)
{
    const double s = l->S + l->L + l->G + l->F, x = s / st_divisor(s + l->W, 1.0);
    b->x[i] = x;
    b->xg[i] = x < ST_X_GLUCOSE ? x : ST_X_GLUCOSE;
    b->xf[i] = x < ST_X_FRUCTOSE ? x : ST_X_FRUCTOSE;
}

/* Densities of the binary mixtures that the rule is made of. */
struct parts {
    double rho_ew, rho_aw;
    struct st_sugar_mix sugar;
};

static inline struct parts parts_of(const struct st_mix *m, const struct st_liquid *l, const struct block *b, size_t i)
{
    const double W = l->W, E = l->E, A = l->A, S = l->S + l->L, inc = st_sw_increment(&m->sw, b->x[i]);
    const struct parts parts = {
        .rho_ew = st_ew_rho(&m->ew, E / st_divisor(E + W, 1.0)),
        .rho_aw = m->sw.rho_w + st_citric_increment(A / st_divisor(A + W, 1.0)),
        .sugar = st_sugar_mix_of(m->sw.rho_w, inc, b->xg[i], b->xf[i], S, l->G, l->F, S + l->G + l->F),
    };
    return parts;
}

static inline void keep(const struct parts *parts, const struct st_liquid *l, struct block *b, size_t i)
{
    b->E[i] = l->E;
    b->A[i] = l->A;
    b->s[i] = l->S + l->L + l->G + l->F;
    b->other[i] = l->polyol + l->protein + l->extract + l->fat + l->solids;
    b->rho_ew[i] = parts->rho_ew;
    b->rho_aw[i] = parts->rho_aw;
    b->rs[i] = parts->sugar.rs;
    b->rg[i] = parts->sugar.rg;
    b->rf[i] = parts->sugar.rf;
    b->up[i] = parts->sugar.up;
    b->down[i] = parts->sugar.down;
}

static inline void sugars_alone(const struct st_liquid *l, struct block *b, size_t i)
{
    const double S = l->S + l->L, G = l->G, F = l->F;
    const struct st_sugar_mix sugar = { b->rs[i], b->rg[i], b->rf[i], b->up[i], b->down[i] };
    b->rho_sw[i] = st_sugar_rho(&sugar, S, G, F, S + G + F);
}

/* At the edges each binary mixture exactly. */
static inline double meet_edges(const struct block *b, size_t i)
{
    const double E = b->E[i], A = b->A[i], s = b->s[i], other = b->other[i];
    double r = st_pick(E + s + other == 0.0, b->rho_aw[i], b->rho[i]);
    r = st_pick(E + A + other == 0.0, b->rho_sw[i], r);
    return st_pick(s + A + other == 0.0, b->rho_ew[i], r);
}

/* Is one of n liquids a binary mixture? */
ST_CLONES static int64_t any_edge(size_t n, const struct st_columns *columns)
{
    const struct st_columns col = *columns;
    int64_t edge = 0;
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        const double s = l.S + l.L + l.G + l.F;
        const double other = l.polyol + l.protein + l.extract + l.fat + l.solids;
        edge |= ((l.E + s + other == 0.0) | (l.E + l.A + other == 0.0) | (s + l.A + other == 0.0)) ? 1 : 0;
    }
    return edge;
}

/* By the rule alone. */
ST_CLONES static void ruled_block(const struct st_mix *mix, size_t n, const struct st_columns *columns,
                                  double *restrict rho)
{
    const struct st_mix m = *mix;
    const struct st_columns col = *columns;
    const double one_w = 1.0 / m.sw.rho_w;
    struct block b;
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        sugar_share(&l, &b, i);
    }
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        const struct parts parts = parts_of(&m, &l, &b, i);
        b.rho[i] = shared_water(&m, &l, parts.rho_ew, &parts.sugar, l.S + l.L + l.G + l.F, parts.rho_aw, one_w);
    }
    for (size_t i = 0; i < n; i++) rho[i] = b.rho[i];
}

/* By the rule, and the binary mixtures where there are some. */
ST_CLONES static void edged_block(const struct st_mix *mix, size_t n, const struct st_columns *columns,
                                  double *restrict rho)
{
    const struct st_mix m = *mix;
    const struct st_columns col = *columns;
    const double one_w = 1.0 / m.sw.rho_w;
    struct block b;
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        sugar_share(&l, &b, i);
    }
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        const struct parts parts = parts_of(&m, &l, &b, i);
        keep(&parts, &l, &b, i);
        b.rho[i] = shared_water(&m, &l, parts.rho_ew, &parts.sugar, l.S + l.L + l.G + l.F, parts.rho_aw, one_w);
    }
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        sugars_alone(&l, &b, i);
    }
    for (size_t i = 0; i < n; i++) rho[i] = meet_edges(&b, i);
}

static void density_block(const struct st_mix *mix, size_t n, const struct st_columns *col, double *rho)
{
    if (any_edge(n, col))
        edged_block(mix, n, col, rho);
    else
        ruled_block(mix, n, col, rho);
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

/* Is one of n liquids no liquid: a negative mass, nothing at all, or not a number? */
ST_CLONES static int64_t no_liquid(size_t n, const struct st_columns *columns)
{
    const struct st_columns col = *columns;
    int64_t bad = 0;
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        const double drink = st_lower(st_lower(l.W, l.E), st_lower(st_lower(l.S, l.L), st_lower(l.G, l.F)));
        const double rest = st_lower(st_lower(l.A, l.polyol), st_lower(st_lower(l.protein, l.extract), st_lower(l.fat, l.solids)));
        const double sum = l.W + l.E + (l.S + l.L + l.G + l.F) + l.A
                           + (l.polyol + l.protein + l.extract + l.fat + l.solids);
        bad |= ((drink >= 0.0) & (rest >= 0.0) & (sum > 0.0) & (sum <= 1e15)) ? 0 : 1;
    }
    return bad;
}

enum st_status st_density_masses_n(size_t n, const double *const m[ST_NCOMP], double T, double rho[])
{
    struct st_mix mix;
    const enum st_status s = st_mix_at(T, &mix);
    if (s < 0) return s;
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(m, i);
        if (no_liquid(n - i < ST_BLOCK ? n - i : ST_BLOCK, &col)) return ST_E_DOMAIN;
    }
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(m, i);
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
    *half_width = s > ST_OK ? 2.0 * band : band;
    return s;
}
