#ifndef ST_CORE_UPTAKE_FORMS_H
#define ST_CORE_UPTAKE_FORMS_H

#include "status.h"

/* Curves that describe what was measured in one jar, and foretell no other: none carries over to another size, cut or
 * amount of liquid (crank.h and bath.h do).  Times in any one unit.
 * Status of all: ST_OK; ST_E_DOMAIN for anything outside its limits, or NaN. */

/* Weibull: 1 - exp(-(t/tau)^n).  tau > 0; n 0.05..5, 0.4..0.8 is usual (from memory); t >= 0.  *F 0..1. */
enum st_status st_uptake_weibull(double tau, double n, double t, double *F);

/* Peleg: t/(K1 + K2 t), begins with 1/K1, ends at 1/K2.  K1, K2 > 0; t >= 0.  *c in the unit of 1/K2; K2 *c is the
 * share. Source: [peleg1988] */
enum st_status st_uptake_peleg(double K1, double K2, double t, double *c);

/* Two speeds: w (1 - exp(-k_w t)) + (1 - w)(1 - exp(-k_d t)), a share washed off at once and one that diffuses.
 * w 0..1; k_w, k_d >= 0; t >= 0.  *F 0..1.
 * Source: [so_macdonald1986] */
enum st_status st_uptake_two_speeds(double w, double k_w, double k_d, double t, double *F);

/* A maker's own curve kept in two numbers: the straight line of ln(-ln(1 - F)) against ln t by least squares.
 * n 2..1000 points; t[n] > 0, not all the same; F[n] above 0, below 1.
 * Returned: *tau, *shape.  ST_E_REFUSED when the curve does not rise (shape outside 0.05..5). */
enum st_status st_weibull_fit(int n, const double t[], const double F[], double *tau, double *shape);

/* The same for Peleg: the straight line of t/c against t.  n 2..1000; t[n] > 0, not all the same; c[n] > 0.
 * Returned: *K1, *K2.  ST_E_REFUSED when one of them is not above 0. */
enum st_status st_peleg_fit(int n, const double t[], const double c[], double *K1, double *K2);

#endif
