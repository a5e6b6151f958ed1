#ifndef ST_CORE_DENSITY_SUGAR_H
#define ST_CORE_DENSITY_SUGAR_H

#include "status.h"

/* Density of a solution of one sugar in water at 101.325 kPa.
 *
 * Given:
 *   w     mass fraction of sugar, 0 <= w <= 1
 *   T     temperature, K
 * Returned:
 *   *rho  density, kg/m3; untouched when the status is negative
 * Status:
 *   ST_OK            w <= 0.70 (glucose 0.60, fructose and invert 0.48), 273.15 .. 313.15 K
 *                    (glucose, fructose, invert 283.15 .. 303.15: Note 3)
 *   ST_EXTRAPOLATED  above that up to w = 0.85; 253.15 .. 333.15 K
 *   ST_ESTIMATED     w > 0.85 (Note 4)
 *   ST_E_REFUSED     T outside 253.15 .. 333.15 K
 *   ST_E_DOMAIN      w outside 0 .. 1, T not above 0, or NaN
 * Notes:
 *   1. Sucrose: the increments of SPS-4 on the water line of st_density_water, so that sugar solutions and
 *      ethanol-water meet in water without a step (the two water lines differ by 0.002 kg/m3).
 *   2. Glucose and fructose: the sucrose increment times a factor near 1, fitted to half of the rows of
 *      [crc102] at 20 C (which rows: docs/sources.md) and held beyond the last; within 0.13 kg/m3 of every row.
 *   3. Their change with temperature is taken as that of sucrose: no table of it was reachable.
 *   4. No such liquid exists near room temperature; the formula is carried on so that sums of streams can
 *      pass.  At w = 1 it lies 2 % below crystalline sucrose.
 *   5. Invert: glucose and fructose half and half, specific volumes averaged.
 * Source:
 *   [sps4] (sucrose), [crc102] (glucose, fructose).
 */
enum st_status st_density_sucrose(double w, double T, double *rho);
enum st_status st_density_glucose(double w, double T, double *rho);
enum st_status st_density_fructose(double w, double T, double *rho);
enum st_status st_density_invert(double w, double T, double *rho);

/* Mass fraction of the sucrose solution with this density (the inverse of st_density_sucrose).
 *
 * Given:
 *   rho   kg/m3;  T  K
 * Returned:
 *   *w    mass fraction, 0 .. 1; untouched when the status is negative
 * Status:
 *   as st_density_sucrose at the answer; ST_E_DOMAIN when no w in 0 .. 1 has this density
 * Notes:
 *   Newton with bisection as safeguard on 0 .. 1, stops at 1e-14, at most 60 steps.
 */
enum st_status st_w_from_density_sucrose(double rho, double T, double *w);

#endif
