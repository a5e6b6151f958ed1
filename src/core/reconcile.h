#ifndef ST_CORE_RECONCILE_H
#define ST_CORE_RECONCILE_H

#include <stdbool.h>
#include <stddef.h>

#include "status.h"

/* Data reconciliation: figures that say more than is needed are brought into agreement, each giving way by how
 * uncertain it is, and what did not agree is told.
 *
 * The rule of doubt, the same for both forms: the whole is doubted where chance alone would give so large a sum of squares
 * less than once in 20 (chi-square at ST_RECONCILE_WHOLE), or where a single one is further off than chance puts the
 * worst of them once in 100 (ST_RECONCILE_ONE shared out over all that can be judged: Bonferroni).  The suspect is the
 * one that is furthest off for its own standard deviation, and beyond once in 20 so shared out; for 10 readings that is
 * 2.8 standard deviations. */
#define ST_RECONCILE_WHOLE   0.05
#define ST_RECONCILE_ONE     0.01
#define ST_RECONCILE_SUSPECT 0.05

enum { ST_RECONCILE_MAX = 32 }; /* figures, and readings, at most */

/* ---- balances ---- */

struct st_balances {
    int n, k;        /* figures, balances; 1 <= k <= n <= ST_RECONCILE_MAX */
    const double *A; /* [k*n] row-major: A x = b is what must hold */
    const double *b; /* [k]; NULL: 0 */
    const double *y; /* [n] as measured */
    const double *V; /* [n*n] row-major covariance of what was measured, symmetric */
};

struct st_balanced {
    double x[ST_RECONCILE_MAX], u[ST_RECONCILE_MAX]; /* reconciled, and standard uncertainty */
    double adjustment[ST_RECONCILE_MAX];             /* x - y */
    double standard[ST_RECONCILE_MAX];   /* adjustment in its own standard deviations; NAN where no balance judges it */
    double redundancy[ST_RECONCILE_MAX]; /* 0: nothing else speaks of it .. 1: others know it well */
    double chi2, p;                      /* of the whole, with df = k */
    int df;
    bool agree;  /* by the rule of doubt */
    int suspect; /* index, -1 none */
};

/* Numbers of doubles the workspace needs. */
size_t st_balance_work(int n, int k);

/* Reconcile figures that obey linear balances.
 *
 * Given:
 *   p         the problem
 *   work[]    st_balance_work(n, k) doubles
 * Returned:
 *   *out      the figures and the judgement
 *   C[n*n]    covariance of the reconciled figures; NULL: not wanted
 * Status:
 *   ST_OK
 *   ST_E_DOMAIN    n or k has no meaning, a number is not finite, or a variance is negative
 *   ST_E_REFUSED   A V A' is singular: a balance follows from others, or speaks of nothing uncertain; nothing is touched
 * Notes:
 *   1. x = y - V A' (A V A')^-1 (A y - b), which is least squares under the balances; chi2 = r' (A V A')^-1 r with
 *      r = A y - b, of k degrees of freedom; covariance after V - V A' (A V A')^-1 A V.
 *   2. An adjustment has the variance of the diagonal of V A' (A V A')^-1 A V; its share of V is the redundancy.
 *      Below 1e-10 it is 0 and the figure cannot be judged.
 *   3. Errors that two figures share may hide behind each other; with V diagonal the largest standardised adjustment has
 *      the greatest power of finding one wild figure [mah1982].
 * Source:
 *   [narasimhan2000] ch. 3 and 7, [mah1982].  Checks: tests/data/reconcile/six_flows.tsv
 */
enum st_status st_balance_reconcile(const struct st_balances *p, double work[], struct st_balanced *out, double C[]);

/* ---- readings through a model ---- */

/* y[m] foretold at x[n]; negative where there is none (the step is then taken back). */
typedef enum st_status st_readings(const double x[], double y[], void *arg);

struct st_reconcile {
    int n, m;          /* unknowns, readings; 1 <= n, m <= ST_RECONCILE_MAX */
    const double *x0;  /* [n] what is thought of the unknowns before */
    const double *P;   /* [n*n] row-major covariance of that, symmetric; may be of lower rank: what is exact stays */
    const double *y;   /* [m] read */
    const double *u;   /* [m] standard uncertainty of each, > 0; INFINITY: it says nothing */
    const bool *aside; /* [m] true: not used, but foretold and judged by the others; NULL: all are used */
    st_readings *f;
    void *arg;
};

struct st_reconciled {
    double x[ST_RECONCILE_MAX], u[ST_RECONCILE_MAX]; /* after, and standard uncertainty */
    double fitted[ST_RECONCILE_MAX];                 /* [m] f(x) */
    double fitted_u[ST_RECONCILE_MAX];               /* [m] its standard uncertainty, without that of reading */
    double
        standard[ST_RECONCILE_MAX]; /* [m] (y - fitted) in its own standard deviations; NAN where it cannot be judged */
    double redundancy[ST_RECONCILE_MAX]; /* [m] 1 - leverage: how much the others know of it, 0 .. 1 */
    double chi2, p;                      /* of the readings used and what was thought before; df: readings used */
    int df;                              /* 0 when none is used: p = 1 */
    bool agree;
    int suspect; /* which reading, -1 none */
    int iterations;
};

/* Numbers of doubles the workspace needs. */
size_t st_reconcile_work(int n, int m);

/* Reconcile what was thought with what was read.
 *
 * Given:
 *   p         the problem
 *   work[]    st_reconcile_work(n, m) doubles
 * Returned:
 *   *out      after; untouched when the status is negative, except with ST_E_NOCONV
 *   C[n*n]    covariance after; NULL: not wanted
 * Status:
 *   ST_OK
 *   ST_E_DOMAIN   a number has no meaning, P is no covariance, or nothing is foretold at x0
 *   ST_E_NOCONV   the search did not come to rest: *out is of the best found
 * Notes:
 *   1. Minimises (x - x0)' P^-1 (x - x0) + sum ((f(x) - y)/u)^2 by st_least_squares in z, x = x0 + L z, L L' = P, so that
 *      what is exact stays exact and no inverse of P is needed; Jacobian by differences on both sides.
 *   2. Covariance L (I + J'J)^-1 L', J of the readings against z at the lowest point: never more than P.
 *   3. A reading used: standard = (y - f)/(u sqrt(1 - h)), h its leverage.  One set aside: (y - f)/sqrt(u^2 + its
 *      variance as foretold by the others).  Where f is linear the two are equal, and the square is how much chi2
 *      falls when the reading is set aside.
 *   4. Errors that readings share (an instrument used twice, the model itself) are unknowns of their own with a place in x0
 *      and P.
 * Source:
 *   [narasimhan2000] ch. 5, [gum2008], [mah1982].  Checks: tests/data/reconcile/liqueur.tsv
 */
enum st_status st_reconcile_readings(const struct st_reconcile *p, double work[], struct st_reconciled *out,
                                     double C[]);

#endif
