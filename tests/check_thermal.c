#include "check_thermal.h"

#include "check_kit.h"
#include "core/activity.h"
#include "core/boiling.h"
#include "core/flash.h"
#include "core/freezing.h"
#include "core/heat_capacity.h"
#include "core/keeping.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "core/viscosity.h"

static const double M_ETHANOL = 46.06844, M_WATER = 18.01528; /* g/mol */
static const double TORR = 101325.0 / 760.0;                  /* Pa */

typedef enum st_status of_mixture(const double w[ST_NCOMP], double *y);
typedef enum st_status of_mixture_at(const double w[ST_NCOMP], double T, double *y);

/* A temperature of a mixture, in degC. */
static struct check_result temperature(of_mixture *f, enum st_status before, const double w[ST_NCOMP])
{
    double T = CHECK_SENTINEL;
    if (before < 0)
        return check_plain(before, 0.0);
    return check_settle(st_status_worse(before, f(w, &T)), &T, 1.0, -273.15);
}

static struct check_result binary_temperature(of_mixture *f, enum st_component c, double mass_pct)
{
    double w[ST_NCOMP];
    check_binary(c, mass_pct, w);
    return temperature(f, ST_OK, w);
}

static struct check_result five_temperature(of_mixture *f, const struct check_field in[])
{
    double w[ST_NCOMP];
    check_five(in, w);
    return temperature(f, ST_OK, w);
}

static struct check_result liqueur_temperature(of_mixture *f, double pct_vol, double g_l)
{
    double w[ST_NCOMP];
    const enum st_status s = check_liqueur(pct_vol, g_l, w);
    return temperature(f, s, w);
}

static struct check_result five_at(of_mixture_at *f, const struct check_field in[], double factor)
{
    double w[ST_NCOMP], y = CHECK_SENTINEL;
    check_five(in, w);
    return check_settle(f(w, check_kelvin(in[5].x), &y), &y, factor, 0.0);
}

struct check_result check_freezing_ethanol(const struct check_field in[])
{
    double T = CHECK_SENTINEL;
    return check_settle(st_freezing_ethanol(in[0].x / 100.0, &T), &T, 1.0, -273.15);
}

struct check_result check_freezing_strength(const struct check_field in[])
{
    return liqueur_temperature(st_freezing_point, in[0].x, 0.0);
}

struct check_result check_freezing_sucrose(const struct check_field in[])
{
    return binary_temperature(st_freezing_point, ST_SUCROSE, in[0].x);
}

struct check_result check_freezing_glucose(const struct check_field in[])
{
    return binary_temperature(st_freezing_point, ST_GLUCOSE, in[0].x);
}

struct check_result check_freezing_liqueur(const struct check_field in[])
{
    return liqueur_temperature(st_freezing_point, in[0].x, in[1].x);
}

struct check_result check_freezing_mixture(const struct check_field in[])
{
    return five_temperature(st_freezing_point, in);
}

/* mass per cent of a mole fraction of ethanol in water */
static double mass_of_moles(double x)
{
    return 100.0 * x * M_ETHANOL / (x * M_ETHANOL + (1.0 - x) * M_WATER);
}

struct check_result check_boiling_ethanol(const struct check_field in[])
{
    return binary_temperature(st_boiling_point, ST_ETHANOL, mass_of_moles(in[0].x));
}

struct check_result check_boiling_mixture(const struct check_field in[])
{
    return five_temperature(st_boiling_point, in);
}

/* Mole fraction of ethanol in the first vapour at 101.325 kPa. */
struct check_result check_vapour_ethanol(const struct check_field in[])
{
    double w[ST_NCOMP], T = 0.0, x_E = 0.0, g_E = 0.0, g_W = 0.0, P_E = 0.0;
    const double mass_pct = mass_of_moles(in[0].x);
    check_binary(ST_ETHANOL, mass_pct, w);
    enum st_status s =
        st_status_worse(st_boiling_point(w, &T), st_activity_ethanol_water(mass_pct / 100.0, &x_E, &g_E, &g_W));
    if (s < 0)
        return check_plain(s, 0.0);
    s = st_vapour_pressure_ethanol(T, &P_E);
    return check_plain(s, x_E * g_E * P_E / 101325.0);
}

struct check_result check_vapour_pressure_ethanol(const struct check_field in[])
{
    double P = CHECK_SENTINEL;
    return check_settle(st_vapour_pressure_ethanol(check_kelvin(in[0].x), &P), &P, 1.0 / TORR, 0.0);
}

struct check_result check_vapour_pressure_water(const struct check_field in[])
{
    double P = CHECK_SENTINEL;
    return check_settle(st_vapour_pressure_water(check_kelvin(in[0].x), &P), &P, 1.0 / TORR, 0.0);
}

struct check_result check_heat_capacity_ethanol(const struct check_field in[])
{
    double cp = CHECK_SENTINEL;
    return check_settle(st_heat_capacity_ethanol(in[0].x, check_kelvin(in[1].x), &cp), &cp, 1.0, 0.0);
}

struct check_result check_heat_capacity_mixture(const struct check_field in[])
{
    return five_at(st_heat_capacity, in, 1.0);
}

static struct check_result viscosity_20(enum st_component c, double mass_pct)
{
    double w[ST_NCOMP], eta = CHECK_SENTINEL;
    check_binary(c, mass_pct, w);
    return check_settle(st_viscosity(w, ST_T20, &eta), &eta, 1000.0, 0.0);
}

struct check_result check_viscosity_ethanol(const struct check_field in[])
{
    return viscosity_20(ST_ETHANOL, in[0].x);
}

struct check_result check_viscosity_sucrose(const struct check_field in[])
{
    return viscosity_20(ST_SUCROSE, in[0].x);
}

struct check_result check_viscosity_mixture(const struct check_field in[])
{
    return five_at(st_viscosity, in, 1000.0);
}

struct check_result check_flash_point(const struct check_field in[])
{
    return liqueur_temperature(st_flash_point, in[0].x, 0.0);
}

/* Saturation of a solvent of mass_pct ethanol, kg/kg. */
static struct check_result solubility(double mass_pct, double t_C, double factor)
{
    double w[ST_NCOMP], ws = CHECK_SENTINEL;
    check_binary(ST_ETHANOL, mass_pct, w);
    return check_settle(st_sucrose_solubility(w, check_kelvin(t_C), &ws), &ws, factor, 0.0);
}

struct check_result check_solubility_water(const struct check_field in[])
{
    return solubility(0.0, in[0].x, 100.0);
}

struct check_result check_solubility_per_100g(const struct check_field in[])
{
    struct check_result r = solubility(0.0, in[0].x, 1.0);
    if (r.status >= 0)
        r.value = 100.0 * r.value / (1.0 - r.value);
    return r;
}

struct check_result check_solubility_spirit(const struct check_field in[])
{
    return solubility(in[0].x, in[1].x, 100.0);
}

struct check_result check_activity_liqueur(const struct check_field in[])
{
    double w[ST_NCOMP], aw = CHECK_SENTINEL;
    const enum st_status s = check_liqueur(in[0].x, in[1].x, w);
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_status_worse(s, st_water_activity(w, check_kelvin(25.0), &aw)), &aw, 1.0, 0.0);
}

struct check_result check_activity_mixture(const struct check_field in[])
{
    return five_at(st_water_activity, in, 1.0);
}

struct check_result check_delle_units(const struct check_field in[])
{
    double w[ST_NCOMP], du = CHECK_SENTINEL;
    const enum st_status s = check_liqueur(in[0].x, in[1].x, w);
    if (s < 0)
        return check_plain(s, 0.0);
    return check_settle(st_status_worse(s, st_delle_units(w, &du)), &du, 1.0, 0.0);
}
