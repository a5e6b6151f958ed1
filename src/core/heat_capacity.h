#ifndef ST_CORE_HEAT_CAPACITY_H
#define ST_CORE_HEAT_CAPACITY_H

#include "mixture.h"

/* Specific heat capacity of ethanol-water, as the published polynomial gives it.
 *
 * Given:
 *   p     ethanol/(ethanol + water), kg/kg
 *   T     temperature, K
 * Returned:
 *   *cp   J/(kg K)
 * Status:
 *   ST_OK            p <= 0.60, T from the freezing curve (228.15 at the least) to 313.15 K
 *   ST_EXTRAPOLATED  p <= 0.60, T below the freezing curve, or above 313.15 K (to 343.15 K; Note 2)
 *   ST_ESTIMATED     p > 0.60, 228.15..343.15 K: a straight line to pure ethanol at 25 C (2438, from memory)
 *   ST_E_REFUSED     T elsewhere
 *   ST_E_DOMAIN      p outside 0..1, or NaN
 * Notes:
 *   1. Low by 0.3 % for water, perhaps by 1..3 % at 20..40 % mass.
 *   2. The upper temperature, 313.15 K, is from memory.  Above it the value there is held, since the cubic in T runs
 *      away (water at 60 C would come out 6 % high).
 * Source:
 *   [melinder2010]
 */
enum st_status st_heat_capacity_ethanol(double p, double T, double *cp);

/* Specific heat capacity of the liquid.
 *
 * Given:
 *   w     mass fractions of the whole liquid
 *   T_K   temperature, K
 * Returned:
 *   *cp   J/(kg K)
 * Status:
 *   ST_OK            sucrose-water at 273.15..343.15 K; ethanol-water as above
 *   ST_EXTRAPOLATED  as above
 *   ST_ESTIMATED     sugars and ethanol together, or anything else dissolved: mass-weighted, +-3 %
 *   ST_E_REFUSED, ST_E_DOMAIN
 * Notes:
 *   1. cp = (wE + wW) cp_EW(p, T) + w_solute (1673 + 7.5 t): the sugar line 4184 - 2511 w + 7.5 w t with the
 *      solvent's own heat capacity for its 4184.  To meet that line at p = 0, cp_EW is brought there to 4184; the
 *      correction fades out at p = 0.05.
 *   2. All that is neither ethanol nor water counts as sugar; fat (about 2000 J/(kg K)) too.
 * Source:
 *   [melinder2010], [sugar_cp]
 */
enum st_status st_heat_capacity(const double w[ST_NCOMP], double T_K, double *cp);

#endif
