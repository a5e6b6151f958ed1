#ifndef ST_CORE_PSEUDO_INVERSE_H
#define ST_CORE_PSEUDO_INVERSE_H

#include "status.h"

enum { ST_PSEUDO_MAX = 16 };

/* The Moore-Penrose inverse of a covariance, which may be of lower rank: what is exact, or follows from the rest.
 *
 * Given:
 *   n       1 .. ST_PSEUDO_MAX
 *   M[n*n]  symmetric, row-major; read as (M + M')/2
 * Returned:
 *   M[n*n]  its inverse on the directions that it has, 0 on the others; untouched when the status is negative
 * Status:
 *   ST_OK
 *   ST_E_DOMAIN   n outside its limits, or a number that is not finite
 *   ST_E_NOCONV   50 sweeps did not bring it to rest
 * Notes:
 *   1. By the eigenvalues of the matrix scaled to a diagonal of 1, so that units do not count in what is small: those below 1e-12 of the
 *      largest, and what is negative, are directions that it has not.  For a singular matrix this is the inverse that is the Moore-Penrose one
 *      in the scaled rows: of the equations it solves the same solutions, since what is asked of a covariance lies in its own directions.
 *   2. Eigenvalues by Jacobi's rotations, until what is off the diagonal is 1e-15 of the whole.
 * Source:
 *   [penrose1955].  Checks: tests/unit/test_pseudo_inverse.c
 */
enum st_status st_pseudo_inverse(int n, double M[]);

#endif
