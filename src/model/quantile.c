#include "quantile.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* Numbers smaller than the pivot, or as small, to the front of x[n]; how many.  Without a branch: which number is
 * smaller cannot be foreseen. */
static size_t part(double *x, size_t n, double pivot, bool with_pivot)
{
    size_t m = 0;
    for (size_t i = 0; i < n; i++) {
        const double v = x[i];
        x[i] = x[m];
        x[m] = v;
        m += with_pivot ? v <= pivot : v < pivot;
    }
    return m;
}

static double middle_of(double a, double b, double c)
{
    return fmax(fmin(a, b), fmin(fmax(a, b), c));
}

/* Order x so that x[k] is what sorting would put there, nothing greater before it, nothing smaller behind. */
static void select_nth(double *x, size_t n, size_t k)
{
    size_t lo = 0, hi = n;
    while (hi - lo > 1) {
        const double pivot = middle_of(x[lo], x[lo + (hi - lo) / 2], x[hi - 1]);
        const size_t smaller = lo + part(x + lo, hi - lo, pivot, false);
        if (k < smaller) {
            hi = smaller;
            continue;
        }
        lo = smaller + part(x + smaller, hi - smaller, pivot, true);
        if (k < lo)
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

enum { SAMPLE = 512, WORTH = 4 * SAMPLE };

/* A number that has most likely a few more than p n of x[n] below it: the sample's quantile four and a half standard
 * deviations of its rank higher. */
static double threshold(double sample[SAMPLE], double p, double sign)
{
    const double at = p + sign * (4.5 * sqrt(p * (1.0 - p) / SAMPLE) + 2.0 / SAMPLE);
    return st_quantile(SAMPLE, sample, fmin(fmax(at, 0.0), 1.0));
}

/* Numbers below t_low to the front of room, those above t_high to its end, without a branch.  What is written beyond
 * them is written over, or is never looked at. */
static void gather_ends(size_t n, const double *x, const double t[2], double *room, size_t count[2])
{
    const double t_low = t[0], t_high = t[1];
    double *front = room, *end = room + n - 1;
    for (size_t i = 0; i < n; i++) {
        const double v = x[i];
        *front = v;
        *end = v;
        front += v < t_low;
        end -= v > t_high;
    }
    count[0] = (size_t)(front - room);
    count[1] = (size_t)(room + n - 1 - end);
}

/* Linear between order statistics k and k + 1 of x. */
static double between(size_t n, double *x, size_t k, double rest)
{
    select_nth(x, n, k);
    double next = x[k + 1];
    for (size_t i = k + 2; i < n; i++)
        next = x[i] < next ? x[i] : next;
    return x[k] + rest * (next - x[k]);
}

void st_quantile_pair(size_t n, const double x[], double p_low, double p_high, double room[], double *low,
                      double *high)
{
    if (n >= WORTH) {
        const double at_low = p_low * (double)(n - 1), at_high = p_high * (double)(n - 1);
        const size_t k_low = (size_t)at_low, k_high = (size_t)at_high;
        double sample[SAMPLE], t[2];
        size_t count[2];
        for (size_t i = 0; i < SAMPLE; i++)
            sample[i] = x[i * (n / SAMPLE)];
        t[0] = threshold(sample, p_low, 1.0);
        t[1] = threshold(sample, p_high, -1.0);
        if (t[0] < t[1]) {
            gather_ends(n, x, t, room, count);
            const size_t before = n - count[1]; /* this many lie before the upper end in order */
            if (k_low + 1 < count[0] && k_high >= before && k_high + 1 < n) {
                *low = between(count[0], room, k_low, at_low - (double)k_low);
                *high = between(count[1], room + before, k_high - before, at_high - (double)k_high);
                return;
            }
        }
    }
    memcpy(room, x, n * sizeof *room);
    *low = st_quantile(n, room, p_low);
    *high = st_quantile(n, room, p_high);
}
