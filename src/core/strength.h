#ifndef ST_CORE_STRENGTH_H
#define ST_CORE_STRENGTH_H

#include <stddef.h>

#include "mixture.h"

/* Strength q is % vol: litres of ethanol, measured at 20 C, in 100 L of liquid at 20 C.  It belongs to the
 * composition: it does not change when the liquid is warmed.  Proof is the American one: twice the % vol
 * with both volumes at 60 F; a display unit only. */

#define ST_T20 293.15              /* 20 C */
#define ST_T60F (288.0 + 127.0/180) /* 60 F = 288.70555... K */

/* Strength of ethanol + water.
 *
 * Given:
 *   p   mass fraction of ethanol, 0 .. 1          (or q, 0 .. 100; proof, 0 .. 200)
 * Returned:
 *   *q  % vol at 20 C (or *p, *proof); untouched when the status is negative
 * Status:
 *   ST_OK; ST_E_DOMAIN outside the limits or NaN
 * Notes:
 *   1. q = 100 p rho(p, 20 C)/rho(1, 20 C); proof = 200 p rho(p, 60 F)/rho(1, 60 F).
 *   2. The inverse starts from a polynomial (within 1e-3) and takes two Newton steps and one more by the
 *      slope of the second, held inside 0 .. 1; what is left is the rounding of the density formula, whose
 *      terms reach 7e5: below 1e-13 up to 60 % mass, up to 1e-12 above.
 * Source:
 *   [oiml1975] densities and definition; [cfr27_30] proof.
 */
enum st_status st_strength_from_p(double p, double *q);
enum st_status st_p_from_strength(double q, double *p);
enum st_status st_proof_from_p(double p, double *proof);
enum st_status st_p_from_proof(double proof, double *p);

/* The inverse for n strengths, bit for bit as the single one.
 * Given n, q[n]; returned p[n], untouched when the status is negative (any q outside 0 .. 100 or NaN);
 * p and q may be the same array. */
enum st_status st_p_from_strength_n(size_t n, const double q[], double p[]);

/* Density of an unsweetened spirit of strength q at 20 C, kg/m3.  Status as st_p_from_strength. */
enum st_status st_spirit_density(double q, double *rho);

/* Strength of any mixture: q = 100 wE rho_mix(20 C)/rho(1, 20 C).
 * Given w[ST_NCOMP]; returned *q, % vol; status as st_density_mixture at 20 C. */
enum st_status st_strength_mixture(const double w[ST_NCOMP], double *q);

/* Mass fractions of a liquid of ethanol, water, sugars and acid from what a label says.
 *
 * Given:
 *   q            strength, % vol at 20 C, 0 .. 100
 *   solutes[ST_NCOMP]  grams per litre at 20 C of each solute, >= 0; water and ethanol entries are ignored
 * Returned:
 *   w[ST_NCOMP]  mass fractions; untouched when the status is negative
 * Status:
 *   as st_density_mixture at 20 C; ST_E_DOMAIN when no water is left over, or a value is out of limits
 * Notes:
 *   Solves rho(w) = rho, where rho is what the litre weighs, by secant steps held in a bracket from "no water"
 *   up; stops at 1e-13 relative, at most 100 steps.
 */
enum st_status st_mixture_from_strength(double q, const double solutes[ST_NCOMP], double w[ST_NCOMP]);

/* Volume lost on mixing two liquids at 20 C.
 *
 * Given:
 *   m1, m2           masses, kg, >= 0, not both 0
 *   w1, w2[ST_NCOMP] their mass fractions
 * Returned:
 *   *dV              V1 + V2 - V, m3, positive when the mixture shrinks; untouched when negative
 * Status:
 *   the worst of st_density_mixture at 20 C for the two and the mixture
 */
enum st_status st_contraction(double m1, const double w1[ST_NCOMP], double m2, const double w2[ST_NCOMP],
                              double *dV);

/* Grams of solute c in a litre at 20 C: 1000 w[c] rho/1000.  Status as st_density_mixture at 20 C. */
enum st_status st_grams_per_litre(const double w[ST_NCOMP], enum st_component c, double *g_l);

#endif
