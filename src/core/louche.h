#ifndef ST_CORE_LOUCHE_H
#define ST_CORE_LOUCHE_H

#include "status.h"

/* Whether the oil in a drink stays dissolved: a ratio of what is there to what the liquid holds, and a verdict of three
 * values.  Solubility at 20 C comes from solvent_power.h. */

enum st_haze { ST_HAZE_CLEAR, ST_HAZE_UNDECIDED, ST_HAZE_CLOUD };

/* Solubility of an oil at another temperature.
 *
 * Given:
 *   S20   at 20 C, kg/m3, > 0
 *   dH    heat of solution, J/mol, 0..200e3 (ST_OIL_HEAT: 30e3; 20e3..40e3)
 *   T     temperature, K, 233.15..353.15
 * Returned:
 *   *S    kg/m3: S20 exp(-dH/R (1/T - 1/293.15)); half at 5 C, a sixth at -18 C with the middle dH
 * Status:
 *   ST_ESTIMATED   dH is from memory
 *   ST_E_REFUSED   T outside its limits but above 0 K
 *   ST_E_DOMAIN    anything else outside its limits, or NaN
 * Notes:
 *   1. An oil that freezes (trans-anethole at 20 to 21 C when pure, read) may show crystals in the cold: warm and
 * shake.
 *   2. Waxes and fats fall out in the cold too, and nothing here knows of them.
 * Checks: tests/data/infusion/chill.tsv
 */
enum st_status st_solubility_chilled(double S20, double dH, double T, double *S);

/* Given:
 *   oil     of it in the liquid, dissolved or not, kg/m3, >= 0
 *   S       solubility at this strength and temperature, without sugar, kg/m3, > 0
 *   sugar   sugars in the liquid, kg/m3, 0..1500
 *   ks      how sugar drives oil out, m3/kg, 0..0.01 (ST_SALTING_OUT: 3e-4; 0..1e-3)
 * Returned:
 *   *L      oil/(S 10^(-ks sugar))
 * Status:
 *   ST_ESTIMATED   always: S is right within x/: 2 to 3 (one sigma), and so is L
 *   ST_E_DOMAIN    anything outside its limits, or NaN
 * Source:
 *   form [yalkowsky_cosolvent]; ks from memory.  Checks: tests/data/infusion/louche_index.tsv
 */
enum st_status st_louche_index(double oil, double S, double sugar, double ks, double *L);

/* The verdict for one index: below 0.7 clear, above 1.4 cloud, between them undecided.  For a caller that has no
 * interval. The two limits are a policy, narrower than what is not known of S: tell the interval beside the verdict,
 * and the trial (10 mL in a glass). Given: L >= 0.  Status: ST_OK; ST_E_DOMAIN below 0 or NaN. */
enum st_status st_haze_of_index(double L, enum st_haze *verdict);

/* The verdict for an interval of the index: clear only when all of it is below 0.7, cloud only when all of it is
 * above 1.4. Given: 0 <= low <= high.  Status: ST_OK; ST_E_DOMAIN otherwise, or NaN. */
enum st_status st_haze_of_interval(double low, double high, enum st_haze *verdict);

#endif
