/* Batch density and strength against what the processor can do without fused multiply-add.
 *
 * The floor of a kernel is the larger of two times, both measured here with independent operations on registers:
 * its additions and multiplications at the measured peak, and its divisions at the measured rate of divisions (they
 * run beside each other).  Operations are counted from the formulas (core/mixture_kernel.h), comparisons and picks
 * left out.
 */
#include <stdio.h>
#include <stdlib.h>

#include "core/density_mixture.h"
#include "core/strength.h"
#include "kit.h"

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define CLONES __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define CLONES
#endif

enum { N = 4096, REPEAT = 400, LANES = 128 };

static double best_of(double (*run)(void))
{
    double best = 1e9;
    for (int i = 0; i < 7; i++) {
        const double t = run();
        best = t < best ? t : best;
    }
    return best;
}

/* ---- what the processor can do ---- */

static volatile double sink;

/* 128 lanes, so many chains at once that nothing waits; kept in registers over the inner loop. */
CLONES static double multiply_add(int rounds)
{
    double a[LANES], s = 0.0;
    for (int i = 0; i < LANES; i++)
        a[i] = 1.0 + 1e-3 * i;
    for (int r = 0; r < rounds; r++)
        for (int i = 0; i < LANES; i++)
            a[i] = a[i] * 0.9999999 + 1e-9;
    for (int i = 0; i < LANES; i++)
        s += a[i];
    return s;
}

CLONES static double divide(int rounds)
{
    double a[LANES], s = 0.0;
    for (int i = 0; i < LANES; i++)
        a[i] = 1.0 + 1e-3 * i;
    for (int r = 0; r < rounds; r++)
        for (int i = 0; i < LANES; i++)
            a[i] = 2.0 / (1.0 + a[i]); /* the addition runs beside it */
    for (int i = 0; i < LANES; i++)
        s += a[i];
    return s;
}

static volatile int rounds = 200000; /* volatile: the work stays between the two looks at the clock */

static double time_multiply_add(void)
{
    const double start = bench_now();
    const int n = rounds;
    sink = multiply_add(n);
    return (bench_now() - start) / (2.0 * n * LANES);
}

static double time_divide(void)
{
    const double start = bench_now();
    const int n = rounds / 4;
    sink = divide(n);
    return (bench_now() - start) / ((double)n * LANES);
}

/* ---- what we do ---- */

static double w[ST_NCOMP][N], rho[N], q[N], p[N];
static const double *column[ST_NCOMP];

static void fill(void)
{
    for (int i = 0; i < N; i++) {
        w[ST_ETHANOL][i] = 0.05 + 0.25 * (i % 97) / 97.0;
        w[ST_SUCROSE][i] = 0.02 + 0.20 * (i % 89) / 89.0;
        w[ST_GLUCOSE][i] = w[ST_FRUCTOSE][i] = 0.01 + 0.02 * (i % 13) / 13.0;
        w[ST_ACID][i] = 0.001 + 0.01 * (i % 7) / 7.0;
        w[ST_WATER][i] = 1.0 - w[ST_ETHANOL][i] - w[ST_SUCROSE][i] - 2.0 * w[ST_GLUCOSE][i] - w[ST_ACID][i];
        q[i] = 100.0 * (i + 0.5) / N;
    }
    for (int c = 0; c < ST_NCOMP; c++)
        column[c] = w[c];
}

static double time_density(void)
{
    const double start = bench_now();
    for (int r = 0; r < REPEAT; r++)
        if (st_density_mixture_n(N, column, ST_T20, rho) < 0)
            exit(1);
    return (bench_now() - start) / ((double)N * REPEAT);
}

static double time_strength(void)
{
    const double start = bench_now();
    for (int r = 0; r < REPEAT; r++)
        if (st_p_from_strength_n(N, q, p) < 0)
            exit(1);
    return (bench_now() - start) / ((double)N * REPEAT);
}

static void tell(const char *what, double seconds, double muladd, double division, double t_muladd, double t_division)
{
    const double a = muladd * t_muladd, d = division * t_division, floor_s = a > d ? a : d;
    printf("%-28s %6.2f ns each; %3.0f add/mul + %2.0f div; at peak %5.2f ns and %5.2f ns: %3.0f %% of the floor's "
           "speed\n",
           what, 1e9 * seconds, muladd, division, 1e9 * a, 1e9 * d, 100.0 * floor_s / seconds);
}

int main(void)
{
    fill();
    const double m = best_of(time_multiply_add), d = best_of(time_divide);
    printf("peak without fused multiply-add %.1f Gflop/s; %.2f G divisions/s\n", 1e-9 / m, 1e-9 / d);
    /* density: sums of components 17; ethanol-water 1 + 22; sugar-water 2 + 11, factors 11, densities 5, volumes 3;
     * acid-water 2 + 5; shared water 13; divisions: 4 shares, 7 in the sugars, 4 in the rule */
    tell("density of a mixture", best_of(time_density), 92, 15, m, d);
    /* strength: start 12; 5 steps of value 23, slope 22, step 2; a division each for value, slope and step */
    tell("ethanol from strength", best_of(time_strength), 247, 15, m, d);
    return 0;
}
