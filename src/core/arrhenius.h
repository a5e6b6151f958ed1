#ifndef ST_CORE_ARRHENIUS_H
#define ST_CORE_ARRHENIUS_H

#include "status.h"

/* How warmth speeds a process up, and the activation energy from measured speeds. */

extern const double ST_GAS_CONSTANT; /* J/(mol K), exact in the SI: [si_units] */

/* Given:
 *   Ea        activation energy, J/mol, 0..500e3
 *   T, T_ref  temperatures, K, 200..700
 * Returned:
 *   *factor   speed at T over speed at T_ref: exp(-Ea/R (1/T - 1/T_ref))
 * Status:
 *   ST_OK; ST_E_DOMAIN   anything outside its limits, or NaN
 * Notes:
 *   1. For diffusion in plant tissue Ea is ST_EA_DIFFUSION, 30 kJ/mol (20..40), from memory: x 1.3 to 1.6 for 10 K.
 *      A temperature above that of any measurement is the caller's to flag.
 * Checks: tests/data/infusion/arrhenius.tsv, chill.tsv
 */
enum st_status st_arrhenius_factor(double Ea, double T, double T_ref, double *factor);

struct st_arrhenius_fit {
    double Ea;      /* J/mol */
    double sd_Ea;   /* its standard error, J/mol; NaN for two points */
    double k_ref;   /* speed at T_ref, unit of k */
    double sd_ln_k; /* standard error of its logarithm; NaN for two points */
};

/* A straight line of ln k against 1/T by least squares, all points alike.
 *
 * Given:
 *   n           points, 2..1000
 *   T[n], k[n]  temperatures, K, 200..700, not all the same; speeds, > 0
 *   T_ref       temperature at which the speed is wanted, K
 * Returned:
 *   *fit
 * Status:
 *   ST_OK             T_ref between the lowest and the highest temperature
 *   ST_EXTRAPOLATED   T_ref outside them
 *   ST_E_DOMAIN       anything outside its limits, or NaN
 * Source:
 *   ordinary least squares.  Checks: tests/data/infusion/arrhenius.tsv, on data of [castillo_santos_2017]
 */
enum st_status st_arrhenius_fit(int n, const double T[], const double k[], double T_ref, struct st_arrhenius_fit *fit);

#endif
