#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "learn_inside.h"
#include "random.h"

/* What is left of doubt is seldom a bell: where most is out before anybody looks, "fast" has no upper end.  So the
 * lowest point and its curvature only propose; samples weighed by the likelihood itself give mean and covariance. */

enum { SAMPLES = 160, FREEDOM = 5 };
static const double WIDER = 1.25;      /* than the bell at the lowest point */
static const double LEAST_SIZE = 20.0; /* effective number of samples below which the bell is kept */

/* ---- Cholesky of any size ---- */

bool st_learn_factor(int n, double *A)
{
    for (int c = 0; c < n; c++) {
        for (int k = 0; k < c; k++)
            for (int r = c; r < n; r++)
                A[r * n + c] -= A[r * n + k] * A[c * n + k];
        if (!(A[c * n + c] > 0.0))
            return false;
        const double root = sqrt(A[c * n + c]);
        for (int r = c; r < n; r++)
            A[r * n + c] /= root;
    }
    return true;
}

static void back(int n, const double *L, double *b)
{
    for (int r = n - 1; r >= 0; r--) {
        for (int k = r + 1; k < n; k++)
            b[r] -= L[k * n + r] * b[k];
        b[r] /= L[r * n + r];
    }
}

void st_learn_solve(int n, const double *L, double *b)
{
    for (int r = 0; r < n; r++) {
        for (int k = 0; k < r; k++)
            b[r] -= L[r * n + k] * b[k];
        b[r] /= L[r * n + r];
    }
    back(n, L, b);
}

/* ---- samples ---- */

struct samples {
    int d;          /* length of x */
    double *x;      /* [SAMPLES * d] */
    double *logq;   /* of the proposal, up to a constant */
    double *weight; /* [SAMPLES] */
};

/* Student's t about x, by L of the information; every second is the other's mirror image. */
static void propose(const struct st_learn_one *o, const double *L, struct samples *s)
{
    double u[ST_LS_MAX + FREEDOM], z[ST_LS_MAX + FREEDOM];
    const size_t n = (size_t)s->d + FREEDOM, row = ST_LS_MAX + FREEDOM;
    for (int k = 0; k < SAMPLES; k += 2) {
        st_uniform_n(20, 1, (uint64_t)k * row, n, u);
        st_normal_from_uniform_n(n, u, z);
        double chi = 0.0, q = 0.0;
        for (int i = 0; i < FREEDOM; i++)
            chi += z[s->d + i] * z[s->d + i] / FREEDOM;
        for (int i = 0; i < s->d; i++)
            q += z[i] * z[i] / chi;
        back(s->d, L, z);
        for (int m = 0; m < 2; m++) {
            for (int i = 0; i < s->d; i++)
                s->x[(k + m) * s->d + i] = o->x[i] + (m ? -1.0 : 1.0) * WIDER * z[i] / sqrt(chi);
            s->logq[k + m] = -0.5 * (FREEDOM + s->d) * log1p(q / FREEDOM);
        }
    }
}

/* Weigh by likelihood times prior over proposal.  False when what is left is too few. */
static bool weigh(struct st_learn_one *o, struct samples *s)
{
    const size_t row = (size_t)o->batch->jar->n_piece * ST_NTHETA;
    double *theta = calloc(SAMPLES * row + 1, sizeof *theta);
    double *latent = calloc((size_t)SAMPLES * (size_t)o->n_seen + 1, sizeof *latent);
    bool ok = theta && latent;
    for (int k = 0; ok && k < SAMPLES; k++)
        st_learn_theta(o, s->x + (size_t)k * (size_t)s->d, theta + (size_t)k * row);
    ok = ok && st_learn_latents(o, SAMPLES, theta, latent) >= 0;
    double most = -(double)INFINITY, sum = 0.0, squares = 0.0;
    for (int k = 0; ok && k < SAMPLES; k++) {
        const double nll =
            st_learn_objective(o, s->x + (size_t)k * (size_t)s->d, latent + (size_t)k * (size_t)o->n_seen);
        s->weight[k] = -nll - s->logq[k];
        most = isfinite(s->weight[k]) ? fmax(most, s->weight[k]) : most;
    }
    for (int k = 0; ok && k < SAMPLES; k++) {
        s->weight[k] = isfinite(s->weight[k]) ? exp(s->weight[k] - most) : 0.0;
        sum += s->weight[k];
        squares += s->weight[k] * s->weight[k];
    }
    free(theta);
    free(latent);
    for (int k = 0; ok && k < SAMPLES; k++)
        s->weight[k] /= sum;
    return ok && sum * sum / squares >= LEAST_SIZE;
}

/* Mean and covariance of the thetas as information beyond the prior. */
static bool inform(struct st_learn_one *o, const struct samples *s)
{
    const int n = o->n_active;
    double mean[ST_LS_MAX] = { 0 }, S[ST_LS_MAX * ST_LS_MAX] = { 0 }, column[ST_LS_MAX];
    for (int k = 0; k < SAMPLES; k++)
        for (int a = 0; a < n; a++)
            mean[a] += s->weight[k] * s->x[k * s->d + a];
    for (int k = 0; k < SAMPLES; k++)
        for (int a = 0; a < n; a++)
            for (int b = 0; b < n; b++)
                S[a * n + b] += s->weight[k] * (s->x[k * s->d + a] - mean[a]) * (s->x[k * s->d + b] - mean[b]);
    if (!st_learn_factor(n, S))
        return false;
    memcpy(column, mean, sizeof column);
    st_learn_solve(n, S, column);
    for (int a = 0; a < n; a++)
        o->h[a] = column[a] / st_learn_prior(o, a);
    for (int b = 0; b < n; b++) {
        memset(column, 0, sizeof column);
        column[b] = 1.0;
        st_learn_solve(n, S, column);
        for (int a = 0; a < n; a++)
            o->P[a * n + b] = (column[a] - (a == b ? 1.0 : 0.0)) / (st_learn_prior(o, a) * st_learn_prior(o, b));
    }
    return true;
}

bool st_learn_sample(struct st_learn_one *o, const double H[])
{
    struct samples s = { .d = o->n_active + o->n_free };
    double L[ST_LS_MAX * ST_LS_MAX];
    memcpy(L, H, (size_t)(s.d * s.d) * sizeof *L);
    s.x = calloc((size_t)SAMPLES * (size_t)s.d + 1, sizeof *s.x);
    s.logq = calloc(SAMPLES, sizeof *s.logq);
    s.weight = calloc(SAMPLES, sizeof *s.weight);
    bool ok = s.x && s.logq && s.weight && st_learn_factor(s.d, L);
    if (ok) {
        propose(o, L, &s);
        ok = weigh(o, &s) && inform(o, &s);
    }
    free(s.x);
    free(s.logq);
    free(s.weight);
    return ok;
}
