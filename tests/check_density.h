#ifndef ST_CHECK_DENSITY_H
#define ST_CHECK_DENSITY_H

#include "check.h"

/* Arguments, results and units of each are in the table of check_functions.c. */
struct check_result check_density_water(const struct check_field in[]);
struct check_result check_density_ethanol(const struct check_field in[]);
struct check_result check_density_sucrose(const struct check_field in[]);
struct check_result check_density_glucose(const struct check_field in[]);
struct check_result check_density_fructose(const struct check_field in[]);
struct check_result check_density_invert(const struct check_field in[]);
struct check_result check_density_citric(const struct check_field in[]);
struct check_result check_density_liqueur(const struct check_field in[]);
struct check_result check_density_mixture(const struct check_field in[]);
struct check_result check_sucrose_from_density(const struct check_field in[]);
struct check_result check_extract_from_residue(const struct check_field in[]);

#endif
