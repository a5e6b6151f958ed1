#include "agree_on.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "agree_inside.h"
#include "core/pseudo_inverse.h"

static_assert((int)AGREE_N <= (int)ST_PSEUDO_MAX, "st_pseudo_inverse has room");

static const double SHARED = 0.5; /* of a reading's own: what its instrument is off for all alike; from memory */
static const double ROUNDING = 1e-12;

double st_agree_as_one_of(int k, int m)
{
    const double own = 1.0 - SHARED * SHARED, shared = SHARED * SHARED;
    return sqrt((own + shared * k) * (own + shared * (k + m)) / own);
}

/* ---- the joint state ---- */

/* Block of P: rows of drink j, columns of drink k. */
static double *block(const struct agree_joint *t, int j, int k)
{
    return t->P + ((size_t)j * (size_t)t->n + (size_t)k) * AGREE_N * AGREE_N;
}

bool st_agree_joint_begin(struct agree_joint *t, int n)
{
    *t = (struct agree_joint){ .n = n };
    t->x = calloc((size_t)n * AGREE_N, sizeof *t->x);
    t->P = calloc((size_t)n * (size_t)n * AGREE_N * AGREE_N, sizeof *t->P);
    return t->x && t->P;
}

void st_agree_joint_done(struct agree_joint *t)
{
    free(t->x);
    free(t->P);
    *t = (struct agree_joint){ .n = 0 };
}

double *st_agree_joint_block(struct agree_joint *t, int j, int k)
{
    return block(t, j, k);
}

/* G = cov(y, x) P0^-1. */
static void gain(const struct agree_joint *t, int j, int k, const double inverse[], double G[])
{
    const double *yx = block(t, j, k);
    for (int a = 0; a < AGREE_N; a++)
        for (int b = 0; b < AGREE_N; b++) {
            G[a * AGREE_N + b] = 0.0;
            for (int i = 0; i < AGREE_N; i++)
                G[a * AGREE_N + b] += yx[a * AGREE_N + i] * inverse[i * AGREE_N + b];
        }
}

/* A B C', added to out times f. */
static void add_product(double f, const double A[], const double B[], const double C[], double out[])
{
    double AB[AGREE_N * AGREE_N];
    for (int a = 0; a < AGREE_N; a++)
        for (int b = 0; b < AGREE_N; b++) {
            AB[a * AGREE_N + b] = 0.0;
            for (int i = 0; i < AGREE_N; i++)
                AB[a * AGREE_N + b] += A[a * AGREE_N + i] * B[i * AGREE_N + b];
        }
    for (int a = 0; a < AGREE_N; a++)
        for (int b = 0; b < AGREE_N; b++)
            for (int i = 0; i < AGREE_N; i++)
                out[a * AGREE_N + b] += f * AB[a * AGREE_N + i] * C[b * AGREE_N + i];
}

/* What rounding made of a covariance: exact is what has lost all but rounding of its variance, nothing is correlated beyond 1. */
static void tidy(double P[AGREE_N * AGREE_N], const double was[AGREE_N])
{
    for (int a = 0; a < AGREE_N; a++)
        for (int b = 0; b <= a; b++) {
            double *x = &P[a * AGREE_N + b], *y = &P[b * AGREE_N + a];
            const double va = P[a * AGREE_N + a], vb = P[b * AGREE_N + b];
            const bool exact = va <= ROUNDING * was[a] || vb <= ROUNDING * was[b];
            const double most = exact || a == b ? 0.0 : sqrt(va * vb), both = 0.5 * (*x + *y);
            if (a != b)
                *x = *y = fmin(fmax(both, -most), most);
        }
    for (int a = 0; a < AGREE_N; a++)
        if (P[a * AGREE_N + a] <= ROUNDING * was[a])
            P[a * AGREE_N + a] = 0.0;
}

enum st_status st_agree_joint_learn(struct agree_joint *t, int k, const double x1[], const double C1[])
{
    enum { NN = AGREE_N * AGREE_N };
    double inverse[NN], less[NN], shift[AGREE_N];
    double *G = calloc((size_t)t->n * NN, sizeof *G);
    memcpy(inverse, block(t, k, k), sizeof inverse);
    const enum st_status s = G ? st_pseudo_inverse(AGREE_N, inverse) : ST_E_NOCONV;
    for (int i = 0; i < NN; i++)
        less[i] = block(t, k, k)[i] - C1[i];
    for (int a = 0; a < AGREE_N; a++)
        shift[a] = x1[a] - t->x[k * AGREE_N + a];
    for (int j = k + 1; j < t->n && s >= 0; j++) {
        gain(t, j, k, inverse, G + (size_t)j * NN);
        for (int a = 0; a < AGREE_N; a++)
            for (int b = 0; b < AGREE_N; b++)
                t->x[j * AGREE_N + a] += G[(size_t)j * NN + (size_t)(a * AGREE_N + b)] * shift[b];
    }
    for (int j = k + 1; j < t->n && s >= 0; j++) {
        double was[AGREE_N];
        for (int a = 0; a < AGREE_N; a++)
            was[a] = block(t, j, j)[a * AGREE_N + a];
        for (int l = k + 1; l < t->n; l++)
            add_product(-1.0, G + (size_t)j * NN, less, G + (size_t)l * NN, block(t, j, l));
        tidy(block(t, j, j), was);
    }
    free(G);
    return s;
}

/* ---- of draws ---- */

/* The errors that readings share are one unknown, of which each drink has its own size. */
static void join_shared(struct agree_joint *t, const struct agree_drink d[])
{
    for (int j = 0; j < t->n; j++)
        for (int k = 0; k < t->n; k++)
            for (int a = AGREE_RULE; a <= AGREE_OPTICS; a++)
                block(t, j, k)[a * AGREE_N + a] = sqrt(d[j].P[a * AGREE_N + a] * d[k].P[a * AGREE_N + a]);
}

void st_agree_joint_draws(struct agree_joint *t, const struct st_agree_part part[], const struct agree_drink d[])
{
    const int draws = part[0].told->draws;
    double x[ST_AGREE_PARTS][AGREE_N];
    for (int k = 0; k < t->n; k++)
        memcpy(t->x + (size_t)k * AGREE_N, d[k].x0, sizeof d[k].x0);
    for (int i = 0; i < draws; i++) {
        for (int k = 0; k < t->n; k++)
            st_agree_drawn(part[k].told, part[k].drained, i, x[k]);
        for (int j = 0; j < t->n; j++)
            for (int k = 0; k < j; k++)
                for (int a = 0; a < AGREE_RULE; a++)
                    for (int b = 0; b < AGREE_RULE; b++)
                        block(t, j, k)[a * AGREE_N + b] +=
                            (x[j][a] - d[j].x0[a]) * (x[k][b] - d[k].x0[b]) / (draws - 1);
    }
    for (int j = 0; j < t->n; j++) {
        memcpy(block(t, j, j), d[j].P, sizeof d[j].P);
        for (int k = 0; k < j; k++)
            for (int a = 0; a < AGREE_RULE; a++)
                for (int b = 0; b < AGREE_RULE; b++)
                    block(t, k, j)[b * AGREE_N + a] = block(t, j, k)[a * AGREE_N + b];
    }
    join_shared(t, d);
}
