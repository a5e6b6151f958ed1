/* Densities and strength: what no table gives.  Inverses, edges, batches, monotony, limits, NaN. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "core/density_acid.h"
#include "core/density_ethanol.h"
#include "core/density_mixture.h"
#include "core/density_sugar.h"
#include "core/strength.h"
#include "core/water.h"

static void near(double got, double want, double tol)
{
    if (!(fabs(got - want) <= tol)) fail_msg("got %.17g, want %.17g +- %g", got, want, tol);
}

static void same_bits(double a, double b)
{
    if (memcmp(&a, &b, sizeof a) != 0) fail_msg("%.17g and %.17g differ in their bits", a, b);
}

static double random_01(uint64_t *x)
{
    *x ^= *x << 13;
    *x ^= *x >> 7;
    *x ^= *x << 17;
    return (double)(*x >> 11) * 0x1p-53;
}

static const double nan_ = (double)NAN;

/* ---- names and checks of mixtures ---- */

static void mixtures_are_checked(void **state)
{
    (void)state;
    double w[ST_NCOMP] = { 0.6, 0.4 };
    assert_int_equal(st_mixture_check(w), ST_OK);
    w[ST_SUCROSE] = 1e-6;
    assert_int_equal(st_mixture_check(w), ST_E_DOMAIN);
    w[ST_SUCROSE] = nan_;
    assert_int_equal(st_mixture_check(w), ST_E_DOMAIN);
    w[ST_SUCROSE] = -0.1;
    w[ST_WATER] = 0.7;
    assert_int_equal(st_mixture_check(w), ST_E_DOMAIN);

    const double m[ST_NCOMP] = { 300.0, 100.0, 50.0, [ST_LACTOSE] = 50.0 };
    assert_int_equal(st_mixture_from_masses(m, w), ST_OK);
    assert_int_equal(st_mixture_check(w), ST_OK);
    near(st_mixture_sugars(w), 0.2, 1e-15);
    const double none[ST_NCOMP] = { 0.0 }, negative[ST_NCOMP] = { 1.0, -1e-9 };
    const double infinite[ST_NCOMP] = { (double)INFINITY };
    assert_int_equal(st_mixture_from_masses(none, w), ST_E_DOMAIN);
    assert_int_equal(st_mixture_from_masses(negative, w), ST_E_DOMAIN);
    assert_int_equal(st_mixture_from_masses(infinite, w), ST_E_DOMAIN);
}

static void components_have_names(void **state)
{
    (void)state;
    for (int a = 0; a < ST_NCOMP; a++)
        for (int b = 0; b < a; b++)
            assert_string_not_equal(st_component_name((enum st_component)a), st_component_name((enum st_component)b));
    assert_string_equal(st_component_name(ST_NCOMP), "unknown");
}

/* ---- one water line ---- */

static void binaries_meet_in_water(void **state)
{
    (void)state;
    for (double T = 253.15; T <= 333.15; T += 2.5) {
        double w, x;
        assert_true(st_density_water(T, &w) >= 0);
        assert_true(st_density_ethanol(0.0, T, &x) >= 0);
        same_bits(x, w);
        assert_true(st_density_sucrose(0.0, T, &x) >= 0);
        same_bits(x, w);
        assert_true(st_density_fructose(0.0, T, &x) >= 0);
        same_bits(x, w);
        assert_true(st_density_citric(0.0, T, &x) >= 0);
        same_bits(x, w);
    }
}

static void water_line_has_no_step_at_40(void **state)
{
    (void)state;
    double a, b;
    assert_int_equal(st_density_water(313.15, &a), ST_OK);
    assert_int_equal(st_density_water(313.15 + 1e-5, &b), ST_EXTRAPOLATED);
    near(b, a, 1e-5);
    assert_true(b < a);
}

/* ---- limits ---- */

static void limits_of_temperature(void **state)
{
    (void)state;
    double x = -1.0;
    assert_int_equal(st_density_ethanol(0.4, 253.15, &x), ST_OK);
    assert_int_equal(st_density_ethanol(0.4, -20.0 + 273.15, &x), ST_OK); /* 253.14999... */
    assert_int_equal(st_density_ethanol(0.1, 253.15, &x), ST_EXTRAPOLATED); /* frozen */
    assert_int_equal(st_density_ethanol(0.1, 274.15, &x), ST_OK);
    x = -1.0;
    assert_int_equal(st_density_ethanol(0.4, 253.0, &x), ST_E_REFUSED);
    assert_int_equal(st_density_ethanol(0.4, 313.25, &x), ST_E_REFUSED);
    assert_int_equal(st_density_ethanol(0.4, nan_, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_ethanol(0.4, -5.0, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_ethanol(nan_, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_ethanol(-1e-12, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_ethanol(1.0 + 1e-12, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_ethanol(1.7, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_ethanol((double)INFINITY, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_sucrose(0.5, 333.25, &x), ST_E_REFUSED);
    assert_int_equal(st_density_sucrose(1.5, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_citric(nan_, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_water(0.0, &x), ST_E_DOMAIN);
    assert_true(x == -1.0); /* outputs untouched */
    assert_int_equal(st_density_ethanol(-0.0, 293.15, &x), ST_OK);
    assert_int_equal(st_density_ethanol(1.0, 293.15, &x), ST_OK);
    near(x, 789.239, 0.0005);
}

static void limits_of_sugar(void **state)
{
    (void)state;
    double x;
    assert_int_equal(st_density_sucrose(0.70, 293.15, &x), ST_OK);
    assert_int_equal(st_density_sucrose(0.70, 323.15, &x), ST_EXTRAPOLATED);
    assert_int_equal(st_density_sucrose(0.72, 293.15, &x), ST_EXTRAPOLATED);
    assert_int_equal(st_density_sucrose(0.90, 293.15, &x), ST_ESTIMATED);
    assert_int_equal(st_density_glucose(0.61, 293.15, &x), ST_EXTRAPOLATED);
    assert_int_equal(st_density_fructose(0.49, 293.15, &x), ST_EXTRAPOLATED);
    assert_int_equal(st_density_glucose(0.40, 308.15, &x), ST_EXTRAPOLATED);
    assert_int_equal(st_density_citric(0.31, 293.15, &x), ST_EXTRAPOLATED);
}

static void status_of_mixtures(void **state)
{
    (void)state;
    double x = -1.0;
    double w[ST_NCOMP] = { [ST_WATER] = 0.5, [ST_ETHANOL] = 0.3, [ST_SUCROSE] = 0.1, [ST_GLUCOSE] = 0.05,
                           [ST_FRUCTOSE] = 0.03, [ST_ACID] = 0.02 };
    assert_int_equal(st_density_mixture(w, 293.15, &x), ST_OK);
    assert_int_equal(st_density_mixture(w, 308.15, &x), ST_EXTRAPOLATED);
    x = -1.0;
    assert_int_equal(st_density_mixture(w, 315.15, &x), ST_E_REFUSED);
    assert_int_equal(st_density_mixture(w, nan_, &x), ST_E_DOMAIN);
    assert_true(x == -1.0);

    w[ST_ACID] = 0.0;
    w[ST_EXTRACT] = 0.02;
    assert_int_equal(st_density_mixture(w, 293.15, &x), ST_ESTIMATED);
    w[ST_EXTRACT] = 0.004;
    w[ST_WATER] = 0.516;
    assert_int_equal(st_density_mixture(w, 293.15, &x), ST_OK);
    w[ST_WATER] = nan_;
    assert_int_equal(st_density_mixture(w, 293.15, &x), ST_E_DOMAIN);
    const double dry[ST_NCOMP] = { [ST_SUCROSE] = 1.0 };
    assert_int_equal(st_density_mixture(dry, 293.15, &x), ST_ESTIMATED);
    assert_true(x > 1400.0 && x < 1600.0);
    const double fat[ST_NCOMP] = { [ST_FAT] = 1.0 };
    assert_int_equal(st_density_mixture(fat, 293.15, &x), ST_ESTIMATED);
    assert_true(x > 900.0 && x < 930.0);
    const double cold[ST_NCOMP] = { [ST_WATER] = 0.9, [ST_ETHANOL] = 0.1 };
    assert_int_equal(st_density_mixture(cold, 258.15, &x), ST_EXTRAPOLATED);
}

/* ---- edges: bit for bit the binary mixtures ---- */

static void edges_are_the_binaries(void **state)
{
    (void)state;
    typedef enum st_status density(double, double, double *);
    static const struct {
        enum st_component c;
        density *f;
    } edge[] = { { ST_ETHANOL, st_density_ethanol }, { ST_SUCROSE, st_density_sucrose },
                 { ST_GLUCOSE, st_density_glucose }, { ST_FRUCTOSE, st_density_fructose },
                 { ST_LACTOSE, st_density_sucrose }, { ST_ACID, st_density_citric } };
    for (size_t e = 0; e < sizeof edge / sizeof edge[0]; e++)
        for (int i = 0; i <= 16; i++)
            for (double T = 273.15; T <= 313.15; T += 10.0) {
                const double x = i / 16.0; /* exact, so that x and 1 - x add up to 1 */
                double w[ST_NCOMP] = { [ST_WATER] = 1.0 - x }, a, b;
                w[edge[e].c] = x;
                assert_true(edge[e].f(x, T, &a) >= 0);
                assert_true(st_density_mixture(w, T, &b) >= 0);
                same_bits(a, b);
            }
}

/* No step where a third component begins. */
static void edges_are_approached(void **state)
{
    (void)state;
    for (int i = 0; i <= 10; i++) {
        const double p = 0.09 * i, trace = 1e-8;
        double w[ST_NCOMP] = { [ST_WATER] = (1.0 - p) * (1.0 - 3.0 * trace), [ST_ETHANOL] = p * (1.0 - 3.0 * trace),
                               [ST_SUCROSE] = trace, [ST_ACID] = trace, [ST_GLUCOSE] = trace };
        double a, b;
        assert_true(st_density_ethanol(p, 293.15, &a) >= 0);
        assert_true(st_density_mixture(w, 293.15, &b) >= 0);
        near(b, a, 1e-4);
    }
}

static void invert_is_half_and_half(void **state)
{
    (void)state;
    const double w[ST_NCOMP] = { [ST_WATER] = 0.75, [ST_GLUCOSE] = 0.125, [ST_FRUCTOSE] = 0.125 };
    double a, b, g, f;
    assert_int_equal(st_density_invert(0.25, 293.15, &a), ST_OK);
    assert_int_equal(st_density_mixture(w, 293.15, &b), ST_OK);
    near(a, b, 1e-9);
    assert_int_equal(st_density_glucose(0.25, 293.15, &g), ST_OK);
    assert_int_equal(st_density_fructose(0.25, 293.15, &f), ST_OK);
    assert_true(g < a && a < f);
}

/* ---- batches ---- */

enum { MANY = 1003 }; /* several blocks and a rest */

static void batch_of_ethanol(void **state)
{
    (void)state;
    static double p[MANY], rho[MANY];
    for (double T = 253.15; T <= 313.15; T += 7.5) {
        for (int i = 0; i < MANY; i++) p[i] = i / (double)(MANY - 1);
        assert_true(st_density_ethanol_n(MANY, p, T, rho) >= 0);
        for (int i = 0; i < MANY; i++) {
            double one;
            assert_true(st_density_ethanol(p[i], T, &one) >= 0);
            same_bits(one, rho[i]);
        }
    }
    p[MANY - 1] = nan_;
    rho[0] = -1.0;
    assert_int_equal(st_density_ethanol_n(MANY, p, 293.15, rho), ST_E_DOMAIN);
    assert_true(rho[0] == -1.0);
    assert_int_equal(st_density_ethanol_n(0, p, 293.15, rho), ST_OK);
    p[MANY - 1] = 0.5;
    assert_int_equal(st_density_ethanol_n(MANY, p, 293.15, p), ST_OK); /* in place */
    near(p[0], 998.2012, 1e-4);
}

/* MANY random liquids; some components are left out so that edges occur */
static void random_liquids(double w[ST_NCOMP][MANY])
{
    uint64_t x = 2463534242u;
    for (int i = 0; i < MANY; i++) {
        double sum = 0.0;
        for (int c = 0; c < ST_NCOMP; c++) {
            const double u = random_01(&x);
            w[c][i] = c == ST_WATER ? 1.0 + u : random_01(&x) < 0.5 ? 0.0 : u * (c <= ST_FRUCTOSE ? 0.5 : 0.05);
            sum += w[c][i];
        }
        for (int c = 0; c < ST_NCOMP; c++) w[c][i] /= sum;
    }
}

static void batch_of_mixtures(void **state)
{
    (void)state;
    static double w[ST_NCOMP][MANY], rho[MANY];
    random_liquids(w);
    const double *col[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++) col[c] = w[c];
    for (double T = 278.15; T <= 313.15; T += 5.0) {
        enum st_status worst = ST_OK;
        const enum st_status s = st_density_mixture_n(MANY, col, T, rho);
        for (int i = 0; i < MANY; i++) {
            double one[ST_NCOMP], r;
            for (int c = 0; c < ST_NCOMP; c++) one[c] = w[c][i];
            worst = st_status_worse(worst, st_density_mixture(one, T, &r));
            same_bits(r, rho[i]);
        }
        assert_int_equal(s, worst);
    }
    w[ST_ACID][MANY - 1] += 0.01;
    rho[0] = -1.0;
    assert_int_equal(st_density_mixture_n(MANY, col, 293.15, rho), ST_E_DOMAIN);
    assert_true(rho[0] == -1.0);
}

/* Masses of any sum give what their fractions give, and what is no liquid is refused. */
static void batch_of_masses(void **state)
{
    (void)state;
    static double w[ST_NCOMP][MANY], m[ST_NCOMP][MANY], rho[MANY], again[MANY];
    random_liquids(w);
    const double *col[ST_NCOMP], *mass[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++) {
        col[c] = w[c];
        mass[c] = m[c];
        for (int i = 0; i < MANY; i++) m[c][i] = (0.1 + 7.0 * i) * w[c][i];
    }
    assert_true(st_density_mixture_n(MANY, col, 293.15, rho) >= 0);
    assert_int_equal(st_density_masses_n(MANY, mass, 293.15, again), ST_OK);
    for (int i = 0; i < MANY; i++) near(again[i], rho[i], 1e-10);

    const double wrong[] = { -1e-9, (double)NAN, (double)INFINITY };
    for (int k = 0; k < 3; k++) {
        m[ST_ACID][MANY - 1] = wrong[k];
        again[0] = -1.0;
        assert_int_equal(st_density_masses_n(MANY, mass, 293.15, again), ST_E_DOMAIN);
        assert_true(again[0] == -1.0);
    }
    for (int c = 0; c < ST_NCOMP; c++) m[c][MANY - 1] = 0.0;
    assert_int_equal(st_density_masses_n(MANY, mass, 293.15, again), ST_E_DOMAIN);
}

static void batch_with_missing_columns(void **state)
{
    (void)state;
    static double water[MANY], ethanol[MANY], rho[MANY];
    for (int i = 0; i < MANY; i++) {
        ethanol[i] = i / 2048.0;
        water[i] = 1.0 - ethanol[i];
    }
    const double *col[ST_NCOMP] = { [ST_WATER] = water, [ST_ETHANOL] = ethanol };
    assert_int_equal(st_density_mixture_n(MANY, col, 293.15, rho), ST_OK);
    for (int i = 0; i < MANY; i++) {
        double one;
        assert_int_equal(st_density_ethanol(ethanol[i], 293.15, &one), ST_OK);
        same_bits(one, rho[i]);
    }
}

/* ---- shapes ---- */

static void density_falls_with_strength_and_rises_with_sugar(void **state)
{
    (void)state;
    for (double T = 283.15; T <= 313.15; T += 10.0) {
        double last = 2000.0, x;
        for (double p = 0.0; p <= 1.0; p += 1.0 / 256) {
            assert_true(st_density_ethanol(p, T, &x) >= 0);
            assert_true(x < last);
            last = x;
        }
        last = 0.0;
        for (double w = 0.0; w <= 1.0; w += 1.0 / 256) {
            double glucose, fructose;
            assert_true(st_density_sucrose(w, T, &x) >= 0);
            assert_true(st_density_glucose(w, T, &glucose) >= 0);
            assert_true(st_density_fructose(w, T, &fructose) >= 0);
            assert_true(x > last && glucose < x + 0.1 && fabs(fructose - x) < 5.0);
            last = x;
        }
    }
}

static void band_covers_and_grows(void **state)
{
    (void)state;
    const double spirit[ST_NCOMP] = { 0.6, 0.4 };
    const double liqueur[ST_NCOMP] = { 0.5, 0.25, 0.25 };
    const double bitter[ST_NCOMP] = { [ST_WATER] = 0.45, [ST_ETHANOL] = 0.25, [ST_SUCROSE] = 0.25,
                                      [ST_EXTRACT] = 0.05 };
    double a, b, c;
    assert_int_equal(st_density_mixture_band(spirit, 293.15, &a), ST_OK);
    assert_int_equal(st_density_mixture_band(liqueur, 293.15, &b), ST_OK);
    assert_int_equal(st_density_mixture_band(bitter, 293.15, &c), ST_ESTIMATED);
    near(a, 0.1, 1e-12);
    assert_true(b > 0.8 && b < 2.0 && c > b + 1.0);
    assert_true(st_ternary_excess(liqueur, 293.15) == 0.0);
}

/* ---- strength ---- */

/* What rounding leaves of the formula: its terms add up to sum |A_k| p^(k-1), 2.6e6 at p = 1, each through at
 * most 8 roundings of 2^-53, there and back, of 789 kg/m3.  Below 60 % mass the terms are small. */
static double rounding(double p)
{
    return p <= 0.6 ? 1e-13 : 2.0 * 8.0 * 2.6e6 * 0x1p-53 / 789.0;
}

static void strength_round_trips(void **state)
{
    (void)state;
    for (int i = 0; i <= 10000; i++) {
        double q, p, back;
        p = i / 10000.0;
        assert_int_equal(st_strength_from_p(p, &q), ST_OK);
        assert_int_equal(st_p_from_strength(q > 100.0 ? 100.0 : q, &back), ST_OK);
        near(back, p, rounding(p));
        assert_int_equal(st_proof_from_p(p, &q), ST_OK);
        assert_int_equal(st_p_from_proof(q > 200.0 ? 200.0 : q, &back), ST_OK);
        near(back, p, rounding(p));
    }
    double p = -1.0;
    assert_int_equal(st_p_from_strength(100.0, &p), ST_OK);
    assert_true(p == 1.0);
    assert_int_equal(st_p_from_strength(0.0, &p), ST_OK);
    assert_true(p == 0.0);
    assert_int_equal(st_p_from_strength(100.1, &p), ST_E_DOMAIN);
    assert_int_equal(st_p_from_strength(nan_, &p), ST_E_DOMAIN);
    assert_int_equal(st_p_from_proof(-1.0, &p), ST_E_DOMAIN);
    assert_true(p == 0.0);
}

static void batch_of_strengths(void **state)
{
    (void)state;
    static double q[MANY], p[MANY];
    for (int i = 0; i < MANY; i++) q[i] = 100.0 * i / (MANY - 1);
    assert_int_equal(st_p_from_strength_n(MANY, q, p), ST_OK);
    for (int i = 0; i < MANY; i++) {
        double one;
        assert_int_equal(st_p_from_strength(q[i], &one), ST_OK);
        same_bits(one, p[i]);
        assert_true(i == 0 || p[i] > p[i - 1]);
    }
    assert_int_equal(st_p_from_strength_n(MANY, q, q), ST_OK); /* in place */
    same_bits(q[500], p[500]);
    q[7] = -1.0;
    assert_int_equal(st_p_from_strength_n(MANY, q, p), ST_E_DOMAIN);
}

static void mixture_from_strength_round_trips(void **state)
{
    (void)state;
    for (double q = 0.0; q <= 95.0; q += 5.0)
        for (double g_l = 0.0; g_l <= 500.0; g_l += 50.0) {
            const double solutes[ST_NCOMP] = { [ST_SUCROSE] = 0.7 * g_l, [ST_FRUCTOSE] = 0.3 * g_l, [ST_ACID] = 5.0 };
            double w[ST_NCOMP], x;
            if (st_mixture_from_strength(q, solutes, w) < 0) {
                assert_true(q > 60.0); /* only where no room is left for water */
                continue;
            }
            assert_int_equal(st_mixture_check(w), ST_OK);
            assert_true(st_strength_mixture(w, &x) >= 0);
            near(x, q, 1e-9);
            assert_true(st_grams_per_litre(w, ST_SUCROSE, &x) >= 0);
            near(x, 0.7 * g_l, 1e-8);
        }
    const double full[ST_NCOMP] = { [ST_SUCROSE] = 900.0 };
    double w[ST_NCOMP];
    assert_int_equal(st_mixture_from_strength(70.0, full, w), ST_E_DOMAIN);
    assert_int_equal(st_mixture_from_strength(nan_, full, w), ST_E_DOMAIN);
    const double none[ST_NCOMP] = { 0.0 };
    assert_int_equal(st_mixture_from_strength(100.0, none, w), ST_OK);
    near(w[ST_ETHANOL], 1.0, 1e-9);
}

static void mixing_spirit_and_water_shrinks(void **state)
{
    (void)state;
    const double water[ST_NCOMP] = { 1.0 }, ethanol[ST_NCOMP] = { 0.0, 1.0 };
    double dV, rho_e, rho_w;
    assert_int_equal(st_density_ethanol(1.0, ST_T20, &rho_e), ST_OK);
    assert_int_equal(st_density_water(ST_T20, &rho_w), ST_OK);
    assert_int_equal(st_contraction(0.1 * rho_e, ethanol, 0.1 * rho_w, water, &dV), ST_OK);
    assert_true(dV > 0.0068 && dV < 0.0074); /* about 3.5 % of 0.2 m3 */
    assert_int_equal(st_contraction(1.0, water, 0.0, ethanol, &dV), ST_OK);
    near(dV, 0.0, 1e-15);
    assert_int_equal(st_contraction(0.0, water, 0.0, ethanol, &dV), ST_E_DOMAIN);
    assert_int_equal(st_contraction(nan_, water, 1.0, ethanol, &dV), ST_E_DOMAIN);
}

static void sucrose_density_inverts(void **state)
{
    (void)state;
    for (double T = 273.15; T <= 333.15; T += 10.0)
        for (int i = 0; i <= 85; i++) {
            double rho, w;
            assert_true(st_density_sucrose(0.01 * i, T, &rho) >= 0);
            assert_true(st_w_from_density_sucrose(rho, T, &w) >= 0);
            near(w, 0.01 * i, 1e-13);
        }
    double w;
    assert_int_equal(st_w_from_density_sucrose(990.0, 293.15, &w), ST_E_DOMAIN);
    assert_int_equal(st_w_from_density_sucrose(nan_, 293.15, &w), ST_E_DOMAIN);
    assert_int_equal(st_w_from_density_sucrose(1800.0, 293.15, &w), ST_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(mixtures_are_checked),
        cmocka_unit_test(components_have_names),
        cmocka_unit_test(binaries_meet_in_water),
        cmocka_unit_test(water_line_has_no_step_at_40),
        cmocka_unit_test(limits_of_temperature),
        cmocka_unit_test(limits_of_sugar),
        cmocka_unit_test(status_of_mixtures),
        cmocka_unit_test(edges_are_the_binaries),
        cmocka_unit_test(edges_are_approached),
        cmocka_unit_test(invert_is_half_and_half),
        cmocka_unit_test(batch_of_ethanol),
        cmocka_unit_test(batch_of_mixtures),
        cmocka_unit_test(batch_of_masses),
        cmocka_unit_test(batch_with_missing_columns),
        cmocka_unit_test(density_falls_with_strength_and_rises_with_sugar),
        cmocka_unit_test(band_covers_and_grows),
        cmocka_unit_test(strength_round_trips),
        cmocka_unit_test(batch_of_strengths),
        cmocka_unit_test(mixture_from_strength_round_trips),
        cmocka_unit_test(mixing_spirit_and_water_shrinks),
        cmocka_unit_test(sucrose_density_inverts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
