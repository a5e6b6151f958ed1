#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "learn_inside.h"
#include "random.h"

/* What is left of doubt is seldom a bell, and may have two: where most is out before anybody looks, "fast" has no upper
 * end; a colour that hardly grows is of something fast or of something slow.  So the lowest points, their curvature and
 * the prior itself only propose; samples weighed by the likelihood give mean and covariance.
 *
 * Samples are spread evenly (a lattice of irrational steps, each with its mirror image), the same ones every time.  They
 * come in rounds: the first about the lowest points and over all of the prior, the others about what the samples so far
 * say, until their effective number is enough.  Each is weighed by the mixture of all proposals so far. */

enum { MOST_BELLS = 24, MOST_SAMPLES = 832, DIM = ST_LS_MAX };
static const double ENOUGH = 60.0; /* effective number of samples: then no more are taken ... */
static const double LEAST = 20.0;  /* ... and below this the bell at the lowest point is kept */

struct bell {
    double mean[DIM], L[DIM * DIM]; /* covariance L L' */
    double ln_root;                 /* ln of the product of L's diagonal */
    int n;
};

struct samples {
    struct st_learn_one *o;
    int d, n, n_bell, planned; /* planned: n when all bells have been drawn from */
    struct bell *bell;
    double *x;       /* [MOST_SAMPLES * d] */
    double *latents; /* [MOST_SAMPLES * n_seen] */
    double *theta;
    double *lnp;               /* of likelihood and prior, up to a constant */
    double *weight, *by_prior; /* each sums to 1: of the posterior, and of the prior alone */
    double size;               /* effective number */
};

/* ---- proposals ---- */

static bool add_bell(struct samples *s, const double mean[], const double C[], double wider, int n)
{
    if (s->n_bell == MOST_BELLS || s->planned + n > MOST_SAMPLES)
        return false;
    struct bell *b = &s->bell[s->n_bell];
    memcpy(b->mean, mean, (size_t)s->d * sizeof *mean);
    for (int i = 0; i < s->d * s->d; i++)
        b->L[i] = C[i] * wider * wider;
    if (!st_learn_factor(s->d, b->L))
        return false;
    b->ln_root = 0.0;
    for (int i = 0; i < s->d; i++)
        b->ln_root += log(b->L[i * s->d + i]);
    b->n = n;
    s->planned += n;
    s->n_bell++;
    return true;
}

/* The k-th point of the lattice in d dimensions: steps are powers of the root of r^(d+1) = r + 1, above 1. */
static void lattice(int d, int k, double u[])
{
    double r = 2.0, a = 1.0;
    for (int i = 0; i < 60; i++)
        r = pow(1.0 + r, 1.0 / (d + 1));
    for (int i = 0; i < d; i++) {
        a /= r;
        const double y = 0.5 + (k + 1) * a;
        u[i] = fmin(fmax(y - floor(y), 1e-6), 1.0 - 1e-6);
    }
}

static void propose(struct samples *s, const struct bell *b)
{
    double u[DIM], z[DIM];
    for (int k = 0; k + 1 < b->n; k += 2) {
        lattice(s->d, k / 2, u);
        st_normal_from_uniform_n((size_t)s->d, u, z);
        for (int m = 0; m < 2; m++, s->n++)
            for (int r = 0; r < s->d; r++) {
                double y = 0.0;
                for (int c = 0; c <= r; c++)
                    y += b->L[r * s->d + c] * z[c];
                s->x[s->n * s->d + r] = b->mean[r] + (m ? -y : y);
            }
    }
}

static double ln_bell(const struct bell *b, int d, const double x[])
{
    double y[DIM], q = 0.0;
    for (int i = 0; i < d; i++)
        y[i] = x[i] - b->mean[i];
    st_learn_forward(d, b->L, y);
    for (int i = 0; i < d; i++)
        q += y[i] * y[i];
    return -0.5 * q - b->ln_root;
}

/* ln of the mixture of all bells, up to a constant of the dimension. */
static double ln_mixture(const struct samples *s, const double x[])
{
    double sum = 0.0, most = -(double)INFINITY, ln[MOST_BELLS];
    for (int i = 0; i < s->n_bell; i++) {
        ln[i] = ln_bell(&s->bell[i], s->d, x) + log((double)s->bell[i].n / s->n);
        most = fmax(most, ln[i]);
    }
    for (int i = 0; i < s->n_bell; i++)
        sum += exp(ln[i] - most);
    return sum > 0.0 ? most + log(sum) : -(double)INFINITY;
}

/* ---- weights ---- */

static void normalise(int n, double ln[])
{
    double most = -(double)INFINITY, sum = 0.0;
    for (int k = 0; k < n; k++)
        most = isfinite(ln[k]) ? fmax(most, ln[k]) : most;
    for (int k = 0; k < n; k++) {
        ln[k] = isfinite(ln[k]) ? exp(ln[k] - most) : 0.0;
        sum += ln[k];
    }
    for (int k = 0; k < n; k++)
        ln[k] /= sum;
}

static double half_square(const struct samples *s, int k)
{
    double q = 0.0;
    for (int i = 0; i < s->d; i++)
        q += 0.5 * s->x[k * s->d + i] * s->x[k * s->d + i];
    return q;
}

/* Run the samples from the first on, and weigh all there are. */
static bool weigh(struct samples *s, int first)
{
    const size_t row = (size_t)s->o->batch->jar->n_piece * ST_NTHETA, seen = (size_t)s->o->n_seen;
    double squares = 0.0;
    for (int k = first; k < s->n; k++)
        st_learn_theta(s->o, s->x + (size_t)(k * s->d), s->theta + (size_t)(k - first) * row);
    if (st_learn_latents(s->o, s->n - first, s->theta, s->latents) < 0)
        return false;
    for (int k = first; k < s->n; k++)
        s->lnp[k] = -half_square(s, k) - st_learn_marginal(s->o, s->latents + (size_t)(k - first) * seen);
    for (int k = 0; k < s->n; k++) {
        const double q = ln_mixture(s, s->x + (size_t)(k * s->d));
        s->weight[k] = s->lnp[k] - q;
        s->by_prior[k] = -half_square(s, k) - q;
    }
    normalise(s->n, s->weight);
    normalise(s->n, s->by_prior);
    for (int k = 0; k < s->n; k++)
        squares += s->weight[k] * s->weight[k];
    s->size = squares > 0.0 && isfinite(squares) ? 1.0 / squares : 0.0;
    return true;
}

static void moments(const struct samples *s, const double weight[], double mean[], double S[])
{
    const int n = s->d;
    memset(mean, 0, (size_t)n * sizeof *mean);
    memset(S, 0, (size_t)(n * n) * sizeof *S);
    for (int k = 0; k < s->n; k++)
        for (int a = 0; a < n; a++)
            mean[a] += weight[k] * s->x[k * n + a];
    for (int k = 0; k < s->n; k++)
        for (int a = 0; a < n; a++)
            for (int b = 0; b < n; b++)
                S[a * n + b] += weight[k] * (s->x[k * n + a] - mean[a]) * (s->x[k * n + b] - mean[b]);
}

/* The same samples tell the prior's own moments too, which are known: 0 and 1.  What they are off by is off in the
 * posterior's as well, the more so the less was learnt of a theta; of what nothing was learnt it is just that. */
static void put_right(const struct samples *s, double mean[], double S[])
{
    const int n = s->d;
    double m0[DIM], V[DIM * DIM], T[DIM * DIM], like[DIM];
    moments(s, s->by_prior, m0, V);
    for (int a = 0; a < n; a++) {
        const double r = fmin(S[a * n + a] / V[a * n + a], 1.0);
        like[a] = r * r;
    }
    memcpy(T, S, (size_t)(n * n) * sizeof *T);
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            T[a * n + b] -= sqrt(like[a] * like[b]) * (V[a * n + b] - (a == b ? 1.0 : 0.0));
    double L[DIM * DIM];
    memcpy(L, T, (size_t)(n * n) * sizeof *L);
    if (!st_learn_factor(n, L))
        return;
    memcpy(S, T, (size_t)(n * n) * sizeof *S);
    for (int a = 0; a < n; a++)
        mean[a] -= like[a] * m0[a];
}

/* ---- what they say ---- */

/* Mean and covariance of the thetas as information beyond the prior. */
static bool inform(struct st_learn_one *o, const double mean[], double S[])
{
    const int n = o->n_active;
    double column[DIM];
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

/* Covariance in x by the curvature at the lowest point, free scales integrated out. */
static bool curvature(const struct st_learn_one *o, double C[])
{
    const int n = o->n_active;
    double H[DIM * DIM], column[DIM];
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            H[a * n + b] = o->P[a * n + b] * st_learn_prior(o, a) * st_learn_prior(o, b) + (a == b ? 1.0 : 0.0);
    if (!st_learn_factor(n, H))
        return false;
    for (int b = 0; b < n; b++) {
        memset(column, 0, sizeof column);
        column[b] = 1.0;
        st_learn_solve(n, H, column);
        for (int a = 0; a < n; a++)
            C[a * n + b] = column[a];
    }
    return true;
}

static bool first_round(struct samples *s)
{
    static const double ZERO[DIM] = { 0 };
    const struct st_learn_one *o = s->o;
    double C[DIM * DIM] = { 0 }, one[DIM * DIM] = { 0 };
    for (int i = 0; i < s->d * s->d; i++)
        one[i] = i / s->d == i % s->d ? 1.0 : 0.0;
    bool ok = curvature(o, C) && add_bell(s, o->x, C, 1.2, 32) && add_bell(s, o->x, C, 2.2, 24) &&
              add_bell(s, ZERO, one, 1.0, 40);
    for (int i = 0; i < o->n_other && ok; i++)
        ok = add_bell(s, o->other[i], one, 0.4, 16);
    for (int i = 0; i < s->n_bell && ok; i++)
        propose(s, &s->bell[i]);
    return ok && weigh(s, 0);
}

static bool next_round(struct samples *s)
{
    const int first = s->n, from = s->n_bell;
    double mean[DIM] = { 0 }, S[DIM * DIM] = { 0 };
    moments(s, s->weight, mean, S);
    for (int a = 0; a < s->d; a++) /* few samples may lie in a plane */
        S[a * s->d + a] += 1e-4;
    if (!add_bell(s, mean, S, 1.1, 48) || !add_bell(s, mean, S, 2.0, 16))
        return false;
    for (int i = from; i < s->n_bell; i++)
        propose(s, &s->bell[i]);
    return weigh(s, first);
}

static bool sample(struct samples *s)
{
    double mean[DIM] = { 0 }, S[DIM * DIM];
    if (!first_round(s))
        return false;
    while (s->size < ENOUGH && next_round(s))
        ;
    s->o->effective = s->size;
    if (s->size < LEAST)
        return false;
    moments(s, s->weight, mean, S);
    put_right(s, mean, S);
    st_learn_bound(s->d, S, 1.0); /* no reading takes away what was known before */
    return inform(s->o, mean, S);
}

bool st_learn_sample(struct st_learn_one *o)
{
    struct samples s = { .o = o, .d = o->n_active };
    const size_t n = MOST_SAMPLES, d = (size_t)s.d, row = (size_t)o->batch->jar->n_piece * ST_NTHETA;
    s.bell = calloc(MOST_BELLS, sizeof *s.bell);
    s.x = calloc(n * d + 1, sizeof *s.x);
    s.latents = calloc(n * (size_t)o->n_seen + 1, sizeof *s.latents);
    s.theta = calloc(n * row + 1, sizeof *s.theta);
    s.lnp = calloc(3 * n, sizeof *s.lnp);
    const bool ok = s.bell && s.x && s.latents && s.theta && s.lnp;
    if (ok) {
        s.weight = s.lnp + n;
        s.by_prior = s.weight + n;
    }
    const bool done = ok && sample(&s);
    free(s.bell);
    free(s.x);
    free(s.latents);
    free(s.theta);
    free(s.lnp);
    return done;
}
