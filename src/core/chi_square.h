#ifndef ST_CORE_CHI_SQUARE_H
#define ST_CORE_CHI_SQUARE_H

#include "status.h"

/* How often chance alone gives more than this.
 *
 * Given:
 *   x     a sum of squares, >= 0
 *   df    degrees of freedom, 1 .. 1000
 * Returned:
 *   *p    P(chi-square > x), 0 .. 1; untouched when the status is negative
 * Status:
 *   ST_OK; ST_E_DOMAIN outside the limits, or NaN; ST_E_NOCONV 1000 terms were not enough (not met in the tests)
 * Notes:
 *   1. Q(df/2, x/2), the regularised incomplete gamma function: its series below x/2 = df/2 + 1, above it the continued
 *      fraction; both stop when a term changes nothing by more than 1e-16.
 *   2. Relative error below 1e-12 for p above 1e-200 (tests: closed forms of 1, 2 and 4 degrees of freedom).
 * Source:
 *   [dlmf_8] 8.2.4, 8.7.1, 8.9.2.  Checks: tests/data/reconcile/chi_square.tsv
 */
enum st_status st_chi_square_above(double x, int df, double *p);

/* How often chance alone puts a normal deviate further from 0 than z, on either side.  z any number but NaN. */
double st_normal_beyond(double z);

#endif
