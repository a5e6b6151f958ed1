/* Bounded least squares against another solver, NLopt (SLSQP, then COBYLA from where it ended): 1,000 generated aims
 * over random blends.  Built only where that library is found. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <nlopt.h>

#include "core/density_mixture.h"
#include "core/least_squares.h"
#include "core/strength.h"

enum { MOST_LIQUIDS = 6, WISHES = 4, PROBLEMS = 1000 };

/* Amounts x[n] in 100 g of liquids of known composition; wishes for strength, sugar, acid and volume, of which some are
 * not asked for and shall stay as they were; and a weak pull towards that and towards the amounts as they were. */
struct blend {
    int n;
    double part[MOST_LIQUIDS][ST_NCOMP];
    double start[MOST_LIQUIDS], low[MOST_LIQUIDS], high[MOST_LIQUIDS];
    double wish_low[WISHES], wish_high[WISHES], tolerance[WISHES], pull;
    bool stays[WISHES]; /* at wish_low = wish_high */
};

static uint64_t seed = 20;

static double between(double low, double high)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return low + (high - low) * ((double)(seed >> 11) * 0x1p-53);
}

static bool figures(const struct blend *b, const double *x, double y[WISHES])
{
    double g[ST_NCOMP] = { 0 }, w[ST_NCOMP], rho, sum = 0.0;
    for (int i = 0; i < b->n; i++)
        for (int c = 0; c < ST_NCOMP; c++) {
            g[c] += 100.0 * x[i] * b->part[i][c];
            sum += 100.0 * x[i] * b->part[i][c];
        }
    if (st_mixture_from_masses(g, w) < 0 || st_density_mixture(w, ST_T20, &rho) < 0)
        return false;
    const double litres = sum / rho;
    y[0] = 100.0 * g[ST_ETHANOL] / 789.239 / litres;
    y[1] = st_mixture_sugars(g) / litres;
    y[2] = g[ST_ACID] / litres;
    y[3] = 1000.0 * litres;
    return true;
}

static enum st_status residuals(const double x[], double r[], void *arg)
{
    const struct blend *b = arg;
    double y[WISHES];
    if (!figures(b, x, y))
        return ST_E_REFUSED;
    for (int i = 0; i < WISHES; i++)
        r[i] = b->stays[i] ? b->pull * (y[i] - b->wish_low[i]) / b->tolerance[i]
                           : st_soft_range(y[i], b->wish_low[i], b->wish_high[i], b->tolerance[i]);
    for (int i = 0; i < b->n; i++)
        r[WISHES + i] = b->pull * (x[i] / b->start[i] - 1.0);
    return ST_OK;
}

/* The same for our solver: what each wish aims at is one more variable, between the ends of the wish. */
static enum st_status residuals_with_aims(const double x[], double r[], void *arg)
{
    const struct blend *b = arg;
    double y[WISHES];
    if (!figures(b, x, y))
        return ST_E_REFUSED;
    for (int i = 0; i < WISHES; i++)
        r[i] = (b->stays[i] ? b->pull : 1.0) * (y[i] / b->tolerance[i] - x[b->n + i]); /* held, where it stays */
    for (int i = 0; i < b->n; i++)
        r[WISHES + i] = b->pull * (x[i] / b->start[i] - 1.0);
    return ST_OK;
}

static double sum_of_squares(const struct blend *b, const double *x)
{
    double r[WISHES + MOST_LIQUIDS], f = 0.0;
    struct blend copy = *b;
    if (residuals(x, r, &copy) < 0)
        return HUGE_VAL;
    for (int i = 0; i < WISHES + b->n; i++)
        f += r[i] * r[i];
    return f;
}

static double objective(unsigned n, const double *x, double *gradient, void *arg)
{
    const struct blend *b = arg;
    double y[MOST_LIQUIDS];
    memcpy(y, x, n * sizeof *y);
    for (unsigned i = 0; gradient && i < n; i++) {
        const double h = 1e-6 * b->start[i];
        y[i] = x[i] + h;
        const double up = sum_of_squares(b, y);
        y[i] = fmax(x[i] - h, 0.0);
        gradient[i] = (up - sum_of_squares(b, y)) / (x[i] + h - y[i]);
        y[i] = x[i];
    }
    return sum_of_squares(b, x);
}

static void a_liquid(double part[ST_NCOMP], int i)
{
    memset(part, 0, ST_NCOMP * sizeof *part);
    if (i == 0)
        (void)st_p_from_strength(between(35.0, 96.0), &part[ST_ETHANOL]);
    else if (i == 1)
        part[ST_SUCROSE] = between(0.5, 1.0);
    else if (i == 3)
        part[ST_ACID] = between(0.02, 0.08);
    else if (i > 3) { /* a juice, sometimes fortified */
        part[ST_ETHANOL] = between(0.0, 1.0) < 0.4 ? between(0.02, 0.2) : 0.0;
        part[ST_FRUCTOSE] = between(0.0, 0.15);
        part[ST_ACID] = between(0.0, 0.03);
    }
    part[ST_WATER] = 1.0 - part[ST_ETHANOL] - part[ST_SUCROSE] - part[ST_FRUCTOSE] - part[ST_ACID];
}

static void generate(struct blend *b)
{
    static const double WIDTH[WISHES] = { 2.0, 20.0, 1.0, 50.0 }, TOLERANCE[WISHES] = { 0.3, 5.0, 0.3, 10.0 };
    double y[WISHES];
    b->n = (int)between(2.0, MOST_LIQUIDS + 0.999);
    for (int i = 0; i < b->n; i++) {
        a_liquid(b->part[i], i);
        b->start[i] = between(0.5, 6.0);
        b->low[i] = between(0.0, 1.0) < 0.5 ? 0.25 * b->start[i] : between(0.7, 1.0) * b->start[i];
        b->high[i] = between(0.0, 1.0) < 0.5 ? 4.0 * b->start[i] : between(1.0, 1.3) * b->start[i];
    }
    assert_true(figures(b, b->start, y));
    const int stays_not = (int)between(0.0, WISHES - 0.001); /* one is asked for at least */
    for (int i = 0; i < WISHES; i++) {
        const double middle = y[i] * between(0.5, 1.6), half = between(0.0, 1.0) < 0.5 ? 0.0 : between(0.0, WIDTH[i]);
        b->wish_low[i] = middle - half;
        b->wish_high[i] = middle + half;
        b->tolerance[i] = TOLERANCE[i] * between(0.5, 2.0);
        b->stays[i] = i != stays_not && between(0.0, 1.0) < 0.4;
        if (b->stays[i])
            b->wish_low[i] = b->wish_high[i] = y[i];
    }
    b->pull = between(0.0, 1.0) < 0.5 ? 0.01 : 1.0;
}

static double by_oracle(struct blend *b)
{
    static const nlopt_algorithm BY[2] = { NLOPT_LD_SLSQP, NLOPT_LN_COBYLA };
    double x[MOST_LIQUIDS], best = HUGE_VAL;
    memcpy(x, b->start, sizeof x);
    for (int i = 0; i < 2; i++) {
        double f = HUGE_VAL;
        nlopt_opt o = nlopt_create(BY[i], (unsigned)b->n);
        nlopt_set_lower_bounds(o, b->low);
        nlopt_set_upper_bounds(o, b->high);
        nlopt_set_min_objective(o, objective, b);
        nlopt_set_xtol_rel(o, 1e-9);
        nlopt_set_ftol_rel(o, 1e-12);
        nlopt_set_maxeval(o, 3000);
        (void)nlopt_optimize(o, x, &f); /* a roundoff stop still leaves its best point */
        nlopt_destroy(o);
        best = fmin(best, fmin(f, sum_of_squares(b, x)));
    }
    return best;
}

static void not_worse_than_the_oracle(void **state)
{
    (void)state;
    static double work[2000];
    int worse = 0, better = 0, held = 0, steps = 0, restless = 0, stay = 0;
    for (int k = 0; k < PROBLEMS; k++) {
        struct blend b;
        double x[MOST_LIQUIDS + WISHES], low[MOST_LIQUIDS + WISHES], high[MOST_LIQUIDS + WISHES], y[WISHES];
        struct st_ls_result out;
        generate(&b);
        memcpy(x, b.start, sizeof b.start);
        memcpy(low, b.low, sizeof b.low);
        memcpy(high, b.high, sizeof b.high);
        assert_true(figures(&b, x, y));
        for (int i = 0; i < WISHES; i++) {
            stay += b.stays[i];
            low[b.n + i] = b.wish_low[i] / b.tolerance[i];
            high[b.n + i] = b.wish_high[i] / b.tolerance[i];
            x[b.n + i] = fmin(fmax(y[i] / b.tolerance[i], low[b.n + i]), high[b.n + i]);
        }
        const struct st_ls_problem p = { .n = b.n + WISHES,
                                         .m = WISHES + b.n,
                                         .lower = low,
                                         .upper = high,
                                         .residuals = residuals_with_aims,
                                         .arg = &b,
                                         .limits = st_ls_defaults() };
        assert_true(st_ls_work(p.n, p.m) <= sizeof work / sizeof *work);
        if (st_least_squares(&p, x, work, &out) != ST_OK) {
            print_error("problem %d: not at rest after %d steps, f = %.12g\n", k, out.iterations, out.f);
            restless++;
        }
        const double ours = sum_of_squares(&b, x);
        assert_true(fabs(out.f - ours) <= 1e-9 * (1.0 + ours));
        for (int i = 0; i < b.n; i++) {
            assert_true(x[i] >= b.low[i] && x[i] <= b.high[i]);
            held += out.side[i] != ST_SIDE_FREE;
        }
        const double theirs = by_oracle(&b);
        steps += out.iterations;
        better += ours < theirs * (1.0 - 1e-6) - 1e-12;
        if (ours > theirs * (1.0 + 1e-6) + 1e-12) {
            print_error("problem %d: %.12g, the oracle %.12g\n", k, ours, theirs);
            worse++;
        }
    }
    print_message("%d aims: worse in %d, better in %d; %d bounds held, %.1f steps an aim\n", PROBLEMS, worse, better,
                  held, (double)steps / PROBLEMS);
    assert_true(held > PROBLEMS / 2); /* bounds are at work */
    assert_true(stay > PROBLEMS / 2); /* and what nobody asked for */
    assert_int_equal(worse, 0);
    assert_int_equal(restless, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(not_worse_than_the_oracle) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
