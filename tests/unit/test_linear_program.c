/* Linear programs: a worked one, and random ones held against all corners. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "core/linear_program.h"
#include "model/random.h"

static double work[ST_LP_WORK];

/* The diet of two foods and two needs, solved by hand: 2 x + y >= 8, x + 3 y >= 9 at 3 and 2 each: both bind at
 * (3, 2). */
static void test_by_hand(void **unused)
{
    const double c[] = { 3, 2 }, A[] = { 2, 1, 1, 3 }, b[] = { 8, 9 }, most[] = { HUGE_VAL, HUGE_VAL };
    double x[2];
    (void)unused;
    assert_int_equal(st_linear_program(2, 2, c, A, b, most, work, x), ST_OK);
    assert_true(fabs(x[0] - 3.0) < 1e-12 && fabs(x[1] - 2.0) < 1e-12);
}

static void test_refusals(void **unused)
{
    const double c[] = { 1, 1 }, below[] = { -1, 1 }, A[] = { 1, 1 }, b[] = { 5 }, most[] = { 2, 2 };
    double x[2] = { 7, 7 };
    (void)unused;
    assert_int_equal(st_linear_program(2, 1, c, A, b, most, work, x), ST_E_REFUSED);
    assert_int_equal(st_linear_program(2, 1, below, A, b, most, work, x), ST_E_DOMAIN);
    assert_int_equal(st_linear_program(0, 1, c, A, b, most, work, x), ST_E_DOMAIN);
    assert_int_equal(st_linear_program(2, ST_LP_ROWS + 1, c, A, b, most, work, x), ST_E_DOMAIN);
    assert_true(x[0] == 7.0 && x[1] == 7.0);
}

enum { N = 3, M = 5 };

/* Corner of three of all planes (rows and bounds), by Cramer. */
static int corner(double a[3][3], const double r[3], double x[3])
{
    const double det = a[0][0] * (a[1][1] * a[2][2] - a[1][2] * a[2][1]) -
                       a[0][1] * (a[1][0] * a[2][2] - a[1][2] * a[2][0]) +
                       a[0][2] * (a[1][0] * a[2][1] - a[1][1] * a[2][0]);
    if (fabs(det) < 1e-6)
        return 0;
    for (int k = 0; k < 3; k++) {
        double m[3][3];
        for (int i = 0; i < 3; i++)
            for (int j = 0; j < 3; j++)
                m[i][j] = j == k ? r[i] : a[i][j];
        x[k] = (m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
                m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])) /
               det;
    }
    return 1;
}

static double best_corner(const double c[], const double A[], const double b[], double most)
{
    double plane[M + 2 * N][4], best = HUGE_VAL;
    for (int i = 0; i < M; i++) {
        for (int j = 0; j < N; j++)
            plane[i][j] = A[i * N + j];
        plane[i][3] = b[i];
    }
    for (int j = 0; j < N; j++)
        for (int up = 0; up < 2; up++)
            for (int k = 0; k < 4; k++)
                plane[M + 2 * j + up][k] = k == 3 ? (up ? -most : 0.0) : k == j ? (up ? -1.0 : 1.0) : 0.0;
    for (int p = 0; p < M + 2 * N; p++)
        for (int q = p + 1; q < M + 2 * N; q++)
            for (int s = q + 1; s < M + 2 * N; s++) {
                const int of[3] = { p, q, s };
                double a[3][3], r[3], x[3], f = 0.0;
                for (int i = 0; i < 3; i++) {
                    for (int j = 0; j < 3; j++)
                        a[i][j] = plane[of[i]][j];
                    r[i] = plane[of[i]][3];
                }
                if (!corner(a, r, x))
                    continue;
                int good = 1;
                for (int i = 0; i < M + 2 * N; i++)
                    good = good && plane[i][0] * x[0] + plane[i][1] * x[1] + plane[i][2] * x[2] >= plane[i][3] - 1e-8;
                for (int j = 0; j < N; j++)
                    f += c[j] * x[j];
                best = good ? fmin(best, f) : best;
            }
    return best;
}

static void test_against_all_corners(void **unused)
{
    int feasible = 0, infeasible = 0;
    (void)unused;
    for (uint32_t k = 0; k < 2000; k++) {
        double u[N + M * N + M], c[N], A[M * N], b[M], x[N], f = 0.0;
        const double most[N] = { 4.0, 4.0, 4.0 };
        st_uniform_n(5, k, 0, N + M * N + M, u);
        for (int j = 0; j < N; j++)
            c[j] = u[j];
        for (int i = 0; i < M * N; i++)
            A[i] = 2.0 * u[N + i] - 1.0;
        for (int i = 0; i < M; i++)
            b[i] = 2.0 * u[N + M * N + i] - 1.0;
        const double best = best_corner(c, A, b, 4.0);
        const enum st_status s = st_linear_program(N, M, c, A, b, most, work, x);
        if (best == HUGE_VAL) {
            assert_int_equal(s, ST_E_REFUSED);
            infeasible++;
            continue;
        }
        assert_int_equal(s, ST_OK);
        for (int j = 0; j < N; j++)
            f += c[j] * x[j];
        assert_true(fabs(f - best) < 1e-7);
        feasible++;
    }
    assert_true(feasible > 500 && infeasible > 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_by_hand),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_against_all_corners),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
