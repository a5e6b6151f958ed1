/* An oven and a piece: against small steps, limits, monotony, what is told and what is not. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "core/steep_constants.h"
#include "core/toasting.h"

static const struct st_piece_heat KERNEL = { .half_thickness = 0.004, .h = 25.0, .rho = 1000.0, .cp = 2000.0 };
static const double WARM = 293.15, KEPT = -77.25;

static void near(double got, double want, double rel)
{
    if (!(fabs(got - want) <= rel * fabs(want)))
        fail_msg("%.12g, expected %.12g", got, want);
}

static double core(int n, const struct st_oven_point oven[], double t)
{
    double T = 0.0;
    assert_int_equal(st_toast_core(&KERNEL, n, oven, WARM, t, &T), ST_ESTIMATED);
    return T;
}

static double index_of(int n, const struct st_oven_point oven[], double t, double Ea)
{
    double y = 0.0;
    assert_int_equal(st_toast_index(&KERNEL, n, oven, WARM, t, Ea, &y), ST_ESTIMATED);
    return y;
}

static double oven_at(int n, const struct st_oven_point o[], double t)
{
    int k = 0;
    while (k < n && o[k].t <= t)
        k++;
    if (k == 0 || k == n)
        return o[k == 0 ? 0 : n - 1].T;
    return o[k - 1].T + (o[k].T - o[k - 1].T) * (t - o[k - 1].t) / (o[k].t - o[k - 1].t);
}

static const struct st_oven_point PATH[] = {
    { 60.0, 303.15 }, { 600.0, 453.15 }, { 900.0, 453.15 }, { 900.0, 333.15 }, { 1500.0, 293.15 }
};
enum { N_PATH = 5 };

/* The differential equation in small steps of the fourth order, and the integral with it: another way to the same. */
static void against_small_steps(void **state)
{
    const double tau = 320.0, dt = 0.05, Ea = 100e3, R = 8.31446261815324;
    double T = WARM, sum = 0.0, peak = T;
    struct st_toasted all;
    (void)state;
    for (int i = 0; i < 24000; i++) {
        const double t = i * dt, a = oven_at(N_PATH, PATH, t), m = oven_at(N_PATH, PATH, t + dt / 2),
                     b = oven_at(N_PATH, PATH, t + dt - 1e-9);
        const double k1 = (a - T) / tau, k2 = (m - T - dt / 2 * k1) / tau, k3 = (m - T - dt / 2 * k2) / tau,
                     k4 = (b - T - dt * k3) / tau;
        const double next = T + dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
        const double middle = (T + next) / 2;
        sum += dt / 6 *
               (exp(-Ea / R * (1 / T - 1 / 423.15)) + 4 * exp(-Ea / R * (1 / middle - 1 / 423.15)) +
                exp(-Ea / R * (1 / next - 1 / 423.15)));
        T = next;
        peak = fmax(peak, T);
    }
    near(core(N_PATH, PATH, 1200.0), T, 1e-7);
    near(index_of(N_PATH, PATH, 1200.0, Ea), sum / 600.0, 1e-6);
    assert_int_equal(st_toast(&KERNEL, N_PATH, PATH, WARM, 1200.0, &all), ST_ESTIMATED);
    near(all.core_peak_K, peak, 1e-6);
    near(all.core_K, T, 1e-7);
    near(all.index_mid, sum / 600.0, 1e-6);
}

static void reference_is_one(void **state)
{
    const struct st_oven_point oven = { 0.0, 423.15 };
    double y = 0.0;
    (void)state;
    for (double Ea = 0.0; Ea <= 300e3; Ea += 50e3) {
        assert_int_equal(st_toast_index(&KERNEL, 1, &oven, 423.15, 600.0, Ea, &y), ST_ESTIMATED);
        near(y, 1.0, 1e-12);
    }
    near(index_of(1, &oven, 0.0, 100e3) + 1.0, 1.0, 0.0); /* no time, no flavour */
}

/* A peak inside a leg: the oven cools through the piece's own temperature. */
static void peak_inside_a_leg(void **state)
{
    const struct st_oven_point oven[] = { { 0.0, 473.15 }, { 1200.0, 293.15 } };
    struct st_toasted all;
    double most = 0.0;
    (void)state;
    for (int i = 0; i <= 12000; i++)
        most = fmax(most, core(2, oven, 0.1 * i));
    assert_int_equal(st_toast(&KERNEL, 2, oven, WARM, 1200.0, &all), ST_ESTIMATED);
    near(all.core_peak_K, most, 1e-8);
    assert_true(all.core_peak_K > all.core_K + 5.0);
}

static void longer_hotter_thinner(void **state)
{
    double last_T = 0.0, last_y = -1.0, last_low = 2.0, last_high = 2.0;
    (void)state;
    for (int i = 0; i <= 40; i++) { /* longer */
        const struct st_oven_point oven = { 0.0, 448.15 };
        struct st_toasted a;
        assert_int_equal(st_toast(&KERNEL, 1, &oven, WARM, 60.0 * i, &a), ST_ESTIMATED);
        assert_true(a.core_K > last_T && a.index_mid > last_y);
        assert_true(a.glycoside_low <= last_low && a.glycoside_high <= last_high);
        assert_true(a.core_K <= 448.15);
        last_T = a.core_K;
        last_y = a.index_mid;
        last_low = a.glycoside_low;
        last_high = a.glycoside_high;
    }
    last_y = -1.0;
    for (double T = 300.0; T <= 570.0; T += 10.0) { /* hotter */
        const struct st_oven_point oven = { 0.0, T };
        const double y = index_of(1, &oven, 600.0, 100e3);
        assert_true(y > last_y);
        last_y = y;
    }
    last_y = (double)INFINITY;
    for (double a = 1e-5; a < 0.1; a *= 2.0) { /* thicker */
        const struct st_oven_point oven = { 0.0, 448.15 };
        struct st_piece_heat p = KERNEL;
        double y = 0.0;
        p.half_thickness = a;
        assert_int_equal(st_toast_index(&p, 1, &oven, WARM, 600.0, 100e3, &y), ST_ESTIMATED);
        assert_true(y < last_y);
        last_y = y;
    }
}

/* The estimate of what is left never says that nothing is, and holds the one run that is published. */
static void glycoside_is_a_wide_range(void **state)
{
    (void)state;
    for (double T = 293.15; T <= 573.15; T += 20.0)
        for (double t = 0.0; t <= 86400.0; t = 2.0 * t + 60.0) {
            const struct st_oven_point oven = { 0.0, T };
            struct st_toasted a;
            assert_int_equal(st_toast(&KERNEL, 1, &oven, 400.0, t, &a), ST_ESTIMATED);
            assert_true(a.glycoside_low >= 0.0 && a.glycoside_low <= a.glycoside_high && a.glycoside_high <= 1.0);
            assert_true(a.glycoside_high >= 0.1);
            assert_true(a.index_low <= a.index_mid && a.index_mid <= a.index_high);
            assert_int_equal(a.enzyme, ST_ENZYME_NO_NUMBER);
        }
    const struct st_oven_point run = { 0.0, 433.15 }; /* [nalcaci_2025]: 9.77 of 27.64 mg/g left */
    struct st_toasted a;
    assert_int_equal(st_toast(&KERNEL, 1, &run, WARM, 600.0, &a), ST_ESTIMATED);
    print_message("10 min at 160 C: %.3f..%.3f left, published %.3f\n", a.glycoside_low, a.glycoside_high,
                  9.77 / 27.64);
    assert_true(a.glycoside_low < 9.77 / 27.64 && a.glycoside_high > 9.77 / 27.64);
}

static void refusals(void **state)
{
    static const double bad[] = { (double)NAN, (double)INFINITY, -1.0, 1e9 };
    const struct st_oven_point oven = { 0.0, 448.15 }, back[2] = { { 10.0, 300.0 }, { 5.0, 300.0 } };
    struct st_oven_point many[ST_OVEN_POINTS + 1] = { { 0.0, 300.0 } };
    struct st_toasted all = { .core_K = KEPT };
    double y = KEPT;
    (void)state;
    for (int i = 0; i < 4; i++) {
        struct st_piece_heat p[4] = { KERNEL, KERNEL, KERNEL, KERNEL };
        const struct st_oven_point o[2] = { { bad[i], 400.0 }, { 0.0, bad[i] } };
        p[0].half_thickness = p[1].h = p[2].rho = p[3].cp = bad[i];
        for (int k = 0; k < 4; k++)
            assert_int_equal(st_toast_core(&p[k], 1, &oven, WARM, 600.0, &y), ST_E_DOMAIN);
        for (int k = 0; k < 2; k++)
            assert_int_equal(st_toast_index(&KERNEL, 1, &o[k], WARM, 600.0, 1e5, &y), ST_E_DOMAIN);
        assert_int_equal(st_toast_core(&KERNEL, 1, &oven, bad[i], 600.0, &y), ST_E_DOMAIN);
        assert_int_equal(st_toast_core(&KERNEL, 1, &oven, WARM, bad[i], &y), ST_E_DOMAIN);
        assert_int_equal(st_toast_index(&KERNEL, 1, &oven, WARM, 600.0, bad[i], &y), ST_E_DOMAIN);
        assert_int_equal(st_toast(&KERNEL, 1, &oven, WARM, bad[i], &all), ST_E_DOMAIN);
    }
    assert_int_equal(st_toast(&KERNEL, 0, &oven, WARM, 600.0, &all), ST_E_DOMAIN);
    assert_int_equal(st_toast(&KERNEL, 2, back, WARM, 600.0, &all), ST_E_DOMAIN);
    assert_int_equal(st_toast(&KERNEL, ST_OVEN_POINTS + 1, many, WARM, 600.0, &all), ST_E_DOMAIN);
    assert_true(y == KEPT && all.core_K == KEPT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(against_small_steps),       cmocka_unit_test(reference_is_one),
        cmocka_unit_test(peak_inside_a_leg),         cmocka_unit_test(longer_hotter_thinner),
        cmocka_unit_test(glycoside_is_a_wide_range), cmocka_unit_test(refusals),
    };
    return cmocka_run_group_tests_name("toasting", tests, NULL, NULL);
}
