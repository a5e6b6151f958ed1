#ifndef ST_CORE_DENSITY_MIXTURE_H
#define ST_CORE_DENSITY_MIXTURE_H

#include <stddef.h>

#include "mixture.h"

/* Density of a liquid of several components at 101.325 kPa.
 *
 * Given:
 *   w[ST_NCOMP]  mass fractions of the whole liquid, sum 1
 *   T            temperature, K
 * Returned:
 *   *rho         density, kg/m3; untouched when the status is negative
 * Status:
 *   ST_OK            water, ethanol, sucrose, glucose, fructose, and up to 5 % acid, inside the limits of
 *                    the binary mixtures
 *   ST_EXTRAPOLATED  outside the limits of one of them (see their headers)
 *   ST_ESTIMATED     more than 0.5 % of lactose, or of polyol + protein + extract + fat + solids together;
 *                    more than 5 % acid beside other solutes; sugar or acid with too little water to dissolve
 *   ST_E_REFUSED     ethanol above 40 C; anything below -20 C or above 60 C
 *   ST_E_DOMAIN      w is not a mixture (st_mixture_check), T not above 0, or NaN
 * Notes:
 *   1. The water is shared by the binary mixtures.  For 1 kg
 *        V = (wE + wW)/rho_EW + (wS + wW)/rho_SW + (wA + wW)/rho_AW - 2 wW/rho_W + sum w_i v_i
 *      with rho_EW at wE/(wE + wW), rho_SW at wS/(wS + wW), rho_AW at wA/(wA + wW), and v_i for polyol,
 *      protein, extract, fat, solids.  At the edges it is each binary mixture exactly.
 *   2. Several sugars: rho_SW at the total sugar, specific volumes of the single sugars weighted by their
 *      shares; lactose as sucrose.
 *   3. Nothing has been measured near this rule in our hands: only one reading of 1876, which bears it out
 *      to 9 kg/m3, and the envelope of two mixing rules (st_density_mixture_band).  A ternary term, when one
 *      is found, goes into st_ternary_excess.
 *   4. Above the temperature where ice forms only: the caller asks st_freezing_point.
 * Source:
 *   [oiml1975], [sps4], [crc102]; v_i [choi1986].
 */
enum st_status st_density_mixture(const double w[ST_NCOMP], double T, double *rho);

/* The same for n liquids at one temperature, as a structure of arrays: rho[i] bit for bit what
 * st_density_mixture gives.
 *
 * Given:
 *   n             number of liquids, may be 0
 *   w[ST_NCOMP]   w[c][i] is the fraction of component c in liquid i; w[c] may be NULL for "none"
 *   T             temperature, K
 * Returned:
 *   rho[n]        untouched when the status is negative; must not overlap w
 * Status:
 *   the worst of the n cases
 */
enum st_status st_density_mixture_n(size_t n, const double *const w[ST_NCOMP], double T, double rho[]);

/* The same rule for liquids given by masses of any sum, for callers to whom only the number matters.
 *
 * Given:
 *   n             number of liquids, may be 0
 *   m[ST_NCOMP]   m[c][i] >= 0 is the mass of component c in liquid i, any unit; m[c] may be NULL for "none"
 *   T             temperature, K
 * Returned:
 *   rho[n]        untouched when the status is negative; must not overlap m
 * Status:
 *   that of water at T; ST_E_DOMAIN where a liquid has a negative mass, none at all, more than 1e15, or NaN
 * Notes:
 *   Whether a liquid lies inside the limits of the rule is not judged: st_density_mixture tells.  Above 40 C
 *   that matters, since ethanol has no data there.
 */
enum st_status st_density_masses_n(size_t n, const double *const m[ST_NCOMP], double T, double rho[]);

/* The place for a term that only a true ternary mixture has: specific volume to be added to the rule of
 * st_density_mixture, m3/kg.  Returns 0: no coefficients are known to us. */
double st_ternary_excess(const double w[ST_NCOMP], double T);

/* How far the density may be wrong: half of a 95 % band.
 *
 * Given:
 *   w[ST_NCOMP], T   as above
 * Returned:
 *   *half_width      kg/m3; untouched when the status is negative
 * Status:
 *   as st_density_mixture
 * Notes:
 *   1. 0.1 for ethanol-water and sucrose-water; with both 0.0095 sqrt(% vol x g/L) more, which covers every
 *      row of the envelope of the two mixing rules (0.30 .. 1.01 kg/m3, 15-40 % vol and 50-300 g/L).  The
 *      envelope is not a measurement.
 *   2. Other components add their share times the spread of their specific volume (from memory).
 *   3. Doubled where st_density_mixture says ST_EXTRAPOLATED or ST_ESTIMATED.
 */
enum st_status st_density_mixture_band(const double w[ST_NCOMP], double T, double *half_width);

#endif
