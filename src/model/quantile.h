#ifndef ST_MODEL_QUANTILE_H
#define ST_MODEL_QUANTILE_H

#include <stddef.h>

/* Quantile of x[n] by selection, without sorting all of it.
 *
 * Given:
 *   n     at least 1
 *   x[n]  finite; comes back in another order
 *   p     0..1
 * Returned: linear between the order statistics about 1 + p (n - 1).
 */
double st_quantile(size_t n, double x[], double p);

/* Two quantiles at once, low < high: the same numbers as st_quantile.
 *
 * Given:
 *   n, x[n]         as above, but left as it is
 *   room[n]         not overlapping x; comes back without meaning
 *   p_low, p_high   0 <= p_low < p_high <= 1
 * Returned:
 *   *low, *high
 * Notes:
 *   Of many numbers only those beyond two thresholds are looked at again.  The thresholds come from every n/512th
 *   number; where they turn out to have been on the wrong side, all are.
 */
void st_quantile_pair(size_t n, const double x[], double p_low, double p_high, double room[], double *low,
                      double *high);

#endif
