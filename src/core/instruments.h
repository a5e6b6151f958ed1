#ifndef ST_CORE_INSTRUMENTS_H
#define ST_CORE_INSTRUMENTS_H

#include <stdbool.h>

#include "mixture.h"

/* What instruments show when they are put into a liquid. */

enum st_hydrometer {
    ST_HYDROMETER_20C, /* marked SG 20/20 C */
    ST_HYDROMETER_60F  /* marked SG 60/60 F */
};

/* Hand refractometer.
 *
 * Given:
 *   w[ST_NCOMP]  the liquid;  T  its temperature on the prism, K
 *   atc          true: the instrument compensates temperature, as for sucrose in water
 * Returned:
 *   *brix        reading, mass per cent on the 20 C scale; untouched when the status is negative
 * Status:
 *   as st_n_mixture; ST_E_REFUSED when the reading is off the scale (-5 .. 85)
 * Notes:
 *   1. With compensation: the w for which n_sucrose(w, T) = n_sample(T), found by Newton steps held in the
 *      scale (stops at 1e-13, at most 60); without: the 20 C scale read at n_sample(T).
 *   2. The compensation is right for sucrose in water only: at 25 C a liqueur reads 0.2 to 0.5 Brix low.
 */
enum st_status st_refractometer_reading(const double w[ST_NCOMP], double T, bool atc, double *brix);

/* The index that a reading stands for.  Given brix -5 .. 85, T, atc; returned *n.  Status as st_n_sucrose. */
enum st_status st_n_from_reading(double brix, double T, bool atc, double *n);

/* Glass hydrometer.
 *
 * Given:
 *   w[ST_NCOMP], T   the liquid and its temperature, K
 *   cal              its reference temperature
 * Returned:
 *   *sg              reading, density relative to water; untouched when the status is negative
 * Status:
 *   as st_density_mixture
 * Notes:
 *   sg = rho(T) (1 + 25e-6 (t - t_ref)) / rho_water(t_ref): the glass (soda glass) swells.
 * Source:
 *   [oiml1975] tables VIII-XI (25e-6 per K)
 */
enum st_status st_hydrometer_reading(const double w[ST_NCOMP], double T, enum st_hydrometer cal, double *sg);

/* Density at T that a hydrometer reading sg means; ST_E_DOMAIN for sg not in 0.7 .. 1.7, T not above 0, NaN. */
enum st_status st_density_from_hydrometer(double sg, double T, enum st_hydrometer cal, double *rho);

/* Ratio of the density at 20 C to that of water at 20 C, in vacuum.  Status as st_density_mixture. */
enum st_status st_sg_20_20(const double w[ST_NCOMP], double *sg);

/* Density from a weighed flask.
 *
 * Given:
 *   m_kg     mass shown by the balance for the liquid (tare taken off), kg, > 0
 *   V_m3     volume of the flask at 20 C, m3, > 0
 *   T        temperature of liquid and flask, K
 *   in_air   true: weighed in air of 1.2 kg/m3 with weights of 8000 kg/m3; false: m_kg is mass in vacuum
 * Returned:
 *   *rho     kg/m3; untouched when the status is negative
 * Status:
 *   ST_OK, ST_E_DOMAIN
 * Notes:
 *   rho = (m/V(T)) (1 - 1.2/8000) + 1.2 in air, V(T) = V (1 + 25e-6 (t - 20)) for soda glass.
 * Source:
 *   [oiml1975]
 */
enum st_status st_density_from_flask(double m_kg, double V_m3, double T, bool in_air, double *rho);

#endif
