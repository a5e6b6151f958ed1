#ifndef ST_CORE_WATER_H
#define ST_CORE_WATER_H

#include "status.h"

/* Density of pure water at 101.325 kPa: the one water line of every mixture in this library.
 *
 * Given:
 *   T     temperature, K
 * Returned:
 *   *rho  density, kg/m3; untouched when the status is negative
 * Status:
 *   ST_OK            273.15 .. 313.15 K
 *   ST_EXTRAPOLATED  253.15 .. 273.15 (supercooled) or 313.15 .. 333.15 (Note 2)
 *   ST_E_REFUSED     other T > 0
 *   ST_E_DOMAIN      T not above 0, or NaN
 * Notes:
 *   1. Up to 40 C the terms A1 and B1..B6 of the OIML formula: 998.2012 kg/m3 at 20 C.
 *   2. The OIML formula ends at 40 C.  Above it the line goes on by the increments of the water equation
 *      printed with SPS-4, moved (by about 0.002 kg/m3) so that it is continuous at 40 C.
 * Source:
 *   [oiml1975] general formula, p = 0; above 40 C [sps4] water equation.
 */
enum st_status st_density_water(double T, double *rho);

/* Index of refraction of water against air, 589 nm.
 *
 * Given:
 *   T   temperature, K
 * Returned:
 *   *n  index; untouched when the status is negative
 * Status:
 *   ST_OK 283.15 .. 333.15; ST_EXTRAPOLATED 253.15 .. 283.15; ST_E_REFUSED other T > 0; ST_E_DOMAIN
 * Notes:
 *   1. The value at 20 C is that of the sucrose scale at 0 % (1.332987); the change with T is a cubic through
 *      the values at 20, 30, 45 and 60 C; 10 .. 20 C is borne out by the sucrose correction table.
 * Source:
 *   [iso1743], [icumsa1974]; see docs/sources.md
 */
enum st_status st_n_water(double T, double *n);

#endif
