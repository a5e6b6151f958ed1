#include "box_quadratic.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

/* ---- Cholesky ---- */

static double at(const double *A, int n, int i, int j)
{
    return i >= j ? A[(size_t)i * (size_t)n + (size_t)j] : A[(size_t)j * (size_t)n + (size_t)i];
}

static double *cell(double *L, int n, int i, int j)
{
    return &L[(size_t)i * (size_t)n + (size_t)j];
}

/* What is left of the diagonal in row i after k columns of the factor. */
static double rest_of_diagonal(int n, const double *A, const double *L, const int pivot[], int i, int k)
{
    double d = at(A, n, pivot[i], pivot[i]);
    for (int j = 0; j < k; j++)
        d -= L[(size_t)i * (size_t)n + (size_t)j] * L[(size_t)i * (size_t)n + (size_t)j];
    return d;
}

static void swap_rows(int n, double *L, int pivot[], int i, int k, int columns)
{
    const int held = pivot[i];
    pivot[i] = pivot[k];
    pivot[k] = held;
    for (int j = 0; j < columns; j++) {
        const double x = *cell(L, n, i, j);
        *cell(L, n, i, j) = *cell(L, n, k, j);
        *cell(L, n, k, j) = x;
    }
}

int st_cholesky(int n, const double *A, double tolerance, double *L, int pivot[])
{
    double largest = 0.0;
    for (int i = 0; i < n; i++) {
        pivot[i] = i;
        largest = fmax(largest, at(A, n, i, i));
    }
    for (int k = 0; k < n; k++) {
        int best = k;
        double d = -1.0;
        for (int i = k; i < n; i++) {
            const double left = rest_of_diagonal(n, A, L, pivot, i, k);
            if (left > d) {
                d = left;
                best = i;
            }
        }
        if (!(d > tolerance * largest) || !(d > 0.0))
            return k;
        swap_rows(n, L, pivot, best, k, k);
        const double root = *cell(L, n, k, k) = sqrt(d);
        for (int i = k + 1; i < n; i++) {
            double x = at(A, n, pivot[i], pivot[k]);
            for (int j = 0; j < k; j++)
                x -= *cell(L, n, i, j) * *cell(L, n, k, j);
            *cell(L, n, i, k) = x / root;
        }
    }
    return n;
}

void st_cholesky_solve(int n, const double *L, const int pivot[], const double *b, double *x)
{
    double y[ST_BOX_MAX];
    for (int i = 0; i < n; i++) {
        y[i] = b[pivot[i]];
        for (int j = 0; j < i; j++)
            y[i] -= L[(size_t)i * (size_t)n + (size_t)j] * y[j];
        y[i] /= L[(size_t)i * (size_t)n + (size_t)i];
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int j = i + 1; j < n; j++)
            y[i] -= L[(size_t)j * (size_t)n + (size_t)i] * y[j];
        y[i] /= L[(size_t)i * (size_t)n + (size_t)i];
    }
    for (int i = 0; i < n; i++)
        x[pivot[i]] = y[i];
}

/* ---- the quadratic in its box ---- */

struct box {
    int n;
    const double *H, *g, *lower, *upper;
    double *p, *A, *L;
    enum st_side *side;
};

/* Slope of the quadratic along variable i at p. */
static double slope(const struct box *b, int i)
{
    double s = b->g[i];
    for (int j = 0; j < b->n; j++)
        s += at(b->H, b->n, i, j) * b->p[j];
    return s;
}

/* to[n]: the lowest point with the held variables where they are. */
static bool solve_free(const struct box *b, double to[])
{
    int which[ST_BOX_MAX], pivot[ST_BOX_MAX], k = 0;
    double rhs[ST_BOX_MAX];

    for (int i = 0; i < b->n; i++) {
        to[i] = b->p[i];
        if (b->side[i] == ST_SIDE_FREE)
            which[k++] = i;
    }
    if (k == 0)
        return true;
    for (int r = 0; r < k; r++) {
        rhs[r] = -slope(b, which[r]);
        for (int c = 0; c < k; c++)
            b->A[(size_t)r * (size_t)k + (size_t)c] = at(b->H, b->n, which[r], which[c]);
    }
    if (st_cholesky(k, b->A, 0.0, b->L, pivot) < k)
        return false;
    st_cholesky_solve(k, b->L, pivot, rhs, rhs);
    for (int r = 0; r < k; r++)
        to[which[r]] += rhs[r];
    return true;
}

/* Go towards to[] as far as the box lets; true when it was reached, else one more variable is held. */
static bool go(const struct box *b, const double to[])
{
    double share = 1.0;
    int first = -1;
    for (int i = 0; i < b->n; i++) {
        const double d = to[i] - b->p[i];
        const double room = d < 0.0 ? b->lower[i] - b->p[i] : b->upper[i] - b->p[i];
        if (b->side[i] == ST_SIDE_FREE && fabs(d) > fabs(room) && fabs(room) < share * fabs(d)) {
            share = fabs(room) / fabs(d);
            first = i;
        }
    }
    for (int i = 0; i < b->n; i++)
        if (b->side[i] == ST_SIDE_FREE)
            b->p[i] = fmin(fmax(b->p[i] + share * (to[i] - b->p[i]), b->lower[i]), b->upper[i]);
    if (first < 0)
        return true;
    b->side[first] = to[first] < b->p[first] ? ST_SIDE_LOWER : ST_SIDE_UPPER;
    b->p[first] = b->side[first] == ST_SIDE_LOWER ? b->lower[first] : b->upper[first];
    return false;
}

/* Let go of the bound that holds back most; false when none does. */
static bool let_go(const struct box *b)
{
    int worst = -1;
    double most = 0.0;
    for (int i = 0; i < b->n; i++) {
        if (b->side[i] == ST_SIDE_FREE || b->lower[i] == b->upper[i])
            continue;
        const double pull = -slope(b, i) * (b->side[i] == ST_SIDE_LOWER ? 1.0 : -1.0);
        const double scale = fabs(b->g[i]) + fabs(b->p[i]) * at(b->H, b->n, i, i);
        if (pull > 1e-14 * scale && pull > most) {
            most = pull;
            worst = i;
        }
    }
    if (worst < 0)
        return false;
    b->side[worst] = ST_SIDE_FREE;
    return true;
}

enum st_status st_box_quadratic(int n, const double *H, const double *g, const double *lower, const double *upper,
                                double *p, enum st_side *side, double *work)
{
    if (n < 1 || n > ST_BOX_MAX)
        return ST_E_DOMAIN;
    const struct box b = { n, H, g, lower, upper, p, work, work + (size_t)n * (size_t)n, side };
    for (int i = 0; i < n; i++) {
        if (!(lower[i] <= 0.0 && upper[i] >= 0.0))
            return ST_E_DOMAIN;
        p[i] = 0.0;
        side[i] = ST_SIDE_FREE;
        if (lower[i] == 0.0 && (g[i] >= 0.0 || upper[i] == 0.0))
            side[i] = ST_SIDE_LOWER;
        else if (upper[i] == 0.0 && g[i] <= 0.0)
            side[i] = ST_SIDE_UPPER;
    }
    for (int k = 0; k < 20 * n + 20; k++) {
        double to[ST_BOX_MAX];
        if (!solve_free(&b, to))
            return ST_E_DOMAIN;
        if (go(&b, to) && !let_go(&b))
            return ST_OK;
    }
    return ST_E_NOCONV;
}
