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

#endif
