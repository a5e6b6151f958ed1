/* Random numbers by counter: known answers, independence of cutting, the normal inverse against values worked out
 * apart from the program. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "model/quantile.h"
#include "model/random.h"
#include "model/range.h"

/* [salmon2011] known answers of Philox4x32-10; from memory */
static void philox_known_answers(void **state)
{
    static const struct {
        uint32_t key[2], counter[4], out[4];
    } K[] = {
        { { 0, 0 }, { 0, 0, 0, 0 }, { 0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8 } },
        { { 0xffffffff, 0xffffffff },
          { 0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff },
          { 0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd } },
        { { 0xa4093822, 0x299f31d0 },
          { 0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344 },
          { 0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1 } },
    };
    (void)state;
    for (size_t i = 0; i < sizeof K / sizeof K[0]; i++) {
        uint32_t out[4];
        st_philox4x32(K[i].key, K[i].counter, out);
        assert_memory_equal(out, K[i].out, sizeof out);
    }
}

static void uniforms_come_from_the_published_words(void **state)
{
    double u;
    (void)state;
    st_uniform_n(0, 0, 0, 1, &u); /* key 0, counter 0: words 6627e8d5 e169c58d */
    const uint64_t bits = (((uint64_t)0x6627e8d5 << 32) | 0xe169c58d) >> 12;
    assert_true(u == ((double)bits + 0.5) * 0x1p-52);
}

/* The normal deviate of exact doubles, by arithmetic of 40 and more digits in another program. */
static void normal_inverse(void **state)
{
    static const double K[][2] = {
        { 0x1.0000000000000p-53, -8.2095361516013868556 }, { 0x1.56e1fc2f8f359p-997, -37.047096299361199237 },
        { 0x1.79ca10c924223p-67, -9.2623400897984075796 }, { 0x1.b7cdfd9d7bdbbp-34, -6.3613409024040561991 },
        { 0x1.4f8b588e368f1p-17, -4.2648907939228246102 }, { 0x1.0624dd2f1a9fcp-10, -3.0902323061678135354 },
        { 0x1.999999999999ap-6, -1.9599639845400542118 },  { 0x1.32ca57a786c22p-4, -1.4402382675279636631 },
        { 0x1.3333333333333p-4, -1.4395314709384559349 },  { 0x1.999999999999ap-4, -1.2815515655446004353 },
        { 0x1.0000000000000p-2, -0.6744897501960817432 },  { 0x1.0000000000000p-1, 0.0 },
        { 0x1.3333333333333p-1, 0.25334710313579974132 },  { 0x1.8000000000000p-1, 0.6744897501960817432 },
        { 0x1.d99999999999ap-1, 1.4395314709384562291 },   { 0x1.d9a6b50b0f27cp-1, 1.4402382675279638594 },
        { 0x1.f333333333333p-1, 1.9599639845400538556 },   { 0x1.ff7ced916872bp-1, 3.0902323061678132778 },
        { 0x1.fffffca501acbp-1, 5.1993375822906610937 },   { 0x1.fffffffffffffp-1, 8.2095361516013868556 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof K / sizeof K[0]; i++) {
        const double z = st_normal_from_uniform(K[i][0]);
        assert_true(fabs(z - K[i][1]) <= 1e-14 * fmax(1.0, fabs(K[i][1])));
    }
    assert_true(isnan(st_normal_from_uniform(0.0)));
    assert_true(isnan(st_normal_from_uniform(1.0)));
    assert_true(isnan(st_normal_from_uniform(-0.1)));
    assert_true(isnan(st_normal_from_uniform((double)NAN)));
}

static void any_cut_gives_the_same_numbers(void **state)
{
    enum { N = 1000 };
    static double whole[N], part[N];
    static const size_t CUT[] = { 1, 7, 127, 128, 129, 500, 999 };
    const struct st_column c = { 0.5, 0.2, 0.6, 0.0, 1.0, ST_SHAPE_SPLIT, 77, 0, ST_DOUBT_LASTING };
    (void)state;
    st_column_draw(&c, 3, 0, N, whole);
    for (size_t k = 0; k < sizeof CUT / sizeof CUT[0]; k++) {
        for (size_t i = 0; i < N; i += CUT[k])
            st_column_draw(&c, 3, i, N - i < CUT[k] ? N - i : CUT[k], part + i);
        assert_memory_equal(whole, part, sizeof whole);
    }
}

static void seeds_and_inputs_differ(void **state)
{
    double a[64], b[64], c[64], d[64];
    int same = 0;
    (void)state;
    st_uniform_n(1, 5, 0, 64, a);
    st_uniform_n(2, 5, 0, 64, b);
    st_uniform_n(1, 6, 0, 64, c);
    st_uniform_n(1, 5, (uint64_t)1 << 32, 64, d); /* beyond 32 bits of draws */
    for (int i = 0; i < 64; i++)
        same += (a[i] == b[i]) + (a[i] == c[i]) + (a[i] == d[i]);
    assert_int_equal(same, 0);
}

/* Uniformity in 256 cells, chi-squared with 255 degrees: 170 .. 350 leaves out 1 run in 10 000; the seed is fixed. */
static void uniforms_fill_evenly(void **state)
{
    enum { N = 65536, CELLS = 256 };
    static double u[N];
    int count[CELLS] = { 0 };
    double chi2 = 0.0;
    (void)state;
    st_uniform_n(1, 99, 0, N, u);
    for (int i = 0; i < N; i++) {
        assert_true(u[i] > 0.0 && u[i] < 1.0);
        count[(int)(u[i] * CELLS)]++;
    }
    for (int k = 0; k < CELLS; k++)
        chi2 += pow(count[k] - N / CELLS, 2) / (N / CELLS);
    assert_true(chi2 > 170.0 && chi2 < 350.0);
}

/* A split normal goes through its three points; order statistics of 200 000 draws are good to 0.1 % in probability. */
static void split_normal_goes_through_its_points(void **state)
{
    enum { N = 200000 };
    double *x = malloc(N * sizeof *x);
    const struct st_column c = { 3.0, 2.0, 7.0, -100.0, 100.0, ST_SHAPE_SPLIT, 4, 0, ST_DOUBT_LASTING };
    (void)state;
    st_column_draw(&c, 1, 0, N, x);
    int below[3] = { 0 };
    for (int i = 0; i < N; i++) {
        below[0] += x[i] < 2.0;
        below[1] += x[i] < 3.0;
        below[2] += x[i] < 7.0;
    }
    assert_true(fabs(below[0] / (double)N - 0.025) < 0.0015);
    assert_true(fabs(below[1] / (double)N - 0.5) < 0.0045);
    assert_true(fabs(below[2] / (double)N - 0.975) < 0.0015);
    free(x);
}

static void draws_stay_in_their_clips(void **state)
{
    double x[4096];
    const struct st_column c = { 0.98, 0.92, 1.0, 0.0, 1.0, ST_SHAPE_SPLIT, 9, 0, ST_DOUBT_LASTING };
    (void)state;
    st_column_draw(&c, 1, 0, 4096, x);
    for (int i = 0; i < 4096; i++)
        assert_true(x[i] >= 0.0 && x[i] <= 1.0);
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Selection against sorting: many equal values, few values, sorted and reversed. */
static void quantile_by_selection(void **state)
{
    static const double P[] = { 0.0, 0.025, 0.5, 0.975, 1.0 };
    (void)state;
    for (size_t n = 1; n <= 200; n++) {
        double x[200], y[200], sorted[200];
        st_uniform_n(n, 1, 0, n, x);
        for (size_t i = 0; i < n; i++)
            if (n % 4 == 0)
                x[i] = floor(5.0 * x[i]);
            else if (n % 4 == 1)
                x[i] = (double)i;
            else if (n % 4 == 2)
                x[i] = -(double)i;
        for (size_t k = 0; k < sizeof P / sizeof P[0]; k++) {
            for (size_t i = 0; i < n; i++)
                y[i] = sorted[i] = x[i];
            qsort(sorted, n, sizeof *sorted, by_size);
            const double at = P[k] * (double)(n - 1);
            const size_t j = (size_t)at;
            const double next = sorted[j + 1 < n ? j + 1 : j];
            assert_true(fabs(st_quantile(n, y, P[k]) - (sorted[j] + (at - (double)j) * (next - sorted[j]))) < 1e-12);
        }
    }
}

/* The same bits as one at a time, on random numbers, ties, order, and waves that the thresholds' sample cannot see. */
static void pair_of_quantiles(void **state)
{
    static const size_t N[] = { 1, 2, 100, 2047, 2048, 5000, 20011 };
    static double x[20011], y[20011], room[20011];
    (void)state;
    for (size_t k = 0; k < sizeof N / sizeof N[0]; k++)
        for (int kind = 0; kind < 5; kind++) {
            const size_t n = N[k], step = n < 512 ? 1 : n / 512;
            double low, high;
            st_uniform_n(k, 8, 0, n, x);
            for (size_t i = 0; i < n; i++)
                x[i] = kind == 0   ? x[i]
                       : kind == 1 ? floor(5.0 * x[i])
                       : kind == 2 ? (double)i
                       : kind == 3 ? (i % step == 0 ? 2.0 + x[i] : x[i])
                                   : (i % step == 0 ? x[i] - 2.0 : x[i]);
            for (size_t i = 0; i < n; i++)
                y[i] = x[i];
            st_quantile_pair(n, x, 0.025, 0.975, room, &low, &high);
            assert_memory_equal(x, y, n * sizeof *x);
            assert_true(low == st_quantile(n, y, 0.025));
            assert_true(high == st_quantile(n, y, 0.975));
        }
}

/* Whole blocks and single draws, also where the counter passes 32 bits. */
static void blocks_are_single_draws(void **state)
{
    const uint64_t first[] = { 0, 0xFFFFFFFFu - 60, (uint64_t)1 << 40 };
    double whole[131], one;
    (void)state;
    for (int k = 0; k < 3; k++) {
        st_uniform_n(0x123456789ABCDEFu, 77, first[k], 131, whole);
        for (uint64_t i = 0; i < 131; i++) {
            st_uniform_n(0x123456789ABCDEFu, 77, first[k] + i, 1, &one);
            assert_true(one == whole[i]);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(philox_known_answers),
        cmocka_unit_test(uniforms_come_from_the_published_words),
        cmocka_unit_test(normal_inverse),
        cmocka_unit_test(any_cut_gives_the_same_numbers),
        cmocka_unit_test(seeds_and_inputs_differ),
        cmocka_unit_test(uniforms_fill_evenly),
        cmocka_unit_test(split_normal_goes_through_its_points),
        cmocka_unit_test(draws_stay_in_their_clips),
        cmocka_unit_test(quantile_by_selection),
        cmocka_unit_test(pair_of_quantiles),
        cmocka_unit_test(blocks_are_single_draws),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
