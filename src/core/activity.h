#ifndef ST_CORE_ACTIVITY_H
#define ST_CORE_ACTIVITY_H

#include "mixture.h"

/* Activity coefficients of ethanol and water in their mixture, van Laar.
 *
 * Given:
 *   p       ethanol/(ethanol + water), kg/kg, 0 <= p <= 1
 * Returned:
 *   *x_E    mole fraction of ethanol
 *   *g_E    activity coefficient of ethanol (activity = x_E g_E)
 *   *g_W    activity coefficient of water
 * Status:
 *   ST_OK
 *   ST_E_DOMAIN  p outside 0..1, or NaN; nothing is returned
 * Notes:
 *   1. The two constants are from memory; with the vapour pressures of boiling.h they give published bubble points at
 *      101.3 kPa within 0.6 K, which is the ground for using them.  No temperature dependence.
 * Source:
 *   [vanlaar_ew]
 */
enum st_status st_activity_ethanol_water(double p, double *x_E, double *g_E, double *g_W);

/* Natural logarithm of the water activity due to dissolved sugars, acid and polyol alone, at their ratio to water.
 *
 * Given:
 *   w       mass fractions of the whole liquid, with water in it
 * Returned:
 *   *ln_a   <= 0; Norrish, ln a = ln x_w - (sum_i sqrt(K_i) x_i)^2
 * Status:
 *   ST_OK         sucrose only, up to 67 % of sucrose in sucrose and water
 *   ST_ESTIMATED  other or several solutes (the mixing rule under the square is ours)
 *   ST_E_REFUSED  no water, or more than 85 % of solute in solute and water
 *   ST_E_DOMAIN
 * Notes:
 *   1. K (sucrose 6.47, glucose and fructose 2.25) from memory; lactose is taken as sucrose, acid and polyol as ideal.
 *   2. Protein and extract are left out: their molar mass is not known.
 * Source:
 *   [norrish1966]
 */
enum st_status st_activity_sugar(const double w[ST_NCOMP], double *ln_a);

/* Water activity of the liquid.
 *
 * Given:
 *   w     mass fractions of the whole liquid
 *   T     temperature, K
 * Returned:
 *   *aw   water activity, 0..1
 * Status:
 *   ST_OK            ethanol-water or sucrose-water, 288.15 <= T <= 308.15
 *   ST_EXTRAPOLATED  those two at 253.15..373.15 K: the value for 25 C is given (Note 1)
 *   ST_ESTIMATED     ethanol and sugars together, or other solutes: the two activities multiplied
 *   ST_E_REFUSED     T elsewhere, or as st_activity_sugar
 *   ST_E_DOMAIN
 * Notes:
 *   1. No temperature term: published activities of such liquids are for 20..25 C.
 *   2. Water activity alone does not tell whether a drink keeps: ethanol acts beyond it.  See keeping.h.
 * Source:
 *   [vanlaar_ew], [norrish1966]; compared with [allan2019]
 */
enum st_status st_water_activity(const double w[ST_NCOMP], double T, double *aw);

#endif
