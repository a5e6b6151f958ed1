/* Refraction and instruments: what no table gives.  Inverses, edges, batches, shapes, limits, NaN. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "core/density_mixture.h"
#include "core/instruments.h"
#include "core/refraction.h"
#include "core/strength.h"
#include "core/water.h"

static const double nan_ = (double)NAN;

static void near(double got, double want, double tol)
{
    if (!(fabs(got - want) <= tol)) fail_msg("got %.17g, want %.17g +- %g", got, want, tol);
}

static void same_bits(double a, double b)
{
    if (memcmp(&a, &b, sizeof a) != 0) fail_msg("%.17g and %.17g differ in their bits", a, b);
}

enum { MANY = 701 };

static void scale_inverts(void **state)
{
    (void)state;
    static double idx[MANY], brix[MANY];
    for (int i = 0; i < MANY; i++) {
        const double b = -5.0 + 90.0 * i / (MANY - 1);
        assert_true(st_n_from_brix(b, &idx[i]) >= 0);
        assert_true(i == 0 || idx[i] > idx[i - 1]);
        assert_true(st_brix_from_n(idx[i], &brix[i]) >= 0);
        near(brix[i], b, 1e-11);
    }
    static double batch[MANY];
    assert_int_equal(st_brix_from_n_n(MANY, idx, batch), ST_EXTRAPOLATED);
    for (int i = 0; i < MANY; i++) same_bits(batch[i], brix[i]);
    assert_int_equal(st_brix_from_n_n(MANY, idx, idx), ST_EXTRAPOLATED); /* in place */
    same_bits(idx[17], brix[17]);
}

static void scale_has_ends(void **state)
{
    (void)state;
    double x = -1.0;
    assert_int_equal(st_n_from_brix(85.1, &x), ST_E_REFUSED);
    assert_int_equal(st_n_from_brix(-5.1, &x), ST_E_REFUSED);
    assert_int_equal(st_n_from_brix(nan_, &x), ST_E_DOMAIN);
    assert_int_equal(st_brix_from_n(1.6, &x), ST_E_REFUSED);
    assert_int_equal(st_brix_from_n(1.3, &x), ST_E_REFUSED);
    assert_int_equal(st_brix_from_n(nan_, &x), ST_E_DOMAIN);
    assert_true(x == -1.0);
    assert_int_equal(st_n_from_brix(-1.0, &x), ST_EXTRAPOLATED);
    assert_int_equal(st_n_from_brix(0.0, &x), ST_OK);
}

/* The sucrose edge is the scale, and both roads to an edge agree. */
static void edges(void **state)
{
    (void)state;
    for (int i = 0; i <= 80; i++) {
        const double w = 0.01 * i;
        double scale, sucrose, mixture;
        const double liquid[ST_NCOMP] = { [ST_WATER] = 1.0 - w, [ST_SUCROSE] = w };
        assert_int_equal(st_n_from_brix(100.0 * w, &scale), ST_OK);
        assert_true(st_n_sucrose(w, 293.15, &sucrose) >= 0);
        assert_true(st_n_mixture(liquid, 293.15, &mixture) >= 0);
        near(sucrose, scale, 1e-15);
        near(mixture, scale, 1e-15);
    }
    for (double T = 283.15; T <= 303.15; T += 5.0) {
        double water, x;
        assert_int_equal(st_n_water(T, &water), ST_OK);
        assert_int_equal(st_n_ethanol(0.0, T, &x), ST_OK);
        near(x, water, 1e-15);
        assert_int_equal(st_n_sucrose(0.0, T, &x), ST_OK);
        near(x, water, 1e-15);
    }
}

/* The greatest index of ethanol-water is near 80 % mass, so that a reading has two strengths above 60 %. */
static void ethanol_index_turns(void **state)
{
    (void)state;
    double best = 0.0, at = 0.0, x;
    for (double p = 0.0; p <= 0.96; p += 0.005) {
        assert_int_equal(st_n_ethanol(p, 293.15, &x), ST_OK);
        if (x > best) {
            best = x;
            at = p;
        }
    }
    assert_true(at > 0.74 && at < 0.84);
    near(best, 1.3658, 2e-4);
    assert_int_equal(st_n_ethanol(0.99, 293.15, &x), ST_EXTRAPOLATED);
    assert_int_equal(st_n_ethanol(1.01, 293.15, &x), ST_E_DOMAIN);
    assert_int_equal(st_n_ethanol(0.4, 314.15, &x), ST_E_REFUSED);
    assert_int_equal(st_n_ethanol(0.4, 305.15, &x), ST_EXTRAPOLATED);
}

static void batch_of_indices(void **state)
{
    (void)state;
    static double w[ST_NCOMP][MANY], idx[MANY];
    for (int i = 0; i < MANY; i++) {
        w[ST_ETHANOL][i] = 0.5 * i / MANY;
        w[ST_SUCROSE][i] = 0.1 + 0.1 * (i % 7) / 7.0;
        w[ST_GLUCOSE][i] = i % 3 ? 0.05 : 0.0;
        w[ST_ACID][i] = i % 5 ? 0.01 : 0.0;
        w[ST_FAT][i] = i % 11 ? 0.0 : 0.02;
        double rest = 1.0;
        for (int c = ST_ETHANOL; c < ST_NCOMP; c++) rest -= w[c][i];
        w[ST_WATER][i] = rest;
    }
    const double *col[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++) col[c] = w[c];
    for (double T = 283.15; T <= 308.15; T += 5.0) {
        enum st_status worst = ST_OK;
        const enum st_status s = st_n_mixture_n(MANY, col, T, idx);
        for (int i = 0; i < MANY; i++) {
            double one[ST_NCOMP], n;
            for (int c = 0; c < ST_NCOMP; c++) one[c] = w[c][i];
            worst = st_status_worse(worst, st_n_mixture(one, T, &n));
            same_bits(n, idx[i]);
        }
        assert_int_equal(s, worst);
    }
}

/* Fat and solids do not bend the light: the liquid between them does. */
static void solids_are_left_out(void **state)
{
    (void)state;
    const double clear[ST_NCOMP] = { 0.6, 0.2, 0.2 };
    double cloudy[ST_NCOMP] = { 0.54, 0.18, 0.18, [ST_FAT] = 0.06, [ST_SOLIDS] = 0.04 };
    double a, b;
    assert_int_equal(st_n_mixture(clear, 293.15, &a), ST_OK);
    assert_int_equal(st_n_mixture(cloudy, 293.15, &b), ST_ESTIMATED);
    near(b, a, 1e-14);
    const double paste[ST_NCOMP] = { [ST_SOLIDS] = 1.0 };
    assert_int_equal(st_n_mixture(paste, 293.15, &a), ST_E_REFUSED);
}

/* In sucrose and water the compensated instrument shows the sucrose at every temperature. */
static void compensation_is_right_for_sucrose(void **state)
{
    (void)state;
    for (double T = 283.15; T <= 303.15; T += 2.5)
        for (int i = 0; i <= 65; i += 5) {
            const double w[ST_NCOMP] = { [ST_WATER] = 1.0 - 0.01 * i, [ST_SUCROSE] = 0.01 * i };
            double brix, n, again;
            assert_true(st_refractometer_reading(w, T, true, &brix) >= 0);
            near(brix, i, 1e-10);
            assert_true(st_n_from_reading(i, T, true, &n) >= 0);
            assert_true(st_n_mixture(w, T, &again) >= 0);
            near(n, again, 1e-14);
        }
}

/* ... and is wrong in a liqueur: low when warm, high when cold, by some tenths. */
static void compensation_is_wrong_for_alcohol(void **state)
{
    (void)state;
    const double solutes[ST_NCOMP] = { [ST_SUCROSE] = 200.0 };
    double w[ST_NCOMP], at_15, at_20, at_25, plain;
    assert_int_equal(st_mixture_from_strength(40.0, solutes, w), ST_OK);
    assert_int_equal(st_refractometer_reading(w, 288.15, true, &at_15), ST_OK);
    assert_int_equal(st_refractometer_reading(w, 293.15, true, &at_20), ST_OK);
    assert_int_equal(st_refractometer_reading(w, 298.15, true, &at_25), ST_OK);
    near(at_20 - at_25, 0.45, 0.06); /* property notes, part d */
    near(at_15 - at_20, 0.45, 0.08);
    assert_int_equal(st_refractometer_reading(w, 293.15, false, &plain), ST_OK);
    near(plain, at_20, 1e-10);
}

static void hydrometer_inverts(void **state)
{
    (void)state;
    const double w[ST_NCOMP] = { 0.5, 0.25, 0.25 };
    static const enum st_hydrometer cal[] = { ST_HYDROMETER_20C, ST_HYDROMETER_60F };
    for (int i = 0; i < 2; i++)
        for (double T = 283.15; T <= 303.15; T += 5.0) {
            double sg, rho, back;
            assert_int_equal(st_hydrometer_reading(w, T, cal[i], &sg), ST_OK);
            assert_int_equal(st_density_mixture(w, T, &rho), ST_OK);
            assert_int_equal(st_density_from_hydrometer(sg, T, cal[i], &back), ST_OK);
            near(back, rho, 1e-9);
        }
    double a, b, x = -1.0;
    assert_int_equal(st_hydrometer_reading(w, 293.15, ST_HYDROMETER_20C, &a), ST_OK);
    assert_int_equal(st_sg_20_20(w, &b), ST_OK);
    near(a, b, 1e-15);
    const double water[ST_NCOMP] = { 1.0 };
    assert_int_equal(st_hydrometer_reading(water, ST_T60F, ST_HYDROMETER_60F, &a), ST_OK);
    near(a, 1.0, 1e-15);
    assert_int_equal(st_density_from_hydrometer(nan_, 293.15, ST_HYDROMETER_20C, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_from_hydrometer(2.0, 293.15, ST_HYDROMETER_20C, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_from_hydrometer(1.0, nan_, ST_HYDROMETER_20C, &x), ST_E_DOMAIN);
    assert_true(x == -1.0);
}

static void flask_weighed_in_air(void **state)
{
    (void)state;
    double air, vacuum, x = -1.0;
    /* 100 mL of water of 998.2012 kg/m3: the air carries 1.2 kg/m3 of it, and 0.015 % of the weights */
    assert_int_equal(st_density_from_flask(0.0997151, 100e-6, 293.15, true, &air), ST_OK);
    near(air, 998.2012, 0.01);
    assert_int_equal(st_density_from_flask(0.09982012, 100e-6, 293.15, false, &vacuum), ST_OK);
    near(vacuum, 998.2012, 1e-9);
    assert_int_equal(st_density_from_flask(0.0, 100e-6, 293.15, true, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_from_flask(0.1, nan_, 293.15, true, &x), ST_E_DOMAIN);
    assert_int_equal(st_density_from_flask((double)INFINITY, 1e-4, 293.15, true, &x), ST_E_DOMAIN);
    assert_true(x == -1.0);
}

static void band_of_the_index(void **state)
{
    (void)state;
    double w[ST_NCOMP], band;
    const double solutes[ST_NCOMP] = { [ST_SUCROSE] = 400.0 };
    assert_int_equal(st_mixture_from_strength(40.0, solutes, w), ST_OK);
    assert_int_equal(st_n_mixture_band(w, 293.15, &band), ST_OK);
    assert_true(band >= 0.0006 && band < 0.001);
    const double spirit[ST_NCOMP] = { 0.6, 0.4 };
    assert_int_equal(st_n_mixture_band(spirit, 293.15, &band), ST_OK);
    near(band, 1e-4, 1e-12);
}

static void off_scale_readings(void **state)
{
    (void)state;
    double x = -1.0;
    const double dry[ST_NCOMP] = { [ST_WATER] = 0.08, [ST_SUCROSE] = 0.92 };
    assert_int_equal(st_refractometer_reading(dry, 293.15, true, &x), ST_E_REFUSED);
    assert_int_equal(st_n_from_reading(nan_, 293.15, true, &x), ST_E_DOMAIN);
    assert_int_equal(st_n_from_reading(20.0, 400.0, true, &x), ST_E_REFUSED);
    assert_int_equal(st_n_sucrose(0.9, 293.15, &x), ST_E_REFUSED);
    assert_int_equal(st_n_water(nan_, &x), ST_E_DOMAIN);
    assert_true(x == -1.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scale_inverts),
        cmocka_unit_test(scale_has_ends),
        cmocka_unit_test(edges),
        cmocka_unit_test(ethanol_index_turns),
        cmocka_unit_test(batch_of_indices),
        cmocka_unit_test(solids_are_left_out),
        cmocka_unit_test(compensation_is_right_for_sucrose),
        cmocka_unit_test(compensation_is_wrong_for_alcohol),
        cmocka_unit_test(hydrometer_inverts),
        cmocka_unit_test(flask_weighed_in_air),
        cmocka_unit_test(band_of_the_index),
        cmocka_unit_test(off_scale_readings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
