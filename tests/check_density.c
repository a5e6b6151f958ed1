#include "check_density.h"

#include "check_kit.h"
#include "core/density_acid.h"
#include "core/density_ethanol.h"
#include "core/density_mixture.h"
#include "core/density_sugar.h"
#include "core/gauge.h"
#include "core/strength.h"
#include "core/water.h"

struct check_result check_density_water(const struct check_field in[])
{
    double rho = CHECK_SENTINEL;
    const enum st_status s = st_density_water(check_kelvin(in[0].x), &rho);
    return check_settle(s, &rho, 1.0, 0.0);
}

/* One solute of mass per cent in[0] at in[1] degC. */
static struct check_result binary(enum st_status (*f)(double, double, double *), const struct check_field in[])
{
    double rho = CHECK_SENTINEL;
    const enum st_status s = f(in[0].x / 100.0, check_kelvin(in[1].x), &rho);
    return check_settle(s, &rho, 1.0, 0.0);
}

struct check_result check_density_ethanol(const struct check_field in[])
{
    return binary(st_density_ethanol, in);
}

struct check_result check_density_sucrose(const struct check_field in[])
{
    return binary(st_density_sucrose, in);
}

struct check_result check_density_glucose(const struct check_field in[])
{
    return binary(st_density_glucose, in);
}

struct check_result check_density_fructose(const struct check_field in[])
{
    return binary(st_density_fructose, in);
}

struct check_result check_density_invert(const struct check_field in[])
{
    return binary(st_density_invert, in);
}

struct check_result check_density_citric(const struct check_field in[])
{
    return binary(st_density_citric, in);
}

struct check_result check_density_liqueur(const struct check_field in[])
{
    double w[ST_NCOMP], rho = CHECK_SENTINEL;
    const enum st_status s = check_liqueur(in[0].x, in[1].x, w);
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_status_worse(s, st_density_mixture(w, ST_T20, &rho)), &rho, 1.0, 0.0);
}

struct check_result check_density_mixture(const struct check_field in[])
{
    double w[ST_NCOMP], rho = CHECK_SENTINEL;
    check_five(in, w);
    const enum st_status s = st_density_mixture(w, check_kelvin(in[5].x), &rho);
    return check_settle(s, &rho, 1.0, 0.0);
}

struct check_result check_sucrose_from_density(const struct check_field in[])
{
    double w = CHECK_SENTINEL;
    const enum st_status s = st_w_from_density_sucrose(in[0].x, check_kelvin(in[1].x), &w);
    return check_settle(s, &w, 100.0, 0.0);
}

struct check_result check_extract_from_residue(const struct check_field in[])
{
    double g_l = CHECK_SENTINEL;
    const enum st_status s = st_extract_from_residue(in[0].x, &g_l);
    return check_settle(s, &g_l, 1.0, 0.0);
}
