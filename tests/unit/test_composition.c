/* What goes into a recipe of an ingredient: a cup of it weighs what the sheet says, and the ranges of its parts count.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "plan_kit.h"
#include "text/line.h"

enum { DRAWS = 20000 };

/* ---- cups ---- */

/* Grams of a cup of it, put into 5 L of water; -1 when the plan refuses it. */
static double cup_in_a_recipe(const struct st_ingredient *in)
{
    const struct st_ingredient water = kit_water();
    struct st_line line[2] = { kit_line(in, kit_ml(236.588)), kit_line(&water, kit_g(5000)) };
    struct st_step step = kit_step("mix", st_kind_is_solid(in->kind) ? ST_DO_STEEP : ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    struct st_problem problem;
    struct st_balance b;
    double g = -5000;

    if (!in->strength.known && (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE))
        line[0].strength = kit_sharp(20);
    struct st_plan *p = st_plan_create(&r, &problem);
    if (!p)
        return -1;
    (void)st_plan_balance(p, NULL, &b);
    for (int c = 0; c < ST_NCOMP; c++)
        g += b.in_g[c];
    st_plan_free(p);
    return g;
}

/* A liquid weighed by the density of what it is made of may part from its cup by 3 %, as tables do. */
static void a_cup_weighs_what_the_sheet_says(void **state)
{
    int bad = 0, seen = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        if (!in->cup.known)
            continue;
        const double alone = 236.588 * st_ingredient_g_per_ml(in, 236.588).value, within = cup_in_a_recipe(in);
        const double near = in->cup.value * (st_kind_is_solid(in->kind) ? 1e-9 : 0.03);
        seen += within > 0;
        if (!(fabs(alone - in->cup.value) <= near) || (within >= 0 && !(fabs(within - in->cup.value) <= near + 1e-6))) {
            print_error("%s: a cup weighs %g g, in a recipe %g g, by the sheet %g g\n", in->slug, alone, within,
                        in->cup.value);
            bad++;
        }
    }
    assert_int_equal(bad, 0);
    assert_true(seen > 300);
}

static void foam_and_powder_hold_air(void **state)
{
    (void)state;
    assert_true(fabs(cup_in_a_recipe(must("whipped cream")) - 120) < 1e-6);
    assert_true(fabs(cup_in_a_recipe(must("milk powder")) - 68) < 1e-6);
    struct st_ingredient own = *must("whipped cream"); /* whoever writes a density of their own means it */
    own.density = kit_sharp(0.4);
    assert_true(fabs(cup_in_a_recipe(&own) - 0.4 * 236.588) < 1e-6);
}

/* ---- water ---- */

static void foretell(const struct st_ingredient *fruit, struct st_foretold *f)
{
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_line line[2] = { kit_line(fruit, kit_g(600)), kit_line(&spirit, kit_ml(700)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    const struct st_options o = { 1, DRAWS, false };
    struct st_problem problem;

    kit_sharp_tools(&r);
    struct st_plan *p = st_plan_create(&r, &problem);
    if (!p)
        fail_msg("%s: %s", problem.what, problem.why);
    assert_true(st_plan_run(p, &o, f) >= 0);
    st_plan_free(p);
}

static double width(const struct st_ingredient *fruit)
{
    struct st_foretold f;
    foretell(fruit, &f);
    const double w = f.fig[ST_FIG_STRENGTH].high - f.fig[ST_FIG_STRENGTH].low;
    st_foretold_done(&f);
    return w;
}

static void wider_water_wider_strength(void **state)
{
    static const double HALF[] = { 0, 0.02, 0.04, 0.08, 0.14 };
    double before = 0;
    (void)state;
    for (size_t i = 0; i < sizeof HALF / sizeof HALF[0]; i++) {
        struct st_ingredient fruit = *must("damson");
        fruit.part[ST_WATER] = kit_range(0.74 - HALF[i], 0.74, 0.74 + HALF[i]);
        const double now = width(&fruit);
        assert_true(now > before * 1.01);
        before = now;
    }
}

static void fixed_water_lies_inside_its_range(void **state)
{
    static const double WATER[] = { 0.60, 0.74, 0.88 };
    struct st_ingredient fruit = *must("damson");
    struct st_foretold wide, one;
    (void)state;
    fruit.part[ST_WATER] = kit_range(0.60, 0.74, 0.88);
    foretell(&fruit, &wide);
    for (int i = 0; i < 3; i++) {
        fruit.part[ST_WATER] = kit_sharp(WATER[i]);
        foretell(&fruit, &one);
        for (int k = 0; k < 2; k++) {
            const int fig = k ? ST_FIG_VOLUME : ST_FIG_STRENGTH;
            if (!(one.fig[fig].value > wide.fig[fig].low && one.fig[fig].value < wide.fig[fig].high))
                fail_msg("water %g: %g is not in %g..%g", WATER[i], one.fig[fig].value, wide.fig[fig].low,
                         wide.fig[fig].high);
        }
        st_foretold_done(&one);
    }
    st_foretold_done(&wide);
}

/* Every draw of every ingredient is a whole, and nothing of it is negative. */
static void parts_of_each_draw_are_one(void **state)
{
    enum { N = 200 };
    int bad = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        const struct st_ingredient water = kit_water();
        struct st_line line[2] = { kit_line(in, kit_g(1000)), kit_line(&water, kit_g(1000)) };
        struct st_step step = kit_step("mix", st_kind_is_solid(in->kind) ? ST_DO_STEEP : ST_DO_BLEND, line, 2);
        struct st_recipe r = kit_recipe(&step, 1);
        struct st_problem problem;
        struct st_balance b;

        if (!in->strength.known && (in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE))
            line[0].strength = kit_sharp(20);
        kit_sharp_tools(&r);
        struct st_plan *p = st_plan_create(&r, &problem);
        if (!p)
            continue;
        const size_t n_in = (size_t)st_plan_n_inputs(p);
        double *X = malloc(sizeof *X * N * (n_in + 1)), *x = malloc(sizeof *x * (n_in + 1));
        assert_true(X && x);
        st_plan_inputs(p, 7, 0, N, X);
        for (size_t d = 0; d < N; d++) {
            double sum = 0, least = 0;
            for (size_t k = 0; k < n_in; k++)
                x[k] = X[k * N + d];
            (void)st_plan_balance(p, x, &b);
            for (int c = 0; c < ST_NCOMP; c++) {
                sum += b.in_g[c];
                least = fmin(least, b.in_g[c]);
            }
            if (fabs(sum - 2000) > 1e-6 || least < 0) {
                print_error("%s, draw %d: %.9g g of 2000, least part %g\n", in->slug, (int)d, sum, least);
                bad++;
                break;
            }
        }
        free(X);
        free(x);
        st_plan_free(p);
    }
    assert_int_equal(bad, 0);
}

/* ---- stones ---- */

static void strength_of_line(const char *text, struct st_interval *out, int *told)
{
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_line line[2] = { kit_line(&spirit, kit_ml(1)), kit_line(&spirit, kit_ml(700)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    const struct st_options o = { 1, DRAWS, false };
    struct st_problem problem;
    struct st_foretold f;

    if (st_line_parse(text, ST_MEASURES_METRIC, all, &line[0], &problem))
        fail_msg("'%s': %s", text, problem.what);
    struct st_plan *p = st_plan_create(&r, &problem);
    assert_non_null(p);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    *out = f.fig[ST_FIG_STRENGTH];
    *told = -1;
    for (int i = 0; i < f.n_note; i++)
        if (f.note[i].code == ST_NOTE_STONES_UNSAID || f.note[i].code == ST_NOTE_AS_TRIMMED)
            *told = (int)f.note[i].code;
    st_foretold_done(&f);
    st_plan_free(p);
}

static void stones_not_told_of_are_in_the_range(void **state)
{
    static const struct {
        const char *bare, *gross, *net;
    } T[] = { { "600 g damsons", "600 g damsons, as bought", "600 g pitted damsons" },
              { "1 kg sour cherries", "1 kg sour cherries, with stones", "1 kg sour cherries, stoned" },
              { "500 g sloes", "500 g whole sloes", "500 g sloes, stones removed" } };
    (void)state;
    for (size_t i = 0; i < sizeof T / sizeof T[0]; i++) {
        struct st_interval bare, gross, net;
        int told;
        strength_of_line(T[i].gross, &gross, &told);
        assert_int_equal(told, -1);
        strength_of_line(T[i].net, &net, &told);
        assert_int_equal(told, -1);
        strength_of_line(T[i].bare, &bare, &told);
        assert_int_equal(told, ST_NOTE_STONES_UNSAID);
        assert_true(gross.value > net.value + 0.3);
        assert_true(bare.low < net.value && bare.high > gross.value && bare.value > net.value &&
                    bare.value < gross.value);
    }
}

static void other_fruit_is_taken_as_trimmed(void **state)
{
    struct st_interval bare, net;
    int told;
    (void)state;
    strength_of_line("600 g quinces", &bare, &told);
    assert_int_equal(told, ST_NOTE_AS_TRIMMED);
    strength_of_line("600 g quinces, trimmed", &net, &told);
    assert_int_equal(told, -1);
    assert_true(fabs(bare.value - net.value) < 1e-12);
    strength_of_line("600 g blueberries", &bare, &told); /* next to nothing to trim */
    assert_int_equal(told, -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_cup_weighs_what_the_sheet_says), cmocka_unit_test(foam_and_powder_hold_air),
        cmocka_unit_test(wider_water_wider_strength),       cmocka_unit_test(fixed_water_lies_inside_its_range),
        cmocka_unit_test(parts_of_each_draw_are_one),       cmocka_unit_test(stones_not_told_of_are_in_the_range),
        cmocka_unit_test(other_fruit_is_taken_as_trimmed),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
