#include "check_units.h"

#include "check_kit.h"
#include "core/units.h"

/* in[1] of the unit in[0], in base units. */
static enum st_status base(const struct check_field in[], double *y)
{
    const struct st_unit *u = st_unit_by_key(in[0].word);
    return u ? st_unit_to_base(u, in[1].x, y) : ST_E_DOMAIN;
}

struct check_result check_unit_base(const struct check_field in[])
{
    double y = CHECK_SENTINEL;
    return check_settle(base(in, &y), &y, 1.0, 0.0);
}

struct check_result check_unit_sum(const struct check_field in[])
{
    double a = 0.0, b = 0.0;
    const enum st_status s = st_status_worse(base(in, &a), base(in + 2, &b));
    return check_plain(s, a + b);
}

struct check_result check_unit_celsius(const struct check_field in[])
{
    double y = CHECK_SENTINEL;
    return check_settle(base(in, &y), &y, 1.0, -273.15);
}

struct check_result check_unit_back(const struct check_field in[])
{
    double y = CHECK_SENTINEL;
    const struct st_unit *u = st_unit_by_key(in[0].word);
    return check_settle(u ? st_unit_from_base(u, in[1].x, &y) : ST_E_DOMAIN, &y, 1.0, 0.0);
}
