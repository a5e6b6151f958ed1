#ifndef ST_CORE_VISCOSITY_H
#define ST_CORE_VISCOSITY_H

#include "mixture.h"

/* Dynamic viscosity of the liquid.
 *
 * Given:
 *   w      mass fractions of the whole liquid
 *   T_K    temperature, K
 * Returned:
 *   *eta   Pa s
 * Status:
 *   ST_OK            ethanol-water at any ratio, sucrose-water to 70 % mass; within 0.5 K of 20 C
 *   ST_EXTRAPOLATED  sucrose-water at 70..75 %, within 0.5 K of 20 C
 *   ST_ESTIMATED     any other mixture (Note 2) or temperature (Note 3), 253.15..353.15 K
 *   ST_E_REFUSED     T elsewhere; sugars above 75 %; fat and solids above 2 % (a suspension is not this liquid)
 *   ST_E_DOMAIN
 * Notes:
 *   1. Two fits of ours to published tables at 20 C, each to every second row; the rows between are the check.
 *   2. No measurements of ethanol, sugar and water together were found.  Rule: at a fixed solvent the logarithms add,
 *      ln eta = ln eta_EW(p) + ln eta_S(s) - ln eta_W, s = sugars in sugars, ethanol and water; other sugars, acid and
 *      polyol as sucrose.  A guess: right within perhaps a third.
 *   3. ln eta(T) = ln eta(20 C) + (2050 + 630 ln(eta_20/eta_W,20)) (1/T - 1/293.15): activation from memory, made to
 *      pass near water and 60 % sucrose at 40 C; take +-15 % at 40 C.
 * Source:
 *   [crc102] viscosity at 20 C
 */
enum st_status st_viscosity(const double w[ST_NCOMP], double T_K, double *eta);

#endif
