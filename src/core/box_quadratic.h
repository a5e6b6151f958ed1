#ifndef ST_CORE_BOX_QUADRATIC_H
#define ST_CORE_BOX_QUADRATIC_H

#include "status.h"

/* Cholesky factorisation with diagonal pivoting of a symmetric matrix that is positive semidefinite.
 *
 * Given:
 *   n             size, 1 .. ST_BOX_MAX
 *   A[n*n]        the matrix, row-major; only its lower triangle is read
 *   tolerance     a pivot at most this share of the largest diagonal element counts as zero
 * Returned:
 *   L[n*n]        lower triangular factor of the matrix with rows and columns in the order pivot[]
 *   pivot[n]      which row stands k-th
 * Result:
 *   the rank found, 0 .. n; columns of L past it are without meaning.  Rows past it hold what the columns before give, so
 *   that L L' over those columns is A to the tolerance.
 */
enum { ST_BOX_MAX = 32 };
int st_cholesky(int n, const double *A, double tolerance, double *L, int pivot[]);

/* Solve A x = b with such a factor of rank n.  x and b may be the same array. */
void st_cholesky_solve(int n, const double *L, const int pivot[], const double *b, double *x);

/* Where a variable of a box stands. */
enum st_side { ST_SIDE_LOWER = -1, ST_SIDE_FREE = 0, ST_SIDE_UPPER = 1 };

/* The lowest point of a quadratic in a box: minimise p'Hp/2 + g'p where lower <= p <= upper.
 *
 * Given:
 *   n                   1 .. ST_BOX_MAX
 *   H[n*n]              symmetric, positive definite, row-major
 *   g[n]
 *   lower[n], upper[n]  lower <= 0 <= upper; may be infinite
 *   work[2*n*n]         room
 * Returned:
 *   p[n]                the point
 *   side[n]             which bounds hold it
 * Status:
 *   ST_OK
 *   ST_E_DOMAIN   n or a bound has no meaning, or H is not positive definite
 *   ST_E_NOCONV   more than 20 n + 20 changes of the active set (never met: each lowers the quadratic)
 * Notes:
 *   1. Primal active set from p = 0: solve on the free variables; where that leaves the box, go as far as the first
 *      bound and hold it; where it does not, let go of the bound with the worst multiplier, until none is left.
 * Source:
 *   [nocedal2006] section 16.5.
 */
enum st_status st_box_quadratic(int n, const double *H, const double *g, const double *lower, const double *upper,
                                double *p, enum st_side *side, double *work);

#endif
