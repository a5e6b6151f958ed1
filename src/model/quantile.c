#include "quantile.h"

#include <math.h>

static void swap(double *a, double *b)
{
    const double t = *a;
    *a = *b;
    *b = t;
}

/* Order x so that x[k] is what sorting would put there, nothing greater before it, nothing smaller behind (Hoare). */
static void select_nth(double *x, size_t n, size_t k)
{
    size_t lo = 0, hi = n - 1;
    while (lo < hi) {
        const double pivot = x[lo + (hi - lo) / 2];
        size_t i = lo, j = hi;
        for (;;) {
            while (x[i] < pivot)
                i++;
            while (x[j] > pivot)
                j--;
            if (i >= j)
                break;
            swap(&x[i++], &x[j--]);
        }
        /* x[lo..j] <= pivot <= x[j+1..hi], or i == j in the middle */
        const size_t cut = i == j && x[j] <= pivot ? j : i - 1;
        if (k <= cut && cut < hi)
            hi = cut;
        else if (k > cut)
            lo = cut + 1;
        else
            return;
    }
}

double st_quantile(size_t n, double x[], double p)
{
    const double at = p * (double)(n - 1);
    const size_t k = (size_t)at;
    select_nth(x, n, k);
    if (k + 1 >= n)
        return x[k];
    double next = x[k + 1];
    for (size_t i = k + 2; i < n; i++)
        next = x[i] < next ? x[i] : next;
    return x[k] + (at - (double)k) * (next - x[k]);
}
