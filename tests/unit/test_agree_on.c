/* What was read before something was added goes on to hold: against all readings of then and of now in one sum of squares, reckoned
 * here by itself over the first drink and what was added to it; and truths that are drawn.  No outside figures. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "agree_kit.h"
#include "core/strength.h"
#include "model/agree_on.h"

enum { N = AGREE_N, NN = AGREE_N * AGREE_N, PARTS = 5, ALL = 3 * N };

static void near(double got, double want, double tol)
{
    if (!(fabs(got - want) <= tol))
        fail_msg("got %.15g, want %.15g +- %g", got, want, tol);
}

static double drawn(uint32_t input, uint64_t draw)
{
    double u;
    st_uniform_n(77, input, draw, 1, &u);
    return st_normal_from_uniform(u);
}

/* ---- readings that are linear, all at once ---- */

/* x[n], C[n*n] by m readings y = H x with standard uncertainty 1, at once: C H' (H C H' + I)^-1. */
static void read_linear(int n, double x[], double C[], int m, const double H[], const double y[])
{
    double HC[9 * ALL], M[9 * 9], inverse[9 * 9] = { 0 }, gain[ALL * 9];
    assert_true(m <= 9 && n <= ALL);
    for (int i = 0; i < m; i++)
        for (int b = 0; b < n; b++) {
            HC[i * n + b] = 0.0;
            for (int a = 0; a < n; a++)
                HC[i * n + b] += H[i * n + a] * C[a * n + b];
        }
    for (int i = 0; i < m; i++)
        for (int k = 0; k < m; k++) {
            M[i * m + k] = inverse[i * m + k] = i == k;
            for (int a = 0; a < n; a++)
                M[i * m + k] += HC[i * n + a] * H[k * n + a];
        }
    for (int p = 0; p < m; p++) { /* Gauss and Jordan; M is positive definite */
        const double pivot = M[p * m + p];
        for (int k = 0; k < m; k++) {
            M[p * m + k] /= pivot;
            inverse[p * m + k] /= pivot;
        }
        for (int i = 0; i < m; i++) {
            const double f = M[i * m + p];
            for (int k = 0; k < m && i != p; k++) {
                M[i * m + k] -= f * M[p * m + k];
                inverse[i * m + k] -= f * inverse[p * m + k];
            }
        }
    }
    for (int a = 0; a < n; a++)
        for (int k = 0; k < m; k++) {
            gain[a * m + k] = 0.0;
            for (int i = 0; i < m; i++)
                gain[a * m + k] += HC[i * n + a] * inverse[i * m + k];
        }
    double off[9];
    for (int i = 0; i < m; i++) {
        off[i] = y[i];
        for (int a = 0; a < n; a++)
            off[i] -= H[i * n + a] * x[a];
    }
    for (int a = 0; a < n; a++)
        for (int k = 0; k < m; k++)
            x[a] += gain[a * m + k] * off[k];
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            for (int k = 0; k < m; k++)
                C[a * n + b] -= gain[a * m + k] * HC[k * n + b];
}

/* A covariance with these standard deviations, correlated somehow; 0 is exact. */
static void any_covariance(uint32_t input, uint64_t draw, const double sd[N], double P[NN])
{
    double B[NN], root[N];
    for (int i = 0; i < NN; i++)
        B[i] = drawn(input + (uint32_t)i, draw);
    for (int a = 0; a < N; a++)
        for (int b = 0; b < N; b++) {
            P[a * N + b] = 0.0;
            for (int k = 0; k < N; k++)
                P[a * N + b] += B[a * N + k] * B[b * N + k];
        }
    for (int a = 0; a < N; a++)
        root[a] = sqrt(P[a * N + a]);
    for (int a = 0; a < N; a++)
        for (int b = 0; b < N; b++)
            P[a * N + b] *= sd[a] * sd[b] / (root[a] * root[b]);
}

static const double DRINK[N] = { 160.0, 150.0, 6.0, 9.0, 460.0 };
static const double SD_THEN[N] = { 6.0, 7.0, 1.0, 2.0, 11.0, 4.0, 0.0, 0.0, 0.0, 2e-4, 0.3 };
static const double SD_ADDED[N] = { 0.5, 1.0, 0.1, 0.2, 2.0 }; /* nothing of what readings share, or was drained */

/* x; y = S1 x + a1; w = S2 y + a2: three readings of each, in their standard uncertainty. */
struct story {
    double x0[N], P0[NN], added[2][N], A[2][NN], S[2][NN];
    double H[3][3 * N], y[3][3];
};

/* What is left of a drink: nearly all of it, a share; or its mixture alone, the amount measured. */
static void any_map(uint64_t t, uint32_t input, const double x0[N], double S[NN])
{
    static const double SHARE[3] = { 1.0, 0.6, 0.08 };
    const double s = SHARE[t % 3];
    double whole = 0.0;
    for (int a = 0; a < PARTS; a++)
        whole += x0[a];
    for (int a = 0; a < N; a++)
        for (int b = 0; b < N; b++) {
            S[a * N + b] = a == b ? 1.0 : 0.0; /* what readings share, and what was drained, is the same */
            if (a < PARTS && b < PARTS)
                S[a * N + b] = (a == b ? s : 0.0) - (t / 3 % 2 ? s * x0[a] / whole : 0.0) +
                               0.01 * drawn(input + (uint32_t)(a * N + b), t);
        }
}

static void tell_story(uint64_t t, struct story *k)
{
    double mean[3][N];
    memcpy(k->x0, DRINK, sizeof k->x0);
    memcpy(mean[0], DRINK, sizeof mean[0]);
    any_covariance(0, t, SD_THEN, k->P0);
    for (int i = 0; i < 2; i++) {
        any_covariance(200 + 1000 * (uint32_t)i, t, SD_ADDED, k->A[i]);
        any_map(t + 2 * (uint64_t)i, 3000 + 1000 * (uint32_t)i, mean[i], k->S[i]);
        for (int a = 0; a < N; a++) {
            k->added[i][a] = mean[i + 1][a] = a < PARTS ? 20.0 * fabs(drawn(400 + (uint32_t)(i * N + a), t)) : 0.0;
            for (int b = 0; b < N; b++)
                mean[i + 1][a] += k->S[i][a * N + b] * mean[i][b];
        }
    }
    for (int j = 0; j < 3; j++)
        for (int i = 0; i < 3; i++) {
            k->y[j][i] = 3.0 * drawn(700 + (uint32_t)(j * 3 + i), t);
            for (int a = 0; a < N; a++) { /* in which the drink is uncertain by about two */
                const double sd = SD_THEN[a];
                k->H[j][i * N + a] = sd > 0.0 ? 2.0 * drawn(500 + (uint32_t)((j * 3 + i) * N + a), t) / sd : 0.0;
                k->y[j][i] += k->H[j][i * N + a] * mean[j][a];
            }
        }
}

/* M[j]: what x, a1, a2 are to drink j: [N*ALL]. */
static void makes(const struct story *k, double M[3][N * ALL])
{
    memset(M, 0, 3 * sizeof *M);
    for (int a = 0; a < N; a++)
        M[0][a * ALL + a] = 1.0;
    for (int j = 1; j < 3; j++)
        for (int a = 0; a < N; a++) {
            M[j][a * ALL + j * N + a] = 1.0;
            for (int c = 0; c < ALL; c++)
                for (int b = 0; b < N; b++)
                    M[j][a * ALL + c] += k->S[j - 1][a * N + b] * M[j - 1][b * ALL + c];
        }
}

static void all_of_it(const struct story *k, double z[ALL], double P[ALL * ALL])
{
    memset(P, 0, ALL * ALL * sizeof *P);
    for (int a = 0; a < N; a++) {
        z[a] = k->x0[a];
        z[N + a] = k->added[0][a];
        z[2 * N + a] = k->added[1][a];
        for (int b = 0; b < N; b++) {
            P[a * ALL + b] = k->P0[a * N + b];
            P[(N + a) * ALL + N + b] = k->A[0][a * N + b];
            P[(2 * N + a) * ALL + 2 * N + b] = k->A[1][a * N + b];
        }
    }
}

/* Mean of drink j, covariance of drinks j and l, of z and P. */
static void drink_of(double M[3][N * ALL], const double z[ALL], const double P[ALL * ALL], int j, int l, double x[N],
                     double C[NN])
{
    static double MP[N * ALL];
    for (int a = 0; a < N; a++) {
        x[a] = 0.0;
        for (int c = 0; c < ALL; c++) {
            x[a] += M[j][a * ALL + c] * z[c];
            MP[a * ALL + c] = 0.0;
            for (int e = 0; e < ALL; e++)
                MP[a * ALL + c] += M[j][a * ALL + e] * P[e * ALL + c];
        }
    }
    for (int a = 0; a < N; a++)
        for (int b = 0; b < N; b++) {
            C[a * N + b] = 0.0;
            for (int c = 0; c < ALL; c++)
                C[a * N + b] += MP[a * ALL + c] * M[l][b * ALL + c];
        }
}

/* All nine readings at once; the drink of now out of that. */
static void at_once(const struct story *k, double y[N], double C[NN])
{
    static double z[ALL], P[ALL * ALL], M[3][N * ALL], H[9 * ALL], read[9];
    makes(k, M);
    all_of_it(k, z, P);
    memset(H, 0, sizeof H);
    for (int j = 0; j < 3; j++)
        for (int i = 0; i < 3; i++) {
            read[j * 3 + i] = k->y[j][i];
            for (int c = 0; c < ALL; c++)
                for (int a = 0; a < N; a++)
                    H[(j * 3 + i) * ALL + c] += k->H[j][i * N + a] * M[j][a * ALL + c];
        }
    read_linear(ALL, z, P, 9, H, read);
    drink_of(M, z, P, 2, 2, y, C);
}

/* One drink after the other, as the program goes. */
static void one_by_one(const struct story *k, double y[N], double C[NN])
{
    static double z[ALL], P[ALL * ALL], M[3][N * ALL];
    struct agree_joint t;
    makes(k, M);
    all_of_it(k, z, P);
    assert_true(st_agree_joint_begin(&t, 3));
    for (int j = 0; j < 3; j++)
        for (int l = 0; l < 3; l++)
            drink_of(M, z, P, j, l, t.x + j * N, st_agree_joint_block(&t, j, l));
    for (int j = 0; j < 3; j++) {
        memcpy(y, t.x + j * N, N * sizeof *y);
        memcpy(C, st_agree_joint_block(&t, j, j), NN * sizeof *C);
        read_linear(N, y, C, 3, k->H[j], k->y[j]);
        if (j < 2)
            assert_int_equal(st_agree_joint_learn(&t, j, y, C), ST_OK);
    }
    st_agree_joint_done(&t);
}

static void as_one_sum_of_squares(void **state)
{
    (void)state;
    for (uint64_t t = 0; t < 36; t++) {
        static struct story k;
        double y[N], C[NN], want[N], D[NN];
        tell_story(t, &k);
        at_once(&k, want, D);
        one_by_one(&k, y, C);
        for (int a = 0; a < N; a++) {
            near(y[a], want[a], 1e-7 * (SD_THEN[a] + SD_ADDED[a]) + 1e-12);
            for (int b = 0; b < N; b++)
                near(C[a * N + b], D[a * N + b],
                     1e-7 * (SD_THEN[a] + SD_ADDED[a]) * (SD_THEN[b] + SD_ADDED[b]) + 1e-12);
        }
    }
}

/* Read exactly, and only something exact was added: nothing is left open. Nothing learnt, nothing changed. */
static void ends(void **state)
{
    (void)state;
    struct agree_joint t;
    double P[NN], exact[NN] = { 0 }, x1[N];
    any_covariance(0, 5, SD_THEN, P);
    assert_true(st_agree_joint_begin(&t, 2));
    for (int j = 0; j < 2; j++) {
        memcpy(t.x + j * N, DRINK, sizeof DRINK);
        for (int l = 0; l < 2; l++)
            memcpy(st_agree_joint_block(&t, j, l), P, sizeof P);
    }
    t.x[N + AGREE_WATER] += 100.0;
    assert_int_equal(st_agree_joint_learn(&t, 0, DRINK, P), ST_OK);
    for (int i = 0; i < NN; i++)
        near(st_agree_joint_block(&t, 1, 1)[i], P[i], 1e-9 * P[AGREE_WATER * (N + 1)]);
    for (int a = 0; a < N; a++)
        x1[a] = DRINK[a] + 0.3 * SD_THEN[a];
    assert_int_equal(st_agree_joint_learn(&t, 0, x1, exact), ST_OK);
    for (int a = 0; a < N; a++)
        near(t.x[N + a], x1[a] + (a == AGREE_WATER ? 100.0 : 0.0), 1e-7 * DRINK[AGREE_WATER]);
    for (int i = 0; i < NN; i++)
        near(st_agree_joint_block(&t, 1, 1)[i], 0.0, 1e-9 * P[AGREE_WATER * (N + 1)]);
    st_agree_joint_done(&t);
}

/* k + m readings of one kind, k of them earlier, are worth what they are at one time: n of them have the variance (3/4 + n/4)/n. */
static void one_instrument_at_two_times(void **state)
{
    (void)state;
    for (int k = 0; k < 6; k++)
        for (int m = 1; m < 6; m++) {
            const double first = k > 0 ? k / pow(st_agree_as_one_of(0, k), 2.0) : 0.0;
            near(first + m / pow(st_agree_as_one_of(k, m), 2.0), (k + m) / (0.75 + 0.25 * (k + m)), 1e-12);
        }
}

/* ---- drinks ---- */

enum { DRAWS = 1500, TRUTHS = 500 };

static struct agree_kit K;
static struct st_foretold TRUTH, NOW, TRUE_NOW; /* NOW: K's with something added */

/* Water and sugar, weighed roughly, in the drink of draw i. */
static void with_added(const struct st_foretold *then, uint32_t input, int i, double m[ST_NCOMP])
{
    kit_truth(then, i, m);
    m[ST_WATER] += 80.0 + 3.0 * drawn(input, (uint64_t)i);
    m[ST_SUCROSE] += 30.0 + 1.0 * drawn(input + 1, (uint64_t)i);
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void make_now(const struct st_foretold *then, uint32_t input, struct st_foretold *now)
{
    static const struct {
        enum st_figure fig;
        enum st_shows shows;
    } F[] = { { ST_FIG_STRENGTH, ST_SHOWS_STRENGTH }, { ST_FIG_SUGAR, ST_SHOWS_SUGAR },
              { ST_FIG_ACID, ST_SHOWS_ACID },         { ST_FIG_VOLUME, ST_SHOWS_VOLUME },
              { ST_FIG_MASS, ST_SHOWS_MASS },         { ST_FIG_EXTRACT, ST_SHOWS_SUGAR } };
    memset(now, 0, sizeof *now);
    now->draws = then->draws;
    for (int f = 0; f < 6; f++) {
        double *x = calloc((size_t)then->draws, sizeof *x), *sorted = calloc((size_t)then->draws, sizeof *x);
        assert_true(x && sorted);
        for (int i = 0; i < then->draws; i++) {
            double m[ST_NCOMP];
            with_added(then, input, i, m);
            assert_true(st_drink_reading(m, F[f].shows, ST_T20, 0.0, &x[i]) >= 0);
            if (F[f].fig == ST_FIG_EXTRACT) /* sugar and acid */
                x[i] += now->draw[ST_FIG_ACID][i];
            sorted[i] = x[i];
        }
        qsort(sorted, (size_t)then->draws, sizeof *sorted, by_size);
        now->draw[F[f].fig] = x;
        now->fig[F[f].fig] = (struct st_interval){ .value = sorted[then->draws / 2],
                                                   .low = sorted[(int)(0.025 * then->draws)],
                                                   .high = sorted[(int)(0.975 * then->draws)],
                                                   .known = true };
        free(sorted);
    }
    with_added(then, input, 0, now->final_g);
}

static int begin(void **state)
{
    (void)state;
    agree_kit_begin(&K);
    agree_kit_run(&K, 99, TRUTHS, &TRUTH);
    make_now(&K.told, 900, &NOW);
    make_now(&TRUTH, 910, &TRUE_NOW);
    return 0;
}

static int end(void **state)
{
    (void)state;
    for (int f = 0; f < ST_NFIG; f++) {
        free(NOW.draw[f]);
        free(TRUE_NOW.draw[f]);
    }
    st_foretold_done(&TRUTH);
    agree_kit_done(&K);
    return 0;
}

static struct st_observation seen(enum st_seen what, enum st_shows shows, const double m[ST_NCOMP], double sd,
                                  uint32_t input, int t)
{
    struct st_observation o = kit_read(m, what, shows, ST_T20);
    o.sd = sd;
    o.value += sd * drawn(input, (uint64_t)t);
    return o;
}

/* Read then, something added, read again, or not: ranges of now hold in 95 of 100, agreement is doubted in about 5, and what was read
 * then is worth something. */
static void intervals_hold_behind_an_addition(void **state)
{
    (void)state;
    int held[2][ST_AGREE_NFIG] = { { 0 } }, doubted = 0;
    double width[2] = { 0.0 }, foretold = 0.0;
    for (int t = 0; t < TRUTHS; t++) {
        double m[ST_NCOMP], x[ST_AGREE_NFIG];
        struct st_agreement o[2], both[2];
        kit_truth(&TRUTH, t, m);
        const struct st_observation first[3] = { seen(ST_SEEN_STRENGTH, ST_SHOWS_STRENGTH, m, 0.3, 920, t),
                                                 seen(ST_SEEN_SUGAR, ST_SHOWS_SUGAR, m, 2.0, 921, t),
                                                 seen(ST_SEEN_LIQUOR_G, ST_SHOWS_MASS, m, 4.0, 922, t) };
        with_added(&TRUTH, 910, t, m);
        const struct st_observation again[1] = { seen(ST_SEEN_SG, ST_SHOWS_SG, m, 0.002, 923, t) };
        struct st_agree_part part[2] = { { .told = &K.told, .seen = first, .n = 3 }, { .told = &NOW } };
        assert_true(st_agree_on(part, 2, both) >= 0);
        o[0] = both[1];
        doubted += !both[0].agree;
        if (!both[0].agree)
            continue;
        part[1].seen = again;
        part[1].n = 1;
        assert_true(st_agree_on(part, 2, both) >= 0);
        o[1] = both[1];
        assert_int_equal(o[0].n_carried, 3);
        assert_true(o[0].agree && o[0].df == 0 && o[1].df == 1);
        foretold += NOW.fig[ST_FIG_STRENGTH].high - NOW.fig[ST_FIG_STRENGTH].low;
        for (int f = 0; f < ST_AGREE_NFIG; f++) {
            x[f] = TRUE_NOW.draw[st_agree_figure_of((enum st_agree_figure)f)][t];
            near(o[0].after[f].value, o[0].carried[f].value, 1e-9);
            near(o[1].carried[f].value, o[0].carried[f].value, 1e-9);
            near(o[0].before[f].value, NOW.fig[st_agree_figure_of((enum st_agree_figure)f)].value, 0.0);
            for (int k = 0; k < 2; k++)
                held[k][f] += x[f] >= o[k].after[f].low && x[f] <= o[k].after[f].high;
        }
        for (int k = 0; k < 2; k++)
            width[k] += o[k].after[ST_AGREE_STRENGTH].high - o[k].after[ST_AGREE_STRENGTH].low;
    }
    const int n = TRUTHS - doubted;
    for (int k = 0; k < 2; k++)
        for (int f = 0; f < ST_AGREE_NFIG; f++) {
            print_message("%d read since, %s: %d of %d held\n", k,
                          st_figure_info(st_agree_figure_of((enum st_agree_figure)f))->name, held[k][f], n);
            near((double)held[k][f] / n, 0.95, 0.04); /* 4 standard deviations of such a count */
        }
    print_message("doubted %d; strength foretold to %.2f, carried to %.2f, read again to %.2f\n", doubted, foretold / n,
                  width[0] / n, width[1] / n);
    assert_true(doubted < 0.09 * TRUTHS);
    assert_true(width[0] < 0.7 * foretold && width[1] < width[0]);
}

/* What nobody believes does not go on; where it is known which it is, the others do. */
static void what_is_doubted_stays_behind(void **state)
{
    (void)state;
    double m[ST_NCOMP];
    struct st_agreement o[2], alone[2];
    kit_truth(&TRUTH, 3, m);
    struct st_observation s[4] = { seen(ST_SEEN_STRENGTH, ST_SHOWS_STRENGTH, m, 0.3, 930, 3),
                                   seen(ST_SEEN_SUGAR, ST_SHOWS_SUGAR, m, 2.0, 931, 3),
                                   seen(ST_SEEN_SG, ST_SHOWS_SG, m, 0.001, 932, 3),
                                   seen(ST_SEEN_LIQUOR_G, ST_SHOWS_MASS, m, 4.0, 933, 3) };
    struct st_agree_part part[2] = { { .told = &K.told, .seen = s, .n = 4 }, { .told = &NOW } };
    assert_true(st_agree_on(part, 2, o) >= 0);
    assert_true(o[0].agree && o[1].n_carried == 4);
    s[2].value += 0.05;
    assert_true(st_agree_on(part, 2, o) >= 0);
    assert_int_equal(o[0].doubt, ST_DOUBT_READING);
    assert_int_equal(o[0].suspect, 2);
    assert_int_equal(o[1].n_carried, 3);
    assert_true(!st_agree_goes_on(&o[0], 2) && st_agree_goes_on(&o[0], 1));
    /* as if it had not been read */
    const struct st_observation three[3] = { s[0], s[1], s[3] };
    part[0].seen = three;
    part[0].n = 3;
    assert_true(st_agree_on(part, 2, alone) >= 0);
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        near(o[1].after[f].value, alone[1].after[f].value, 1e-5 * fmax(1.0, alone[1].after[f].value));
    /* one wild reading: nobody knows whether it or the recipe is wrong; it does not go on, and now is as foretold */
    struct st_observation wild = seen(ST_SEEN_STRENGTH, ST_SHOWS_STRENGTH, m, 0.3, 934, 3);
    wild.value += 8.0;
    part[0] = (struct st_agree_part){ .told = &K.told, .seen = &wild, .n = 1 };
    assert_true(st_agree_on(part, 2, o) >= 0);
    assert_int_equal(o[0].doubt, ST_DOUBT_EITHER);
    assert_int_equal(o[1].n_carried, 0);
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        near(o[1].after[f].value, o[1].before[f].value, 1e-9);
    /* draws of different numbers share nothing */
    struct st_foretold few = K.told;
    few.draws = 100;
    part[0].told = &few;
    assert_int_equal(st_agree_on(part, 2, o), ST_E_DOMAIN);
    assert_int_equal(st_agree_on(part, 0, o), ST_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(as_one_sum_of_squares), cmocka_unit_test(ends),
                                        cmocka_unit_test(one_instrument_at_two_times),
                                        cmocka_unit_test(intervals_hold_behind_an_addition),
                                        cmocka_unit_test(what_is_doubted_stays_behind) };
    return cmocka_run_group_tests(tests, begin, end);
}
