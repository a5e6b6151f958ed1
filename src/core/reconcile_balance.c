#include <math.h>

#include "box_quadratic.h"
#include "reconcile_rule.h"

static const double FULL = 1e-12;   /* a pivot of A V A', scaled to a diagonal of 1, below which it is singular */
static const double JUDGED = 1e-10; /* least redundancy */

/* The workspace, laid out. */
struct room {
    double *VA, *S, *L; /* V A' [n*k]; A V A' scaled [k*k]; its factor [k*k] */
    double *r, *scale;  /* [k] each: A y - b; 1/sqrt of the diagonal of A V A' */
    double *z, *half;   /* [k] each */
    int pivot[ST_RECONCILE_MAX];
};

size_t st_balance_work(int n, int k)
{
    const size_t a = (size_t)n, b = (size_t)k;
    return a * b + 2 * b * b + 4 * b;
}

static void lay_out(struct room *w, size_t n, size_t k, double *work)
{
    w->VA = work;
    w->S = w->VA + n * k;
    w->L = w->S + k * k;
    w->r = w->L + k * k;
    w->scale = w->r + k;
    w->z = w->scale + k;
    w->half = w->z + k;
}

static bool has_meaning(const struct st_balances *p)
{
    const int n = p->n, k = p->k;
    if (n < 1 || n > ST_RECONCILE_MAX || k < 1 || k > n)
        return false;
    for (int i = 0; i < n; i++)
        if (!(p->V[i * n + i] >= 0.0))
            return false;
    return st_reconcile_finite(p->A, k * n) && st_reconcile_finite(p->y, n) && st_reconcile_finite(p->V, n * n) &&
           (!p->b || st_reconcile_finite(p->b, k));
}

/* Fill VA, r, S scaled to a diagonal of 1; false where a balance speaks of nothing uncertain. */
static bool prepare(const struct st_balances *p, struct room *w)
{
    const int n = p->n, k = p->k;
    for (int j = 0; j < k; j++) {
        const double *row = p->A + (size_t)j * (size_t)n;
        w->r[j] = p->b ? -p->b[j] : 0.0;
        for (int i = 0; i < n; i++) {
            w->r[j] += row[i] * p->y[i];
            w->VA[i * k + j] = 0.0;
            for (int l = 0; l < n; l++)
                w->VA[i * k + j] += p->V[i * n + l] * row[l];
        }
    }
    for (int j = 0; j < k; j++)
        for (int l = 0; l < k; l++) {
            w->S[j * k + l] = 0.0;
            for (int i = 0; i < n; i++)
                w->S[j * k + l] += p->A[j * n + i] * w->VA[i * k + l];
        }
    for (int j = 0; j < k; j++) {
        if (!(w->S[j * k + j] > 0.0))
            return false;
        w->scale[j] = 1.0 / sqrt(w->S[j * k + j]);
    }
    for (int j = 0; j < k; j++)
        for (int l = 0; l < k; l++)
            w->S[j * k + l] *= w->scale[j] * w->scale[l];
    return true;
}

/* x = (A V A')^-1 b */
static void solve(struct room *w, int k, const double *b, double *x)
{
    for (int j = 0; j < k; j++)
        x[j] = b[j] * w->scale[j];
    st_cholesky_solve(k, w->L, w->pivot, x, x);
    for (int j = 0; j < k; j++)
        x[j] *= w->scale[j];
}

/* Figure i: variances of its adjustment and after; row i of C. */
static void settle(const struct st_balances *p, struct room *w, int i, struct st_balanced *out, double *C)
{
    const int n = p->n, k = p->k;
    const double before = p->V[i * n + i];
    double moved = 0.0, change = 0.0;
    solve(w, k, w->VA + (size_t)i * (size_t)k, w->half);
    for (int j = 0; j < k; j++) {
        change -= w->VA[i * k + j] * w->z[j];
        moved += w->VA[i * k + j] * w->half[j];
    }
    out->adjustment[i] = change;
    out->x[i] = p->y[i] + change;
    out->u[i] = sqrt(fmax(before - moved, 0.0));
    out->redundancy[i] = before > 0.0 && moved > JUDGED * before ? fmin(moved / before, 1.0) : 0.0;
    out->standard[i] = out->redundancy[i] > 0.0 ? change / sqrt(moved) : (double)NAN;
    for (int l = 0; C && l < n; l++) {
        C[i * n + l] = p->V[i * n + l];
        for (int j = 0; j < k; j++)
            C[i * n + l] -= w->half[j] * w->VA[l * k + j];
    }
}

enum st_status st_balance_reconcile(const struct st_balances *p, double work[], struct st_balanced *out, double C[])
{
    struct room w;
    struct st_doubt doubt;
    if (!has_meaning(p))
        return ST_E_DOMAIN;
    lay_out(&w, (size_t)p->n, (size_t)p->k, work);
    if (!prepare(p, &w) || st_cholesky(p->k, w.S, FULL, w.L, w.pivot) < p->k)
        return ST_E_REFUSED;

    solve(&w, p->k, w.r, w.z);
    out->chi2 = 0.0;
    for (int j = 0; j < p->k; j++)
        out->chi2 += w.r[j] * w.z[j];
    out->chi2 = fmax(out->chi2, 0.0);
    out->df = p->k;
    for (int i = 0; i < p->n; i++)
        settle(p, &w, i, out, C);

    const enum st_status s = st_reconcile_judge(out->chi2, out->df, p->n, out->standard, &doubt);
    if (s < 0)
        return s;
    out->p = doubt.p;
    out->agree = doubt.agree;
    out->suspect = doubt.suspect;
    return ST_OK;
}
