#ifndef ST_CORE_SOLVENT_POWER_H
#define ST_CORE_SOLVENT_POWER_H

#include "mixture.h"

/* What the strength of a spirit does to a marker: how much of it the liquid can hold, how it parts between piece and
 * liquid, how much of a bitter or a tannin comes at best, how fast it moves.  f is always the volume fraction of
 * ethanol, 0..1, at 20 C.  Temperature: arrhenius.h for speed, louche.h for what stays dissolved in the cold. Constants
 * and their ranges: steep_constants.h. */

/* Slope of log10 of the solubility against f.
 *
 * Given:
 *   log_p    log10 of the octanol-water partition coefficient, -5..12
 * Returned:
 *   *sigma   0.95 log_p + 0.30, but not below 0
 * Status:
 *   ST_OK
 *   ST_E_DOMAIN   log_p outside its limits, or NaN
 * Notes:
 *   1. Both constants from memory (another set: 0.93 and 0.40).  That sigma is linear in log P is read.
 *   2. For markers less fond of oil than log P = -0.32 the law would say that spirit dissolves less than water does.
 *      That may be so (sugars), but the law is about oils: there it is not used, and the slope is 0.
 * Source:
 *   [yalkowsky_cosolvent].  Checks: tests/data/infusion/cosolvency.tsv
 */
enum st_status st_sigma_of_log_p(double log_p, double *sigma);

/* How much of a marker the liquid holds dissolved at 20..25 C.
 *
 * Given:
 *   S_w     solubility in water, kg/m3 (g/L), > 0
 *   sigma   slope, 0..12
 *   f       volume fraction of ethanol, 0..1
 * Returned:
 *   *S      kg/m3: S_w 10^(sigma f), at most 900 (Note 2)
 * Status:
 *   ST_ESTIMATED      f in 0.10..0.90: right within x/: 2 to 3 (ST_SOLUBILITY_ERROR)
 *   ST_EXTRAPOLATED   f elsewhere, or the cap is reached: too high there (Note 1)
 *   ST_E_DOMAIN       anything outside its limits, or NaN
 * Notes:
 *   1. The law overstates S below 10 % vol, where ethanol hardly helps yet, and near pure ethanol.
 *   2. 900 kg/m3, about the density of an oil, stands for "mixes with it": no liquid holds more oil than oil does.
 * Source:
 *   [yalkowsky_cosolvent].  Checks: tests/data/infusion/cosolvency.tsv, literature.tsv
 */
enum st_status st_solubility_in_spirit(double S_w, double sigma, double f, double *S);

/* Partition coefficient K = concentration in the piece over that in the liquid, carried from one strength to another.
 *
 * Given:
 *   K0      at the strength f0, > 0
 *   s       slope, 0..12: sigma times ST_PARTITION_SHARE (0.5; 0.3..0.8)
 *   f0, f   volume fractions of ethanol, 0..1
 * Returned:
 *   *K      K0 10^(-s (f - f0))
 * Status:
 *   ST_ESTIMATED   always: the share is from memory
 *   ST_E_DOMAIN    anything outside its limits, or NaN
 * Source:
 *   form [yalkowsky_cosolvent]; the share from memory
 */
enum st_status st_partition_in_spirit(double K0, double s, double f0, double f, double *K);

/* Share of the most that comes at the best strength, for phenolics, bitters and pigments.
 *
 * Given:
 *   f       volume fraction of ethanol, 0..1
 *   f0      the best strength, 0.35..0.65 (ST_HUMP_CENTRE: 0.50; 0.40..0.60)
 * Returned:
 *   *E      0..1: exp(-(f - f0)^2/(2 0.25^2)), kept at 0.8 or more within 0.35..0.65 (Note 1); 1 at f0
 * Status:
 *   ST_ESTIMATED      f in 0.20..0.80
 *   ST_EXTRAPOLATED   f elsewhere; below 20 % vol enzymes of roots and leaves work, which this does not know
 *   ST_E_DOMAIN       anything outside its limits, or NaN
 * Notes:
 *   1. Evidence: gentian best at 55 % vol, another gentian at 40 and 70, oak tannin at 60.  So little that between 35
 *      and 65 % vol the choice of strength must not count for more than 20 %.  Below and above the curve goes on from
 *      where that floor leaves it, without a jump.
 * Source:
 *   [arino_1997] and [gentian_2024] (best strengths); the form and the width from memory
 */
enum st_status st_hump(double f, double f0, double *E);

/* What the thickness of the liquid does to the speed of diffusion, at 20 C: viscosity of water over that of the liquid.
 *
 * Given:
 *   w         mass fractions of the whole liquid
 * Returned:
 *   *factor   1 for water, about 0.35 at 45 % mass of ethanol, less with sugar
 * Status:
 *   as st_viscosity at 20 C; outputs untouched when negative
 * Notes:
 *   1. Always at 20 C: what warmth does is in the activation energy (arrhenius.h), and must not be counted twice.
 *   2. A diffusivity that was measured in a spirit holds the thickness of that spirit: divide it by the factor there.
 *   3. For liquid in and around tissue this is a rule of thumb (speed as 1/viscosity), from memory.
 * Source:
 *   [crc102] through viscosity.h.  Checks: tests/data/infusion/viscosity_ratio.tsv
 */
enum st_status st_viscosity_factor(const double w[ST_NCOMP], double *factor);

#endif
