#ifndef ST_CHECK_UNITS_H
#define ST_CHECK_UNITS_H

#include "check.h"

struct check_result check_unit_base(const struct check_field in[]);
struct check_result check_unit_sum(const struct check_field in[]);
struct check_result check_unit_celsius(const struct check_field in[]);
struct check_result check_unit_back(const struct check_field in[]);

#endif
