#ifndef ST_CORE_CYANOGEN_H
#define ST_CORE_CYANOGEN_H

#include "status.h"

/* Upper bounds on hydrogen cyanide from amygdalin.  Everything comes out, all of it is split, nothing evaporates.
 * Nothing in this header takes a time, a warmth, a strength or a toasting: none of them lowers a bound. */

extern const double ST_HCN_PER_AMYGDALIN;          /* kg/kg: 27.025/457.43, one mole a mole */
extern const double ST_BENZALDEHYDE_PER_AMYGDALIN; /* kg/kg: 106.12/457.43, one mole a mole */

/* Hydrogen cyanide at most.
 *
 * Given:
 *   content   amygdalin in the raw kernel, kg/kg, 0..1: the upper end; ST_AMYGDALIN_UNKNOWN (0.069) if nobody measured it
 *   dose      kernels in the liquid, kg/m3 (g/L), >= 0; cracked stones count as kernels
 * Returned:
 *   *hcn      kg/m3
 * Status:
 *   ST_OK         a bound, not an expectation
 *   ST_E_DOMAIN   anything outside its limits, or NaN
 * Source:
 *   molar masses; contents [tuncel_1995], [nalcaci_2025].  Checks: tests/data/infusion/stoichiometry.tsv, hcn.tsv
 */
enum st_status st_hcn_at_most(double content, double dose, double *hcn);

/* Benzaldehyde at most, by the same count (flavour: a dead enzyme gives less).  As above. */
enum st_status st_benzaldehyde_at_most(double content, double dose, double *benzaldehyde);

/* How much of a drink holds a dose of so much per body weight.
 *
 * Given:
 *   body      body weight, kg, > 0
 *   per_body  dose, kg/kg, > 0: acute reference dose of hydrogen cyanide 20e-9 [efsa_2016]
 *   c         in the drink, kg/m3, > 0
 * Returned:
 *   *volume   m3
 * Status:
 *   ST_OK; ST_E_DOMAIN   anything outside its limits, or NaN
 * Checks: tests/data/infusion/hcn.tsv
 */
enum st_status st_volume_of_dose(double body, double per_body, double c, double *volume);

#endif
