#include "refraction.h"

#include <math.h>
#include <stdbool.h>

#include "density_ethanol.h"
#include "density_mixture.h"
#include "density_sugar.h"
#include "refraction_kernel.h"
#include "strength.h"
#include "water.h"

/* start of the inverse, w against y = n - n(0); own fit of degree 4 to the scale, within 1.5e-4 */
static inline double start(double y)
{
    return -3.2712544e-6 + y * (6.99368798 + y * (-17.9296642 + y * (45.8042015 + y * -59.346888)));
}

static inline double newton(double w, double n)
{
    return w - (st_scale_n(w) - n) / st_scale_slope(w);
}

ST_CLONES static void brix_n(size_t n, const double *idx, double *brix)
{
    double w[ST_BLOCK], y[ST_BLOCK];
    for (size_t i = 0; i < n; i++) {
        y[i] = idx[i];
        w[i] = start(y[i] - ST_N_WATER_20);
    }
    for (int step = 0; step < 4; step++)
        for (size_t i = 0; i < n; i++) w[i] = newton(w[i], y[i]);
    for (size_t i = 0; i < n; i++) brix[i] = 100.0 * w[i];
}

enum st_status st_brix_from_n_n(size_t n, const double idx[], double brix[])
{
    const double lowest = st_scale_n(ST_W_LOWEST) - 1e-12, highest = st_scale_n(ST_W_HIGHEST) + 1e-12;
    int64_t nan = 0, off = 0, below = 0;
    for (size_t i = 0; i < n; i++) {
        nan |= idx[i] == idx[i] ? 0 : 1;
        off |= ((idx[i] < lowest) | (idx[i] > highest)) ? 1 : 0;
        below |= idx[i] < ST_N_WATER_20 ? 1 : 0;
    }
    if (nan) return ST_E_DOMAIN;
    if (off) return ST_E_REFUSED;
    for (size_t i = 0; i < n; i += ST_BLOCK) brix_n(n - i < ST_BLOCK ? n - i : ST_BLOCK, idx + i, brix + i);
    return below ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_brix_from_n(double n, double *brix)
{
    return st_brix_from_n_n(1, &n, brix);
}

enum st_status st_n_from_brix(double brix, double *n)
{
    if (isnan(brix)) return ST_E_DOMAIN;
    if (brix < 100.0 * ST_W_LOWEST || brix > 100.0 * ST_W_HIGHEST) return ST_E_REFUSED;
    *n = st_scale_n(0.01 * brix);
    return brix < 0.0 ? ST_EXTRAPOLATED : ST_OK;
}

enum st_status st_refract_at(double T, struct st_refract *r)
{
    double n_w, n_20;
    enum st_status s = st_n_water(T, &n_w);
    if (s < 0) return s;
    (void)st_mix_at(T, &r->mix); /* same limits of T */
    (void)st_sw_at(ST_T20, &r->sw_20);
    n_20 = ST_N_WATER_20;
    r->k_w = (n_w - 1.0) / r->mix.sw.rho_w;
    r->k_w20 = (n_20 - 1.0) / r->sw_20.rho_w;
    if (T > ST_T_FITTED_HIGH) s = ST_EXTRAPOLATED;
    return s;
}

/* The liquid between fat and solids, in local columns, and its sum of w k. */
struct clear_block {
    double W[ST_BLOCK], E[ST_BLOCK], S[ST_BLOCK], G[ST_BLOCK], F[ST_BLOCK], A[ST_BLOCK];
    double polyol[ST_BLOCK], protein[ST_BLOCK], extract[ST_BLOCK];
    double sum[ST_BLOCK], rho[ST_BLOCK];
};

static inline void clear_liquid(size_t n, const struct st_columns *col, struct clear_block *b)
{
    for (size_t i = 0; i < n; i++) {
        const struct st_liquid l = st_liquid_at(col, i);
        const double f = 1.0 / st_divisor(1.0 - l.fat - l.solids, 1.0);
        b->W[i] = l.W * f;
        b->E[i] = l.E * f;
        b->S[i] = (l.S + l.L) * f;
        b->G[i] = l.G * f;
        b->F[i] = l.F * f;
        b->A[i] = l.A * f;
        b->polyol[i] = l.polyol * f;
        b->protein[i] = l.protein * f;
        b->extract[i] = l.extract * f;
    }
}

static inline void add_refractions(const struct st_refract *r, size_t n, struct clear_block *b)
{
    for (size_t i = 0; i < n; i++) {
        const double s = b->S[i] + b->G[i] + b->F[i];
        const double d = st_divisor(s, 1.0);
        b->sum[i] = st_sugar_refraction(r, s, b->G[i] / d, b->F[i] / d);
    }
    for (size_t i = 0; i < n; i++) {
        const double E = b->E[i], W = b->W[i];
        b->sum[i] += W * r->k_w + E * st_ethanol_k(E / st_divisor(E + W, 1.0));
        b->sum[i] += b->A[i] * st_citric_k(b->A[i]);
        b->sum[i] += b->polyol[i] * ST_K_POLYOL + b->protein[i] * ST_K_PROTEIN + b->extract[i] * ST_K_EXTRACT;
    }
}

ST_CLONES static void index_block(const struct st_refract *refract, size_t n, const struct st_columns *columns,
                                  double *restrict idx)
{
    const struct st_refract r = *refract;
    const struct st_columns col = *columns;
    struct clear_block b;
    clear_liquid(n, &col, &b);
    add_refractions(&r, n, &b);
    const struct st_columns liquid = { .c = { b.W, b.E, b.S, b.G, b.F, st_zeros, b.A, b.polyol, b.protein,
                                              b.extract, st_zeros, st_zeros } };
    st_mix_rho_block(&r.mix, n, &liquid, b.rho);
    for (size_t i = 0; i < n; i++) idx[i] = 1.0 + b.rho[i] * b.sum[i];
}

void st_index_block(const struct st_refract *r, size_t n, const struct st_columns *col, double idx[])
{
    index_block(r, n, col, idx);
}

/* 98-100 % of the table of ethanol is doubtful, and the fit ends at 96 %. */
static bool any_above_96(size_t n, const double *const w[ST_NCOMP])
{
    if (!w[ST_ETHANOL]) return false;
    for (size_t i = 0; i < n; i++) {
        const double E = w[ST_ETHANOL][i], W = w[ST_WATER] ? w[ST_WATER][i] : 0.0;
        if (E > 0.0 && E > 0.96 * (E + W)) return true;
    }
    return false;
}

/* Is one of n liquids nothing but fat and solids? */
static bool any_opaque(size_t n, const double *const w[ST_NCOMP])
{
    for (size_t i = 0; i < n; i++) {
        const double fat = w[ST_FAT] ? w[ST_FAT][i] : 0.0, solids = w[ST_SOLIDS] ? w[ST_SOLIDS][i] : 0.0;
        if (fat + solids > 0.99) return true;
    }
    return false;
}

enum st_status st_n_mixture_n(size_t n, const double *const w[ST_NCOMP], double T, double idx[])
{
    enum st_status s = st_mix_status_n(n, w, T);
    if (s < 0) return s;
    if (any_opaque(n, w)) return ST_E_REFUSED;
    struct st_refract r;
    s = st_status_worse(s, st_refract_at(T, &r));
    if (any_above_96(n, w)) s = st_status_worse(s, ST_EXTRAPOLATED);
    for (size_t i = 0; i < n; i += ST_BLOCK) {
        const struct st_columns col = st_columns_at(w, i);
        index_block(&r, n - i < ST_BLOCK ? n - i : ST_BLOCK, &col, idx + i);
    }
    return s;
}

enum st_status st_n_mixture(const double w[ST_NCOMP], double T, double *n)
{
    const double *col[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++) col[c] = &w[c];
    return st_n_mixture_n(1, col, T, n);
}

enum st_status st_n_ethanol(double p, double T, double *n)
{
    if (!(p >= 0.0 && p <= 1.0)) return ST_E_DOMAIN;
    const double w[ST_NCOMP] = { [ST_WATER] = 1.0 - p, [ST_ETHANOL] = p };
    return st_n_mixture(w, T, n);
}

enum st_status st_n_sucrose(double w, double T, double *n)
{
    if (!(w >= 0.0 && w <= 1.0)) return ST_E_DOMAIN;
    if (w > ST_W_HIGHEST) return ST_E_REFUSED;
    struct st_refract r;
    const enum st_status s = st_refract_at(T, &r);
    if (s < 0) return s;
    double rho;
    const enum st_status range = st_status_worse(s, st_density_sucrose(w, T, &rho));
    *n = st_sucrose_n(&r, w);
    return range;
}

enum st_status st_n_mixture_band(const double w[ST_NCOMP], double T, double *half_width)
{
    double n, rho;
    const enum st_status s = st_n_mixture(w, T, &n);
    if (s < 0) return s;
    (void)st_density_mixture(w, T, &rho);

    /* spread of the refractions that have no data, m3/kg, from memory */
    const double spread = w[ST_POLYOL] * 0.02e-3 + w[ST_PROTEIN] * 0.02e-3 + w[ST_EXTRACT] * 0.03e-3
                          + w[ST_LACTOSE] * 0.003e-3 + w[ST_ACID] * 0.002e-3;
    const double both = sqrt(100.0 * w[ST_ETHANOL] * rho / 789.239 * st_mixture_sugars(w) * rho);
    const double band = 1e-4 + (both < 1e-3 ? 0.0 : 2e-4 + 4.5e-6 * both) + rho * spread;
    *half_width = s > ST_OK ? 2.0 * band : band;
    return s;
}
