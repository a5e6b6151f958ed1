/* Strength, cold and oil: monotony, limits, the floor of the hump, three verdicts, refusals that leave outputs alone.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "core/arrhenius.h"
#include "core/louche.h"
#include "core/solvent_power.h"
#include "core/steep_constants.h"
#include "core/strength.h"

static const double KEPT = -77.25; /* outputs before a call */
static const double BAD[] = { (double)NAN, (double)INFINITY, -(double)INFINITY };

static void near(double got, double want, double rel)
{
    if (!(fabs(got - want) <= rel * fabs(want)))
        fail_msg("%.12g, expected %.12g", got, want);
}

static void more_spirit_holds_more(void **state)
{
    double sigma = 0.0, before = 0.0, S = 0.0;
    (void)state;
    assert_int_equal(st_sigma_of_log_p(3.39, &sigma), ST_OK);
    for (int i = 0; i <= 100; i++) {
        assert_true(st_solubility_in_spirit(0.111, sigma, i / 100.0, &S) > 0);
        assert_true(S >= before);
        before = S;
    }
    assert_true(st_solubility_in_spirit(0.111, 12.0, 1.0, &S) == ST_EXTRAPOLATED);
    near(S, 900.0, 0.0);
    st_solubility_in_spirit(0.111, sigma, 0.0, &S);
    near(S, 0.111, 1e-15);
    assert_int_equal(st_sigma_of_log_p(-3.0, &sigma), ST_OK);
    assert_true(sigma == 0.0);
}

static void partition_falls(void **state)
{
    double K = 0.0, back = 0.0, before = (double)INFINITY;
    (void)state;
    for (int i = 0; i <= 20; i++) {
        assert_int_equal(st_partition_in_spirit(2.0, 1.76, 0.4, i / 20.0, &K), ST_ESTIMATED);
        assert_true(K < before);
        before = K;
        assert_int_equal(st_partition_in_spirit(K, 1.76, i / 20.0, 0.4, &back), ST_ESTIMATED);
        near(back, 2.0, 1e-14);
    }
}

static void hump_is_kept_flat(void **state)
{
    (void)state;
    for (double f0 = 0.35; f0 <= 0.65; f0 += 0.05) {
        double E = 0.0, before = 0.0;
        for (int i = 0; i <= 10000; i++) {
            const double f = i / 10000.0;
            assert_true(st_hump(f, f0, &E) > 0);
            assert_true(E > 0.0 && E <= 1.0);
            if (f >= 0.35 && f <= 0.65)
                assert_true(E >= 0.8);
            if (i > 0)
                assert_true(fabs(E - before) < 1e-3); /* no jump where the floor begins */
            if (i > 0 && f <= f0)
                assert_true(E >= before);
            before = E;
        }
        assert_true(st_hump(f0, f0, &E) > 0);
        near(E, 1.0, 1e-12);
    }
}

static void thick_liquid_is_slow(void **state)
{
    double w[ST_NCOMP] = { [ST_WATER] = 1.0 }, factor = 0.0, less = 0.0;
    const double sweet[ST_NCOMP] = { [ST_SUCROSE] = 200.0 };
    (void)state;
    assert_int_equal(st_viscosity_factor(w, &factor), ST_OK);
    near(factor, 1.0, 1e-12);
    w[ST_ETHANOL] = 0.45;
    w[ST_WATER] = 0.55;
    assert_int_equal(st_viscosity_factor(w, &factor), ST_OK);
    near(factor, 0.35, 0.02); /* "about 35 % of its value in water" */
    assert_true(st_mixture_from_strength(40.0, sweet, w) >= 0);
    assert_int_equal(st_viscosity_factor(w, &less), ST_ESTIMATED);
    assert_true(less < factor);
    w[ST_WATER] = (double)NAN;
    less = KEPT;
    assert_true(st_viscosity_factor(w, &less) < 0);
    assert_true(less == KEPT);
}

static void warmth(void **state)
{
    const double T[] = { 283.15, 293.15, 303.15, 313.15 };
    double k[4], factor = 0.0;
    struct st_arrhenius_fit fit = { 0 };
    (void)state;
    for (int i = 0; i < 4; i++) {
        assert_int_equal(st_arrhenius_factor(30e3, T[i], 293.15, &factor), ST_OK);
        k[i] = 3e-12 * factor;
        assert_true(i == 0 || k[i] > k[i - 1]);
    }
    assert_int_equal(st_arrhenius_fit(4, T, k, 293.15, &fit), ST_OK); /* gives back what made the points */
    near(fit.Ea, 30e3, 1e-9);
    near(fit.k_ref, 3e-12, 1e-9);
    assert_true(fit.sd_Ea < 1.0 && fit.sd_ln_k < 1e-6);
    assert_int_equal(st_arrhenius_fit(2, T, k, 333.15, &fit), ST_EXTRAPOLATED);
    assert_true(isnan(fit.sd_Ea) && isnan(fit.sd_ln_k));
    const double seen[] = { 1.22e-11, 1.98e-11, 2.43e-11 }; /* [castillo_santos_2017]: Ea 28 +- 7 kJ/mol */
    const double at[] = { 303.15, 313.15, 323.15 };
    assert_int_equal(st_arrhenius_fit(3, at, seen, 293.15, &fit), ST_EXTRAPOLATED);
    assert_true(fit.sd_Ea > 4e3 && fit.sd_Ea < 10e3);
    fit.Ea = KEPT;
    assert_int_equal(st_arrhenius_fit(1, at, seen, 293.15, &fit), ST_E_DOMAIN);
    assert_int_equal(st_arrhenius_fit(3, at, seen, (double)NAN, &fit), ST_E_DOMAIN);
    assert_true(fit.Ea == KEPT);
}

static enum st_haze verdict(double low, double high)
{
    enum st_haze v = ST_HAZE_UNDECIDED;
    assert_int_equal(st_haze_of_interval(low, high, &v), ST_OK);
    return v;
}

static void three_verdicts(void **state)
{
    enum st_haze v = ST_HAZE_CLOUD;
    (void)state;
    assert_int_equal(verdict(0.0, 0.69), ST_HAZE_CLEAR);
    assert_int_equal(verdict(0.0, 0.7), ST_HAZE_UNDECIDED);
    assert_int_equal(verdict(0.0, 99.0), ST_HAZE_UNDECIDED);
    assert_int_equal(verdict(1.4, 9.0), ST_HAZE_UNDECIDED);
    assert_int_equal(verdict(1.41, (double)INFINITY), ST_HAZE_CLOUD);
    assert_int_equal(st_haze_of_index(0.469334, &v), ST_OK);
    assert_int_equal(v, ST_HAZE_CLEAR);
    assert_int_equal(st_haze_of_index(1.454, &v), ST_OK);
    assert_int_equal(v, ST_HAZE_CLOUD);
    assert_int_equal(st_haze_of_index(1.0, &v), ST_OK);
    assert_int_equal(v, ST_HAZE_UNDECIDED);
    assert_int_equal(st_haze_of_index((double)NAN, &v), ST_E_DOMAIN);
    assert_int_equal(st_haze_of_interval(0.5, (double)NAN, &v), ST_E_DOMAIN);
    assert_int_equal(st_haze_of_interval(0.5, 0.4, &v), ST_E_DOMAIN);
    assert_int_equal(st_haze_of_index(-0.1, &v), ST_E_DOMAIN);
}

static void cold_and_sugar_drive_oil_out(void **state)
{
    double S = 0.0, before = 0.0, L = 0.0, last = 0.0;
    (void)state;
    for (double T = 243.15; T < 353.0; T += 10.0) {
        assert_int_equal(st_solubility_chilled(4.26, 30e3, T, &S), ST_ESTIMATED);
        assert_true(S > before);
        before = S;
    }
    assert_int_equal(st_solubility_chilled(1.0, 30e3, 255.15, &S), ST_ESTIMATED);
    near(S, 1.0 / 6.0, 0.1); /* "a sixth at -18 C" */
    for (int i = 0; i <= 10; i++) {
        assert_int_equal(st_louche_index(2.0, 4.26, 100.0 * i, 3e-4, &L), ST_ESTIMATED);
        assert_true(L > last);
        last = L;
    }
    assert_int_equal(st_louche_index(2.0, 4.26, 200.0, 3e-4, &L), ST_ESTIMATED);
    assert_true(2.0 / 4.26 / L > 0.85 && 2.0 / 4.26 / L < 0.90); /* "200 g/L takes off 10 to 15 %" */
    assert_int_equal(st_louche_index(0.0, 4.26, 0.0, 3e-4, &L), ST_ESTIMATED);
    assert_true(L == 0.0);
}

static void refusals_leave_outputs_alone(void **state)
{
    double y = KEPT;
    (void)state;
    for (int i = 0; i < 3; i++) {
        const double x = BAD[i];
        assert_int_equal(st_sigma_of_log_p(x, &y), ST_E_DOMAIN);
        assert_int_equal(st_solubility_in_spirit(x, 3.0, 0.4, &y), ST_E_DOMAIN);
        assert_int_equal(st_solubility_in_spirit(0.1, x, 0.4, &y), ST_E_DOMAIN);
        assert_int_equal(st_solubility_in_spirit(0.1, 3.0, x, &y), ST_E_DOMAIN);
        assert_int_equal(st_partition_in_spirit(x, 1.0, 0.4, 0.4, &y), ST_E_DOMAIN);
        assert_int_equal(st_partition_in_spirit(1.0, x, 0.4, 0.4, &y), ST_E_DOMAIN);
        assert_int_equal(st_partition_in_spirit(1.0, 1.0, x, 0.4, &y), ST_E_DOMAIN);
        assert_int_equal(st_partition_in_spirit(1.0, 1.0, 0.4, x, &y), ST_E_DOMAIN);
        assert_int_equal(st_hump(x, 0.5, &y), ST_E_DOMAIN);
        assert_int_equal(st_hump(0.5, x, &y), ST_E_DOMAIN);
        assert_int_equal(st_arrhenius_factor(x, 300.0, 300.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_arrhenius_factor(30e3, x, 300.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_arrhenius_factor(30e3, 300.0, x, &y), ST_E_DOMAIN);
        assert_true(st_solubility_chilled(x, 30e3, 290.0, &y) < 0);
        assert_true(st_solubility_chilled(1.0, x, 290.0, &y) < 0);
        assert_true(st_solubility_chilled(1.0, 30e3, x, &y) < 0);
        assert_int_equal(st_louche_index(x, 1.0, 0.0, 0.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_louche_index(1.0, x, 0.0, 0.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_louche_index(1.0, 1.0, x, 0.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_louche_index(1.0, 1.0, 0.0, x, &y), ST_E_DOMAIN);
    }
    assert_true(y == KEPT);
}

static void constants_are_ranges(void **state)
{
    (void)state;
    for (int c = 0; c < ST_NSTEEP_CONSTANT; c++) {
        const struct st_steep_constant_row *row = st_steep_constant_get((enum st_steep_constant)c);
        assert_non_null(row);
        assert_true(row->name && row->unit && row->source && row->source[0]);
        assert_true(row->low <= row->mid && row->mid <= row->high && row->high > 0.0);
        assert_true(row->mark == 'r' || row->mark == 'm' || row->mark == 'c' || row->mark == 'p');
    }
    assert_null(st_steep_constant_get(ST_NSTEEP_CONSTANT));
    /* row CL035: 109.2 kJ/mol printed, within the range of ours */
    assert_true(st_steep_constant_get(ST_EA_INVERSION)->low <= 109.2e3);
    assert_true(st_steep_constant_get(ST_EA_INVERSION)->high >= 109.2e3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(more_spirit_holds_more),
        cmocka_unit_test(partition_falls),
        cmocka_unit_test(hump_is_kept_flat),
        cmocka_unit_test(thick_liquid_is_slow),
        cmocka_unit_test(warmth),
        cmocka_unit_test(three_verdicts),
        cmocka_unit_test(cold_and_sugar_drive_oil_out),
        cmocka_unit_test(refusals_leave_outputs_alone),
        cmocka_unit_test(constants_are_ranges),
    };
    return cmocka_run_group_tests_name("solvent_power", tests, NULL, NULL);
}
