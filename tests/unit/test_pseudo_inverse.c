/* The inverse of a covariance that may be singular.  No outside figures: inverses by hand, and what must hold of any. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "core/pseudo_inverse.h"
#include "model/random.h"

enum { N = 11 };

static void near(double got, double want, double tol)
{
    if (!(fabs(got - want) <= tol))
        fail_msg("got %.15g, want %.15g +- %g", got, want, tol);
}

static double drawn(uint32_t input, uint64_t draw)
{
    double u;
    st_uniform_n(31, input, draw, 1, &u);
    return st_normal_from_uniform(u);
}

static void times(const double A[], const double B[], double out[])
{
    for (int i = 0; i < N; i++)
        for (int j = 0; j < N; j++) {
            out[i * N + j] = 0.0;
            for (int k = 0; k < N; k++)
                out[i * N + j] += A[i * N + k] * B[k * N + j];
        }
}

static void by_hand(void **state)
{
    (void)state;
    double M[4] = { 2.0, 1.0, 1.0, 2.0 }, exact[4] = { 4.0, 0.0, 0.0, 0.0 }, one[1] = { 0.0 };
    double twice[4] = { 1.0, 1.0, 1.0, 1.0 }; /* the same thing told twice */
    assert_int_equal(st_pseudo_inverse(2, M), ST_OK);
    near(M[0], 2.0 / 3.0, 1e-14);
    near(M[1], -1.0 / 3.0, 1e-14);
    near(M[3], 2.0 / 3.0, 1e-14);
    assert_int_equal(st_pseudo_inverse(2, exact), ST_OK);
    near(exact[0], 0.25, 1e-15);
    assert_true(exact[1] == 0.0 && exact[2] == 0.0 && exact[3] == 0.0);
    assert_int_equal(st_pseudo_inverse(1, one), ST_OK);
    assert_true(one[0] == 0.0);
    assert_int_equal(st_pseudo_inverse(2, twice), ST_OK);
    for (int i = 0; i < 4; i++)
        near(twice[i], 0.25, 1e-14);
}

/* Of any rank, with rows of very different units: M X M = M and X M X = X, X symmetric; of full rank X M = 1. */
static void gives_back(void **state)
{
    (void)state;
    for (uint64_t trial = 0; trial < 44; trial++) {
        double B[N * N], M[N * N], X[N * N], MX[N * N], MXM[N * N], XMX[N * N];
        const int rank = 1 + (int)(trial % N);
        double unit[N];
        for (int i = 0; i < N; i++)
            unit[i] = trial < 22 ? 1.0 : pow(10.0, (i % 5) - 3.0);
        for (int i = 0; i < N * N; i++)
            B[i] = drawn((uint32_t)i, trial);
        for (int i = 0; i < N; i++)
            for (int j = 0; j < N; j++) {
                M[i * N + j] = 0.0;
                for (int k = 0; k < rank; k++)
                    M[i * N + j] += unit[i] * unit[j] * B[i * N + k] * B[j * N + k];
            }
        memcpy(X, M, sizeof X);
        assert_int_equal(st_pseudo_inverse(N, X), ST_OK);
        times(M, X, MX);
        times(MX, M, MXM);
        times(X, MX, XMX);
        for (int i = 0; i < N; i++)
            for (int j = 0; j < N; j++) {
                const double u = unit[i] * unit[j];
                near(MXM[i * N + j] / u, M[i * N + j] / u, 1e-7);
                near(XMX[i * N + j] * u, X[i * N + j] * u, 1e-7 * (1.0 + fabs(X[i * N + j] * u)));
                near(X[i * N + j] * u, X[j * N + i] * u, 1e-7 * (1.0 + fabs(X[i * N + j] * u)));
                if (rank == N)
                    near(MX[i * N + j] * unit[j] / unit[i], i == j, 1e-6);
            }
    }
}

static void refuses(void **state)
{
    (void)state;
    double M[4] = { 1.0, (double)NAN, 0.0, 1.0 }, ok[1] = { 2.0 };
    assert_int_equal(st_pseudo_inverse(2, M), ST_E_DOMAIN);
    assert_true(M[0] == 1.0 && M[3] == 1.0);
    M[1] = (double)INFINITY;
    assert_int_equal(st_pseudo_inverse(2, M), ST_E_DOMAIN);
    assert_int_equal(st_pseudo_inverse(0, ok), ST_E_DOMAIN);
    assert_int_equal(st_pseudo_inverse(ST_PSEUDO_MAX + 1, ok), ST_E_DOMAIN);
    assert_true(ok[0] == 2.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(by_hand), cmocka_unit_test(gives_back),
                                        cmocka_unit_test(refuses) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
