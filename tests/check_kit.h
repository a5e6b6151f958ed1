#ifndef ST_CHECK_KIT_H
#define ST_CHECK_KIT_H

#include "check.h"
#include "core/mixture.h"

/* Helpers of the functions in check_density.c, check_strength.c ... */

/* Outputs are set to this before a call, so that a refusal that changes them is seen. */
#define CHECK_SENTINEL (-987654321.25)

/* The result of a core function that returned s and left *y in its output: value = *y factor + offset.  By address,
 * since in check_settle(f(x, &y), &y, ...) the order of the arguments is open. */
struct check_result check_settle(enum st_status s, const double *y, double factor, double offset);

/* The result of a calculation of several calls, whose worst status is s. */
struct check_result check_plain(enum st_status s, double value);

/* t in degC. */
double check_kelvin(double t_C);

/* w[] from five fields: ethanol, sucrose, glucose, fructose, citric acid, kg/kg; the rest is water. */
void check_five(const struct check_field in[], double w[ST_NCOMP]);

/* w[] of ethanol, sucrose and water from % vol and g/L at 20 C; status of st_mixture_from_strength. */
enum st_status check_liqueur(double pct_vol, double sucrose_g_l, double w[ST_NCOMP]);

/* w[] of one component in water. */
void check_binary(enum st_component c, double mass_pct, double w[ST_NCOMP]);

#endif
