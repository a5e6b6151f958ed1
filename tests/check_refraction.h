#ifndef ST_CHECK_REFRACTION_H
#define ST_CHECK_REFRACTION_H

#include "check.h"

struct check_result check_index_water(const struct check_field in[]);
struct check_result check_index_ethanol(const struct check_field in[]);
struct check_result check_index_sucrose(const struct check_field in[]);
struct check_result check_index_glucose(const struct check_field in[]);
struct check_result check_index_fructose(const struct check_field in[]);
struct check_result check_index_citric(const struct check_field in[]);
struct check_result check_index_liqueur(const struct check_field in[]);
struct check_result check_index_mixture(const struct check_field in[]);
struct check_result check_index_from_brix(const struct check_field in[]);
struct check_result check_brix_from_index(const struct check_field in[]);
struct check_result check_brix_correction(const struct check_field in[]);
struct check_result check_refractometer(const struct check_field in[]);
struct check_result check_hydrometer_20c(const struct check_field in[]);
struct check_result check_hydrometer_60f(const struct check_field in[]);
struct check_result check_regression_strength(const struct check_field in[]);
struct check_result check_gauge_strength(const struct check_field in[]);
struct check_result check_gauge_sugar(const struct check_field in[]);

#endif
