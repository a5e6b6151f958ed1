#ifndef ST_CORE_AGEING_H
#define ST_CORE_AGEING_H

#include "status.h"

/* What can honestly be said of a bottle that waits: sucrose parts into glucose and fructose, red of fruit fades, colour
 * thins with dilution.  No "smoothness", no date of a peak: nothing published predicts them. */

/* First order: k, 1/s, >= 0; t, s, >= 0.  *left = exp(-k t); *half = ln 2/k (k > 0).
 * Status: ST_OK; ST_E_DOMAIN outside, or NaN. */
enum st_status st_first_order_left(double k, double t, double *left);
enum st_status st_half_life(double k, double *half);

/* How fast acid parts sucrose.
 *
 * Given:
 *   pH    1..7
 *   T     temperature, K, 253.15..353.15
 * Returned:
 *   *k    1/s: kH 10^-pH, kH = 1.4e-4 L/(mol s) at 25 C with Ea 108 kJ/mol
 * Status:
 *   ST_ESTIMATED   kH from memory; in 20..40 % vol x/: 3 (ST_INVERSION_KH)
 *   ST_E_REFUSED   pH or T outside these limits, pH within 0..14
 *   ST_E_DOMAIN    pH outside 0..14, T not above 0 K, or NaN
 * Notes:
 *   1. pH of a spirit is not what a meter for water shows; that is inside the factor of 3.
 * Source:
 *   [tombari_2007] for Ea; kH from memory.  Checks: tests/data/infusion/sucrose_inversion.tsv
 */
enum st_status st_inversion_rate(double pH, double T, double *k);

/* Dissolved solids over those before, when a share of the sucrose has been parted: water goes into the sugar.
 * Given: share, 0..1.  Returned: *ratio, 1..1.0526 (of the sucrose).  Status: ST_OK; ST_E_DOMAIN outside, or NaN.
 * Source: molar masses, computed. */
enum st_status st_inversion_solids(double share, double *ratio);

/* How fast the red of fruit (anthocyanins) fades in the dark.
 *
 * Given:
 *   T     temperature, K, 253.15..333.15
 * Returned:
 *   *k    1/s: half in 3 months at 20 C, Ea 58.6 kJ/mol
 * Status:
 *   ST_ESTIMATED      15..35 C: x/: 2 (ST_FADING_HALF_LIFE)
 *   ST_EXTRAPOLATED   elsewhere
 *   ST_E_REFUSED      T outside its limits but above 0 K
 *   ST_E_DOMAIN       T not above 0 K, or NaN
 * Notes:
 *   1. Two sour cherry drinks: half-life 5.9 to 6.6 weeks at 30 C in a liqueur, 70 to 75 % lost in 6 months at 20 C in
 *      a juice.  Ea is what joins the two (50 to 70 kJ/mol by their ranges); other fruit, light and air differ.
 * Source:
 *   [sokol_letowska_2018], [bonerz_2007].  Checks: tests/data/infusion/anthocyanin_decay.tsv, literature.tsv
 */
enum st_status st_fading_rate(double T, double *k);

/* Absorbance after dilution and in another glass.
 *
 * Given:
 *   A0         absorbance before, >= 0
 *   dilution   volume before over volume after, 0..1
 *   path       length of the way through the liquid over that of A0, >= 0
 * Returned:
 *   *A         A0 dilution path; those of two liquids that are mixed add
 * Status:
 *   ST_OK; ST_E_DOMAIN   anything outside its limits, or NaN
 * Notes:
 *   1. Not when the pH changes (anthocyanins change colour), and not in a haze, which scatters.
 * Source:
 *   [beer_lambert].  Checks: tests/data/infusion/beer_lambert.tsv
 */
enum st_status st_absorbance(double A0, double dilution, double path, double *A);

#endif
