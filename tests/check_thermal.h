#ifndef ST_CHECK_THERMAL_H
#define ST_CHECK_THERMAL_H

#include "check.h"

struct check_result check_freezing_ethanol(const struct check_field in[]);
struct check_result check_freezing_strength(const struct check_field in[]);
struct check_result check_freezing_sucrose(const struct check_field in[]);
struct check_result check_freezing_glucose(const struct check_field in[]);
struct check_result check_freezing_liqueur(const struct check_field in[]);
struct check_result check_freezing_mixture(const struct check_field in[]);
struct check_result check_boiling_ethanol(const struct check_field in[]);
struct check_result check_boiling_mixture(const struct check_field in[]);
struct check_result check_vapour_ethanol(const struct check_field in[]);
struct check_result check_vapour_pressure_ethanol(const struct check_field in[]);
struct check_result check_vapour_pressure_water(const struct check_field in[]);
struct check_result check_heat_capacity_ethanol(const struct check_field in[]);
struct check_result check_heat_capacity_mixture(const struct check_field in[]);
struct check_result check_viscosity_ethanol(const struct check_field in[]);
struct check_result check_viscosity_sucrose(const struct check_field in[]);
struct check_result check_viscosity_mixture(const struct check_field in[]);
struct check_result check_flash_point(const struct check_field in[]);
struct check_result check_solubility_water(const struct check_field in[]);
struct check_result check_solubility_per_100g(const struct check_field in[]);
struct check_result check_solubility_spirit(const struct check_field in[]);
struct check_result check_activity_liqueur(const struct check_field in[]);
struct check_result check_activity_mixture(const struct check_field in[]);
struct check_result check_delle_units(const struct check_field in[]);

#endif
