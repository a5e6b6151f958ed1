/* The closed solutions of diffusion: joins, limits, inverses, refusals; the values are in tests/data/infusion/. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "core/crank.h"

#include <math.h>

static const double ALPHA[] = { 1e-3, 0.03, 0.3, 1.0, 4.0, 100.0, 1e5, 1e8, (double)INFINITY };
enum { N_ALPHA = sizeof ALPHA / sizeof *ALPHA, BODIES = 3 };

static double uptake(int body, double alpha, double Fo)
{
    double F = -1.0;
    assert_int_equal(st_crank_uptake((enum st_body)body, alpha, Fo, &F), ST_OK);
    return F;
}

static void near_to(double got, double want, double tolerance)
{
    if (!(fabs(got - want) <= tolerance))
        fail_msg("%.15g is not within %g of %.15g", got, tolerance, want);
}

/* The form for short times and the series agree where one takes over from the other. */
static void the_two_forms_meet(void **state)
{
    (void)state;
    for (int body = 0; body < BODIES; body++)
        for (int i = 0; i < N_ALPHA; i++) {
            const double at = body == ST_BODY_CYLINDER ? 2e-5 : 0.01;
            near_to(uptake(body, ALPHA[i], at * (1.0 - 1e-12)), uptake(body, ALPHA[i], at), 1e-6);
        }
}

/* F ~ 2 n sqrt(Fo/pi), n = 3, 2, 1, in a large bath: [crank1975]. */
static void at_first_it_goes_with_the_root_of_time(void **state)
{
    static const double N[BODIES] = { [ST_BODY_SPHERE] = 3.0, [ST_BODY_CYLINDER] = 2.0, [ST_BODY_SLAB] = 1.0 };
    (void)state;
    for (int body = 0; body < BODIES; body++)
        near_to(uptake(body, (double)INFINITY, 1e-8) / (2.0 * N[body] * sqrt(1e-8 / 3.14159265358979)), 1.0, 1e-3);
}

static void it_never_goes_back_and_ends_at_one(void **state)
{
    (void)state;
    for (int body = 0; body < BODIES; body++)
        for (int i = 0; i < N_ALPHA; i++) {
            double before = 0.0;
            for (double Fo = 1e-9; Fo < 1e3; Fo *= 1.3) {
                const double F = uptake(body, ALPHA[i], Fo);
                assert_true(F >= before - 1e-6 && F <= 1.0);
                before = F;
            }
            near_to(before, 1.0, 1e-9);
        }
}

/* A smaller bath is sooner at its own, lower, end. */
static void a_small_bath_is_sooner_done(void **state)
{
    (void)state;
    for (int body = 0; body < BODIES; body++)
        for (double Fo = 1e-3; Fo < 1.0; Fo *= 2.0)
            for (int i = 1; i < N_ALPHA; i++)
                assert_true(uptake(body, ALPHA[i], Fo) <= uptake(body, ALPHA[i - 1], Fo) + 1e-7);
}

static void times_and_shares_are_inverse(void **state)
{
    (void)state;
    for (int body = 0; body < BODIES; body++)
        for (int i = 1; i < N_ALPHA; i++)
            for (double F = 0.05; F < 0.995; F += 0.11) {
                double Fo = -1.0;
                assert_int_equal(st_crank_time((enum st_body)body, ALPHA[i], F, &Fo), ST_OK);
                near_to(uptake(body, ALPHA[i], Fo), F, 2e-6); /* the forms differ by up to 1e-6 where they meet */
            }
}

/* Zeros of J0 and of the tangent: known numbers. */
static void roots_in_an_endless_bath(void **state)
{
    (void)state;
    double q = 0.0;
    assert_int_equal(st_crank_root(ST_BODY_CYLINDER, (double)INFINITY, 1, &q), ST_OK);
    near_to(q, 2.404825557695773, 1e-13);
    assert_int_equal(st_crank_root(ST_BODY_CYLINDER, (double)INFINITY, 8, &q), ST_OK);
    near_to(q, 24.3524715307493, 1e-12);
    assert_int_equal(st_crank_root(ST_BODY_SPHERE, (double)INFINITY, 2, &q), ST_OK);
    near_to(q, 6.283185307179586, 1e-14);
    assert_int_equal(st_crank_root(ST_BODY_SLAB, (double)INFINITY, 1, &q), ST_OK);
    near_to(q, 1.570796326794897, 1e-14);
}

static void roots_solve_their_equations(void **state)
{
    (void)state;
    for (int i = 1; i < N_ALPHA - 2; i++)
        for (int n = 1; n < 60; n += 7) {
            const double a = ALPHA[i];
            double q = 0.0;
            assert_int_equal(st_crank_root(ST_BODY_SPHERE, a, n, &q), ST_OK);
            near_to((3.0 + a * q * q) * sin(q), 3.0 * q * cos(q), 1e-11 * (1.0 + a * q * q));
            assert_int_equal(st_crank_root(ST_BODY_SLAB, a, n, &q), ST_OK);
            near_to(sin(q), -a * q * cos(q), 1e-11 * (1.0 + a * q));
        }
}

static void nonsense_is_refused_and_nothing_is_written(void **state)
{
    (void)state;
    const double nan = (double)NAN;
    double y = 7.0;
    assert_int_equal(st_crank_root((enum st_body)3, 1.0, 1, &y), ST_E_DOMAIN);
    assert_int_equal(st_crank_root(ST_BODY_SLAB, nan, 1, &y), ST_E_DOMAIN);
    assert_int_equal(st_crank_root(ST_BODY_SLAB, 1.0, 100001, &y), ST_E_DOMAIN);
    assert_int_equal(st_crank_uptake(ST_BODY_SLAB, -1.0, 1.0, &y), ST_E_DOMAIN);
    assert_int_equal(st_crank_uptake(ST_BODY_SLAB, 1.0, nan, &y), ST_E_DOMAIN);
    assert_int_equal(st_crank_uptake((enum st_body) - 1, 1.0, 1.0, &y), ST_E_DOMAIN);
    assert_int_equal(st_crank_time(ST_BODY_SLAB, 1.0, 1.0, &y), ST_E_DOMAIN);
    assert_int_equal(st_crank_time(ST_BODY_SLAB, 1.0, nan, &y), ST_E_DOMAIN);
    assert_true(y == 7.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_two_forms_meet),
        cmocka_unit_test(at_first_it_goes_with_the_root_of_time),
        cmocka_unit_test(it_never_goes_back_and_ends_at_one),
        cmocka_unit_test(a_small_bath_is_sooner_done),
        cmocka_unit_test(times_and_shares_are_inverse),
        cmocka_unit_test(roots_in_an_endless_bath),
        cmocka_unit_test(roots_solve_their_equations),
        cmocka_unit_test(nonsense_is_refused_and_nothing_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
