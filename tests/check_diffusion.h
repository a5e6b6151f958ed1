#ifndef ST_CHECK_DIFFUSION_H
#define ST_CHECK_DIFFUSION_H

#include "check.h"

struct check_result check_crank_uptake(const struct check_field in[]);
struct check_result check_crank_root(const struct check_field in[]);
struct check_result check_crank_time(const struct check_field in[]);
struct check_result check_crank_hours(const struct check_field in[]);
struct check_result check_shared_bath(const struct check_field in[]);
struct check_result check_bath_yield(const struct check_field in[]);
struct check_result check_bath_alpha(const struct check_field in[]);

#endif
