#ifndef ST_CORE_DENSITY_ETHANOL_H
#define ST_CORE_DENSITY_ETHANOL_H

#include <stddef.h>

#include "status.h"

/* Density of ethanol + water at 101.325 kPa.
 *
 * Given:
 *   p     mass fraction of ethanol in ethanol + water, 0 <= p <= 1
 *   T     temperature, K
 * Returned:
 *   *rho  density, kg/m3; untouched when the status is negative
 * Status:
 *   ST_OK            253.15 .. 313.15 K and above the freezing curve
 *   ST_EXTRAPOLATED  below the freezing curve (Note 2); p = 0 as st_density_water
 *   ST_E_REFUSED     p > 0 and T outside 253.15 .. 313.15 K (Note 1)
 *   ST_E_DOMAIN      p outside 0 .. 1, T not above 0, or NaN
 * Notes:
 *   1. The formula is of high degree and must not be carried past 40 C: volumes of hot spirits are refused.
 *   2. The freezing curve is that of ethanol + water, p <= 0.60 (0.36 K allowed for its misfit); stronger
 *      mixtures freeze below -44 C, outside the formula anyway.
 *   3. Agreement with published tables is within 0.1 kg/m3; no uncertainty is stated in the source as seen.
 * Source:
 *   [oiml1975] general formula, 54 coefficients; [melinder2010] freezing curve.
 */
enum st_status st_density_ethanol(double p, double T, double *rho);

/* The same for p[n] at one temperature: rho[i] bit for bit what st_density_ethanol gives.
 *
 * Given:
 *   n, p[n], T   as above; p and rho may be the same array, n may be 0
 * Returned:
 *   rho[n]       untouched when the status is negative
 * Status:
 *   the worst of the n cases
 */
enum st_status st_density_ethanol_n(size_t n, const double p[], double T, double rho[]);

#endif
