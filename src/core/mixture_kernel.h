#ifndef ST_CORE_MIXTURE_KERNEL_H
#define ST_CORE_MIXTURE_KERNEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "mixture.h"

/* For files of core only: the formulas of the density of mixtures, as inline functions of coefficients that
 * are worked out once for a temperature.  Single and batch functions call the same lines, so that their
 * results agree bit for bit.  Everything is free of branches that depend on the liquid, so that a loop over
 * liquids can be vectorised.  Callers check limits; nothing is checked here. */

/* Limits of temperature, K, with a millionth for the rounding of degC + 273.15. */
#define ST_T_SLACK 1e-6
#define ST_T_LOWEST (253.15 - ST_T_SLACK)        /* -20 C: the formulas begin */
#define ST_T_ICE (273.15 - ST_T_SLACK)           /* water freezes below */
#define ST_T_HIGHEST (313.15 + ST_T_SLACK)       /* 40 C: [oiml1975] ends */
#define ST_T_WATER_HIGHEST (333.15 + ST_T_SLACK) /* 60 C: water and sugar solutions, flagged */
#define ST_T_FITTED_LOW (283.15 - ST_T_SLACK)    /* 10 .. 30 C: where fits made at 20 C are trusted */
#define ST_T_FITTED_HIGH (303.15 + ST_T_SLACK)

#define ST_N_WATER_20 1.33298714 /* index of water at 20 C: the sugar scale at 0 % */

/* Loops over liquids are compiled for several instruction sets where gcc can pick one at start.  Left out
 * under address and thread sanitizers, whose start-up does not suit the picking. */
#if defined(__x86_64__) && defined(__linux__) && defined(__GNUC__) && !defined(__clang__) \
    && !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define ST_CLONES __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define ST_CLONES
#endif

/* Liquids a block: the columns of one block stay in the first cache. */
enum { ST_BLOCK = 128 };

/* ethanol + water: rho = sum c[k] p^k */
struct st_ew {
    double c[12];
};

/* sugar + water: rho = rho_w + sum a[k] x^(k+1) */
struct st_sw {
    double rho_w;
    double a[6];
};

struct st_mix {
    struct st_ew ew;
    struct st_sw sw;
    double T;
    double v_water_twice, v_polyol, v_protein, v_extract, v_fat, v_solids; /* m3/kg */
};

/* density_ethanol.c, density_sugar.c, density_mixture.c: coefficients at T; status of the water line at T,
 * which is that of the limits of T. */
enum st_status st_ew_at(double T, struct st_ew *ew);
enum st_status st_sw_at(double T, struct st_sw *sw);
enum st_status st_mix_at(double T, struct st_mix *mix);

/* The bits of a number.  Of numbers that are not negative the greater has the greater pattern; the sign is the highest
 * bit, so that negative numbers and -0.0 have patterns above all others. */
union st_pattern_of {
    double number;
    uint64_t bits;
};

static inline uint64_t st_pattern(double x)
{
    const union st_pattern_of p = { .number = x };
    return p.bits;
}

/* density_ethanol.c: is every x[n] 0 .. highest, highest not negative?  NaN is not. */
bool st_all_within(size_t n, const double x[], double highest);

/* Temperature at which ethanol + water of mass fraction p begins to freeze, K; p 0 .. 0.6. */
double st_freezing_curve_ethanol(double p);

/* In pairs, joined by Horner's scheme in p^2: one operation more than Horner's (p^2), and half its chain of dependent
 * operations, which is what a loop over many p is held up by. */
static inline double st_ew_rho(const struct st_ew *ew, double p)
{
    const double *c = ew->c;
    const double p2 = p * p;
    double s = c[10] + c[11] * p;
    s = s * p2 + (c[8] + c[9] * p);
    s = s * p2 + (c[6] + c[7] * p);
    s = s * p2 + (c[4] + c[5] * p);
    s = s * p2 + (c[2] + c[3] * p);
    return s * p2 + (c[0] + c[1] * p);
}

/* the sucrose increment over water, in pairs likewise */
static inline double st_sw_increment(const struct st_sw *sw, double x)
{
    const double *a = sw->a;
    const double x2 = x * x;
    double s = a[4] + a[5] * x;
    s = s * x2 + (a[2] + a[3] * x);
    s = s * x2 + (a[0] + a[1] * x);
    return s * x;
}

static inline double st_lower(double a, double b)
{
    return a < b ? a : b;
}

/* What the sucrose increment is multiplied by for glucose and fructose.  Fitted to half of the [crc102] rows
 * at 20 C (docs/sources.md); beyond the last row, x = 0.60 and 0.48, the factor is held: y is the smaller of
 * the two. */
#define ST_X_GLUCOSE 0.60
#define ST_X_FRUCTOSE 0.48

static inline double st_glucose_factor(double y)
{
    return (1.0 - 0.0232) + y * (0.10986 + y * (-0.44922 + y * 0.43298));
}

static inline double st_fructose_factor(double y)
{
    return (1.0 + 0.01358) - y * 0.02899;
}

/* the citric increment over water, kg/m3; fitted to half of the [crc102] rows at 20 C */
static inline double st_citric_increment(double x)
{
    return x * (405.736 + x * (148.077 + x * 57.804));
}

/* a where the condition holds, else b; both finite.  By arithmetic and exactly so: a plain choice lets the
 * compiler move the divisions behind b into a branch, and the loop is then not vectorised. */
static inline double st_pick(int condition, double a, double b)
{
    const double m = (double)condition;
    return m * a + (1.0 - m) * b;
}

/* a, or b where a is 0: a divisor that can be 0 only together with what is divided */
static inline double st_divisor(double a, double b)
{
    return a + b * (double)(a == 0.0);
}

/* Added where a sum of masses divides: nothing beside any mass, and 0/0 becomes 0.  The product of three of it is
 * still a number. */
#define ST_LITTLE 1e-100

/* Sugars whose sucrose increment is inc at x = sugar/(sugar + water), and xg, xf the same held for the factors:
 * densities of solutions of each alone, and the specific volume of all, weighted by masses S (sucrose and lactose),
 * G and F of sum s, as a fraction up/down.  ST_LITTLE in S makes the fraction that of water where there is no sugar. */
struct st_sugar_mix {
    double rs, rg, rf;
    double up, down;
};

static inline struct st_sugar_mix st_sugar_mix_of(double rho_w, double inc, double xg, double xf, double S, double G,
                                                  double F, double s)
{
    struct st_sugar_mix m = {
        .rs = rho_w + inc,
        .rg = rho_w + inc * st_glucose_factor(xg),
        .rf = rho_w + inc * st_fructose_factor(xf),
    };
    const double gf = m.rg * m.rf;
    m.up = S * gf + m.rs * (G * m.rf + F * m.rg);
    m.down = s * (m.rs * gf);
    return m;
}

/* Their density.  One sugar alone exactly; several by specific volumes and shares. */
static inline double st_sugar_rho(const struct st_sugar_mix *m, double S, double G, double F, double s)
{
    double rho = m->down / m->up;
    rho = st_pick(F == s, m->rf, rho);
    rho = st_pick(G == s, m->rg, rho);
    return st_pick(S == s, m->rs, rho);
}

/* A term that only a true ternary mixture has, m3/kg: none known (st_ternary_excess). */
static inline double st_excess(double W, double E, double S, double T)
{
    (void)W;
    (void)E;
    (void)S;
    (void)T;
    return 0.0;
}

/* One liquid, masses (any sum): water, ethanol, sucrose, lactose, glucose, fructose, acid, ... */
struct st_liquid {
    double W, E, S, L, G, F, A, polyol, protein, extract, fat, solids;
};

/* density_mixture.c: densities of n <= ST_BLOCK liquids, nothing checked. */
struct st_columns;
void st_mix_rho_block(const struct st_mix *mix, size_t n, const struct st_columns *col, double rho[]);

/* What the limits of a liquid say, bits or'ed over many; T is judged apart. */
enum {
    ST_FLAG_BAD = 1,       /* not a mixture */
    ST_FLAG_ETHANOL = 2,   /* holds ethanol */
    ST_FLAG_ESTIMATED = 4, /* a component without data beyond a trace, or too little water */
    ST_FLAG_BEYOND = 8,    /* outside the fitted concentrations */
    ST_FLAG_FITTED_20 = 16 /* holds glucose, fructose or acid, whose fits are those of 20 C */
};

static inline int64_t st_mix_flags(const struct st_liquid *l)
{
    const double W = l->W, E = l->E, G = l->G, F = l->F, A = l->A, L = l->L;
    const double s = l->S + L + G + F;
    const double other = l->polyol + l->protein + l->extract + l->fat + l->solids;
    const double sum = W + E + s + A + other;
    /* NaN: in the sum */
    const double drink = st_lower(st_lower(W, E), st_lower(st_lower(l->S, L), st_lower(G, F)));
    const double rest = st_lower(st_lower(A, l->polyol),
                                 st_lower(st_lower(l->protein, l->extract), st_lower(l->fat, l->solids)));
    const int ok = (drink >= 0.0) & (rest >= 0.0) & (sum >= 1.0 - 1e-9) & (sum <= 1.0 + 1e-9);

    /* x = s/(s + W) against its limits, without dividing */
    const double sw = s + W, aw = A + W;
    const int estimated = (L > 0.005) | (other > 0.005) | ((A > 0.05) & (E + s + other > 0.0))
                          | (s > 0.85 * sw) | (A > 0.60 * aw);
    const int beyond = (s > 0.70 * sw) | ((G > 0.0) & (s > 0.60 * sw)) | ((F > 0.0) & (s > 0.48 * sw))
                       | (A > 0.30 * aw);
    return (ok ? 0 : ST_FLAG_BAD) | (E > 0.0 ? ST_FLAG_ETHANOL : 0) | (estimated ? ST_FLAG_ESTIMATED : 0)
           | (beyond ? ST_FLAG_BEYOND : 0) | (G + F + A > 0.005 ? ST_FLAG_FITTED_20 : 0);
}

/* n liquids of a structure of arrays, read by block: columns that are NULL read zeros. */
struct st_columns {
    const double *c[ST_NCOMP];
};

extern const double st_zeros[ST_BLOCK];

static inline struct st_columns st_columns_at(const double *const w[ST_NCOMP], size_t first)
{
    struct st_columns col;
    for (int c = 0; c < ST_NCOMP; c++) col.c[c] = w[c] ? w[c] + first : st_zeros;
    return col;
}

static inline struct st_liquid st_liquid_at(const struct st_columns *col, size_t i)
{
    const struct st_liquid l = {
        .W = col->c[ST_WATER][i],
        .E = col->c[ST_ETHANOL][i],
        .S = col->c[ST_SUCROSE][i],
        .L = col->c[ST_LACTOSE][i],
        .G = col->c[ST_GLUCOSE][i],
        .F = col->c[ST_FRUCTOSE][i],
        .A = col->c[ST_ACID][i],
        .polyol = col->c[ST_POLYOL][i],
        .protein = col->c[ST_PROTEIN][i],
        .extract = col->c[ST_EXTRACT][i],
        .fat = col->c[ST_FAT][i],
        .solids = col->c[ST_SOLIDS][i],
    };
    return l;
}

/* density_mixture.c: the status of n liquids at T together, before anything is computed. */
enum st_status st_mix_status_n(size_t n, const double *const w[ST_NCOMP], double T);

#endif
