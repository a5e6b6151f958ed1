#include "pseudo_inverse.h"

#include <math.h>
#include <stdbool.h>

enum { SWEEPS = 50, ALL = ST_PSEUDO_MAX * ST_PSEUDO_MAX };
static const double REST = 1e-15; /* of the whole */
static const double NONE = 1e-12; /* of the largest eigenvalue: a direction that is not there */

struct turning {
    int n;
    double A[ALL], V[ALL]; /* A: on its way to a diagonal; V: the turns so far, columns */
};

static double off_diagonal(const struct turning *t)
{
    double sum = 0.0;
    for (int i = 0; i < t->n; i++)
        for (int j = 0; j < i; j++)
            sum = hypot(sum, t->A[i * t->n + j]);
    return sum;
}

static double whole(const struct turning *t)
{
    double sum = 0.0;
    for (int i = 0; i < t->n * t->n; i++)
        sum = hypot(sum, t->A[i]);
    return sum;
}

/* Columns p and q of X turned by c, s. */
static void turn_columns(int n, double X[], int p, int q, double c, double s)
{
    for (int k = 0; k < n; k++) {
        const double a = X[k * n + p], b = X[k * n + q];
        X[k * n + p] = c * a - s * b;
        X[k * n + q] = s * a + c * b;
    }
}

/* Make A[p][q] zero. */
static void turn(struct turning *t, int p, int q)
{
    const int n = t->n;
    const double apq = t->A[p * n + q];
    if (apq == 0.0)
        return;
    const double theta = 0.5 * (t->A[q * n + q] - t->A[p * n + p]) / apq;
    const double tan = copysign(1.0, theta) / (fabs(theta) + hypot(1.0, theta));
    const double c = 1.0 / hypot(1.0, tan), s = tan * c;
    turn_columns(n, t->A, p, q, c, s);
    for (int k = 0; k < n; k++) { /* the same rows */
        const double a = t->A[p * n + k], b = t->A[q * n + k];
        t->A[p * n + k] = c * a - s * b;
        t->A[q * n + k] = s * a + c * b;
    }
    t->A[p * n + q] = t->A[q * n + p] = 0.0;
    turn_columns(n, t->V, p, q, c, s);
}

static bool begin(struct turning *t, int n, const double M[], double root[])
{
    t->n = n;
    for (int i = 0; i < n * n; i++)
        if (!isfinite(M[i]))
            return false;
    for (int i = 0; i < n; i++)
        root[i] = M[i * n + i] > 0.0 ? sqrt(M[i * n + i]) : 0.0;
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) {
            const double both = root[i] * root[j];
            t->A[i * n + j] = both > 0.0 ? 0.5 * (M[i * n + j] + M[j * n + i]) / both : 0.0;
            t->V[i * n + j] = i == j;
        }
    return true;
}

enum st_status st_pseudo_inverse(int n, double M[])
{
    struct turning t;
    double root[ST_PSEUDO_MAX], largest = 0.0;
    if (n < 1 || n > ST_PSEUDO_MAX || !begin(&t, n, M, root))
        return ST_E_DOMAIN;
    const double rest = REST * whole(&t);
    for (int sweep = 0; off_diagonal(&t) > rest; sweep++) {
        if (sweep == SWEEPS)
            return ST_E_NOCONV;
        for (int p = 0; p < n; p++)
            for (int q = p + 1; q < n; q++)
                turn(&t, p, q);
    }
    for (int k = 0; k < n; k++)
        largest = fmax(largest, t.A[k * n + k]);
    for (int i = 0; i < n * n; i++)
        M[i] = 0.0;
    for (int k = 0; k < n; k++)
        for (int i = 0; i < n && t.A[k * n + k] > NONE * largest; i++)
            for (int j = 0; j < n; j++)
                if (root[i] > 0.0 && root[j] > 0.0)
                    M[i * n + j] += t.V[i * n + k] * t.V[j * n + k] / (t.A[k * n + k] * root[i] * root[j]);
    return ST_OK;
}
