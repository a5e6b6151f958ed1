#ifndef ST_CORE_SOLUBILITY_H
#define ST_CORE_SOLUBILITY_H

#include "mixture.h"

/* Sucrose that saturates the solvent of this liquid (its ethanol and water at their ratio).
 *
 * Given:
 *   w        mass fractions of the whole liquid; only ethanol and water decide
 *   T_K      temperature, K
 * Returned:
 *   *ws_sat  mass fraction of sucrose in the saturated solution; compare with w[ST_SUCROSE]
 * Status:
 *   ST_OK            water, 273.15..353.15 K, no other sugar
 *   ST_EXTRAPOLATED  water, 263.15..373.15 K
 *   ST_ESTIMATED     ethanol in the solvent (Note 2), or other sugars beside (Note 3)
 *   ST_E_REFUSED     T elsewhere; neither water nor ethanol
 *   ST_E_DOMAIN
 * Notes:
 *   1. Water: a cubic of ours in t through seven points of the table, within 0.07 % mass; the other rows are the check.
 *   2. Ethanol: the table for 14 C, from memory, carried to other temperatures by the ratio of sucrose to solvent in
 *      water; in strong spirit the true change with temperature is larger, so cold bottles crystallise sooner.
 *   3. Glucose and fructose hold sucrose back from dissolving but also from crystallising; they are left out.
 * Source:
 *   [browne_sucrose]; [schrefeld1894]
 */
enum st_status st_sucrose_solubility(const double w[ST_NCOMP], double T_K, double *ws_sat);

/* Half width of its 95 % band, kg/kg; status as there.  All of it is an allowance of ours, no source:
 *   water            0.005 in 273.15..353.15 K, and 0.0005 more for each kelvin beyond
 *   other sugars     0.05, since they are left out
 *   ethanol          0.02 for a table that is from memory, and half of what the rule for other temperatures has moved it
 *                    from the 14 C of the table: at 90 C in a solvent of half ethanol +-0.11
 */
enum st_status st_sucrose_solubility_band(const double w[ST_NCOMP], double T_K, double *half);

#endif
