#ifndef ST_CORE_BITTERNESS_H
#define ST_CORE_BITTERNESS_H

#include "status.h"

/* Bitterness of a drink as so much quinine hydrochloride.
 *
 * Given:
 *   n       substances or drugs, 0..1000
 *   c[n]    of each in the liquid, kg/m3, >= 0
 *   BV[n]   bitterness value of each, 0..1e9; quinine hydrochloride is 200000
 * Returned:
 *   *QE     kg/m3 of quinine hydrochloride: sum of c BV/200000
 * Status:
 *   ST_ESTIMATED   a screening number: sugar and people shift it x/: 3 (ST_BITTERNESS_ERROR)
 *   ST_E_DOMAIN    anything outside its limits, or NaN
 * Notes:
 *   1. Bitter from ST_QUININE_THRESHOLD on, 5 mg/L (3.6..5.8 among people who passed the test).
 *   2. That bitter things add is an assumption.  A bitter poison is never told as a taste: see the cautions.
 * Source:
 *   [bp_bitterness].  Checks: tests/data/infusion/bitterness.tsv
 */
enum st_status st_quinine_equivalent(int n, const double c[], const double BV[], double *QE);

#endif
