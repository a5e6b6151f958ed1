#ifndef ST_CHECK_STRENGTH_H
#define ST_CHECK_STRENGTH_H

#include "check.h"

struct check_result check_strength_from_mass(const struct check_field in[]);
struct check_result check_mass_from_strength(const struct check_field in[]);
struct check_result check_strength_60f_from_mass(const struct check_field in[]);
struct check_result check_mass_from_strength_60f(const struct check_field in[]);
struct check_result check_proof_from_mass(const struct check_field in[]);
struct check_result check_mass_from_proof(const struct check_field in[]);
struct check_result check_strength_mixture(const struct check_field in[]);
struct check_result check_sg_vacuum_60f(const struct check_field in[]);
struct check_result check_sg_air_60f(const struct check_field in[]);
struct check_result check_water_parts_60f(const struct check_field in[]);
struct check_result check_reduce_60f(const struct check_field in[]);
struct check_result check_pounds_per_gallon(const struct check_field in[]);
struct check_result check_gallons_per_pound(const struct check_field in[]);
struct check_result check_proof_gallons_per_pound(const struct check_field in[]);
struct check_result check_equal_volumes(const struct check_field in[]);
struct check_result check_hidden_proof(const struct check_field in[]);

#endif
