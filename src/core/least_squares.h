#ifndef ST_CORE_LEAST_SQUARES_H
#define ST_CORE_LEAST_SQUARES_H

#include <stddef.h>

#include "box_quadratic.h"

/* Smallest sum of squares between bounds: minimise f(x) = sum r_i(x)^2, i < m, where lower <= x <= upper. */

enum { ST_LS_MAX = ST_BOX_MAX }; /* variables at most */

/* r[m] at x[n].  A negative status, or a residual that is not finite, says that there is no answer at x: as a trial
 * it is then taken back; at the start it ends the search. */
typedef enum st_status st_residuals(const double x[], double r[], void *arg);
/* J[m*n] row-major: J[i*n + j] = dr_i/dx_j */
typedef enum st_status st_jacobian(const double x[], double J[], void *arg);

struct st_ls_limits {
    double x;        /* stop when no variable would move by more than x (|x_i| + x); 1e-10 */
    double f;        /* ... or f would fall, and fell, by no more than this share; 1e-15 */
    double gradient; /* ... or the cosine between r and each free column of J is at most this; 1e-10 */
    double residual; /* ... or no residual is larger than this; 1e-12 */
    double step; /* of differences, as a share of |x_i| (or of scale[i], if larger); 0: 1.5e-8 forward, 6e-6 central */
    double damping; /* mu at the start, in scaled variables; 1e-3, less where r is nearly linear */
    int iterations; /* 200 */
    int central;    /* differences on both sides, where the bounds leave room; 0 */
};
struct st_ls_limits st_ls_defaults(void);

struct st_ls_problem {
    int n, m;                    /* 1 <= n <= ST_LS_MAX, m >= 1; m < n is allowed */
    const double *lower, *upper; /* [n]; NULL: none; lower = upper holds a variable */
    const double *scale;         /* [n] usual size of x_i, for differences at 0; NULL: 1 */
    st_residuals *residuals;
    st_jacobian *jacobian; /* NULL: differences */
    void *arg;
    struct st_ls_limits limits;
};

struct st_ls_result {
    double f;                     /* sum of squares at x */
    enum st_side side[ST_LS_MAX]; /* which bound each variable ends on */
    double multiplier[ST_LS_MAX]; /* df/dx_i of a held variable, 0 of a free one: loosening its bound by a little d
                                     lowers f by |multiplier| d (first order) */
    int rank;                     /* of J's free columns, 0 .. number of free variables */
    int iterations, evaluations;  /* evaluations: of residuals, those for differences too */
};

/* Numbers of doubles the workspace needs. */
size_t st_ls_work(int n, int m);

/* Solve.
 *
 * Given:
 *   p          the problem
 *   x[n]       a start; moved to the nearest bound where it is outside
 *   work[]     st_ls_work(n, m) doubles
 * Returned:
 *   x[n]       the lowest point found, always between the bounds; with ST_E_DOMAIN as it was
 *   *out       about it
 * Status:
 *   ST_OK        a stopping rule of limits was met
 *   ST_E_DOMAIN  n or m has no meaning, a bound is NaN or lower > upper, or there are no residuals at the start
 *   ST_E_NOCONV  limits.iterations were not enough: x is the best so far, *out is of it
 * Notes:
 *   1. Levenberg-Marquardt in the variables z_i = D_i x_i, D_i the largest norm that column i of J has had: each trial
 *      step is the lowest point of |r + J d|^2 + mu |D d|^2 in the box (st_box_quadratic), so bounds are met exactly,
 *      and the damping makes it well defined whatever the rank of J.  mu from the gain ratio: times
 *      max(1/3, 1 - (2 rho - 1)^3) after a step that helps, doubled and redoubled after one that does not.
 *   2. Where J is rank deficient, x is one of many lowest points: the one the damped path from the start leads to.
 *   3. It finds a local minimum.
 *   4. out->f is deterministic: no clock, no random start.
 * Source:
 *   [more1978] scaling and stopping by the cosine; [nielsen1999] change of mu; [nocedal2006] section 16.5, 10.3.
 *   Checks: tests/unit/test_least_squares.c ([more1981] problems, and 1,000 blends against another solver)
 */
enum st_status st_least_squares(const struct st_ls_problem *p, double x[], double work[], struct st_ls_result *out);

/* Covariance of the free variables where the residuals have unit variance: (J'J)^-1 over the free ones.
 *
 * Given:
 *   p, out, work  after st_least_squares, work untouched since
 * Returned:
 *   C[n*n]        row-major; rows and columns of held variables are 0
 * Status:
 *   ST_OK; ST_E_REFUSED when J lacks full rank on the free variables (out->rank): C is untouched
 */
enum st_status st_ls_covariance(const struct st_ls_problem *p, const struct st_ls_result *out, double work[],
                                double C[]);

/* A wish for a range as a residual: 0 inside low .. high, else how far outside, in tolerances (negative below).
 * Good for judging; to search with, take y/tolerance - s, where s is one more variable between low/tolerance and
 * high/tolerance: at the lowest point that is the same, but it has no kink, near which a search only creeps (in 11 of
 * 1,000 blends it did not come to rest). */
double st_soft_range(double x, double low, double high, double tolerance);

#endif
