#ifndef ST_CORE_DENSITY_ACID_H
#define ST_CORE_DENSITY_ACID_H

#include "status.h"

/* Density of a solution of citric acid (anhydrous) in water at 101.325 kPa.
 *
 * Given:
 *   w     mass fraction of anhydrous citric acid, 0 <= w <= 1
 *   T     temperature, K
 * Returned:
 *   *rho  density, kg/m3; untouched when the status is negative
 * Status:
 *   ST_OK            w <= 0.30 and 283.15 .. 303.15 K
 *   ST_EXTRAPOLATED  w <= 0.60 and 253.15 .. 333.15 K
 *   ST_ESTIMATED     w > 0.60
 *   ST_E_REFUSED     T outside 253.15 .. 333.15 K
 *   ST_E_DOMAIN      w outside 0 .. 1, T not above 0, or NaN
 * Notes:
 *   1. Water line of st_density_water plus w*(c1 + c2*w + c3*w^2), fitted to half of the 20 C rows (docs/sources.md);
 *      the increment is taken as the same at every temperature: no table of it was reachable.
 *   2. Other acids of fruit (malic, tartaric) are counted as citric.
 * Source:
 *   [crc102]
 */
enum st_status st_density_citric(double w, double T, double *rho);

#endif
