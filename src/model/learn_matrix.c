#include <math.h>

#include "learn_inside.h"

/* Small dense matrices of any size, row by row. */

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

void st_learn_forward(int n, const double *L, double *b)
{
    for (int r = 0; r < n; r++) {
        for (int k = 0; k < r; k++)
            b[r] -= L[r * n + k] * b[k];
        b[r] /= L[r * n + r];
    }
}

void st_learn_solve(int n, const double *L, double *b)
{
    st_learn_forward(n, L, b);
    for (int r = n - 1; r >= 0; r--) {
        for (int k = r + 1; k < n; k++)
            b[r] -= L[k * n + r] * b[k];
        b[r] /= L[r * n + r];
    }
}

/* One plane rotation of Jacobi's that takes A[p][q] to 0. */
static void rotate(int n, double A[], double V[], int p, int q)
{
    const double apq = A[p * n + q];
    if (fabs(apq) < 1e-300)
        return;
    const double h = 0.5 * (A[q * n + q] - A[p * n + p]) / apq;
    const double t = (h < 0.0 ? -1.0 : 1.0) / (fabs(h) + hypot(1.0, h)), c = 1.0 / hypot(1.0, t), s = t * c;
    for (int k = 0; k < n; k++) {
        const double x = A[k * n + p], y = A[k * n + q];
        A[k * n + p] = c * x - s * y;
        A[k * n + q] = s * x + c * y;
    }
    for (int k = 0; k < n; k++) {
        const double x = A[p * n + k], y = A[q * n + k], v = V[k * n + p], w = V[k * n + q];
        A[p * n + k] = c * x - s * y;
        A[q * n + k] = s * x + c * y;
        V[k * n + p] = c * v - s * w;
        V[k * n + q] = s * v + c * w;
    }
}

void st_learn_bound(int n, double S[], double most)
{
    enum { SWEEPS = 30 };
    double A[ST_LS_MAX * ST_LS_MAX] = { 0 }, V[ST_LS_MAX * ST_LS_MAX] = { 0 };
    for (int i = 0; i < n * n; i++) {
        A[i] = S[i];
        V[i] = i / n == i % n ? 1.0 : 0.0;
    }
    for (int sweep = 0; sweep < SWEEPS; sweep++) {
        double off = 0.0, all = 0.0;
        for (int i = 0; i < n * n; i++) {
            off += i / n == i % n ? 0.0 : A[i] * A[i];
            all += A[i] * A[i];
        }
        if (!(off > 1e-24 * all))
            break;
        for (int p = 0; p < n; p++)
            for (int q = p + 1; q < n; q++)
                rotate(n, A, V, p, q);
    }
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++) {
            S[a * n + b] = 0.0;
            for (int k = 0; k < n; k++)
                S[a * n + b] += V[a * n + k] * V[b * n + k] * fmin(A[k * n + k], most);
        }
}
