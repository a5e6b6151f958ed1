/* A jar of four ingredients, six markers each, for 60 days; invented.  Each marker is a lane: it is in its own
 * ingredient at first, and goes through the liquid into the others.  A draw changes all figures.
 *
 *   bench_bath                  one jar, and 1 000 draws: processor time
 *   bench_bath describe DRAW    the figures of a draw, for bath_scipy.py
 *   bench_bath run DRAW TOL     amounts in the liquid at the times that are asked for, a line a marker
 *   bench_bath time TOL N       processor seconds a draw, over N draws
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "core/bath.h"

enum { PIECES = 4, MARKERS = 24, GROUPS = MARKERS / ST_BATH_LANES, TIMES = 12, ROUNDS = 7 };

static const double DAY = 86400.0, USUAL = 1e-4;
static const enum st_body BODY[PIECES] = { ST_BODY_SPHERE, ST_BODY_SLAB, ST_BODY_CYLINDER, ST_BODY_SLAB };
static const double HALF[PIECES] = { 9e-3, 0.8e-3, 3e-3, 0.15e-3 }; /* m */
static const double D[PIECES] = { 2e-10, 2e-11, 1e-11, 1e-12 };     /* m2/s */
static const double VOLUME[PIECES] = { 400.0, 20.0, 10.0, 15.0 };   /* mL, in 700 mL of liquid */
static const double WASHED[PIECES] = { 0.05, 0.6, 0.2, 0.4 };
static const double BIOT[PIECES] = { 2.0, (double)INFINITY, (double)INFINITY, (double)INFINITY };

static double work[200000];
static struct st_bath bath;

static double processor(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* 0.5 to 2, and evenly so in its logarithm; by number, so that any draw can be made alone. */
static double factor(unsigned draw, unsigned what)
{
    unsigned long long x = (draw * 4096ull + what + 1) * 0x9E3779B97F4A7C15ull;
    x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ull;
    x = (x ^ (x >> 27)) * 0x94D049BB133111EBull;
    return exp2(2.0 * (double)((x ^ (x >> 31)) >> 11) * 0x1p-53 - 1.0);
}

/* Output times: even in their logarithm, 6 hours to 60 days. */
static double time_at(int i)
{
    return 0.25 * DAY * pow(240.0, i / (TIMES - 1.0));
}

static void fill_lane(unsigned draw, int marker, int lane)
{
    const unsigned at = (unsigned)marker * 16u;
    bath.volume[lane] = 700.0;
    for (int j = 0; j < PIECES; j++) {
        struct st_bath_piece *p = &bath.piece[j];
        const unsigned k = at + 4u * (unsigned)j;
        p->in = true;
        p->volume[lane] = VOLUME[j];
        p->rate[lane] = D[j] / (HALF[j] * HALF[j]) * factor(draw, k) * pow(1.2, marker % 6 - 2.5);
        p->partition[lane] = factor(draw, k + 1) * (1.0 + marker % 6);
        p->biot[lane] = BIOT[j] * factor(draw, k + 2);
        p->washed[lane] = WASHED[j];
        p->wash_rate[lane] = 5.0 / 3600.0 * factor(draw, k + 3);
    }
}

static void begin(unsigned draw, int group)
{
    if (st_bath_begin(&bath, PIECES, BODY, ST_BATH_SHELLS_USUAL, work) < 0)
        abort();
    for (int l = 0; l < ST_BATH_LANES; l++)
        fill_lane(draw, group * ST_BATH_LANES + l, l);
    for (int j = 0; j < PIECES; j++) {
        st_lanes c0;
        for (int l = 0; l < ST_BATH_LANES; l++)
            c0[l] = (group * ST_BATH_LANES + l) / 6 == j ? 1.0 : 0.0;
        st_bath_fill(&bath, j, c0);
    }
}

/* y[i][marker]: amount in the liquid at time i. */
static void run(unsigned draw, double tolerance, double y[TIMES][MARKERS])
{
    for (int g = 0; g < GROUPS; g++) {
        double now = 0.0;
        begin(draw, g);
        for (int i = 0; i < TIMES; i++) {
            if (st_bath_run(&bath, time_at(i) - now, tolerance) < 0)
                abort();
            now = time_at(i);
            memcpy(&y[i][g * ST_BATH_LANES], bath.liquid, sizeof(st_lanes));
        }
    }
}

static double seconds_a_draw(double tolerance, unsigned n)
{
    static double y[TIMES][MARKERS];
    const double start = processor();
    for (unsigned i = 0; i < n; i++)
        run(i, tolerance, y);
    return (processor() - start) / n;
}

static void describe(unsigned draw)
{
    printf("times");
    for (int i = 0; i < TIMES; i++)
        printf(" %.17g", time_at(i));
    printf("\nshells %d\n", ST_BATH_SHELLS_USUAL);
    for (int m = 0; m < MARKERS; m++) {
        fill_lane(draw, m, 0);
        for (int j = 0; j < PIECES; j++) {
            const struct st_bath_piece *p = &bath.piece[j];
            printf("%d %d %d %.17g %.17g %.17g %.17g %.17g %.17g %.17g %d\n", m, j, 3 - (int)BODY[j], bath.volume[0],
                   p->volume[0], p->rate[0], p->partition[0], p->biot[0], p->washed[0], p->wash_rate[0], m / 6 == j);
        }
    }
}

static void print_run(unsigned draw, double tolerance)
{
    static double y[TIMES][MARKERS];
    run(draw, tolerance, y);
    for (int m = 0; m < MARKERS; m++)
        for (int i = 0; i < TIMES; i++)
            printf("%.17g%c", y[i][m], i == TIMES - 1 ? '\n' : ' ');
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void tell(void)
{
    double one[ROUNDS], many[ROUNDS];
    for (int i = 0; i < ROUNDS; i++) {
        one[i] = seconds_a_draw(USUAL, 1);
        many[i] = seconds_a_draw(USUAL, 1000);
    }
    qsort(one, ROUNDS, sizeof *one, by_size);
    qsort(many, ROUNDS, sizeof *many, by_size);
    printf("4 ingredients, 24 markers, %d shells, 60 days, %d times asked for; tolerance %g; processor time, median of "
           "%d (least)\n",
           ST_BATH_SHELLS_USUAL, TIMES, USUAL, ROUNDS);
    printf("  one jar     %7.2f ms (%.2f)\n", 1e3 * one[ROUNDS / 2], 1e3 * one[0]);
    printf("  1000 draws  %7.2f s  (%.2f)\n", 1e3 * many[ROUNDS / 2], 1e3 * many[0]);
}

int main(int argc, char **argv)
{
    if (argc == 3 && strcmp(argv[1], "describe") == 0)
        describe((unsigned)strtoul(argv[2], NULL, 10));
    else if (argc == 4 && strcmp(argv[1], "run") == 0)
        print_run((unsigned)strtoul(argv[2], NULL, 10), strtod(argv[3], NULL));
    else if (argc == 4 && strcmp(argv[1], "time") == 0)
        printf("%.9g\n", seconds_a_draw(strtod(argv[2], NULL), (unsigned)strtoul(argv[3], NULL, 10)));
    else if (argc == 1)
        tell();
    else
        return 2;
    return 0;
}
