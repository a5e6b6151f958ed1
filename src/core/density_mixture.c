#include "density_mixture.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>

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
    mix->v_water_twice = 2.0 / mix->sw.rho_w;
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

/* ---- the rule of the header, Note 1 ----
 *
 * A block in short passes, each of which keeps its coefficients in registers; what a pass leaves for the next lies in
 * local columns, which no result can alias. */

struct passes {
    _Alignas(64) double p[ST_BLOCK], x[ST_BLOCK], a[ST_BLOCK]; /* ethanol, sugar, acid: share of it and water */
    _Alignas(64) double xg[ST_BLOCK], xf[ST_BLOCK];            /* x held for the factors of glucose and fructose */
    _Alignas(64) double s[ST_BLOCK], up[ST_BLOCK], down[ST_BLOCK]; /* sugars: mass, specific volume up/down */
    _Alignas(64) double rho[ST_BLOCK];                             /* ethanol + water, then the mixture */
};

static inline double sucrose_at(const struct st_columns *col, size_t i)
{
    return col->c[ST_SUCROSE][i] + col->c[ST_LACTOSE][i] + ST_LITTLE;
}

/* One division for three shares. */
static inline void share(size_t n, const struct st_columns *col, struct passes *restrict b)
{
    for (size_t i = 0; i < n; i++) {
        const double W = col->c[ST_WATER][i], E = col->c[ST_ETHANOL][i], A = col->c[ST_ACID][i];
        const double s = sucrose_at(col, i) + col->c[ST_GLUCOSE][i] + col->c[ST_FRUCTOSE][i];
        const double ew = E + W + ST_LITTLE, sw = s + W, aw = A + W + ST_LITTLE;
        const double ea = ew * aw, r = 1.0 / (ea * sw), r_sw = r * sw, x = s * (r * ea);
        b->p[i] = E * (r_sw * aw);
        b->a[i] = A * (r_sw * ew);
        b->s[i] = s;
        b->x[i] = x;
        b->xg[i] = st_lower(x, ST_X_GLUCOSE);
        b->xf[i] = st_lower(x, ST_X_FRUCTOSE);
    }
}

static inline void ethanol_water(const struct st_ew *ew, size_t n, const double *restrict p, double *restrict rho)
{
    for (size_t i = 0; i < n; i++) rho[i] = st_ew_rho(ew, p[i]);
}

static inline void sugar_water(const struct st_sw *sw, size_t n, const struct st_columns *col,
                               struct passes *restrict b)
{
    for (size_t i = 0; i < n; i++) {
        const double S = sucrose_at(col, i), G = col->c[ST_GLUCOSE][i], F = col->c[ST_FRUCTOSE][i];
        const struct st_sugar_mix m
            = st_sugar_mix_of(sw->rho_w, st_sw_increment(sw, b->x[i]), b->xg[i], b->xf[i], S, G, F, b->s[i]);
        b->up[i] = m.up;
        b->down[i] = m.down;
    }
}

/* All over one common denominator; masses of any sum. */
static inline double shared_water(const struct st_mix *m, const struct st_columns *col, const struct passes *b,
                                  size_t i)
{
    const double W = col->c[ST_WATER][i], E = col->c[ST_ETHANOL][i], A = col->c[ST_ACID][i], s = b->s[i];
    const double polyol = col->c[ST_POLYOL][i], protein = col->c[ST_PROTEIN][i], extract = col->c[ST_EXTRACT][i];
    const double fat = col->c[ST_FAT][i], solids = col->c[ST_SOLIDS][i];
    const double mass = (W + E) + (s + A) + ((polyol + protein) + (extract + fat) + solids);
    const double rest = (polyol * m->v_polyol + protein * m->v_protein) + (extract * m->v_extract + fat * m->v_fat)
                        + (solids * m->v_solids - W * m->v_water_twice) + mass * st_excess(W, E, s, m->T);
    const double rho_ew = b->rho[i], rho_aw = m->sw.rho_w + st_citric_increment(b->a[i]), down = b->down[i];
    const double ea = rho_ew * rho_aw, all = ea * down;
    const double volume = ((E + W) * rho_aw + (A + W) * rho_ew) * down + (s + W) * (b->up[i] * ea) + rest * all;
    return mass * all / volume;
}

ST_CLONES static void ruled_block(const struct st_mix *mix, size_t n, const struct st_columns *columns, double *rho)
{
    const struct st_mix m = *mix;
    const struct st_columns col = *columns;
    struct passes b;
    share(n, &col, &b);
    ethanol_water(&m.ew, n, b.p, b.rho);
    sugar_water(&m.sw, n, &col, &b);
    for (size_t i = 0; i < n; i++) b.rho[i] = shared_water(&m, &col, &b, i);
    for (size_t i = 0; i < n; i++) rho[i] = b.rho[i];
}

/* ---- at the edges each binary mixture exactly ---- */

/* 0, and then at most one of ethanol, sugars and acid is there and nothing else beside water; or so little of two
 * that the rule is as good. */
static inline double beside(double E, double s, double A, double other)
{
    return E * s + A * (E + s) + other;
}

static inline double beside_at(const struct st_columns *col, size_t i)
{
    const struct st_liquid l = st_liquid_at(col, i);
    return beside(l.E, l.S + l.L + l.G + l.F, l.A, l.polyol + l.protein + l.extract + l.fat + l.solids);
}

ST_CLONES static int64_t any_edge(size_t n, const struct st_columns *columns)
{
    const struct st_columns col = *columns;
    int64_t edge = 0;
    for (size_t i = 0; i < n; i++) edge |= beside_at(&col, i) == 0.0 ? 1 : 0;
    return edge;
}

static double sugar_density(const struct st_sw *sw, const struct st_liquid *l)
{
    const double S = l->S + l->L + ST_LITTLE, s = S + l->G + l->F, x = s / (s + l->W);
    const struct st_sugar_mix m = st_sugar_mix_of(sw->rho_w, st_sw_increment(sw, x), st_lower(x, ST_X_GLUCOSE),
                                                  st_lower(x, ST_X_FRUCTOSE), S, l->G, l->F, s);
    return st_sugar_rho(&m, S, l->G, l->F, s);
}

/* One binary mixture, or what the rule gave. */
static double edge_density(const struct st_mix *m, const struct st_liquid *l, double ruled)
{
    const double s = l->S + l->L + l->G + l->F, other = l->polyol + l->protein + l->extract + l->fat + l->solids;
    if (s + l->A + other == 0.0) return st_ew_rho(&m->ew, l->E / (l->E + l->W + ST_LITTLE));
    if (l->E + l->A + other == 0.0) return sugar_density(&m->sw, l);
    if (l->E + s + other == 0.0) return m->sw.rho_w + st_citric_increment(l->A / (l->A + l->W + ST_LITTLE));
    return ruled;
}

static void meet_edges(const struct st_mix *m, size_t n, const struct st_columns *col, double *rho)
{
    for (size_t i = 0; i < n; i++) {
        if (beside_at(col, i) != 0.0) continue;
        const struct st_liquid l = st_liquid_at(col, i);
        rho[i] = edge_density(m, &l, rho[i]);
    }
}

static void density_block(const struct st_mix *mix, size_t n, const struct st_columns *col, bool edges, double *rho)
{
    ruled_block(mix, n, col, rho);
    if (edges && any_edge(n, col)) meet_edges(mix, n, col, rho);
}

void st_mix_rho_block(const struct st_mix *mix, size_t n, const struct st_columns *col, double rho[])
{
    density_block(mix, n, col, true, rho);
}

enum st_status st_density_mixture_n(size_t n, const double *const w[ST_NCOMP], double T, double rho[])
{
    const enum st_status s = st_mix_status_n(n, w, T);
    if (s < 0) return s;
    struct st_mix mix;
    (void)st_mix_at(T, &mix); /* T was judged above */
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(w, i);
        st_mix_rho_block(&mix, n - i < ST_BLOCK ? n - i : ST_BLOCK, &col, rho + i);
    }
    return s;
}

/* What is seen of n liquids at once, by patterns of bits. */
struct look {
    uint64_t signs; /* of any mass */
    uint64_t sum;   /* greatest sum, less one so that 0 comes out above all */
    uint64_t edge;  /* the highest bit set where a sum `beside` is 0 */
};

ST_CLONES static void look_at(size_t n, const struct st_columns *columns, struct look *seen)
{
    const struct st_columns col = *columns;
    uint64_t signs = seen->signs, greatest = seen->sum, edge = seen->edge;
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(&col, i);
        const double s = l.S + l.L + l.G + l.F, other = l.polyol + l.protein + l.extract + l.fat + l.solids;
        const uint64_t sum = st_pattern(l.W + l.E + s + l.A + other) - 1;
        signs |= st_pattern(l.W) | st_pattern(l.E) | st_pattern(l.S) | st_pattern(l.L) | st_pattern(l.G)
                 | st_pattern(l.F) | st_pattern(l.A) | st_pattern(l.polyol) | st_pattern(l.protein)
                 | st_pattern(l.extract) | st_pattern(l.fat) | st_pattern(l.solids);
        edge |= st_pattern(beside(l.E, s, l.A, other)) - 1;
        greatest = sum > greatest ? sum : greatest;
    }
    *seen = (struct look){ signs, greatest, edge };
}

/* Is one of n liquids no liquid: a negative mass, nothing at all, more than 1e15, or not a number? */
static bool no_liquid(size_t n, const struct st_columns *col)
{
    for (size_t i = 0; i < n; i++) {
        double sum = 0.0;
        for (int c = 0; c < ST_NCOMP; c++) {
            if (!(col->c[c][i] >= 0.0)) return true;
            sum += col->c[c][i];
        }
        if (!(sum > 0.0 && sum <= 1e15)) return true;
    }
    return false;
}

enum st_status st_density_masses_n(size_t n, const double *const m[ST_NCOMP], double T, double rho[])
{
    struct st_mix mix;
    const enum st_status s = st_mix_at(T, &mix);
    if (s < 0) return s;
    struct look seen = { 0, 0, 0 };
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(m, i);
        look_at(n - i < ST_BLOCK ? n - i : ST_BLOCK, &col, &seen);
    }
    const bool doubtful = seen.signs >> 63 || seen.sum >= st_pattern(1e15); /* or only -0.0 */
    for (size_t i = 0; doubtful && i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(m, i);
        if (no_liquid(n - i < ST_BLOCK ? n - i : ST_BLOCK, &col)) return ST_E_DOMAIN;
    }
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(m, i);
        density_block(&mix, n - i < ST_BLOCK ? n - i : ST_BLOCK, &col, doubtful || seen.edge >> 63, rho + i);
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
