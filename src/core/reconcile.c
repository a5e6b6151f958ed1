#include "reconcile.h"

#include <math.h>

#include "box_quadratic.h"
#include "least_squares.h"
#include "reconcile_rule.h"

static const double EXACT = 1e-12;  /* a pivot of P, scaled to a diagonal of 1, that counts as nothing */
static const double STEP = 1e-4;    /* of differences, in standard deviations of what was thought */
static const double JUDGED = 1e-10; /* least redundancy */

/* The workspace, laid out, and what is known before the search. */
struct search {
    const struct st_reconcile *p;
    int n, m, k;                /* k: the rank of P */
    double *L;                  /* [n*k of n*n]: x = x0 + L z */
    double *J;                  /* [m*k of m*n]: df/dz */
    double *M, *factor, *Cz;    /* [k*k of n*n]: I + J'J, its factor and inverse */
    double *solver;             /* for st_least_squares */
    double y[ST_RECONCILE_MAX]; /* what was foretold last */
    bool used[ST_RECONCILE_MAX];
};

size_t st_reconcile_work(int n, int m)
{
    const size_t a = (size_t)n, b = (size_t)m;
    return 4 * a * a + a * b + st_ls_work(n, n + m);
}

static void lay_out(struct search *s, const struct st_reconcile *p, double *work)
{
    const size_t n = (size_t)p->n, nn = n * n;
    *s = (struct search){ .p = p, .n = p->n, .m = p->m, .L = work };
    s->M = work + nn;
    s->factor = s->M + nn;
    s->Cz = s->factor + nn;
    s->J = s->Cz + nn;
    s->solver = s->J + (size_t)p->m * n;
    for (int i = 0; i < p->m; i++)
        s->used[i] = !(p->aside && p->aside[i]) && isfinite(p->u[i]);
}

static bool has_meaning(const struct st_reconcile *p)
{
    if (p->n < 1 || p->n > ST_RECONCILE_MAX || p->m < 1 || p->m > ST_RECONCILE_MAX)
        return false;
    for (int i = 0; i < p->m; i++)
        if (!(p->u[i] > 0.0))
            return false;
    for (int i = 0; i < p->n; i++)
        if (!(p->P[i * p->n + i] >= 0.0))
            return false;
    return st_reconcile_finite(p->x0, p->n) && st_reconcile_finite(p->P, p->n * p->n) &&
           st_reconcile_finite(p->y, p->m);
}

/* L, by columns of the pivoted factor of P scaled to a diagonal of 1; false where P is no covariance. */
static bool spread(struct search *s)
{
    const int n = s->n;
    double root[ST_RECONCILE_MAX];
    int pivot[ST_RECONCILE_MAX];
    for (int i = 0; i < n; i++)
        root[i] = sqrt(s->p->P[i * n + i]);
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) {
            const double both = root[i] * root[j];
            s->M[i * n + j] = both > 0.0 ? s->p->P[i * n + j] / both : 0.0;
            if (fabs(s->M[i * n + j]) > 1.0 + 1e-9)
                return false;
        }
    s->k = st_cholesky(n, s->M, EXACT, s->factor, pivot);
    for (int a = 0; a < n; a++)
        for (int j = 0; j < s->k; j++)
            s->L[pivot[a] * s->k + j] = a >= j ? root[pivot[a]] * s->factor[a * n + j] : 0.0;
    return true;
}

static enum st_status foretell(struct search *s, const double z[], double y[])
{
    double x[ST_RECONCILE_MAX];
    for (int i = 0; i < s->n; i++) {
        x[i] = s->p->x0[i];
        for (int j = 0; j < s->k; j++)
            x[i] += s->L[i * s->k + j] * z[j];
    }
    const enum st_status status = s->p->f(x, y, s->p->arg);
    return status < 0 ? status : st_reconcile_finite(y, s->m) ? ST_OK : ST_E_DOMAIN;
}

/* What was thought, then the readings, in standard deviations. */
static enum st_status residuals(const double z[], double r[], void *arg)
{
    struct search *s = arg;
    const enum st_status status = foretell(s, z, s->y);
    if (status < 0)
        return status;
    for (int j = 0; j < s->k; j++)
        r[j] = z[j];
    for (int i = 0; i < s->m; i++)
        r[s->k + i] = s->used[i] ? (s->y[i] - s->p->y[i]) / s->p->u[i] : 0.0;
    return ST_OK;
}

/* Column j of J: on both sides where there is something on both. */
static bool slope(struct search *s, double z[], int j, const double here[])
{
    double up[ST_RECONCILE_MAX], down[ST_RECONCILE_MAX];
    const double held = z[j];
    z[j] = held + STEP;
    const bool above = foretell(s, z, up) >= 0;
    z[j] = held - STEP;
    const bool below = foretell(s, z, down) >= 0;
    z[j] = held;
    for (int i = 0; i < s->m; i++)
        s->J[i * s->k + j] = ((above ? up[i] : here[i]) - (below ? down[i] : here[i])) / (STEP * (above + below));
    return above || below;
}

static double row_of(const struct search *s, const double *C, int a, int b)
{
    double sum = 0.0;
    for (int i = 0; i < s->k; i++)
        for (int j = 0; j < s->k; j++)
            sum += s->J[a * s->k + i] * C[i * s->k + j] * s->J[b * s->k + j];
    return sum;
}

/* J and Cz = (I + J'J)^-1 of the readings used. */
static enum st_status spread_after(struct search *s, double z[])
{
    const int k = s->k;
    int pivot[ST_RECONCILE_MAX];
    double column[ST_RECONCILE_MAX];
    for (int j = 0; j < k; j++)
        if (!slope(s, z, j, s->y))
            return ST_E_DOMAIN;
    for (int a = 0; a < k; a++)
        for (int b = 0; b < k; b++) {
            s->M[a * k + b] = a == b;
            for (int i = 0; i < s->m; i++)
                if (s->used[i])
                    s->M[a * k + b] += s->J[i * k + a] * s->J[i * k + b] / (s->p->u[i] * s->p->u[i]);
        }
    if (k && st_cholesky(k, s->M, 0.0, s->factor, pivot) < k)
        return ST_E_NOCONV;
    for (int a = 0; a < k; a++) {
        for (int b = 0; b < k; b++)
            column[b] = a == b;
        st_cholesky_solve(k, s->factor, pivot, column, column);
        for (int b = 0; b < k; b++)
            s->Cz[b * k + a] = column[b];
    }
    return ST_OK;
}

static void tell_unknowns(const struct search *s, const double z[], struct st_reconciled *out, double *C)
{
    const int n = s->n, k = s->k;
    for (int i = 0; i < n; i++) {
        out->x[i] = s->p->x0[i];
        for (int j = 0; j < k; j++)
            out->x[i] += s->L[i * k + j] * z[j];
        for (int l = i; l < n; l++) {
            double c = 0.0;
            for (int a = 0; a < k; a++)
                for (int b = 0; b < k; b++)
                    c += s->L[i * k + a] * s->Cz[a * k + b] * s->L[l * k + b];
            if (C)
                C[i * n + l] = C[l * n + i] = c;
            if (l == i)
                out->u[i] = sqrt(fmax(c, 0.0));
        }
    }
}

static void tell_readings(const struct search *s, struct st_reconciled *out)
{
    for (int i = 0; i < s->m; i++) {
        const double u = s->p->u[i], of_fit = fmax(row_of(s, s->Cz, i, i), 0.0), off = s->p->y[i] - s->y[i];
        out->fitted[i] = s->y[i];
        out->fitted_u[i] = sqrt(of_fit);
        if (s->used[i]) {
            const double free = fmax(1.0 - of_fit / (u * u), 0.0);
            out->redundancy[i] = free > JUDGED ? free : 0.0;
            out->standard[i] = free > JUDGED ? off / (u * sqrt(free)) : (double)NAN;
        } else {
            out->redundancy[i] = isfinite(u) ? u * u / (u * u + of_fit) : 0.0;
            out->standard[i] = isfinite(u) ? off / sqrt(u * u + of_fit) : (double)NAN;
        }
    }
}

static enum st_status judge(const struct search *s, struct st_reconciled *out)
{
    double standard[ST_RECONCILE_MAX];
    struct st_doubt doubt;
    out->df = 0;
    for (int i = 0; i < s->m; i++) {
        out->df += s->used[i];
        standard[i] = s->used[i] ? out->standard[i] : (double)NAN;
    }
    const enum st_status status = st_reconcile_judge(out->chi2, out->df, s->m, standard, &doubt);
    if (status < 0)
        return status;
    out->p = doubt.p;
    out->agree = doubt.agree;
    out->suspect = doubt.suspect;
    return ST_OK;
}

/* The lowest point from z = 0; s->y is left as it is foretold there. */
static enum st_status search(struct search *s, double z[], struct st_reconciled *out)
{
    struct st_ls_result found = { 0 };
    double r[2 * ST_RECONCILE_MAX] = { 0 };
    enum st_status status = ST_OK;
    if (s->k > 0) {
        struct st_ls_problem p = { .n = s->k, .m = s->k + s->m, .residuals = residuals, .arg = s };
        p.limits = st_ls_defaults();
        p.limits.central = 1;
        status = st_least_squares(&p, z, s->solver, &found);
        if (status == ST_E_DOMAIN)
            return status;
    }
    if (residuals(z, r, s) < 0)
        return ST_E_DOMAIN;
    out->chi2 = 0.0;
    for (int i = 0; i < s->k + s->m; i++)
        out->chi2 += r[i] * r[i];
    out->iterations = found.iterations;
    return status;
}

enum st_status st_reconcile_readings(const struct st_reconcile *p, double work[], struct st_reconciled *out, double C[])
{
    struct search s;
    struct st_reconciled o = { 0 };
    double z[ST_RECONCILE_MAX] = { 0 };
    if (!has_meaning(p))
        return ST_E_DOMAIN;
    lay_out(&s, p, work);
    if (!spread(&s))
        return ST_E_DOMAIN;
    const enum st_status found = search(&s, z, &o);
    if (found == ST_E_DOMAIN)
        return found;
    enum st_status status = spread_after(&s, z);
    if (status < 0)
        return status;
    tell_readings(&s, &o);
    status = judge(&s, &o);
    if (status < 0)
        return status;
    tell_unknowns(&s, z, &o, C);
    *out = o;
    return found;
}
