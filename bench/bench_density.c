/* Batch density and strength against what the processor can do without fused multiply-add.
 *
 * The floor of a kernel is the larger of two times, both measured here with independent operations on registers:
 * its additions and multiplications at the measured peak, and its divisions at the measured rate of divisions.
 * Operations are counted from the formulas (core/mixture_kernel.h) as they are performed; comparisons, picks, limits
 * and checks are left out of the count, not of the time.  Where another way of writing the same polynomials needs fewer
 * operations (Horner's), its count stands beside.
 *
 * Divisions take the place of multiplications in most processors, so a second line tells the floor by the time of the
 * same mix: as many pairs of multiplication and addition for each division, again independent and on registers.
 *
 * Everything is measured in turn, in samples of some microseconds, and the best of each is told: another load on the
 * machine then falls on all alike.
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

enum { N = 1024, TAPE = 128, REPEAT = 16, ROUNDS = 400, LANES = 128, PAD = 24 };

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

/* Some multiplications and additions for each division. */
CLONES static double mixed(int rounds, int pairs)
{
    double a[LANES], b[LANES], s = 0.0;
    for (int i = 0; i < LANES; i++)
        a[i] = b[i] = 1.0 + 1e-3 * i;
    for (int r = 0; r < rounds; r++) {
        for (int i = 0; i < LANES; i++)
            b[i] = 2.0 / b[i];
        for (int k = 0; k < pairs; k++)
            for (int i = 0; i < LANES; i++)
                a[i] = a[i] * 0.9999999 + 1e-9;
    }
    for (int i = 0; i < LANES; i++)
        s += a[i] + b[i];
    return s;
}

static volatile int rounds = 4096; /* volatile: the work stays between the two looks at the clock */

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

/* Of a division with its additions and multiplications. */
static double time_mixed(int pairs)
{
    const double start = bench_now();
    const int n = rounds / pairs;
    sink = mixed(n, pairs);
    return (bench_now() - start) / ((double)n * LANES);
}

static double time_mix_mixture(void)
{
    return time_mixed(29); /* 117 : 2 */
}

static double time_mix_strength(void)
{
    return time_mixed(23); /* 138 : 3 */
}

/* ---- what we do ---- */

/* On lines of the cache, as the columns of a tape are, and not all in the same places of the cache. */
static _Alignas(64) double w[ST_NCOMP][N + PAD], rho[N], q[N], p[N];
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

#define TIME(NAME, AT_ONCE, CALL)                                                                                      \
    static double NAME(void)                                                                                           \
    {                                                                                                                  \
        const double start = bench_now();                                                                              \
        for (int r = 0; r < REPEAT; r++)                                                                               \
            if ((CALL) < 0)                                                                                            \
                exit(1);                                                                                               \
        return (bench_now() - start) / ((double)(AT_ONCE)*REPEAT);                                                     \
    }

TIME(time_ethanol, N, st_density_ethanol_n(N, w[ST_ETHANOL], ST_T20, rho))
TIME(time_judged, N, st_density_mixture_n(N, column, ST_T20, rho))
TIME(time_masses, N, st_density_masses_n(N, column, ST_T20, rho))
TIME(time_block, TAPE, st_density_masses_n(TAPE, column, ST_T20, rho))
TIME(time_strength, N, st_p_from_strength_n(N, q, p))

/* ---- side by side ---- */

enum { MULTIPLY_ADD, DIVIDE, MIX_MIXTURE, MIX_STRENGTH, ETHANOL, JUDGED, MASSES, BLOCK, STRENGTH, NTIME };

static double (*const TIMER[NTIME])(void) = {
    time_multiply_add, time_divide, time_mix_mixture, time_mix_strength, time_ethanol,
    time_judged,       time_masses, time_block,       time_strength,
};

static double best[NTIME];

static void measure(void)
{
    for (int i = 0; i < NTIME; i++)
        best[i] = 1e9;
    for (int r = 0; r < ROUNDS; r++)
        for (int i = 0; i < NTIME; i++) {
            const double t = TIMER[i]();
            best[i] = t < best[i] ? t : best[i];
        }
}

struct count {
    double muladd, division; /* as performed */
    double horner;           /* additions and multiplications by Horner's scheme */
};

static void tell(const char *what, int at, struct count c, double mixed)
{
    const double a = c.muladd * best[MULTIPLY_ADD], h = c.horner * best[MULTIPLY_ADD], d = c.division * best[DIVIDE];
    const double floor = a > d ? a : d, horner = h > d ? h : d;
    printf("%-28s %6.3f ns; performed %3.0f add/mul, %.0f div: floor %6.3f ns = %3.0f %%; Horner's %3.0f: floor %6.3f "
           "ns = %3.0f %%\n",
           what, 1e9 * best[at], c.muladd, c.division, 1e9 * floor, 100.0 * floor / best[at], c.horner, 1e9 * horner,
           100.0 * horner / best[at]);
    if (mixed > 0.0)
        printf("%-28s %6s     the same mix, add/mul and div, on registers: %6.3f ns = %3.0f %%\n", "", "",
               1e9 * mixed, 100.0 * mixed / best[at]);
}

int main(void)
{
    fill();
    measure();
    printf("peak without fused multiply-add %.1f Gflop/s; %.2f G divisions/s; batches of %d, one liquid each:\n",
           1e-9 / best[MULTIPLY_ADD], 1e-9 / best[DIVIDE], N);
    /* p^2, 6 pairs of 2, 5 times joined of 2 */
    tell("ethanol + water", ETHANOL, (struct count){ 23, 0, 22 }, 0.0);
    /* shares: sums 9, products 9, a division for three; ethanol-water 23; sugar-water: sum 2, increment 12, factors 8,
     * densities 5, specific volume 9; the rule: sums 8, volumes 11, acid-water 6, one denominator 15 and a division */
    const struct count mixture = { 117, 2, 115 };
    tell("mixture, fractions judged", JUDGED, mixture, 2.0 * best[MIX_MIXTURE]);
    tell("mixture, masses", MASSES, mixture, 2.0 * best[MIX_MIXTURE]);
    tell("mixture, masses, 128 at once", BLOCK, mixture, 2.0 * best[MIX_MIXTURE]);
    /* part, start and scale 14; 3 values of 23, 2 slopes of 23, 3 steps of 3 and a division */
    tell("ethanol from strength", STRENGTH, (struct count){ 138, 3, 133 }, 3.0 * best[MIX_STRENGTH]);
    return 0;
}
