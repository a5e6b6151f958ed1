#ifndef ST_CORE_FREEZING_H
#define ST_CORE_FREEZING_H

#include "mixture.h"

/* Onset of ice in ethanol-water.
 *
 * Given:
 *   p     ethanol/(ethanol + water), kg/kg
 * Returned:
 *   *T    K
 * Status:
 *   ST_OK         p <= 0.68
 *   ST_E_REFUSED  0.68 < p <= 1: the tables end there
 *   ST_E_DOMAIN   p outside 0..1, or NaN
 * Notes:
 *   1. The polynomial gives -0.05 C at p = 0; that residue is taken out, fading to nothing at p = 0.05.
 *   2. From p = 0.60, where the polynomial ends, three table points carry on, joined without a step.
 * Source:
 *   [melinder2010] to 60 % mass (within 0.36 K of [crc102]); [crc102] 60, 64 and 68 % mass
 */
enum st_status st_freezing_ethanol(double p, double *T);

/* Temperature at which the first ice forms in the liquid.
 *
 * Given:
 *   w     mass fractions of the whole liquid
 * Returned:
 *   *T_K  K; at most 273.15
 * Status:
 *   ST_OK            ethanol-water to 68 % mass; sucrose-water to 42 %; glucose-water to 30 %
 *   ST_EXTRAPOLATED  sucrose-water or glucose-water beyond that
 *   ST_ESTIMATED     any other mixture (Note 2)
 *   ST_E_REFUSED     ethanol above 68 % of ethanol and water; solutes above 70 % of solutes and water; ice only below
 *                    193.15 K; no water
 *   ST_E_DOMAIN
 * Notes:
 *   1. Solved: ln a_ice(T) = ln a_E(p) + ln a_S(m), both binaries at their own ratio to water.  ln a_ice rises steadily
 *      with T over 173.15..273.15 K; bisection there to 1e-9 K, at most 64 halvings.
 *   2. No measured freezing points of ethanol, sugar and water together were found: take +-3 K.  A thick liquid may
 *      undercool, and sugar may crystallise first.
 *   3. ln a_S = -sum c_i m_i - (sum sqrt(b_i) m_i)^2, m in mol/kg water, fitted to sucrose and to glucose; fructose is
 *      taken as glucose, lactose as sucrose, acid and polyol as ideal.  The square's mixing rule is ours.
 *   4. Protein and extract are left out, so are fat and solids.
 * Source:
 *   st_freezing_ethanol; [crc102] sucrose and glucose; heat of fusion 6008.8 J/mol and 38.1 J/(mol K): standard values,
 *   from memory
 */
enum st_status st_freezing_point(const double w[ST_NCOMP], double *T_K);

#endif
