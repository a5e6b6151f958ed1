#ifndef ST_CORE_BOILING_H
#define ST_CORE_BOILING_H

#include "mixture.h"

/* Vapour pressure of pure ethanol and of pure water, Pa (Antoine).
 * T in K, 273.15 <= T <= 433.15, else ST_E_REFUSED (NaN: ST_E_DOMAIN); ST_EXTRAPOLATED above 373.15 K.
 * Source: [antoine_ew] */
enum st_status st_vapour_pressure_ethanol(double T, double *P);
enum st_status st_vapour_pressure_water(double T, double *P);

/* Temperature at which the liquid begins to boil at 101.325 kPa: as hot as an open pan can get.
 *
 * Given:
 *   w     mass fractions of the whole liquid
 * Returned:
 *   *T_K  K
 * Status:
 *   ST_OK         ethanol-water, any ratio
 *   ST_ESTIMATED  with sugars or other solutes (Note 2)
 *   ST_E_REFUSED  more than 85 % of solutes in solutes and water
 *   ST_E_NOCONV   no boiling point in 340..433.15 K (not met in 0..85 % of solutes)
 *   ST_E_DOMAIN
 * Notes:
 *   1. Solved: x_E g_E P_E(T) + x_W g_W a_S P_W(T) = 101325 Pa, by bisection on 340..433.15 K to 1e-9 K, at most 64
 *      halvings.
 *   2. Solutes lower the water's part by a_S (st_activity_sugar), so they raise the boiling point; that they drive
 *      ethanol out is left out.
 *   3. Against published points at 101.3 kPa within 0.6 K.
 * Source:
 *   [vanlaar_ew], [antoine_ew], [norrish1966]; compared with [perry_vle]
 */
enum st_status st_boiling_point(const double w[ST_NCOMP], double *T_K);

#endif
