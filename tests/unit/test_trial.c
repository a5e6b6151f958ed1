/* Trial glasses: held against plans of the same mixtures, and against what must be so. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>

#include "core/strength.h"
#include "model/trial.h"
#include "plan_kit.h"

static struct st_trial_liquid liquid(double strength, double sugar, double ml)
{
    struct st_trial_liquid l;
    assert_true(st_trial_liquid_of(strength, sugar, ml, &l) >= 0);
    return l;
}

static struct st_trial one_add(double strength, double sugar, double from, double to)
{
    struct st_trial t = { .batch = liquid(24.0, 150.0, 1200.0), .glass_ml = 50.0, .n_add = 1, .n_glass = 5 };
    t.add[0] =
        (struct st_trial_add){ .unit = liquid(strength, sugar, 1.0), .by = ST_TRIAL_BY_ML, .from = from, .to = to };
    return t;
}

/* The same glass as a recipe: spirit, sugar and water weighed out, with 4 mL of a 50 % spirit. */
static void test_glass_is_what_a_plan_says(void **unused)
{
    struct st_trial t = one_add(50.0, 0.0, 0.0, 4.0);
    struct st_trial_glass glass[ST_TRIAL_GLASSES];
    struct st_ingredient pure = kit_spirit(100.0), sugar = kit_sugar(), water = kit_water(), vodka = kit_spirit(50.0);
    struct st_problem problem;
    struct st_foretold f;
    const struct st_options o = { .seed = 1, .draws = 0 };
    (void)unused;
    assert_int_equal(st_trial_plan(&t, glass), ST_OK);
    const double share = 50.0 / 1200.0;
    struct st_line line[] = { kit_line(&pure, kit_g(share * t.batch.g[ST_ETHANOL])),
                              kit_line(&sugar, kit_g(share * t.batch.g[ST_SUCROSE])),
                              kit_line(&water, kit_g(share * t.batch.g[ST_WATER])), kit_line(&vodka, kit_ml(4.0)) };
    struct st_step step = kit_step("glass", ST_DO_BLEND, line, 4);
    kit_ideal(&step);
    struct st_recipe r = kit_recipe(&step, 1);
    struct st_plan *p = st_plan_create(&r, &problem);
    assert_non_null(p);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    assert_true(fabs(f.fig[ST_FIG_STRENGTH].value - glass[4].strength.value) < 1e-6);
    assert_true(fabs(f.fig[ST_FIG_SUGAR].value - glass[4].sugar.value) < 1e-5);
    assert_true(fabs(f.fig[ST_FIG_VOLUME].value - glass[4].volume.value) < 1e-5);
    st_foretold_done(&f);
    st_plan_free(p);
    assert_true(fabs(glass[0].strength.value - 24.0) < 1e-6 && fabs(glass[0].sugar.value - 150.0) < 1e-5);
    for (int k = 1; k < 5; k++) {
        assert_true(glass[k].strength.value > glass[k - 1].strength.value &&
                    glass[k].sugar.value < glass[k - 1].sugar.value);
        assert_true(glass[k].strength.low < glass[k].strength.value &&
                    glass[k].strength.high > glass[k].strength.value);
        assert_true(fabs(glass[k].dose[0].count - k) < 1e-12);
    }
}

/* What was liked in the glass comes about in the batch, and takes as much more as the batch is larger than the glass.
 */
static void test_pick_scales(void **unused)
{
    struct st_trial t = one_add(0.0, 800.0, 0.0, 6.0);
    struct st_trial_glass glass[ST_TRIAL_GLASSES];
    struct st_trial_rest rest;
    (void)unused;
    t.with = ST_TRIAL_SYRINGE;
    assert_true(st_trial_plan(&t, glass) >= 0);
    assert_true(st_trial_pick(&t, 2, 250.0, &rest) >= 0);
    assert_true(fabs(rest.left_ml - 950.0) < 1e-9);
    assert_true(fabs(rest.dose[0].ml.value - 3.0 / 50.0 * 950.0) < 1e-9);
    assert_true(fabs(rest.after.strength.value - glass[2].strength.value) < 1e-9);
    assert_true(fabs(rest.after.sugar.value - glass[2].sugar.value) < 1e-7);
    double mass = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        mass += t.add[0].unit.g[c];
    assert_true(fabs(rest.dose[0].g.value - 57.0 * mass) < 1e-9);
    /* relative errors: 5 % and 0.1 mL of 3 in the dose, 2 % in the glass, rectangular each */
    const double sd = sqrt(0.05 * 0.05 + 0.1 * 0.1 / 9.0 + 0.02 * 0.02) / sqrt(3.0);
    assert_true(fabs(rest.dose[0].ml.high / 57.0 - 1.0 - 1.959963984540054 * sd) < 1e-9);
    /* by the marks of a small measure: half a mL of 3, and of the 50 mL as a jug is read, 1 mL */
    struct st_trial_glass by_marks[ST_TRIAL_GLASSES];
    t.with = ST_TRIAL_MEASURE;
    assert_true(st_trial_plan(&t, by_marks) >= 0 && st_trial_pick(&t, 2, 250.0, &rest) >= 0);
    const double marks = sqrt(0.05 * 0.05 + 0.5 * 0.5 / 9.0 + 0.05 * 0.05 + 1.0 / 2500.0) / sqrt(3.0);
    assert_true(fabs(rest.dose[0].ml.high / 57.0 - 1.0 - 1.959963984540054 * marks) < 1e-9);
    for (int k = 1; k < 5; k++) { /* the same drink, less sure */
        assert_true(by_marks[k].sugar.value == glass[k].sugar.value);
        assert_true(by_marks[k].sugar.high - by_marks[k].sugar.low > 1.5 * (glass[k].sugar.high - glass[k].sugar.low));
    }
    assert_int_equal(st_trial_pick(&t, 5, 250.0, &rest), ST_E_DOMAIN);
    assert_int_equal(st_trial_pick(&t, 2, 1200.0, &rest), ST_E_DOMAIN);
}

static void test_drops(void **unused)
{
    const struct st_trial_liquid water = liquid(0.0, 0.0, 1.0), spirit = liquid(96.0, 0.0, 1.0),
                                 vodka = liquid(50.0, 0.0, 1.0);
    (void)unused;
    assert_true(fabs(st_trial_drop(&water, 0.0, 0.1).value - 0.05) < 1e-9);
    assert_true(fabs(st_trial_drop(&spirit, 0.0, 0.1).value - 0.025) < 1e-6);
    const struct st_range d = st_trial_drop(&vodka, 1.1, 0.1);
    double rho;
    assert_true(st_spirit_density(50.0, &rho) >= 0);
    assert_true(fabs(d.value - 1.1 / 50.0 / (rho * 1e-3)) < 1e-7);  /* counted and weighed */
    assert_true(d.high / d.value < 1.25 && d.low / d.value > 0.75); /* far surer than the usual half as much again */
    assert_true(st_trial_drop(&vodka, 1.1, 1.0).high > d.high);     /* a coarser scale */

    const struct st_range unsure = st_trial_drop(&water, 0.0, 0.1); /* half as much to twice as much */
    assert_true(fabs(unsure.low - 0.025) < 1e-9 && fabs(unsure.high - 0.1) < 1e-9);
    struct st_trial few = one_add(0.0, 0.0, 0.0, 20.0);
    struct st_trial_glass by_drop[ST_TRIAL_GLASSES];
    few.add[0].by = ST_TRIAL_BY_DROPS;
    few.add[0].drop_ml = unsure;
    assert_true(st_trial_plan(&few, by_drop) >= 0);
    const struct st_interval ml = by_drop[4].dose[0].ml; /* times or divided by: 20 drops are 1 mL, 0.5 to 2 */
    assert_true(fabs(ml.value - 1.0) < 1e-9 && fabs(ml.low * ml.high - 1.0) < 1e-9);
    assert_true(ml.low < 0.5 && ml.low > 0.49 && ml.high > 2.0 && ml.high < 2.05);

    struct st_trial t = one_add(50.0, 0.0, 0.0, 30.0);
    struct st_trial_glass rough[ST_TRIAL_GLASSES], weighed[ST_TRIAL_GLASSES];
    t.add[0].by = ST_TRIAL_BY_DROPS;
    t.add[0].drop_ml = st_trial_drop(&vodka, 0.0, 0.1);
    assert_true(st_trial_plan(&t, rough) >= 0);
    t.add[0].drop_ml = d;
    assert_true(st_trial_plan(&t, weighed) >= 0);
    for (int k = 1; k < 5; k++) {
        assert_true(rough[k].dose[0].count == round(rough[k].dose[0].count));
        assert_true(weighed[k].strength.high - weighed[k].strength.low <
                    rough[k].strength.high - rough[k].strength.low);
        assert_true(fabs(weighed[k].dose[0].ml.value - weighed[k].dose[0].count * d.value) < 1e-12);
    }
}

static void test_two_additions(void **unused)
{
    struct st_trial t = one_add(50.0, 0.0, 0.0, 4.0);
    struct st_trial_glass g[ST_TRIAL_GLASSES];
    (void)unused;
    t.n_add = 2;
    t.add[1] = (struct st_trial_add){ .unit = liquid(0.0, 800.0, 1.0), .by = ST_TRIAL_BY_ML, .from = 1.0, .to = 3.0 };
    assert_true(st_trial_plan(&t, g) >= 0);
    static const double COUNT[5][2] = { { 0, 1 }, { 4, 1 }, { 0, 3 }, { 4, 3 }, { 2, 2 } };
    for (int k = 0; k < 5; k++)
        for (int i = 0; i < 2; i++)
            assert_true(fabs(g[k].dose[i].count - COUNT[k][i]) < 1e-12);
    t.n_glass = 4;
    assert_int_equal(st_trial_plan(&t, g), ST_E_DOMAIN);
}

static void test_refusals(void **unused)
{
    struct st_trial t = one_add(50.0, 0.0, 0.0, 4.0);
    struct st_trial_glass g[ST_TRIAL_GLASSES];
    struct st_trial_liquid l;
    (void)unused;
    t.glass_ml = 300.0; /* five of them: more than there is */
    assert_int_equal(st_trial_plan(&t, g), ST_E_DOMAIN);
    t = one_add(50.0, 0.0, 4.0, 4.0);
    assert_int_equal(st_trial_plan(&t, g), ST_E_DOMAIN);
    t = one_add(50.0, 0.0, 0.0, (double)NAN);
    assert_int_equal(st_trial_plan(&t, g), ST_E_DOMAIN);
    assert_int_equal(st_trial_liquid_of(80.0, 700.0, 1000.0, &l), ST_E_DOMAIN);
    assert_int_equal(st_trial_liquid_of((double)NAN, 0.0, 1000.0, &l), ST_E_DOMAIN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_glass_is_what_a_plan_says),
        cmocka_unit_test(test_pick_scales),
        cmocka_unit_test(test_drops),
        cmocka_unit_test(test_two_additions),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
