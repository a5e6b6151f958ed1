/* Reconciliation: what no table gives.  Closed forms of chi-square, what the balances and the search must obey, and truth
 * that is known because it was made up: coverage, levels, a wild figure found. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "core/chi_square.h"
#include "core/drink_reading.h"
#include "core/reconcile.h"
#include "core/strength.h"
#include "model/random.h"

static void near(double got, double want, double tol)
{
    if (!(fabs(got - want) <= tol))
        fail_msg("got %.15g, want %.15g +- %g", got, want, tol);
}

static double normal(uint32_t input, uint64_t draw)
{
    double u;
    st_uniform_n(20261129, input, draw, 1, &u);
    return st_normal_from_uniform(u);
}

/* ---- chi-square ---- */

static void chi_square_has_its_closed_forms(void **state)
{
    (void)state;
    for (double x = 0.01; x < 900.0; x *= 1.17) {
        double p;
        assert_int_equal(st_chi_square_above(x, 1, &p), ST_OK);
        near(p / erfc(sqrt(0.5 * x)), 1.0, 1e-12);
        assert_int_equal(st_chi_square_above(x, 2, &p), ST_OK);
        near(p / exp(-0.5 * x), 1.0, 1e-12);
        assert_int_equal(st_chi_square_above(x, 4, &p), ST_OK);
        near(p / (exp(-0.5 * x) * (1.0 + 0.5 * x)), 1.0, 1e-12);
    }
}

static void chi_square_falls_and_meets_its_ends(void **state)
{
    (void)state;
    for (int df = 1; df <= 1000; df = df * 2 + 1) {
        double before = 1.0, p;
        assert_int_equal(st_chi_square_above(0.0, df, &p), ST_OK);
        assert_true(p == 1.0);
        for (double x = 0.0; x <= 4.0 * df; x += 0.05 * df) {
            assert_int_equal(st_chi_square_above(x, df, &p), ST_OK);
            assert_true(p <= before && p >= 0.0);
            before = p;
        }
        assert_int_equal(st_chi_square_above((double)INFINITY, df, &p), ST_OK);
        assert_true(p == 0.0);
    }
    near(st_normal_beyond(1.959963984540054), 0.05, 1e-15);
    assert_true(st_normal_beyond(0.0) == 1.0);
}

/* ---- balances ---- */

enum { FLOWS = 6, NODES = 4 };
static const double A[NODES * FLOWS] = { 1, -1, -1, 0, 0, 0, 0, 1, 0, -1, 0, 0, 0, 0, 1, 0, -1, 0, 0, 0, 0, 1, 1, -1 };
static const double TRUE_FLOW[FLOWS] = { 100, 64, 36, 64, 36, 100 };

static void flows(const double y[], const double u[], struct st_balanced *out, double C[])
{
    double V[FLOWS * FLOWS] = { 0 }, work[128];
    for (int i = 0; i < FLOWS; i++)
        V[i * FLOWS + i] = u[i] * u[i];
    const struct st_balances p = { .n = FLOWS, .k = NODES, .A = A, .y = y, .V = V };
    assert_true(st_balance_work(FLOWS, NODES) <= sizeof work / sizeof *work);
    assert_int_equal(st_balance_reconcile(&p, work, out, C), ST_OK);
}

static void flows_balance_and_know_more(void **state)
{
    (void)state;
    const double y[FLOWS] = { 101.91, 64.45, 34.65, 64.20, 36.44, 98.88 }, u[FLOWS] = { 1, 2, 0.5, 1, 3, 1 };
    struct st_balanced out;
    double C[FLOWS * FLOWS], redundancy = 0.0;
    flows(y, u, &out, C);
    for (int j = 0; j < NODES; j++) {
        double r = 0.0, variance = 0.0;
        for (int i = 0; i < FLOWS; i++) {
            r += A[j * FLOWS + i] * out.x[i];
            for (int l = 0; l < FLOWS; l++)
                variance += A[j * FLOWS + i] * C[i * FLOWS + l] * A[j * FLOWS + l];
        }
        near(r, 0.0, 1e-12);
        near(variance, 0.0, 1e-12);
    }
    for (int i = 0; i < FLOWS; i++) {
        assert_true(out.u[i] < u[i]);
        near(out.u[i] * out.u[i], C[i * FLOWS + i], 1e-12);
        redundancy += out.redundancy[i];
    }
    near(redundancy, NODES, 1e-10);
}

/* x1 = x2 measured twice is their weighted mean; a third that no balance names is left alone. */
static void two_scales_on_one_jar(void **state)
{
    (void)state;
    const double row[3] = { 1, -1, 0 }, y[3] = { 10, 12, 5 }, V[9] = { 1, 0, 0, 0, 3, 0, 0, 0, 2 };
    const struct st_balances p = { .n = 3, .k = 1, .A = row, .y = y, .V = V };
    struct st_balanced out;
    double work[32];
    assert_int_equal(st_balance_reconcile(&p, work, &out, NULL), ST_OK);
    near(out.x[0], 10.5, 1e-12);
    near(out.x[1], 10.5, 1e-12);
    near(out.u[0], sqrt(0.75), 1e-12);
    near(out.chi2, 1.0, 1e-12);
    near(out.standard[0], 1.0, 1e-12);
    near(out.standard[1], -1.0, 1e-12);
    assert_true(out.x[2] == 5.0 && isnan(out.standard[2]) && out.redundancy[2] == 0.0);
    assert_true(out.agree);
}

static void balances_that_cannot_be_are_refused(void **state)
{
    (void)state;
    const double twice[4] = { 1, -1, 2, -2 }, y[2] = { 1, 2 }, V[4] = { 1, 0, 0, 1 }, none[4] = { 0 };
    struct st_balances p = { .n = 2, .k = 2, .A = twice, .y = y, .V = V };
    struct st_balanced out, before;
    double work[32], C[4] = { 7, 7, 7, 7 };
    memset(&out, 1, sizeof out);
    before = out;
    assert_int_equal(st_balance_reconcile(&p, work, &out, C), ST_E_REFUSED);
    p.k = 1;
    p.V = none;
    assert_int_equal(st_balance_reconcile(&p, work, &out, C), ST_E_REFUSED);
    p.V = V;
    p.k = 3;
    assert_int_equal(st_balance_reconcile(&p, work, &out, C), ST_E_DOMAIN);
    p.k = 1;
    p.n = ST_RECONCILE_MAX + 1;
    assert_int_equal(st_balance_reconcile(&p, work, &out, C), ST_E_DOMAIN);
    assert_memory_equal(&out, &before, sizeof out);
    assert_true(C[0] == 7.0);
}

static void levels_and_coverage_of_balances(void **state)
{
    (void)state;
    enum { TIMES = 4000 };
    const double u[FLOWS] = { 1, 2, 0.5, 1, 3, 1 };
    int covered = 0, low = 0, doubted = 0, tenth[10] = { 0 };
    for (int t = 0; t < TIMES; t++) {
        double y[FLOWS];
        struct st_balanced out;
        for (int i = 0; i < FLOWS; i++)
            y[i] = TRUE_FLOW[i] + u[i] * normal((uint32_t)i, (uint64_t)t);
        flows(y, u, &out, NULL);
        for (int i = 0; i < FLOWS; i++)
            covered += fabs(out.x[i] - TRUE_FLOW[i]) <= 1.959964 * out.u[i];
        low += out.p < 0.05;
        doubted += !out.agree;
        tenth[(int)fmin(10.0 * out.p, 9.0)]++;
    }
    near((double)covered / (FLOWS * TIMES), 0.95, 0.006); /* 4 standard deviations of the count, as if independent */
    near((double)low / TIMES, 0.05, 0.014);
    assert_true((double)doubted / TIMES < 0.07);
    double chi2 = 0.0, p;
    for (int i = 0; i < 10; i++)
        chi2 += (tenth[i] - 0.1 * TIMES) * (tenth[i] - 0.1 * TIMES) / (0.1 * TIMES);
    assert_int_equal(st_chi_square_above(chi2, 9, &p), ST_OK);
    if (p < 1e-4)
        fail_msg("p is not even between 0 and 1: chi-square of its ten classes %g", chi2);
}

/* Each flow in turn wild by 5 standard deviations of its adjustment: what can be seen of it. */
static void a_wild_flow_is_found(void **state)
{
    (void)state;
    enum { TIMES = 300 };
    const double u[FLOWS] = { 1, 1, 1, 1, 1, 1 };
    int found = 0, named = 0;
    for (int wild = 0; wild < FLOWS;
         wild += FLOWS - 1) /* the outer two: the inner ones come in pairs that no balance parts */
        for (int t = 0; t < TIMES; t++) {
            double y[FLOWS];
            struct st_balanced out;
            for (int i = 0; i < FLOWS; i++)
                y[i] = TRUE_FLOW[i] + normal((uint32_t)(10 + i), (uint64_t)(t + TIMES * wild));
            y[wild] += 5.0 / sqrt(2.0 / 3.0);
            flows(y, u, &out, NULL);
            named += out.suspect >= 0;
            found += out.suspect == wild;
        }
    assert_true(named >= 0.95 * 2 * TIMES);
    if (found < 0.9 * 2 * TIMES)
        fail_msg("found %d of %d", found, 2 * TIMES);
}

/* ---- readings ---- */

/* a straight line through x0 + x1 s at s = -2 .. 2, and a reading of x0 alone */
enum { LINE = 6 };
static enum st_status line(const double x[], double y[], void *arg)
{
    const int *order = arg;
    for (int i = 0; i < LINE; i++)
        y[order ? order[i] : i] = i < 5 ? x[0] + x[1] * (i - 2) : x[0];
    return ST_OK;
}

static const double X0[2] = { 1.0, 2.0 }, P[4] = { 4.0, 1.0, 1.0, 0.5 };

static void read_line(const double y[], const double u[], const bool aside[], int *order, struct st_reconciled *out,
                      double C[])
{
    double work[512];
    const struct st_reconcile p = {
        .n = 2, .m = LINE, .x0 = X0, .P = P, .y = y, .u = u, .aside = aside, .f = line, .arg = order
    };
    assert_true(st_reconcile_work(2, LINE) <= sizeof work / sizeof *work);
    assert_int_equal(st_reconcile_readings(&p, work, out, C), ST_OK);
}

/* y of the truth X0 + L z, and of the readings */
static void make_line(uint64_t t, const double u[], double truth[2], double y[])
{
    const double z0 = normal(100, t), z1 = normal(101, t);
    truth[0] = X0[0] + 2.0 * z0;
    truth[1] = X0[1] + 0.5 * z0 + 0.5 * z1;
    (void)line(truth, y, NULL);
    for (int i = 0; i < LINE; i++)
        y[i] += u[i] * normal((uint32_t)(110 + i), t);
}

static const double U[LINE] = { 1.0, 0.7, 1.3, 0.9, 1.0, 0.5 };

static void a_line_by_hand(void **state)
{
    (void)state;
    double y[LINE], truth[2], C[4];
    struct st_reconciled out;
    make_line(7, U, truth, y);
    read_line(y, U, NULL, NULL, &out, C);
    /* normal equations (P^-1 + X'WX) x = P^-1 x0 + X'Wy */
    const double det = P[0] * P[3] - P[1] * P[2];
    double a = P[3] / det, b = -P[1] / det, d = P[0] / det, g = a * X0[0] + b * X0[1], h = b * X0[0] + d * X0[1];
    for (int i = 0; i < LINE; i++) {
        const double w = 1.0 / (U[i] * U[i]), s = i < 5 ? i - 2 : 0;
        a += w;
        b += w * s;
        d += w * s * s;
        g += w * y[i];
        h += w * s * y[i];
    }
    const double D = a * d - b * b;
    near(out.x[0], (d * g - b * h) / D, 1e-8);
    near(out.x[1], (a * h - b * g) / D, 1e-8);
    near(C[0], d / D, 1e-9);
    near(C[1], -b / D, 1e-9);
    near(C[3], a / D, 1e-9);
    assert_int_equal(out.df, LINE);
}

static void setting_aside_tells_what_it_cost(void **state)
{
    (void)state;
    double y[LINE], truth[2];
    struct st_reconciled all, rest;
    make_line(9, U, truth, y);
    read_line(y, U, NULL, NULL, &all, NULL);
    for (int i = 0; i < LINE; i++) {
        bool aside[LINE] = { false };
        aside[i] = true;
        read_line(y, U, aside, NULL, &rest, NULL);
        near(all.chi2 - rest.chi2, all.standard[i] * all.standard[i], 1e-7);
        near(rest.standard[i], all.standard[i], 1e-7);
        assert_int_equal(rest.df, LINE - 1);
        assert_true(rest.u[0] >= all.u[0] && rest.u[1] >= all.u[1]);
    }
}

static void order_changes_nothing(void **state)
{
    (void)state;
    int order[LINE] = { 3, 0, 5, 1, 4, 2 };
    double y[LINE], truth[2], other[LINE], u[LINE];
    struct st_reconciled a, b;
    make_line(11, U, truth, y);
    y[4] += 6.0;
    for (int i = 0; i < LINE; i++) {
        other[order[i]] = y[i];
        u[order[i]] = U[i];
    }
    read_line(y, U, NULL, NULL, &a, NULL);
    read_line(other, u, NULL, order, &b, NULL);
    near(a.x[0], b.x[0], 1e-9);
    near(a.x[1], b.x[1], 1e-9);
    near(a.chi2, b.chi2, 1e-9);
    assert_int_equal(a.suspect, 4);
    assert_int_equal(b.suspect, order[4]);
}

static void what_says_nothing_changes_nothing(void **state)
{
    (void)state;
    const double never[LINE] = { (double)INFINITY, (double)INFINITY, (double)INFINITY,
                                 (double)INFINITY, (double)INFINITY, (double)INFINITY };
    double y[LINE] = { 100, -3, 7, 1e6, 0, 2 }, C[4];
    struct st_reconciled out;
    read_line(y, never, NULL, NULL, &out, C);
    near(out.x[0], X0[0], 1e-12);
    near(out.x[1], X0[1], 1e-12);
    for (int i = 0; i < 4; i++)
        near(C[i], P[i], 1e-12);
    assert_true(out.agree && out.df == 0 && out.p == 1.0 && out.suspect == -1);
}

/* A prior that is exact, or in which one unknown follows from the other. */
static void what_is_exact_stays(void **state)
{
    (void)state;
    const double bound[4] = { 4.0, 2.0, 2.0, 1.0 }, none[4] = { 0 };
    double y[LINE], truth[2], work[512], C[4];
    struct st_reconciled out;
    make_line(13, U, truth, y);
    struct st_reconcile p = { .n = 2, .m = LINE, .x0 = X0, .P = bound, .y = y, .u = U, .f = line };
    assert_int_equal(st_reconcile_readings(&p, work, &out, C), ST_OK);
    near(out.x[0] - X0[0], 2.0 * (out.x[1] - X0[1]), 1e-9);
    near(C[0] * C[3], C[1] * C[1], 1e-12);
    p.P = none;
    assert_int_equal(st_reconcile_readings(&p, work, &out, C), ST_OK);
    assert_true(out.x[0] == X0[0] && out.u[1] == 0.0);
}

static enum st_status nowhere(const double x[], double y[], void *arg)
{
    (void)x;
    (void)y;
    (void)arg;
    return ST_E_DOMAIN;
}

static void what_has_no_meaning_is_refused(void **state)
{
    (void)state;
    double y[LINE], truth[2], work[512];
    const double u0[LINE] = { 1, 1, 0, 1, 1, 1 }, no[4] = { 1, 2, 2, 1 }, below[4] = { -1, 0, 0, 1 };
    struct st_reconciled out, before;
    memset(&out, 1, sizeof out);
    before = out;
    make_line(15, U, truth, y);
    const struct st_reconcile good = { .n = 2, .m = LINE, .x0 = X0, .P = P, .y = y, .u = U, .f = line };
    struct st_reconcile p = good;
    p.u = u0;
    assert_int_equal(st_reconcile_readings(&p, work, &out, NULL), ST_E_DOMAIN);
    p = good;
    p.P = no;
    assert_int_equal(st_reconcile_readings(&p, work, &out, NULL), ST_E_DOMAIN);
    p.P = below;
    assert_int_equal(st_reconcile_readings(&p, work, &out, NULL), ST_E_DOMAIN);
    p = good;
    p.f = nowhere;
    assert_int_equal(st_reconcile_readings(&p, work, &out, NULL), ST_E_DOMAIN);
    p = good;
    p.m = ST_RECONCILE_MAX + 1;
    assert_int_equal(st_reconcile_readings(&p, work, &out, NULL), ST_E_DOMAIN);
    p = good;
    y[2] = (double)NAN;
    assert_int_equal(st_reconcile_readings(&p, work, &out, NULL), ST_E_DOMAIN);
    assert_memory_equal(&out, &before, sizeof out);
}

static void levels_and_coverage_of_readings(void **state)
{
    (void)state;
    enum { TIMES = 2000 };
    int covered = 0, low = 0, tenth[10] = { 0 };
    double p, chi2 = 0.0;
    for (int t = 0; t < TIMES; t++) {
        double y[LINE], truth[2];
        struct st_reconciled out;
        make_line((uint64_t)t, U, truth, y);
        read_line(y, U, NULL, NULL, &out, NULL);
        covered +=
            (fabs(out.x[0] - truth[0]) <= 1.959964 * out.u[0]) + (fabs(out.x[1] - truth[1]) <= 1.959964 * out.u[1]);
        low += out.p < 0.05;
        tenth[(int)fmin(10.0 * out.p, 9.0)]++;
        assert_true(out.u[0] <= 2.0 && out.u[1] <= sqrt(0.5));
    }
    near((double)covered / (2 * TIMES), 0.95, 0.014);
    near((double)low / TIMES, 0.05, 0.0195);
    for (int i = 0; i < 10; i++)
        chi2 += (tenth[i] - 0.1 * TIMES) * (tenth[i] - 0.1 * TIMES) / (0.1 * TIMES);
    assert_int_equal(st_chi_square_above(chi2, 9, &p), ST_OK);
    assert_true(p > 1e-4);
}

/* ---- the drink ---- */

static const double DRINK[ST_NCOMP] = {
    [ST_WATER] = 640, [ST_ETHANOL] = 220, [ST_SUCROSE] = 180, [ST_GLUCOSE] = 20, [ST_FRUCTOSE] = 20, [ST_ACID] = 6
};

static void a_drink_shows_what_the_instruments_do(void **state)
{
    (void)state;
    double w[ST_NCOMP], y, z, rho;
    assert_int_equal(st_mixture_from_masses(DRINK, w), ST_OK);
    assert_true(st_drink_reading(DRINK, ST_SHOWS_STRENGTH, ST_T20, 0.0, &y) >= 0);
    assert_true(st_strength_mixture(w, &z) >= 0);
    near(y, z, 1e-12);
    assert_true(st_drink_reading(DRINK, ST_SHOWS_SG, 288.15, 0.0, &y) >= 0);
    assert_true(st_hydrometer_reading(w, 288.15, ST_HYDROMETER_20C, &z) >= 0);
    near(y, z, 1e-12);
    assert_true(st_drink_reading(DRINK, ST_SHOWS_FLASK, 298.15, 100.0, &y) >= 0);
    assert_true(st_density_from_flask(y * 1e-3, 100e-6, 298.15, true, &rho) >= 0);
    assert_true(st_drink_reading(DRINK, ST_SHOWS_DENSITY, 298.15, 0.0, &z) >= 0);
    near(rho, z, 1e-9);
    assert_true(st_drink_reading(DRINK, ST_SHOWS_VOLUME, 298.15, 0.0, &y) >= 0);
    near(y * z * 1e-3, 1086.0, 1e-9);
    assert_int_equal(st_drink_reading(DRINK, ST_SHOWS_FLASK, ST_T20, 0.0, &y), ST_E_DOMAIN);
}

/* Boiled off and made up: the sugar and acid in the litre are the same, the alcohol is gone. */
static void boiled_off_is_as_dense_as_its_sugar(void **state)
{
    (void)state;
    const double plain[ST_NCOMP] = { [ST_WATER] = 640, [ST_ETHANOL] = 220, [ST_SUCROSE] = 220 };
    double sugar, sg, extract;
    assert_true(st_drink_reading(plain, ST_SHOWS_SUGAR, ST_T20, 0.0, &sugar) >= 0);
    assert_true(st_drink_reading(plain, ST_SHOWS_SG_BOILED, ST_T20, 0.0, &sg) >= 0);
    assert_true(sg > 1.05 && sg < 1.15);
    const double residue[ST_NCOMP] = { [ST_SUCROSE] = sugar, [ST_WATER] = 1e3 };
    assert_true(st_drink_reading(residue, ST_SHOWS_SG, ST_T20, 0.0, &extract) >= 0);
    assert_true(sg > extract); /* 1 L made up holds less water than 1 kg */
}

/* Past nothing of a component the reading goes on without a kink. */
static void no_kink_at_nothing(void **state)
{
    (void)state;
    for (int what = 0; what < ST_NSHOWS; what++) {
        double y[5], m[ST_NCOMP] = { [ST_WATER] = 600, [ST_ETHANOL] = 300 };
        for (int i = 0; i < 5; i++) {
            m[ST_SUCROSE] = 1e-2 * (i - 2);
            assert_true(st_drink_reading(m, (enum st_shows)what, ST_T20, 50.0, &y[i]) >= 0);
        }
        near(y[2] - y[1], y[3] - y[2], 1e-3 * fabs(y[3] - y[2]) + 1e-9);
        near(y[1] - y[0], y[4] - y[3], 1e-3 * fabs(y[3] - y[2]) + 1e-9);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chi_square_has_its_closed_forms),
        cmocka_unit_test(chi_square_falls_and_meets_its_ends),
        cmocka_unit_test(flows_balance_and_know_more),
        cmocka_unit_test(two_scales_on_one_jar),
        cmocka_unit_test(balances_that_cannot_be_are_refused),
        cmocka_unit_test(levels_and_coverage_of_balances),
        cmocka_unit_test(a_wild_flow_is_found),
        cmocka_unit_test(a_line_by_hand),
        cmocka_unit_test(setting_aside_tells_what_it_cost),
        cmocka_unit_test(order_changes_nothing),
        cmocka_unit_test(what_says_nothing_changes_nothing),
        cmocka_unit_test(what_is_exact_stays),
        cmocka_unit_test(what_has_no_meaning_is_refused),
        cmocka_unit_test(levels_and_coverage_of_readings),
        cmocka_unit_test(a_drink_shows_what_the_instruments_do),
        cmocka_unit_test(boiled_off_is_as_dense_as_its_sugar),
        cmocka_unit_test(no_kink_at_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
