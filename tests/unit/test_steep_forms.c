/* Settling, age, curves of uptake, bounds on hydrogen cyanide, taste, one update: monotony, limits, inverses, refusals.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "core/ageing.h"
#include "core/bitterness.h"
#include "core/cyanogen.h"
#include "core/normal_update.h"
#include "core/settling.h"
#include "core/steep_constants.h"
#include "core/sweetness.h"
#include "core/uptake_forms.h"

static const double KEPT = -77.25;
static const double BAD[] = { (double)NAN, (double)INFINITY, -1.0 };

static void near(double got, double want, double rel)
{
    if (!(fabs(got - want) <= rel * fabs(want)))
        fail_msg("%.12g, expected %.12g", got, want);
}

static void settling(void **state)
{
    double v = 0.0, last = 0.0, t = 0.0;
    (void)state;
    for (double d = 1e-7; d < 2e-5; d *= 2.0) { /* larger sinks faster */
        assert_int_equal(st_settling_speed(d, 80.0, 0.0025, 0.0, &v), ST_OK);
        assert_true(v > last);
        last = v;
    }
    last = (double)INFINITY;
    for (int i = 0; i <= 6; i++) { /* crowded sinks slower */
        assert_true(st_settling_speed(5e-6, 80.0, 0.0025, i / 10.0, &v) >= 0);
        assert_true(v > 0.0 && v < last);
        last = v;
    }
    last = (double)INFINITY;
    for (double eta = 1e-3; eta < 1.0; eta *= 2.0) { /* thicker liquid: slower */
        assert_int_equal(st_settling_speed(5e-6, 80.0, eta, 0.0, &v), ST_OK);
        assert_true(v < last);
        last = v;
    }
    assert_int_equal(st_settling_speed(1e-6, -50.0, 0.0025, 0.0, &v), ST_OK);
    assert_true(v < 0.0);
    assert_int_equal(st_settling_time(0.1, v, &t), ST_OK);
    near(t * -v, 0.1, 1e-14);
    assert_int_equal(st_settling_time(0.1, 0.0, &t), ST_E_DOMAIN);
    assert_int_equal(st_settling_time(0.1, (double)NAN, &t), ST_E_DOMAIN);
    assert_int_equal(st_settling_time((double)NAN, 1e-6, &t), ST_E_DOMAIN);
}

static void ageing(void **state)
{
    double k = 0.0, last = (double)INFINITY, half = 0.0, left = 0.0, y = 0.0;
    (void)state;
    for (double pH = 1.0; pH <= 7.0; pH += 0.5) {
        assert_int_equal(st_inversion_rate(pH, 293.15, &k), ST_ESTIMATED);
        assert_true(k < last);
        last = k;
    }
    last = 0.0;
    for (double T = 253.15; T <= 333.15; T += 5.0) {
        double fading = 0.0;
        assert_true(st_fading_rate(T, &fading) > 0);
        assert_int_equal(st_inversion_rate(3.0, T, &k), ST_ESTIMATED);
        assert_true(fading > last);
        last = fading;
    }
    assert_int_equal(st_half_life(k, &half), ST_OK);
    assert_int_equal(st_first_order_left(k, half, &left), ST_OK);
    near(left, 0.5, 1e-14);
    assert_int_equal(st_first_order_left(0.0, 1e9, &left), ST_OK);
    assert_true(left == 1.0);
    assert_int_equal(st_inversion_solids(0.0, &y), ST_OK);
    assert_true(y == 1.0);
    assert_int_equal(st_inversion_solids(1.0, &y), ST_OK);
    near(y, 1.0526, 5e-5);
    y = KEPT;
    for (int i = 0; i < 3; i++) {
        assert_true(st_inversion_rate(BAD[i], 293.15, &y) < 0);
        assert_true(st_inversion_rate(3.0, BAD[i], &y) < 0);
        assert_true(st_fading_rate(BAD[i], &y) < 0);
        assert_int_equal(st_inversion_solids(BAD[i], &y), ST_E_DOMAIN);
        assert_int_equal(st_half_life(BAD[i], &y), ST_E_DOMAIN);
        assert_int_equal(st_first_order_left(BAD[i], 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_absorbance(BAD[i], 0.5, 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_absorbance(1.0, BAD[i], 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_absorbance(1.0, 0.5, BAD[i], &y), ST_E_DOMAIN);
    }
    assert_int_equal(st_half_life(0.0, &y), ST_E_DOMAIN);
    assert_true(y == KEPT);
}

enum { POINTS = 6 };

static void curves_give_their_fit_back(void **state)
{
    double t[POINTS], F[POINTS], c[POINTS], tau = 0.0, n = 0.0, K1 = 0.0, K2 = 0.0;
    (void)state;
    for (int i = 0; i < POINTS; i++) {
        t[i] = pow(2.0, i);
        assert_int_equal(st_uptake_weibull(30.0, 0.6, t[i], &F[i]), ST_OK);
        assert_int_equal(st_uptake_peleg(2.0, 0.9, t[i], &c[i]), ST_OK);
    }
    assert_int_equal(st_weibull_fit(POINTS, t, F, &tau, &n), ST_OK);
    near(tau, 30.0, 1e-11);
    near(n, 0.6, 1e-12);
    assert_int_equal(st_peleg_fit(POINTS, t, c, &K1, &K2), ST_OK);
    near(K1, 2.0, 1e-12);
    near(K2, 0.9, 1e-12);
    tau = n = K1 = K2 = KEPT;
    for (int i = 0; i < POINTS; i++) {
        F[i] = 0.9 - 0.1 * i;      /* falls */
        c[i] = t[i] * t[i] * t[i]; /* faster and faster */
    }
    assert_int_equal(st_weibull_fit(POINTS, t, F, &tau, &n), ST_E_REFUSED);
    assert_int_equal(st_peleg_fit(POINTS, t, c, &K1, &K2), ST_E_REFUSED);
    F[2] = 1.0;
    c[2] = (double)NAN;
    assert_int_equal(st_weibull_fit(POINTS, t, F, &tau, &n), ST_E_DOMAIN);
    assert_int_equal(st_peleg_fit(POINTS, t, c, &K1, &K2), ST_E_DOMAIN);
    assert_int_equal(st_weibull_fit(1, t, F, &tau, &n), ST_E_DOMAIN);
    t[0] = t[1] = 3.0;
    F[0] = F[1] = 0.5;
    assert_int_equal(st_weibull_fit(2, t, F, &tau, &n), ST_E_DOMAIN);
    assert_true(tau == KEPT && n == KEPT && K1 == KEPT && K2 == KEPT);
}

static void curves_rise_to_their_end(void **state)
{
    double F[3], last[3] = { -1.0, -1.0, -1.0 }, y = KEPT;
    (void)state;
    for (int i = 0; i <= 50; i++) {
        const double t = i == 50 ? 1e9 : i;
        assert_int_equal(st_uptake_weibull(30.0, 0.6, t, &F[0]), ST_OK);
        assert_int_equal(st_uptake_peleg(2.0, 0.9, t, &F[1]), ST_OK);
        assert_int_equal(st_uptake_two_speeds(0.4, 6.0, 0.05, t, &F[2]), ST_OK);
        for (int k = 0; k < 3; k++) {
            assert_true(F[k] > last[k]);
            assert_true(i > 0 || F[k] == 0.0);
            last[k] = F[k];
        }
    }
    near(F[0], 1.0, 1e-12);
    near(F[1], 1.0 / 0.9, 1e-8);
    near(F[2], 1.0, 1e-12);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(st_uptake_weibull(BAD[i], 0.6, 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_weibull(1.0, BAD[i], 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_weibull(1.0, 0.6, BAD[i], &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_peleg(BAD[i], 1.0, 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_peleg(1.0, BAD[i], 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_peleg(1.0, 1.0, BAD[i], &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_two_speeds(BAD[i], 1.0, 1.0, 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_two_speeds(0.5, BAD[i], 1.0, 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_two_speeds(0.5, 1.0, BAD[i], 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_uptake_two_speeds(0.5, 1.0, 1.0, BAD[i], &y), ST_E_DOMAIN);
    }
    assert_true(y == KEPT);
}

static void cyanide(void **state)
{
    double hcn = 0.0, twice = 0.0, b = 0.0, y = KEPT;
    const double unknown = st_steep_constant(ST_AMYGDALIN_UNKNOWN);
    (void)state;
    assert_int_equal(st_hcn_at_most(unknown, 30.0, &hcn), ST_OK);
    assert_int_equal(st_hcn_at_most(unknown, 60.0, &twice), ST_OK);
    near(twice, 2.0 * hcn, 1e-15);
    near(hcn, 0.1223, 1e-3); /* 30 g/L of kernels that nobody measured: 122 mg/L */
    assert_int_equal(st_benzaldehyde_at_most(unknown, 30.0, &b), ST_OK);
    near(b / hcn, 106.12 / 27.025, 1e-14);
    /* row CL014: 150 umol/g of amygdalin is 68.6 mg/g, and the content of unknown kernels is not below it */
    near(150e-6 * 457.43, 0.0686, 1e-3);
    assert_true(unknown >= 150e-6 * 457.43);
    for (int i = 0; i < 3; i++) {
        assert_int_equal(st_hcn_at_most(BAD[i], 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_hcn_at_most(0.01, BAD[i], &y), ST_E_DOMAIN);
        assert_int_equal(st_benzaldehyde_at_most(BAD[i], 1.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_volume_of_dose(BAD[i], 2e-8, 0.03, &y), ST_E_DOMAIN);
        assert_int_equal(st_volume_of_dose(70.0, BAD[i], 0.03, &y), ST_E_DOMAIN);
        assert_int_equal(st_volume_of_dose(70.0, 2e-8, BAD[i], &y), ST_E_DOMAIN);
    }
    assert_true(y == KEPT);
}

static void taste(void **state)
{
    const double c[] = { 1e-6, 2e-6 }, BV[] = { 5.8e7, 12000.0 }, bad[] = { 1.0, (double)NAN };
    double QE = 0.0, y = 0.0, last = 0.0;
    (void)state;
    assert_int_equal(st_quinine_equivalent(2, c, BV, &QE), ST_ESTIMATED);
    near(QE, (1e-6 * 5.8e7 + 2e-6 * 12000.0) / 2e5, 1e-14);
    assert_int_equal(st_quinine_equivalent(0, c, BV, &QE), ST_ESTIMATED);
    assert_true(QE == 0.0);
    for (double r = 0.25; r < 8.0; r *= 1.5) {
        assert_true(st_taste_ratio(r, 1.3, &y) > 0);
        assert_true(y > last);
        last = y;
    }
    for (int s = 0; s < ST_NSWEETENER; s++) {
        const struct st_sweetener_row *row = st_sweetener_get((enum st_sweetener)s);
        assert_true(row && row->name && row->low > 0.0 && row->low <= row->mid && row->mid <= row->high);
    }
    assert_null(st_sweetener_get(ST_NSWEETENER));
    y = KEPT;
    assert_int_equal(st_quinine_equivalent(2, bad, BV, &y), ST_E_DOMAIN);
    assert_int_equal(st_quinine_equivalent(2, c, bad, &y), ST_E_DOMAIN);
    assert_int_equal(st_quinine_equivalent(-1, c, BV, &y), ST_E_DOMAIN);
    assert_int_equal(st_sucrose_equivalent(2, bad, c, &y), ST_E_DOMAIN);
    assert_int_equal(st_sucrose_equivalent(2, c, bad, &y), ST_E_DOMAIN);
    assert_int_equal(st_taste_ratio((double)NAN, 1.3, &y), ST_E_DOMAIN);
    assert_true(y == KEPT);
}

static void one_update(void **state)
{
    struct st_normal post = { KEPT, KEPT };
    (void)state;
    assert_int_equal(st_normal_update((struct st_normal){ 1.0, 2.0 }, (struct st_normal){ 3.0, 2.0 }, &post), ST_OK);
    near(post.mean, 2.0, 1e-15);
    near(post.sd, sqrt(2.0), 1e-15);
    assert_int_equal(st_normal_update((struct st_normal){ 1.0, 1e-200 }, (struct st_normal){ 3.0, 1e200 }, &post),
                     ST_OK);
    near(post.mean, 1.0, 1e-15);
    near(post.sd, 1e-200, 1e-15);
    assert_int_equal(st_normal_update((struct st_normal){ 1.0, 1e200 }, (struct st_normal){ 3.0, 1e-200 }, &post),
                     ST_OK);
    near(post.mean, 3.0, 1e-15);
    near(post.sd, 1e-200, 1e-15);
    for (int i = 0; i < 3; i++) {
        const struct st_normal good = { 0.0, 1.0 }, sd = { 0.0, BAD[i] }, mean = { BAD[i % 2], 1.0 };
        assert_int_equal(st_normal_update(good, sd, &post), ST_E_DOMAIN);
        assert_int_equal(st_normal_update(sd, good, &post), ST_E_DOMAIN);
        assert_int_equal(st_normal_update(mean, good, &post), ST_E_DOMAIN);
        assert_int_equal(st_normal_update(good, mean, &post), ST_E_DOMAIN);
    }
    near(post.mean, 3.0, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(settling),
        cmocka_unit_test(ageing),
        cmocka_unit_test(curves_give_their_fit_back),
        cmocka_unit_test(curves_rise_to_their_end),
        cmocka_unit_test(cyanide),
        cmocka_unit_test(taste),
        cmocka_unit_test(one_update),
    };
    return cmocka_run_group_tests_name("steep_forms", tests, NULL, NULL);
}
