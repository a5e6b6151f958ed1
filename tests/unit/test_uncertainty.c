/* Published and recomputed examples of propagated uncertainty, by our sampler.  Expected values and tolerances:
 * [jcgm101_2008] clause 9 (from memory, rows UC001-UC014), [eurachem_quam] example A1 (read, UC015-UC017), and an
 * own Monte Carlo of 400 000 draws in another program (UC030-UC034). */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "model/quantile.h"
#include "model/range.h"
#include "plan_kit.h"

enum { N = 1000000 };
static double X[5][N], Y[N];

static void normal(int i, double mean, double sd)
{
    const struct st_column c = {
        mean, mean - ST_Z975 * sd, mean + ST_Z975 * sd, -1e30, 1e30, ST_SHAPE_NORMAL, (uint32_t)(100 + i),
        0,    ST_DOUBT_LASTING
    };
    st_column_draw(&c, 1, 0, N, X[i]);
}

static void even(int i, double low, double high)
{
    const struct st_column c = { 0.5 * (low + high), low, high, low, high, ST_SHAPE_EVEN, (uint32_t)(100 + i), 0,
                                 ST_DOUBT_LASTING };
    st_column_draw(&c, 1, 0, N, X[i]);
}

static void peak(int i, double half)
{
    const struct st_column c = {
        0.0, -half, half, -half, half, ST_SHAPE_PEAK, (uint32_t)(100 + i), 0, ST_DOUBT_LASTING
    };
    st_column_draw(&c, 1, 0, N, X[i]);
}

static double mean_of(const double *y, size_t n)
{
    double s = 0.0;
    for (size_t i = 0; i < n; i++)
        s += y[i];
    return s / (double)n;
}

static double sd_of(const double *y, size_t n)
{
    const double m = mean_of(y, n);
    double s = 0.0;
    for (size_t i = 0; i < n; i++)
        s += (y[i] - m) * (y[i] - m);
    return sqrt(s / (double)(n - 1));
}

static void near(const char *what, double got, double expected, double tolerance)
{
    if (!(fabs(got - expected) <= tolerance))
        fail_msg("%s = %.8g, expected %.8g +/- %.3g", what, got, expected, tolerance);
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The shortest interval that holds 95 % of the draws; Y is sorted. */
static void shortest(double *low, double *high)
{
    const size_t q = (size_t)(0.95 * N);
    qsort(Y, N, sizeof *Y, by_size);
    size_t best = 0;
    for (size_t i = 0; i + q < N; i++)
        if (Y[i + q] - Y[i] < Y[best + q] - Y[best])
            best = i;
    *low = Y[best];
    *high = Y[best + q];
}

static void four_normals(void **state)
{
    (void)state;
    for (int k = 0; k < 4; k++)
        normal(k, 0.0, 1.0);
    for (int i = 0; i < N; i++)
        Y[i] = X[0][i] + X[1][i] + X[2][i] + X[3][i];
    near("UC001", sd_of(Y, N), 2.00, 0.01);
    near("UC002 low", st_quantile(N, Y, 0.025), -3.92, 0.02);
    near("UC002 high", st_quantile(N, Y, 0.975), 3.92, 0.02);
}

static void one_rectangle_rules(void **state)
{
    const double w = sqrt(3.0);
    (void)state;
    for (int k = 0; k < 4; k++)
        even(k, k < 3 ? -w : -10 * w, k < 3 ? w : 10 * w);
    for (int i = 0; i < N; i++)
        Y[i] = X[0][i] + X[1][i] + X[2][i] + X[3][i];
    near("UC003", sd_of(Y, N), 10.15, 0.02);
    near("UC004 low", st_quantile(N, Y, 0.025), -17.0, 0.1);
    near("UC004 high", st_quantile(N, Y, 0.975), 17.0, 0.1);
}

static double calibration(double mRc, double dmRc, double air, double rho_W, double rho_R)
{
    return (mRc + dmRc) * (1.0 + (air - 1.2) * (1.0 / rho_W - 1.0 / rho_R)) - 100000.0;
}

static void mass_calibration(void **state)
{
    double low, high;
    (void)state;
    normal(0, 100000.0, 0.050);
    normal(1, 1.234, 0.020);
    even(2, 1.10, 1.30);
    even(3, 7000.0, 9000.0);
    even(4, 7950.0, 8050.0);
    for (int i = 0; i < N; i++)
        Y[i] = calibration(X[0][i], X[1][i], X[2][i], X[3][i], X[4][i]);
    near("UC005", mean_of(Y, N), 1.2340, 0.0005);
    near("UC006", sd_of(Y, N), 0.0754, 0.0005);
    shortest(&low, &high);
    near("UC008 low", low, 1.0834, 0.003);
    near("UC008 high", high, 1.3825, 0.003);

    /* first order: central differences at the middle */
    const double x[5] = { 100000.0, 1.234, 1.2, 8000.0, 8000.0 }, h[5] = { 0.01, 0.01, 0.01, 1.0, 1.0 };
    const double u[5] = { 0.050, 0.020, 0.1 / sqrt(3.0), 1000.0 / sqrt(3.0), 50.0 / sqrt(3.0) };
    double sum = 0.0;
    for (int k = 0; k < 5; k++) {
        double a[5], b[5];
        for (int j = 0; j < 5; j++) {
            a[j] = x[j] - (j == k ? h[j] : 0.0);
            b[j] = x[j] + (j == k ? h[j] : 0.0);
        }
        const double slope =
            (calibration(b[0], b[1], b[2], b[3], b[4]) - calibration(a[0], a[1], a[2], a[3], a[4])) / (2 * h[k]);
        sum += slope * slope * u[k] * u[k];
    }
    near("UC007", sqrt(sum), 0.0539, 0.0001);
}

static void squares(double mean, double r)
{
    normal(0, 0.0, 1.0);
    normal(1, 0.0, 1.0);
    for (int i = 0; i < N; i++) {
        const double a = mean + 0.005 * X[0][i], b = 0.005 * (r * X[0][i] + sqrt(1.0 - r * r) * X[1][i]);
        Y[i] = a * a + b * b;
    }
}

static void sums_of_squares(void **state)
{
    double low, high;
    (void)state;
    squares(0.0, 0.0);
    near("UC009 mean", mean_of(Y, N), 50e-6, 1e-6);
    near("UC009 u", sd_of(Y, N), 50e-6, 1e-6);
    shortest(&low, &high);
    near("UC010 low", low, 0.0, 2e-6);
    near("UC010 high", high, 150e-6, 2e-6);
    squares(0.010, 0.0);
    shortest(&low, &high);
    near("UC011 low", low, 0.0, 4e-6);
    near("UC011 high", high, 367e-6, 4e-6);
    squares(0.050, 0.0);
    near("UC012 mean", mean_of(Y, N), 2551e-6, 3e-6);
    near("UC012 u", sd_of(Y, N), 502e-6, 3e-6);
    squares(0.0, 0.9);
    near("UC013 mean", mean_of(Y, N), 50e-6, 1e-6);
    near("UC013 u", sd_of(Y, N), 67e-6, 1e-6);
    squares(0.050, 0.9);
    shortest(&low, &high);
    near("UC014 low", low, 1628e-6, 15e-6);
    near("UC014 high", high, 3555e-6, 15e-6);
}

static void standard_solution(void **state)
{
    (void)state;
    peak(0, 0.1);         /* flask, triangular */
    normal(1, 0.0, 0.02); /* filling */
    even(2, -4.0, 4.0);   /* temperature, K */
    normal(3, 100.28, 0.05);
    even(4, 0.9998, 1.0);
    for (int i = 0; i < N; i++)
        Y[i] = 100.0 + X[0][i] + X[1][i] + 100.0 * 2.1e-4 * X[2][i];
    near("UC015", sd_of(Y, N), 0.06647, 0.0001);
    for (int i = 0; i < N; i++)
        Y[i] = 1000.0 * X[3][i] * X[4][i] / Y[i];
    near("UC016", mean_of(Y, N), 1002.70, 0.01);
    near("UC017", sd_of(Y, N), 0.835, 0.002);
}

/* 700 mL (sd 5) of 50 % vol, 220 g sugar, four fillings of one quarter cup of water: the cup is one error.
 * The label's 0.3 % vol is the program's own. */
static void one_cup_four_times(void **state)
{
    enum { DRAWS = 400000 };
    const struct st_ingredient spirit = kit_spirit(50), sugar = kit_sugar(), water = kit_water();
    struct st_line line[3] = { kit_line(&spirit, kit_ml(700)), kit_line(&sugar, kit_g(220)),
                               kit_line(&water, kit_ml(236.588)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 3);
    struct st_recipe r = kit_recipe(&step, 1);
    struct st_problem problem;
    struct st_foretold f;
    const struct st_options o = { 1, DRAWS, false };
    (void)state;

    kit_sharp_tools(&r);
    line[0].amount.tool = ST_TOOL_BOTTLE;
    r.tools.of[ST_TOOL_BOTTLE].step = 5.0 * sqrt(3.0);
    line[1].amount.tool = ST_TOOL_JUG; /* one rectangular error of 1 g */
    r.tools.of[ST_TOOL_JUG].step = 1.0;
    line[2].amount.tool = ST_TOOL_CUP;
    line[2].amount.fills = 4;
    r.tools.of[ST_TOOL_CUP].scale = 0.05;

    struct st_plan *p = st_plan_create(&r, &problem);
    assert_non_null(p);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    near("UC030", mean_of(f.draw[ST_FIG_STRENGTH], DRAWS), 32.7598, 0.01);
    near("UC031", sd_of(f.draw[ST_FIG_STRENGTH], DRAWS), 0.2504, 0.005);
    near("UC032", mean_of(f.draw[ST_FIG_SUGAR], DRAWS), 205.9218, 0.05);
    near("UC033", sd_of(f.draw[ST_FIG_SUGAR], DRAWS), 1.6830, 0.03);
    near("UC034", sd_of(f.draw[ST_FIG_VOLUME], DRAWS), 8.3960, 0.1);
    st_foretold_done(&f);
    st_plan_free(p);
}

/* Two lines by the same cup err together, by two tools apart: the spread of the sum tells. */
static double spread_of_two_cups(enum st_tool second)
{
    const struct st_ingredient water = kit_water();
    struct st_line line[2] = { kit_line(&water, kit_ml(250)), kit_line(&water, kit_ml(250)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    struct st_problem problem;
    struct st_foretold f;
    const struct st_options o = { 1, 20000, false };

    kit_sharp_tools(&r);
    line[0].amount.tool = ST_TOOL_CUP;
    line[1].amount.tool = second;
    r.tools.of[ST_TOOL_CUP].scale = r.tools.of[ST_TOOL_JUG].scale = 0.05;
    struct st_plan *p = st_plan_create(&r, &problem);
    assert_non_null(p);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    const double sd = sd_of(f.draw[ST_FIG_MASS], 20000);
    st_foretold_done(&f);
    st_plan_free(p);
    return sd;
}

static void same_tool_twice_is_one_error(void **state)
{
    const double one = 250.0 * 0.998201 * 0.05 / sqrt(3.0); /* of one measure of 250 mL, g */
    (void)state;
    near("the same cup twice", spread_of_two_cups(ST_TOOL_CUP), 2.0 * one, 0.02 * one);
    near("a cup and a jug", spread_of_two_cups(ST_TOOL_JUG), sqrt(2.0) * one, 0.02 * one);
}

/* Loads of one scale err by different shares: which line comes first says nothing.  1e-9: sums in another order. */
static void order_of_lines_says_nothing(void **state)
{
    static const int ORDER[4][4] = { { 0, 1, 2, 3 }, { 3, 2, 1, 0 }, { 1, 3, 0, 2 }, { 2, 0, 3, 1 } };
    const struct st_ingredient spirit = kit_spirit(50), sugar = kit_sugar(), water = kit_water();
    const struct st_ingredient sloes = kit_fruit("sloes", 0.8, 0.1, 0.01, 0.5);
    struct st_line written[4] = { kit_line(&spirit, kit_g(3000)), kit_line(&sugar, kit_g(20)),
                                  kit_line(&water, kit_ml(90)), kit_line(&sloes, kit_g(700)) };
    struct st_interval first[ST_NFIG] = { { .value = 0 } };
    const struct st_options o = { 1, 4000, false };
    (void)state;

    for (int i = 0; i < 4; i++)
        written[i].amount.tool = i == 2 ? ST_TOOL_JUG : ST_TOOL_SCALE;
    for (int k = 0; k < 4; k++) {
        struct st_line line[4];
        struct st_problem problem;
        struct st_foretold f;
        for (int i = 0; i < 4; i++)
            line[i] = written[ORDER[k][i]];
        struct st_step step = kit_step("jar", ST_DO_STEEP, line, 4);
        const struct st_recipe r = kit_recipe(&step, 1);
        struct st_plan *p = st_plan_create(&r, &problem);
        assert_non_null(p);
        assert_true(st_plan_run(p, &o, &f) >= 0);
        for (int i = 0; i < ST_NFIG && k > 0; i++)
            if (f.fig[i].known) {
                near("value", f.fig[i].value, first[i].value, 1e-9 * fabs(first[i].value));
                near("low", f.fig[i].low, first[i].low, 1e-9 * fabs(first[i].value));
                near("high", f.fig[i].high, first[i].high, 1e-9 * fabs(first[i].value));
            }
        if (k == 0)
            memcpy(first, f.fig, sizeof first);
        st_foretold_done(&f);
        st_plan_free(p);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(four_normals),
        cmocka_unit_test(one_rectangle_rules),
        cmocka_unit_test(mass_calibration),
        cmocka_unit_test(sums_of_squares),
        cmocka_unit_test(standard_solution),
        cmocka_unit_test(one_cup_four_times),
        cmocka_unit_test(same_tool_twice_is_one_error),
        cmocka_unit_test(order_of_lines_says_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
