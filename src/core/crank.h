#ifndef ST_CORE_CRANK_H
#define ST_CORE_CRANK_H

#include "status.h"

/* Diffusion out of (or into) one body that lies in a well stirred liquid of limited volume: the closed solutions.
 * They hold for one body, constant coefficients, no skin; for everything else there is core/bath.h, which is tested
 * against them.
 *
 * Fo = D t/a^2, where a is the radius, or half the thickness of a slab.  alpha = V_liquid/(K V_body), where K is
 * c_body/c_liquid at equilibrium; INFINITY: a bath so large that it stays as it is.  The share of all that is in the
 * liquid in the end is alpha/(1 + alpha). */
enum st_body { ST_BODY_SPHERE, ST_BODY_CYLINDER, ST_BODY_SLAB };

/* The n-th root of the equation whose roots are the rates of decay.
 *
 * Given:
 *   body    its shape
 *   alpha   > 0, INFINITY allowed
 *   n       1, 2, ... 100 000
 * Returned:
 *   *q      sphere: tan q = 3q/(3 + alpha q^2); cylinder: alpha q J0(q) + 2 J1(q) = 0; slab: tan q = -alpha q
 * Status:
 *   ST_OK; ST_E_DOMAIN for inputs outside the limits or NaN; ST_E_NOCONV never met
 * Notes:
 *   1. Newton's steps in a bracket: sphere n pi .. (n + 1/2) pi, slab (n - 1/2) pi .. n pi, cylinder (n - 1/4) pi ..
 *      (n + 1/4) pi; a step that leaves it is replaced by halving.  Stops at a change of 1e-15 q, at most 100 steps.
 * Source:
 *   [crank1975] eq. 4.36, 5.32, 6.29 and tables.  Checks: tests/data/infusion/crank_root.tsv
 */
enum st_status st_crank_root(enum st_body body, double alpha, int n, double *q);

/* Share of the final exchange that is done.
 *
 * Given:
 *   body, alpha   as above
 *   Fo            >= 0, INFINITY allowed
 * Returned:
 *   *F            0 .. 1; untouched when the status is negative
 * Status:
 *   ST_OK; ST_E_DOMAIN for inputs outside the limits or NaN
 * Notes:
 *   1. From Fo 0.01 on (cylinder: 2e-5) the series, until a term is below 1e-12.  Below, the form for short times:
 *      for sphere and slab it leaves out only terms of exp(-1/Fo), for the cylinder it is within 1e-6.
 * Source:
 *   [crank1975] eq. 4.37, 4.43, 5.33, 6.30, 6.34; short times of the cylinder are worked out in crank.c.  Checks:
 * tests/data/infusion/crank_uptake.tsv
 */
enum st_status st_crank_uptake(enum st_body body, double alpha, double Fo, double *F);

/* The Fo at which the share F of the final exchange is done.
 *
 * Given:
 *   body, alpha   as above
 *   F             0 <= F < 1
 * Returned:
 *   *Fo           untouched when the status is negative
 * Status:
 *   ST_OK; ST_E_DOMAIN for inputs outside the limits or NaN; ST_E_NOCONV when 200 halvings were not enough
 * Notes:
 *   1. Halves a bracket of log Fo until it is 1e-13 wide.
 * Source:
 *   as st_crank_uptake.  Checks: tests/data/infusion/crank_time.tsv
 */
enum st_status st_crank_time(enum st_body body, double alpha, double F, double *Fo);

#endif
