/* Thermal properties and keeping: what no table gives (limits, refusals, monotony, joins), and how far the fits are
 * from the published rows that were not used for them. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "core/activity.h"
#include "core/boiling.h"
#include "core/flash.h"
#include "core/freezing.h"
#include "core/heat_capacity.h"
#include "core/keeping.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "core/viscosity.h"

#include <math.h>

#define ROOM 293.15

static const double *mix(double ethanol, double sucrose, double glucose, double acid)
{
    static double w[ST_NCOMP];
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] = 0.0;
    w[ST_ETHANOL] = ethanol;
    w[ST_SUCROSE] = sucrose;
    w[ST_GLUCOSE] = glucose;
    w[ST_ACID] = acid;
    w[ST_WATER] = fmax(0.0, 1.0 - ethanol - sucrose - glucose - acid);
    return w;
}

/* From a label: % vol and g/L of sucrose. */
static const double *drink(double strength, double sugar)
{
    static double w[ST_NCOMP];
    const double solutes[ST_NCOMP] = { [ST_SUCROSE] = sugar };
    assert_true(st_mixture_from_strength(strength, solutes, w) >= 0);
    return w;
}

static void near_to(double got, double want, double tolerance)
{
    if (!(fabs(got - want) <= tolerance))
        fail_msg("%.6g is not within %g of %.6g", got, tolerance, want);
}

/* Every function refuses nonsense and leaves its output as it was. */
static void nonsense_is_refused_and_nothing_is_written(void **state)
{
    (void)state;
    double bad[3][ST_NCOMP] = { { 0 } };
    bad[0][ST_WATER] = 0.5; /* does not add up to 1 */
    bad[1][ST_WATER] = 1.5, bad[1][ST_ETHANOL] = -0.5;
    bad[2][ST_WATER] = (double)NAN;
    for (int i = 0; i < 3; i++) {
        double x = 77.0;
        struct st_keeping k = { .delle_units = 77.0 };
        assert_int_equal(st_freezing_point(bad[i], &x), ST_E_DOMAIN);
        assert_int_equal(st_boiling_point(bad[i], &x), ST_E_DOMAIN);
        assert_int_equal(st_heat_capacity(bad[i], ROOM, &x), ST_E_DOMAIN);
        assert_int_equal(st_viscosity(bad[i], ROOM, &x), ST_E_DOMAIN);
        assert_int_equal(st_flash_point(bad[i], &x), ST_E_DOMAIN);
        assert_int_equal(st_sucrose_solubility(bad[i], ROOM, &x), ST_E_DOMAIN);
        assert_int_equal(st_water_activity(bad[i], ROOM, &x), ST_E_DOMAIN);
        assert_int_equal(st_delle_units(bad[i], &x), ST_E_DOMAIN);
        assert_int_equal(st_keeping(bad[i], &k), ST_E_DOMAIN);
        assert_true(x == 77.0 && k.delle_units == 77.0);
    }
}

static void temperatures_outside_are_refused(void **state)
{
    (void)state;
    const double nan = (double)NAN;
    double x = 77.0;
    assert_int_equal(st_heat_capacity(mix(0.3, 0, 0, 0), nan, &x), ST_E_DOMAIN);
    assert_int_equal(st_viscosity(mix(0.3, 0, 0, 0), nan, &x), ST_E_DOMAIN);
    assert_int_equal(st_sucrose_solubility(mix(0, 0, 0, 0), nan, &x), ST_E_DOMAIN);
    assert_int_equal(st_water_activity(mix(0.3, 0, 0, 0), nan, &x), ST_E_DOMAIN);
    assert_int_equal(st_heat_capacity(mix(0.3, 0, 0, 0), 360.0, &x), ST_E_REFUSED);
    assert_int_equal(st_viscosity(mix(0.3, 0, 0, 0), 240.0, &x), ST_E_REFUSED);
    assert_int_equal(st_sucrose_solubility(mix(0, 0, 0, 0), 390.0, &x), ST_E_REFUSED);
    assert_int_equal(st_water_activity(mix(0.3, 0, 0, 0), 390.0, &x), ST_E_REFUSED);
    assert_int_equal(st_vapour_pressure_ethanol(500.0, &x), ST_E_REFUSED);
    assert_int_equal(st_vapour_pressure_water(nan, &x), ST_E_DOMAIN);
    assert_true(x == 77.0);
}

static void water_freezes_at_zero_and_boils_at_a_hundred(void **state)
{
    (void)state;
    double T = 0.0;
    assert_int_equal(st_freezing_point(mix(0, 0, 0, 0), &T), ST_OK);
    near_to(T, 273.15, 1e-12);
    assert_int_equal(st_boiling_point(mix(0, 0, 0, 0), &T), ST_OK);
    near_to(T, 373.15, 0.01);
}

static void freezing_falls_with_ethanol_without_a_step(void **state)
{
    (void)state;
    double before = 273.15;
    for (int i = 1; i <= 680; i++) {
        double T = 0.0;
        assert_int_equal(st_freezing_ethanol(i / 1000.0, &T), ST_OK);
        assert_true(T < before && before - T < 0.15);
        before = T;
    }
}

static void freezing_says_where_it_ends(void **state)
{
    (void)state;
    double T = 77.0;
    assert_int_equal(st_freezing_point(mix(0.681, 0, 0, 0), &T), ST_E_REFUSED);
    assert_int_equal(st_freezing_point(mix(1.0, 0, 0, 0), &T), ST_E_REFUSED);
    assert_int_equal(st_freezing_point(mix(0, 0.71, 0, 0), &T), ST_E_REFUSED);
    assert_true(T == 77.0);
    assert_int_equal(st_freezing_point(mix(0, 0.42, 0, 0), &T), ST_OK);
    assert_int_equal(st_freezing_point(mix(0, 0.43, 0, 0), &T), ST_EXTRAPOLATED);
    assert_int_equal(st_freezing_point(mix(0, 0, 0.30, 0), &T), ST_OK);
    assert_int_equal(st_freezing_point(mix(0, 0, 0.31, 0), &T), ST_EXTRAPOLATED);
    assert_int_equal(st_freezing_point(mix(0, 0.1, 0.1, 0), &T), ST_ESTIMATED);
    assert_int_equal(st_freezing_point(mix(0.2, 0.2, 0, 0), &T), ST_ESTIMATED);
    assert_int_equal(st_freezing_point(mix(0.2, 0, 0, 0.01), &T), ST_ESTIMATED);
}

/* A trace of sugar must lead back to the binary, and each solute must lower the point. */
static void freezing_of_a_mixture_meets_its_binary(void **state)
{
    (void)state;
    double binary = 0.0, traced = 0.0, sweet = 0.0, sour = 0.0;
    st_freezing_point(mix(0.3, 0, 0, 0), &binary);
    st_freezing_point(mix(0.3, 1e-7, 0, 0), &traced);
    near_to(traced, binary, 1e-4);
    st_freezing_point(mix(0.3, 0.2, 0, 0), &sweet);
    st_freezing_point(mix(0.3, 0.2, 0, 0.02), &sour);
    assert_true(sour < sweet && sweet < binary);
}

/* [crc102] rows that no fit of ours has seen; printed to 0.01 K */
static void freezing_of_rows_not_fitted(void **state)
{
    (void)state;
    double T = 0.0;
    st_freezing_point(mix(0, 0.20, 0, 0), &T);
    near_to(T - 273.15, -1.47, 0.02);
    st_freezing_point(mix(0, 0.38, 0, 0), &T);
    near_to(T - 273.15, -4.02, 0.02);
    st_freezing_point(mix(0, 0, 0.16, 0), &T);
    near_to(T - 273.15, -2.03, 0.02);
    st_freezing_point(mix(0.62, 0, 0, 0), &T); /* between the table points kept */
    near_to(T - 273.15, -46.28, 0.05);
}

/* [perry_vle], 101.3 kPa, the widest gap first */
static void boiling_of_published_points(void **state)
{
    (void)state;
    static const double X_T[][2] = { { 0.072, 89.0 }, { 0.166, 84.1 }, { 0.327, 81.5 }, { 0.52, 79.7 } };
    for (int i = 0; i < 4; i++) {
        const double x = X_T[i][0], m = 46.06844 * x;
        double T = 0.0;
        assert_int_equal(st_boiling_point(mix(m / (m + 18.01528 * (1.0 - x)), 0, 0, 0), &T), ST_OK);
        near_to(T - 273.15, X_T[i][1], 0.6);
    }
}

static void sugar_raises_boiling_and_only_estimates_it(void **state)
{
    (void)state;
    double plain = 0.0, sweet = 0.0;
    assert_int_equal(st_boiling_point(mix(0.2, 0, 0, 0), &plain), ST_OK);
    assert_int_equal(st_boiling_point(mix(0.16, 0.2, 0, 0), &sweet), ST_ESTIMATED);
    assert_true(sweet > plain && sweet < plain + 3.0);
    assert_int_equal(st_boiling_point(mix(0, 0.86, 0, 0), &plain), ST_E_REFUSED);
}

static void heat_capacity_meets_both_published_lines(void **state)
{
    (void)state;
    double cp = 0.0;
    assert_int_equal(st_heat_capacity(mix(0.2, 0, 0, 0), ROOM, &cp), ST_OK);
    near_to(cp, 4329.0, 0.5);
    assert_int_equal(st_heat_capacity(mix(0.6, 0, 0, 0), ROOM, &cp), ST_OK);
    near_to(cp, 3551.0, 0.5);
    assert_int_equal(st_heat_capacity(mix(0, 0.5, 0, 0), 303.15, &cp), ST_OK);
    near_to(cp, 4184.0 - 2511.0 * 0.5 + 7.5 * 0.5 * 30.0, 1e-9);
    assert_int_equal(st_heat_capacity(mix(0.7, 0, 0, 0), ROOM, &cp), ST_ESTIMATED);
    assert_int_equal(st_heat_capacity(mix(0.2, 0.2, 0, 0), ROOM, &cp), ST_ESTIMATED);
    assert_int_equal(st_heat_capacity(mix(0.2, 0, 0, 0), 320.0, &cp), ST_EXTRAPOLATED);
    assert_int_equal(st_heat_capacity(mix(0.2, 0, 0, 0), 260.0, &cp), ST_EXTRAPOLATED); /* frozen there */
}

static void heat_capacity_has_no_steps(void **state)
{
    (void)state;
    double before = 0.0;
    st_heat_capacity(mix(0, 0, 0, 0), ROOM, &before);
    for (int i = 1; i <= 1000; i++) {
        double cp = 0.0;
        assert_true(st_heat_capacity(mix(i / 1000.0, 0, 0, 0), ROOM, &cp) >= 0);
        assert_true(fabs(cp - before) < 6.0);
        before = cp;
    }
}

/* [crc102] at 20 C, rows that the fits have not seen; the tolerance is 3 % */
static void viscosity_of_rows_not_fitted(void **state)
{
    (void)state;
    static const double ETHANOL[][2] = { { 0.20, 2.142 }, { 0.44, 2.85 }, { 0.56, 2.701 }, { 0.80, 1.881 } };
    static const double SUCROSE[][2] = { { 0.20, 1.945 }, { 0.38, 5.315 }, { 0.50, 15.431 } };
    double eta = 0.0;
    for (int i = 0; i < 4; i++) {
        assert_int_equal(st_viscosity(mix(ETHANOL[i][0], 0, 0, 0), ROOM, &eta), ST_OK);
        near_to(1e3 * eta, ETHANOL[i][1], 0.03 * ETHANOL[i][1]);
    }
    for (int i = 0; i < 3; i++) {
        assert_int_equal(st_viscosity(mix(0, SUCROSE[i][0], 0, 0), ROOM, &eta), ST_OK);
        near_to(1e3 * eta, SUCROSE[i][1], 0.03 * SUCROSE[i][1]);
    }
}

static void viscosity_says_when_it_guesses(void **state)
{
    (void)state;
    double eta = 0.0, cold = 0.0, warm = 0.0;
    assert_int_equal(st_viscosity(mix(0.3, 0.2, 0, 0), ROOM, &eta), ST_ESTIMATED);
    assert_int_equal(st_viscosity(mix(0.3, 0, 0, 0), 283.15, &cold), ST_ESTIMATED);
    assert_int_equal(st_viscosity(mix(0.3, 0, 0, 0), 303.15, &warm), ST_ESTIMATED);
    assert_true(cold > warm);
    assert_int_equal(st_viscosity(mix(0, 0.72, 0, 0), ROOM, &eta), ST_EXTRAPOLATED);
    assert_int_equal(st_viscosity(mix(0, 0.76, 0, 0), ROOM, &eta), ST_E_REFUSED);
}

static void flash_point_has_its_table_and_its_limits(void **state)
{
    (void)state;
    double T = 77.0;
    assert_int_equal(st_flash_point(mix(0, 0, 0, 0), &T), ST_E_REFUSED);
    assert_int_equal(st_flash_point(drink(4.9, 0), &T), ST_E_REFUSED);
    assert_true(T == 77.0);
    assert_int_equal(st_flash_point(drink(5, 0), &T), ST_OK);
    near_to(T - 273.15, 62.0, 1e-6);
    assert_int_equal(st_flash_point(drink(90, 0), &T), ST_OK); /* published 17, no point of our table */
    near_to(T - 273.15, 17.0, 4.0);
    assert_int_equal(st_flash_point(drink(98, 0), &T), ST_EXTRAPOLATED);
    assert_int_equal(st_flash_point(drink(40, 300), &T), ST_ESTIMATED);
    double plain = 0.0, sweet = T;
    st_flash_point(drink(40, 0), &plain);
    assert_true(sweet <= plain); /* the warier way */
}

static void solubility_falls_with_ethanol_and_rises_with_warmth(void **state)
{
    (void)state;
    double before = 1.0, ws = 0.0;
    for (int i = 0; i <= 100; i++) {
        assert_int_equal(st_sucrose_solubility(mix(i / 100.0, 0, 0, 0), ROOM, &ws), i == 0 ? ST_OK : ST_ESTIMATED);
        assert_true(ws < before && ws >= 0.0);
        before = ws;
    }
    before = 0.0;
    for (int t = -10; t <= 100; t++) {
        const enum st_status s = st_sucrose_solubility(mix(0, 0, 0, 0), 273.15 + t, &ws);
        assert_int_equal(s, (t < 0 || t > 80) ? ST_EXTRAPOLATED : ST_OK);
        assert_true(ws > before);
        before = ws;
    }
    /* a row of the table that the fit has not seen: 50 C */
    st_sucrose_solubility(mix(0, 0, 0, 0), 323.15, &ws);
    near_to(100.0 * ws, 72.25, 0.1);
}

static void water_activity_stays_between_nothing_and_one(void **state)
{
    (void)state;
    double before = 1.0 + 1e-12, aw = 0.0;
    for (int i = 0; i <= 100; i++) {
        assert_int_equal(st_water_activity(mix(i / 100.0, 0, 0, 0), 298.15, &aw), ST_OK);
        assert_true(aw >= 0.0 && aw < before);
        before = aw;
    }
    assert_int_equal(st_water_activity(drink(95, 0), 298.15, &aw), ST_OK);
    near_to(aw, 0.365, 0.02); /* [allan2019] */
    assert_int_equal(st_water_activity(drink(20, 200), 298.15, &aw), ST_ESTIMATED);
    assert_int_equal(st_water_activity(drink(20, 0), 278.15, &aw), ST_EXTRAPOLATED);
}

static void floors_are_met_one_by_one(void **state)
{
    (void)state;
    struct st_keeping k = { 0 };
    assert_true(st_keeping(drink(16, 30), &k) >= 0); /* 3 + 72 = 75 Delle units */
    near_to(k.delle_units, 75.0, 1e-6);
    near_to(k.sugar_g_l, 30.0, 1e-6);
    assert_int_equal(k.met[ST_FLOOR_DELLE], ST_MET_NO);
    assert_int_equal(k.met[ST_FLOOR_STRENGTH_ALONE], ST_MET_NO);
    assert_int_equal(k.met[ST_FLOOR_COLD], ST_MET_YES);
    assert_int_equal(k.storage, ST_STORE_COLD);

    assert_true(st_keeping(drink(16, 80), &k) >= 0); /* 80: above 78, inside the observed band to 85 */
    assert_int_equal(k.met[ST_FLOOR_DELLE], ST_MET_NEAR);

    assert_true(st_keeping(drink(25, 250), &k) >= 0);
    assert_int_equal(k.met[ST_FLOOR_DELLE], ST_MET_YES);
    assert_int_equal(k.met[ST_FLOOR_MACERATE], ST_MET_NO);
    assert_int_equal(k.storage, ST_STORE_SHELF);

    assert_true(st_keeping(drink(10, 200), &k) >= 0);
    assert_int_equal(k.storage, ST_STORE_PERISHABLE);
}

/* Cream and egg: the wine makers' floors must not be lent to them. */
static void fat_and_protein_are_refused_a_verdict(void **state)
{
    (void)state;
    double w[ST_NCOMP] = { [ST_WATER] = 0.6, [ST_ETHANOL] = 0.2, [ST_SUCROSE] = 0.15, [ST_FAT] = 0.05 };
    struct st_keeping k = { .storage = ST_STORE_PERISHABLE };
    assert_int_equal(st_keeping(w, &k), ST_E_REFUSED);
    assert_int_equal(k.storage, ST_STORE_PERISHABLE);
    assert_null(st_floor_get(ST_NFLOOR));
    for (int f = 0; f < ST_NFLOOR; f++) {
        const struct st_floor_row *row = st_floor_get((enum st_floor)f);
        assert_true(row->limit > 0.0 && row->clear >= row->limit && row->source != NULL);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nonsense_is_refused_and_nothing_is_written),
        cmocka_unit_test(temperatures_outside_are_refused),
        cmocka_unit_test(water_freezes_at_zero_and_boils_at_a_hundred),
        cmocka_unit_test(freezing_falls_with_ethanol_without_a_step),
        cmocka_unit_test(freezing_says_where_it_ends),
        cmocka_unit_test(freezing_of_a_mixture_meets_its_binary),
        cmocka_unit_test(freezing_of_rows_not_fitted),
        cmocka_unit_test(boiling_of_published_points),
        cmocka_unit_test(sugar_raises_boiling_and_only_estimates_it),
        cmocka_unit_test(heat_capacity_meets_both_published_lines),
        cmocka_unit_test(heat_capacity_has_no_steps),
        cmocka_unit_test(viscosity_of_rows_not_fitted),
        cmocka_unit_test(viscosity_says_when_it_guesses),
        cmocka_unit_test(flash_point_has_its_table_and_its_limits),
        cmocka_unit_test(solubility_falls_with_ethanol_and_rises_with_warmth),
        cmocka_unit_test(water_activity_stays_between_nothing_and_one),
        cmocka_unit_test(floors_are_met_one_by_one),
        cmocka_unit_test(fat_and_protein_are_refused_a_verdict),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
