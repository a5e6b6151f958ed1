#ifndef ST_CORE_REFRACTION_H
#define ST_CORE_REFRACTION_H

#include <stddef.h>

#include "mixture.h"

/* Index of refraction n at 589 nm against air. */

/* The sugar scale at 20 C: index of a sucrose solution, and the mass per cent ("Brix") that a scale shows.
 *
 * Given:
 *   brix   100 x mass fraction of sucrose, -5 .. 85     (or n)
 * Returned:
 *   *n     index (or *brix); untouched when the status is negative
 * Status:
 *   ST_OK            0 .. 85
 *   ST_EXTRAPOLATED  -5 .. 0: below the scale's zero (a warm sample read without compensation)
 *   ST_E_REFUSED     beyond: off the scale
 *   ST_E_DOMAIN      NaN
 * Notes:
 *   1. Polynomial of degree 5 fitted to the 86 values of the scale, residual at most 5e-6 (0.003 Brix).
 *      Of the scale 10-30 % was read in a reproduction of the official table, the rest is from memory, borne
 *      out by its smoothness and by [crc102].
 *   2. Inverse: quadratic start, four Newton steps, good to 1e-11 Brix.
 * Source:
 *   [icumsa1974], [oiv2004]
 */
enum st_status st_n_from_brix(double brix, double *n);
enum st_status st_brix_from_n(double n, double *brix);

/* The inverse for n indices, bit for bit as the single one; idx and brix may be the same array. */
enum st_status st_brix_from_n_n(size_t n, const double idx[], double brix[]);

/* Index of ethanol + water.
 *
 * Given:
 *   p   mass fraction of ethanol, 0 .. 1;  T  temperature, K
 * Returned:
 *   *n  untouched when the status is negative
 * Status:
 *   as st_density_ethanol; ST_EXTRAPOLATED also for p > 0.96 or T outside 283.15 .. 303.15 K
 * Notes:
 *   1. Within 0.6e-4 of the table to 96 % (2e-4 is the table's own doubt); 98-100 % is doubtful in the table.
 *   2. Greatest near p = 0.80 (1.3658): one index has two strengths above 60 % mass.
 *   3. Specific refraction is that of 20 C at every T; water's is that of water at T.
 * Source:
 *   [crc102], fit of the property notes (docs/sources.md)
 */
enum st_status st_n_ethanol(double p, double T, double *n);

/* Index of sucrose + water.  Given w 0 .. 0.85, T.  Status as st_density_sucrose (ST_E_REFUSED w > 0.85).
 * At 20 C exactly the scale of st_n_from_brix; against temperature within 0.013 % mass of [oiv_as2_02]. */
enum st_status st_n_sucrose(double w, double T, double *n);

/* Index of a mixture: n = 1 + rho sum w_i k_i (Gladstone and Dale).
 *
 * Given:
 *   w[ST_NCOMP], T   as st_density_mixture
 * Returned:
 *   *n               untouched when the status is negative
 * Status:
 *   ST_OK            ethanol, water, sucrose, glucose, fructose, up to 5 % acid; 283.15 .. 303.15 K
 *   ST_EXTRAPOLATED, ST_ESTIMATED, ST_E_REFUSED, ST_E_DOMAIN as st_density_mixture
 * Notes:
 *   1. Solids and fat are left out: the instrument sees the liquid between them.  ST_E_REFUSED when they are
 *      more than 99 % of it.
 *   2. Glucose and fructose have factors on the refraction of sucrose, fitted to half of the [crc102] rows: with
 *      sucrose's own, fructose of 48 % would be 0.0018 wrong.  Lactose as sucrose; polyol, protein and extract
 *      by values from memory.
 *   3. Band of the rule for ethanol with sugar: st_n_mixture_band.
 * Source:
 *   [crc102], [icumsa1974]; Gladstone-Dale k's fitted as told in docs/sources.md
 */
enum st_status st_n_mixture(const double w[ST_NCOMP], double T, double *n);

/* The same for n liquids at one temperature, arrays as st_density_mixture_n; bit for bit the single one. */
enum st_status st_n_mixture_n(size_t n, const double *const w[ST_NCOMP], double T, double idx[]);

/* Half of a 95 % band of the index of a mixture: 1e-4 for binary mixtures, with ethanol and sugar together
 * 4.5e-6 sqrt(% vol x g/L) + 2e-4, at least the difference of two refraction rules (0.0003 .. 0.0007).
 * Status as st_n_mixture. */
enum st_status st_n_mixture_band(const double w[ST_NCOMP], double T, double *half_width);

#endif
