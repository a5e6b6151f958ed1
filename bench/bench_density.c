/* Batch density and strength against what the processor can do without fused multiply-add.
 *
 * The floor of a kernel is the larger of two times, both measured here with independent operations on registers:
 * its additions and multiplications at the measured peak, and its divisions at the measured rate of divisions (they
 * run beside each other).  Operations are counted from the formulas (core/mixture_kernel.h) as they are performed;
 * comparisons, picks, limits and checks are left out of the count, not of the time.  Where another way of writing the
 * same polynomials needs fewer operations (Horner's), its count stands beside.
 */
#include <stdio.h>
#include <stdlib.h>

#include "core/density_ethanol.h"
#include "core/density_mixture.h"
#include "core/strength.h"
#include "kit.h"

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define CLONES __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define CLONES
#endif

enum { N = 1024, REPEAT = 400, LANES = 128 };

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

/* on a line of the cache, as the columns of a tape are */
static _Alignas(64) double w[ST_NCOMP][N], rho[N], q[N], p[N];
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

#define TIME(NAME, CALL)                                                                                               \
    static double NAME(void)                                                                                           \
    {                                                                                                                  \
        const double start = bench_now();                                                                              \
        for (int r = 0; r < REPEAT; r++)                                                                               \
            if ((CALL) < 0)                                                                                            \
                exit(1);                                                                                               \
        return (bench_now() - start) / ((double)N * REPEAT);                                                           \
    }

TIME(time_ethanol, st_density_ethanol_n(N, w[ST_ETHANOL], ST_T20, rho))
TIME(time_mixture, st_density_mixture_n(N, column, ST_T20, rho))
TIME(time_masses, st_density_masses_n(N, column, ST_T20, rho))
TIME(time_strength, st_p_from_strength_n(N, q, p))

struct count {
    double muladd, division; /* as performed */
    double horner;           /* additions and multiplications by Horner's scheme */
};

static void tell(const char *what, double seconds, struct count c, double t_muladd, double t_division)
{
    const double a = c.muladd * t_muladd, h = c.horner * t_muladd, d = c.division * t_division;
    printf("%-26s %6.3f ns; performed %3.0f add/mul, %2.0f div: floor %6.3f ns = %3.0f %%; Horner's %3.0f: floor %6.3f ns "
           "= %3.0f %%\n",
           what, 1e9 * seconds, c.muladd, c.division, 1e9 * (a > d ? a : d), 100.0 * (a > d ? a : d) / seconds,
           c.horner, 1e9 * (h > d ? h : d), 100.0 * (h > d ? h : d) / seconds);
}

int main(void)
{
    fill();
    const double m = best_of(time_multiply_add), d = best_of(time_divide);
    printf("peak without fused multiply-add %.1f Gflop/s; %.2f G divisions/s; one liquid each:\n", 1e-9 / m, 1e-9 / d);
    /* p^2, 6 pairs of 2, 5 times joined of 2 */
    tell("ethanol + water", best_of(time_ethanol), (struct count){ 23, 0, 22 }, m, d);
    /* shares: sums 9, products 9, a division for three; ethanol-water 23; sugar-water: sum 2, increment 12, factors 8,
     * densities 5, specific volume 9; the rule: sums 8, volumes 11, acid-water 6, over one denominator 15 and a division */
    tell("mixture, fractions judged", best_of(time_mixture), (struct count){ 117, 2, 115 }, m, d);
    tell("mixture, masses", best_of(time_masses), (struct count){ 117, 2, 115 }, m, d);
    /* part, start and scale 14; 3 values of 23, 2 slopes of 23, 3 steps of 3 and a division */
    tell("ethanol from strength", best_of(time_strength), (struct count){ 138, 3, 133 }, m, d);
    return 0;
}
