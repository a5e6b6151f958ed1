#ifndef ST_CHECK_STEEP_H
#define ST_CHECK_STEEP_H

#include "check.h"

struct check_result check_solubility_in_spirit(const struct check_field in[]);
struct check_result check_louche_index(const struct check_field in[]);
struct check_result check_chill_ratio(const struct check_field in[]);
struct check_result check_viscosity_ratio(const struct check_field in[]);
struct check_result check_arrhenius_ea(const struct check_field in[]);
struct check_result check_arrhenius_at(const struct check_field in[]);
struct check_result check_arrhenius_two(const struct check_field in[]);
struct check_result check_settling(const struct check_field in[]);
struct check_result check_inversion_half_life(const struct check_field in[]);
struct check_result check_half_lives_left(const struct check_field in[]);
struct check_result check_fading_lost(const struct check_field in[]);
struct check_result check_fading_half_life(const struct check_field in[]);
struct check_result check_absorbance(const struct check_field in[]);
struct check_result check_apparent_rate(const struct check_field in[]);
struct check_result check_roast_left(const struct check_field in[]);
struct check_result check_toast_core(const struct check_field in[]);
struct check_result check_uptake_two_speeds(const struct check_field in[]);
struct check_result check_uptake_peleg(const struct check_field in[]);
struct check_result check_uptake_weibull(const struct check_field in[]);
struct check_result check_hcn_at_most(const struct check_field in[]);
struct check_result check_benzaldehyde_at_most(const struct check_field in[]);
struct check_result check_volume_of_dose(const struct check_field in[]);
struct check_result check_kernels_of_dose(const struct check_field in[]);
struct check_result check_quinine_equivalent(const struct check_field in[]);
struct check_result check_sucrose_equivalent(const struct check_field in[]);
struct check_result check_taste_ratio(const struct check_field in[]);
struct check_result check_update_mean(const struct check_field in[]);
struct check_result check_update_sd(const struct check_field in[]);

#endif
