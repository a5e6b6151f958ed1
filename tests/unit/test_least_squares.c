/* Bounded least squares: problems of [more1981] (residuals, starts and minima from memory; that the minima come out to
 * their printed digits bears them out), bounds, lost rank, refusals. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "core/least_squares.h"

typedef void formula(const double *x, double *r);

struct classic {
    const char *name;
    formula *f;
    int n, m;
    double start[4], minimum,
        digits; /* digits: a unit of the last one printed, since the source cuts off: "48.9842..." */
};

static void rosenbrock(const double *x, double *r)
{
    r[0] = 10.0 * (x[1] - x[0] * x[0]);
    r[1] = 1.0 - x[0];
}

static void freudenstein_roth(const double *x, double *r)
{
    r[0] = -13.0 + x[0] + ((5.0 - x[1]) * x[1] - 2.0) * x[1];
    r[1] = -29.0 + x[0] + ((x[1] + 1.0) * x[1] - 14.0) * x[1];
}

static void badly_scaled(const double *x, double *r)
{
    r[0] = 1e4 * x[0] * x[1] - 1.0;
    r[1] = exp(-x[0]) + exp(-x[1]) - 1.0001;
}

static void brown_badly_scaled(const double *x, double *r)
{
    r[0] = x[0] - 1e6;
    r[1] = x[1] - 2e-6;
    r[2] = x[0] * x[1] - 2.0;
}

static void beale(const double *x, double *r)
{
    const double y[3] = { 1.5, 2.25, 2.625 };
    for (int i = 0; i < 3; i++)
        r[i] = y[i] - x[0] * (1.0 - pow(x[1], i + 1));
}

static void jennrich_sampson(const double *x, double *r)
{
    for (int i = 1; i <= 10; i++)
        r[i - 1] = 2.0 + 2.0 * i - (exp(i * x[0]) + exp(i * x[1]));
}

static void bard(const double *x, double *r)
{
    const double y[15] = { 0.14, 0.18, 0.22, 0.25, 0.29, 0.32, 0.35, 0.39, 0.37, 0.58, 0.73, 0.96, 1.34, 2.10, 4.39 };
    for (int i = 1; i <= 15; i++)
        r[i - 1] = y[i - 1] - (x[0] + i / ((16.0 - i) * x[1] + fmin(i, 16.0 - i) * x[2]));
}

static void meyer(const double *x, double *r)
{
    const double y[16] = { 34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744,
                           8261,  7030,  6005,  5147,  4427,  3820,  3307,  2872 };
    for (int i = 1; i <= 16; i++)
        r[i - 1] = x[0] * exp(x[1] / (45.0 + 5.0 * i + x[2])) - y[i - 1];
}

static void powell_singular(const double *x, double *r)
{
    r[0] = x[0] + 10.0 * x[1];
    r[1] = sqrt(5.0) * (x[2] - x[3]);
    r[2] = (x[1] - 2.0 * x[2]) * (x[1] - 2.0 * x[2]);
    r[3] = sqrt(10.0) * (x[0] - x[3]) * (x[0] - x[3]);
}

static void wood(const double *x, double *r)
{
    r[0] = 10.0 * (x[1] - x[0] * x[0]);
    r[1] = 1.0 - x[0];
    r[2] = sqrt(90.0) * (x[3] - x[2] * x[2]);
    r[3] = 1.0 - x[2];
    r[4] = sqrt(10.0) * (x[1] + x[3] - 2.0);
    r[5] = (x[1] - x[3]) / sqrt(10.0);
}

static void kowalik_osborne(const double *x, double *r)
{
    const double y[11] = { 0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246 };
    const double u[11] = { 4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625 };
    for (int i = 0; i < 11; i++)
        r[i] = y[i] - x[0] * (u[i] * u[i] + u[i] * x[1]) / (u[i] * u[i] + u[i] * x[2] + x[3]);
}

static void brown_dennis(const double *x, double *r)
{
    for (int i = 1; i <= 20; i++) {
        const double t = i / 5.0, a = x[0] + t * x[1] - exp(t), b = x[2] + x[3] * sin(t) - cos(t);
        r[i - 1] = a * a + b * b;
    }
}

static void rank_one(const double *x, double *r)
{
    for (int i = 1; i <= 7; i++) {
        r[i - 1] = -1.0;
        for (int j = 1; j <= 4; j++)
            r[i - 1] += i * j * x[j - 1];
    }
}

static const struct classic CLASSIC[] = {
    { "rosenbrock", rosenbrock, 2, 2, { -1.2, 1.0 }, 0.0, 1e-16 },
    { "freudenstein_roth", freudenstein_roth, 2, 2, { 0.5, -2.0 }, 48.9842, 1e-4 },
    { "badly_scaled", badly_scaled, 2, 2, { 0.0, 1.0 }, 0.0, 1e-12 },
    { "brown_badly_scaled", brown_badly_scaled, 2, 3, { 1.0, 1.0 }, 0.0, 1e-12 },
    { "beale", beale, 2, 3, { 1.0, 1.0 }, 0.0, 1e-16 },
    { "jennrich_sampson", jennrich_sampson, 2, 10, { 0.3, 0.4 }, 124.362, 1e-3 },
    { "bard", bard, 3, 15, { 1.0, 1.0, 1.0 }, 8.21487e-3, 1e-8 },
    { "meyer", meyer, 3, 16, { 0.02, 4000.0, 250.0 }, 87.9458, 1e-4 },
    { "powell_singular", powell_singular, 4, 4, { 3.0, -1.0, 0.0, 1.0 }, 0.0, 1e-16 },
    { "wood", wood, 4, 6, { -3.0, -1.0, -3.0, -1.0 }, 0.0, 1e-16 },
    { "kowalik_osborne", kowalik_osborne, 4, 11, { 0.25, 0.39, 0.415, 0.39 }, 3.07505e-4, 1e-9 },
    { "brown_dennis", brown_dennis, 4, 20, { 25.0, 5.0, -5.0, -1.0 }, 85822.2, 0.1 },
    { "rank_one", rank_one, 4, 7, { 1.0, 1.0, 1.0, 1.0 }, 7.0 * 6.0 / (2.0 * 15.0), 1e-9 }, /* m (m - 1)/(2 (2 m + 1)),
                                                                                               derived */
};
enum { NCLASSIC = sizeof CLASSIC / sizeof *CLASSIC };

static enum st_status call(const double x[], double r[], void *arg)
{
    const struct classic *c = arg;
    c->f(x, r);
    return ST_OK;
}

static struct st_ls_problem problem_of(const struct classic *c)
{
    union { /* the callback only reads it */
        const void *in;
        void *out;
    } arg = { .in = c };
    return (
        struct st_ls_problem){ .n = c->n, .m = c->m, .residuals = call, .arg = arg.out, .limits = st_ls_defaults() };
}

static enum st_status solve(const struct st_ls_problem *p, double *x, struct st_ls_result *out)
{
    double *work = malloc(st_ls_work(p->n, p->m) * sizeof *work);
    assert_non_null(work);
    const enum st_status s = st_least_squares(p, x, work, out);
    free(work);
    return s;
}

static void known_minima(void **state)
{
    (void)state;
    for (int i = 0; i < NCLASSIC; i++)
        for (int central = 0; central < 2; central++) {
            struct st_ls_problem p = problem_of(&CLASSIC[i]);
            struct st_ls_result out;
            double x[4];
            memcpy(x, CLASSIC[i].start, sizeof x);
            p.limits.central = central;
            p.limits.iterations = 2000;
            const enum st_status s = solve(&p, x, &out);
            if (s != ST_OK || fabs(out.f - CLASSIC[i].minimum) > CLASSIC[i].digits)
                print_error("%s: f = %.10g after %d steps, status %d\n", CLASSIC[i].name, out.f, out.iterations, s);
            assert_int_equal(s, ST_OK);
            assert_true(fabs(out.f - CLASSIC[i].minimum) <= CLASSIC[i].digits);
        }
}

/* Valley cut by a bound: x0 <= 0.5 gives (0.5, 0.25), f = 1/4, df/dx0 = 2 (x0 - 1) = -1. */
static void bound_that_binds(void **state)
{
    (void)state;
    struct st_ls_problem p = problem_of(&CLASSIC[0]);
    const double low[2] = { -2.0, -2.0 }, high[2] = { 0.5, 2.0 };
    double x[2] = { -1.2, 1.0 };
    struct st_ls_result out;
    p.lower = low;
    p.upper = high;
    assert_int_equal(solve(&p, x, &out), ST_OK);
    assert_true(x[0] == 0.5);
    assert_true(fabs(x[1] - 0.25) < 1e-7);
    assert_true(fabs(out.f - 0.25) < 1e-12);
    assert_int_equal(out.side[0], ST_SIDE_UPPER);
    assert_int_equal(out.side[1], ST_SIDE_FREE);
    assert_true(fabs(out.multiplier[0] + 1.0) < 1e-5);
    assert_int_equal(out.rank, 1);
}

/* The multiplier is what loosening gains: asked of a second run. */
static void multiplier_foretells_gain(void **state)
{
    (void)state;
    struct st_ls_problem p = problem_of(&CLASSIC[6]);
    double high[3] = { 0.05, 10.0, 2.0 }, x[3] = { 0.0, 1.0, 1.0 };
    const double low[3] = { -1.0, 0.1, 0.1 };
    struct st_ls_result tight, loose;
    p.lower = low;
    p.upper = high;
    assert_int_equal(solve(&p, x, &tight), ST_OK);
    int bound = -1;
    for (int i = 0; i < 3; i++)
        if (tight.side[i] == ST_SIDE_UPPER)
            bound = i;
    assert_true(bound >= 0);
    high[bound] += 1e-4;
    assert_int_equal(solve(&p, x, &loose), ST_OK);
    assert_true(fabs((tight.f - loose.f) / (-tight.multiplier[bound] * 1e-4) - 1.0) < 0.02);
}

static void start_on_a_bound(void **state)
{
    (void)state;
    struct st_ls_problem p = problem_of(&CLASSIC[0]);
    const double low[2] = { -1.0, 0.0 }, high[2] = { 2.0, 3.0 };
    double x[2] = { -1.0, 0.0 };
    struct st_ls_result out;
    p.lower = low;
    p.upper = high;
    assert_int_equal(solve(&p, x, &out), ST_OK);
    assert_true(out.f < 1e-16);
    x[0] = 7.0; /* outside: moved to the bound */
    x[1] = -7.0;
    assert_int_equal(solve(&p, x, &out), ST_OK);
    assert_true(out.f < 1e-16);
    const double pin[2] = { 0.3, 0.3 }; /* held altogether */
    p.lower = p.upper = pin;
    assert_int_equal(solve(&p, x, &out), ST_OK);
    assert_true(x[0] == 0.3 && x[1] == 0.3);
    assert_int_equal(out.rank, 0);
}

static void lost_rank_is_told(void **state)
{
    (void)state;
    struct st_ls_problem p = problem_of(&CLASSIC[12]);
    double x[4] = { 1.0, 1.0, 1.0, 1.0 }, work[400], C[16] = { 42.0 };
    struct st_ls_result out;
    assert_true(st_ls_work(p.n, p.m) <= 400);
    assert_int_equal(st_least_squares(&p, x, work, &out), ST_OK);
    assert_int_equal(out.rank, 1);
    assert_int_equal(st_ls_covariance(&p, &out, work, C), ST_E_REFUSED);
    assert_true(C[0] == 42.0);
}

/* A straight line: covariance is that of the textbook, (X'X)^-1. */
static enum st_status line(const double x[], double r[], void *arg)
{
    (void)arg;
    for (int i = 0; i < 5; i++)
        r[i] = x[0] + x[1] * i - (2.0 + 0.5 * i);
    return ST_OK;
}

static void covariance(void **state)
{
    (void)state;
    const struct st_ls_problem p = { .n = 2, .m = 5, .residuals = line, .limits = st_ls_defaults() };
    double x[2] = { 0.0, 0.0 }, work[200], C[4];
    struct st_ls_result out;
    assert_true(st_ls_work(2, 5) <= 200);
    assert_int_equal(st_least_squares(&p, x, work, &out), ST_OK);
    assert_int_equal(st_ls_covariance(&p, &out, work, C), ST_OK);
    assert_true(fabs(x[0] - 2.0) < 1e-9 && fabs(x[1] - 0.5) < 1e-9);
    assert_true(fabs(C[0] - 0.6) < 1e-6 && fabs(C[1] + 0.2) < 1e-6 && fabs(C[2] + 0.2) < 1e-6 &&
                fabs(C[3] - 0.1) < 1e-6);
}

/* No answer where x0 > 0.9: the search must end beside the edge, which lies before the minimum. */
static enum st_status with_a_hole(const double x[], double r[], void *arg)
{
    rosenbrock(x, r);
    if (x[0] > 0.9)
        r[0] = *(const double *)arg;
    return x[0] > 0.9 && isfinite(r[0]) ? ST_E_REFUSED : ST_OK;
}

static void what_cannot_be(void **state)
{
    (void)state;
    double nan = (double)NAN, zero = 0.0, x[2] = { -1.2, 1.0 };
    struct st_ls_problem p = { .n = 2, .m = 2, .residuals = with_a_hole, .arg = &nan, .limits = st_ls_defaults() };
    struct st_ls_result out;
    assert_true(solve(&p, x, &out) != ST_E_DOMAIN);
    assert_true(x[0] <= 0.9 && out.f < 0.2);
    p.arg = &zero;
    x[0] = -1.2;
    x[1] = 1.0;
    assert_true(solve(&p, x, &out) != ST_E_DOMAIN);
    assert_true(x[0] <= 0.9 && out.f < 0.2);

    double bad[2] = { 0.95, 1.0 }; /* no residuals at the start */
    p.arg = &nan;
    assert_int_equal(solve(&p, bad, &out), ST_E_DOMAIN);
    assert_true(bad[0] == 0.95 && bad[1] == 1.0);
    const double low[2] = { 0.0, 1.0 }, high[2] = { 1.0, 0.0 };
    p.lower = low;
    p.upper = high;
    assert_int_equal(solve(&p, x, &out), ST_E_DOMAIN);
    p.lower = p.upper = NULL;
    bad[0] = nan;
    assert_int_equal(solve(&p, bad, &out), ST_E_DOMAIN);
    p.n = ST_LS_MAX + 1;
    assert_int_equal(st_least_squares(&p, x, NULL, &out), ST_E_DOMAIN);
}

static void limit_of_iterations(void **state)
{
    (void)state;
    struct st_ls_problem p = problem_of(&CLASSIC[0]);
    double x[2] = { -1.2, 1.0 };
    struct st_ls_result out;
    p.limits.iterations = 3;
    assert_int_equal(solve(&p, x, &out), ST_E_NOCONV);
    assert_true(out.f < 24.2 && out.f > 1e-6); /* 24.2 at the start */
    double r[2];
    rosenbrock(x, r);
    assert_true(fabs(r[0] * r[0] + r[1] * r[1] - out.f) < 1e-12);
}

static void soft_ranges(void **state)
{
    (void)state;
    assert_true(st_soft_range(5.0, 4.0, 6.0, 0.5) == 0.0);
    assert_true(st_soft_range(4.0, 4.0, 6.0, 0.5) == 0.0);
    assert_true(st_soft_range(3.0, 4.0, 6.0, 0.5) == -2.0);
    assert_true(st_soft_range(7.0, 4.0, 6.0, 0.5) == 2.0);
    assert_true(st_soft_range(4.5, 4.0, 4.0, 0.5) == 1.0);
}

/* ---- the quadratic in its box, against every choice of bounds ---- */

static uint64_t seed = 7;
static double random01(void)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(seed >> 11) * 0x1p-53;
}

static double quadratic(int n, const double *H, const double *g, const double *p)
{
    double f = 0.0;
    for (int i = 0; i < n; i++) {
        f += g[i] * p[i];
        for (int j = 0; j < n; j++)
            f += 0.5 * p[i] * H[i * n + j] * p[j];
    }
    return f;
}

/* Lowest value over all 3^n choices of held sides whose free part lies in the box. */
static double by_enumeration(int n, const double *H, const double *g, const double *low, const double *high)
{
    int all = 1;
    double best = HUGE_VAL;
    for (int i = 0; i < n; i++)
        all *= 3;
    for (int choice = 0; choice < all; choice++) {
        int which[4], pivot[4], k = 0, code = choice;
        double p[4] = { 0 }, A[16], L[16], b[4];
        for (int i = 0; i < n; i++, code /= 3) {
            p[i] = code % 3 == 1 ? low[i] : code % 3 == 2 ? high[i] : 0.0;
            if (code % 3 == 0)
                which[k++] = i;
        }
        for (int r = 0; r < k; r++) {
            b[r] = -g[which[r]];
            for (int j = 0; j < n; j++)
                b[r] -= H[which[r] * n + j] * p[j];
            for (int c = 0; c < k; c++)
                A[r * k + c] = H[which[r] * n + which[c]];
        }
        assert_int_equal(st_cholesky(k, A, 0.0, L, pivot), k);
        st_cholesky_solve(k, L, pivot, b, b);
        bool inside = true;
        for (int r = 0; r < k; r++) {
            p[which[r]] = b[r];
            inside = inside && b[r] >= low[which[r]] - 1e-12 && b[r] <= high[which[r]] + 1e-12;
        }
        if (inside)
            best = fmin(best, quadratic(n, H, g, p));
    }
    return best;
}

static void box_against_enumeration(void **state)
{
    (void)state;
    for (int trial = 0; trial < 3000; trial++) {
        const int n = 1 + trial % 4;
        double B[16], H[16], g[4], low[4], high[4], p[4], work[32];
        enum st_side side[4];
        for (int i = 0; i < n * n; i++)
            B[i] = random01() - 0.5;
        for (int i = 0; i < n; i++) {
            g[i] = random01() - 0.5;
            low[i] = random01() < 0.2 ? 0.0 : -random01();
            high[i] = random01() < 0.2 ? 0.0 : random01();
            for (int j = 0; j < n; j++) {
                H[i * n + j] = i == j ? 1e-3 : 0.0;
                for (int k = 0; k < n; k++)
                    H[i * n + j] += B[k * n + i] * B[k * n + j];
            }
        }
        assert_int_equal(st_box_quadratic(n, H, g, low, high, p, side, work), ST_OK);
        for (int i = 0; i < n; i++) {
            assert_true(p[i] >= low[i] && p[i] <= high[i]);
            assert_true(side[i] == ST_SIDE_FREE || p[i] == (side[i] == ST_SIDE_LOWER ? low[i] : high[i]));
        }
        assert_true(quadratic(n, H, g, p) <= by_enumeration(n, H, g, low, high) + 1e-12);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_minima),
        cmocka_unit_test(bound_that_binds),
        cmocka_unit_test(multiplier_foretells_gain),
        cmocka_unit_test(start_on_a_bound),
        cmocka_unit_test(lost_rank_is_told),
        cmocka_unit_test(covariance),
        cmocka_unit_test(what_cannot_be),
        cmocka_unit_test(limit_of_iterations),
        cmocka_unit_test(soft_ranges),
        cmocka_unit_test(box_against_enumeration),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
