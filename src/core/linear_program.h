#ifndef ST_CORE_LINEAR_PROGRAM_H
#define ST_CORE_LINEAR_PROGRAM_H

#include "status.h"

/* Small linear programs whose costs are none below zero: minimise c'x where A x >= b, 0 <= x <= most. */

enum { ST_LP_VARIABLES = 12, ST_LP_ROWS = 256 };

/* Given:
 *   n, m        1 <= n <= ST_LP_VARIABLES, 0 <= m <= ST_LP_ROWS
 *   c[n]        >= 0, finite
 *   A[m*n], b[m]  row-major, finite
 *   most[n]     >= 0; may be infinite
 *   work[]      ST_LP_WORK doubles
 * Returned:
 *   x[n]        the point; untouched when the status is negative
 * Status:
 *   ST_OK
 *   ST_E_REFUSED  no x meets the rows: one of them is missed by more than 1e-10 of its largest coefficient
 *   ST_E_NOCONV   more than 50 (n + m) pivots (not met so far)
 *   ST_E_DOMAIN   a number outside its limits
 * Notes:
 *   1. Dual simplex from x = 0, which is optimal for c >= 0 until a row says otherwise.  Ties go to the lowest number
 *      (Bland), so it cannot go in circles.
 * Source:
 *   [nocedal2006] chapter 13, dual simplex.  Checks: tests/unit/test_linear_program.c
 */
enum { ST_LP_WORK = (ST_LP_ROWS + ST_LP_VARIABLES) * (ST_LP_VARIABLES + 1) };
enum st_status st_linear_program(int n, int m, const double c[], const double A[], const double b[],
                                 const double most[], double work[], double x[]);

#endif
