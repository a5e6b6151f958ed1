/* Plans: balances close, physics points the right way, published examples come out, limits are finite, and the result
 * does not depend on how the draws are cut. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "model/random.h"
#include "plan_kit.h"

static void near(const char *what, double got, double expected, double tolerance)
{
    if (!(fabs(got - expected) <= tolerance))
        fail_msg("%s = %.10g, expected %.10g +/- %.3g", what, got, expected, tolerance);
}

static struct st_plan *plan_of(const struct st_recipe *r)
{
    struct st_problem problem = { { 0, 0 }, "", "", "", 0 };
    struct st_plan *p = st_plan_create(r, &problem);
    if (!p)
        fail_msg("%s: %s; %s", problem.what, problem.why, problem.try_);
    return p;
}

static void refused(const struct st_recipe *r, const char *word)
{
    struct st_problem problem = { { 0, 0 }, "", "", "", 0 };
    assert_null(st_plan_create(r, &problem));
    if (!strstr(problem.what, word) && !strstr(problem.why, word))
        fail_msg("refused with '%s: %s', not about '%s'", problem.what, problem.why, word);
    assert_true(problem.try_[0] != '\0');
}

/* The figures of a recipe, nominal and with 500 draws. */
static struct st_foretold run(const struct st_recipe *r)
{
    struct st_foretold f;
    const struct st_options o = { 1, 500, false };
    struct st_plan *p = plan_of(r);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    st_plan_free(p);
    return f;
}

static double figure(const struct st_recipe *r, enum st_figure which)
{
    struct st_foretold f = run(r);
    const double x = f.fig[which].value;
    st_foretold_done(&f);
    return x;
}

static bool has_note(const struct st_foretold *f, enum st_note_code code)
{
    for (int i = 0; i < f->n_note; i++)
        if (f->note[i].code == code)
            return true;
    return false;
}

static double total(const double g[ST_NCOMP])
{
    double s = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        s += g[c];
    return s;
}

/* ---- published examples ---- */

/* Reference balance of steeping, rows CF019-CF022 (computed apart; composition of sour cherries [usda_sr26]); rel 1e-5.
 */
static void cherries_in_spirit(void **state)
{
    /* 947.9 g with an ethanol mass fraction of 0.3331: the strength that has it */
    struct st_ingredient spirit = kit_spirit(40.0), cherries = kit_fruit("cherries", 0.8613, 0.0849, 0.015, 0.75);
    struct st_line line[2] = { kit_line(&spirit, kit_g(947.9)), kit_line(&cherries, kit_g(500)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    spirit.strength = kit_sharp(40.01182); /* p = 0.3331 */
    kit_ideal(&step);
    struct st_foretold f = run(&r);
    const struct st_balance *b = &f.balance[0];
    const double drained = total(b->mass_g);
    near("CF019 x", b->mass_g[ST_ETHANOL] / drained, 0.2210329, 1e-5 * 0.2210329);
    near("CF020 drained", drained, 1053.5, 1e-5 * 1053.5);
    near("CF021 sugar", b->mass_g[ST_SUCROSE] + b->mass_g[ST_GLUCOSE] + b->mass_g[ST_FRUCTOSE], 31.30632,
         1e-5 * 31.30632);
    near("CF022 ethanol kept", b->spent_g[ST_ETHANOL] / b->in_g[ST_ETHANOL], 0.2625131, 1e-5 * 0.2625131);
    st_foretold_done(&f);
}

/* Rule of a protected name, row WR17: 25-30 % vol; with full exchange 29.4 % vol was worked out apart (0.2 % vol). */
static void sloes_in_spirit(void **state)
{
    static const double STRENGTH[] = { 30, 32, 35, 40 }, PREDICTED[] = { 25.2, 26.8, 29.4, 33.6 };
    struct st_ingredient sloes = kit_fruit("sloes", 0.72, 0.08, 0.0, 0.75);
    (void)state;
    for (size_t i = 0; i < 4; i++) {
        const struct st_ingredient spirit = kit_spirit(STRENGTH[i]);
        struct st_line line[2] = { kit_line(&spirit, kit_ml(1000)), kit_line(&sloes, kit_g(250)) };
        struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
        struct st_recipe r = kit_recipe(&step, 1);
        if (STRENGTH[i] == 35.0)
            near("WR17", figure(&r, ST_FIG_STRENGTH), 27.5, 2.5);
        kit_ideal(&step);
        near("WR17 full exchange", figure(&r, ST_FIG_STRENGTH), PREDICTED[i], 0.2);
    }
}

/* Published recipes without fruit that give their result ("plausible" rows of the worked recipes; 85 % m/v syrup and
 * old measures as there).  expected +/- tolerance is published, predicted was worked out apart from the program: 0.2 %
 * vol, 0.3 % of a volume, 1 kg/m3.  Amounts per 1000 mL or g so that one table serves. */
static void published_mixtures(void **state)
{
    enum { TO = 1 };
    const double gal_us = 3785.412, gal_imp = 4546.09, lb = 453.592;
    const struct {
        const char *id;
        double strength, spirit_ml, sugar_g, water_ml;
        int to;
        enum st_figure figure;
        double expected, tolerance, predicted, within;
    } R[] = {
        /* 48.95 at 60 F is 0.06 less at 20 C, inside the tolerance */
        { "WR01b", 95, 500, 0, 500, 0, ST_FIG_STRENGTH, 48.95, 0.55, 48.72, 0.2 },
        { "WR08b", 85, 25000, 0.85 * 14700, 60300 + 0.464 * 14700, 0, ST_FIG_STRENGTH, 21.25, 0.5, 21.55, 0.2 },
        { "WR10", 82.5, 60000, 25000, 24000, 0, ST_FIG_VOLUME, 98200, 1800, 98200, 0.003 * 98200 },
        { "WR12", 95, 4 * gal_us, 20 * lb, 4.75 * gal_us, 0, ST_FIG_VOLUME, 10 * gal_us, 0.35 * gal_us, 9.98 * gal_us,
          0.03 * gal_us },
        { "WR13b", 57.1, 36 * gal_imp, 224 * lb, 100 * gal_imp, TO, ST_FIG_STRENGTH, 20.55, 1.7, 20.56, 0.2 },
        { "WR14", 86.5, 7 * gal_imp, 40 * lb, 12 * gal_imp, 0, ST_FIG_VOLUME, 20 * gal_imp, 1.3 * gal_imp,
          21.1 * gal_imp, 0.07 * gal_imp },
    };
    const struct st_ingredient sugar = kit_sugar(), water = kit_water();
    (void)state;
    for (size_t i = 0; i < sizeof R / sizeof R[0]; i++) {
        const struct st_ingredient spirit = kit_spirit(R[i].strength);
        struct st_line line[3] = { kit_line(&spirit, kit_ml(R[i].spirit_ml)), kit_line(&sugar, kit_g(R[i].sugar_g)),
                                   kit_line(&water, kit_ml(R[i].water_ml)) };
        struct st_step step = kit_step("mix", ST_DO_BLEND, line, 3);
        struct st_recipe r = kit_recipe(&step, 1);
        line[2].amount.make_up_to = R[i].to == TO;
        if (i == 0) /* that book measures at 25 C */
            line[0].temperature_K = line[2].temperature_K = kit_sharp(298.15);
        const double got = figure(&r, R[i].figure);
        near(R[i].id, got, R[i].expected, R[i].tolerance);
        near(R[i].id, got, R[i].predicted, R[i].within);
    }
}

/* Row WR02b: 850 g of sugar to 1000 mL take 69.45 mL of water in 150 mL (0.6); 69.59 worked out apart. */
static void water_for_a_syrup(void **state)
{
    const struct st_ingredient sugar = kit_sugar(), water = kit_water();
    struct st_line line[2] = { kit_line(&sugar, kit_g(850)), kit_line(&water, kit_ml(1000)) };
    struct st_step step = kit_step("syrup", ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    line[1].amount.make_up_to = true;
    struct st_foretold f = run(&r);
    near("WR02b", 0.15 * f.final_g[ST_WATER] / 0.998201, 69.45, 0.6);
    st_foretold_done(&f);
    /* WR15: 1.75 kg of sugar and 1 L of water, which make 2.10 L; the book's 2 L of 1326 g/L need boiling */
    line[0].amount = kit_g(1750);
    line[1].amount = kit_ml(1000);
    near("WR15b", figure(&r, ST_FIG_VOLUME), 2102, 0.003 * 2102);
    step.kind = ST_DO_SYRUP;
    step.boil_down_to = kit_ml(2000);
    near("WR15a", figure(&r, ST_FIG_DENSITY), 1326, 6);
    /* 1325 kg/m3 was worked out apart for this row, we get 1323.4: that is [sps4] at 20 C for 875 g/L in a litre of
     * 20 C; 1325 is what it gives near 15 C.  Not asserted: the row does not say its temperature. */
}

/* 100 L of ethanol and 100 L of water make 192.74 L at 15 C, 192.93 L at 20 C ([oiml1975] as evaluated in the property
 * notes). */
static void equal_volumes_shrink(void **state)
{
    const struct st_ingredient ethanol = kit_spirit(100), water = kit_water();
    struct st_line line[2] = { kit_line(&ethanol, kit_ml(1000)), kit_line(&water, kit_ml(1000)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    near("volume", figure(&r, ST_FIG_VOLUME), 1929.3, 0.05);
}

/* [eu_1169_2011] annex XIV by hand: 100 g sugar in 1 L: 17 x 10 kJ in 100 mL, 40 kcal. */
static void energy_by_hand(void **state)
{
    const struct st_ingredient sugar = kit_sugar(), water = kit_water();
    struct st_line line[2] = { kit_line(&sugar, kit_g(100)), kit_line(&water, kit_ml(1000)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    line[1].amount.make_up_to = true;
    struct st_foretold f = run(&r);
    near("kJ", f.fig[ST_FIG_ENERGY_KJ].value, 170.0, 1e-6);
    near("kcal", f.fig[ST_FIG_ENERGY_KCAL].value, 40.0, 1e-6);
    near("sugar", f.fig[ST_FIG_SUGAR].value, 100.0, 1e-6);
    near("as invert", f.fig[ST_FIG_SUGAR_INVERT].value, 105.2632, 1e-4);
    st_foretold_done(&f);
}

/* A mixture of measured things is ok; a steep by priors is estimated, and says so of each figure. */
static void status_travels_with_the_figure(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40), sugar = kit_sugar(),
                               fruit = kit_fruit("damsons", 0.83, 0.10, 0.02, 0.75);
    struct st_line line[2] = { kit_line(&spirit, kit_ml(700)), kit_line(&sugar, kit_g(150)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    struct st_foretold f = run(&r);
    assert_int_equal(f.fig[ST_FIG_STRENGTH].status, ST_OK);
    assert_false(f.fig[ST_FIG_COST].known); /* no price given */
    st_foretold_done(&f);
    line[0].price = 14.0;
    line[1].price = 0.5;
    f = run(&r);
    assert_true(f.fig[ST_FIG_COST].known && f.fig[ST_FIG_COST].value == 14.5);
    st_foretold_done(&f);
    line[1] = kit_line(&fruit, kit_g(300));
    step.kind = ST_DO_STEEP;
    f = run(&r);
    assert_int_equal(f.fig[ST_FIG_STRENGTH].status, ST_ESTIMATED);
    st_foretold_done(&f);
}

/* ---- volumes ---- */

/* "water to 1000 mL" gives 1000 mL in every draw, however wrong the other amounts are. */
static void made_up_to_a_volume(void **state)
{
    const struct st_ingredient spirit = kit_spirit(96), sugar = kit_sugar(), water = kit_water();
    struct st_line line[3] = { kit_line(&spirit, kit_ml(400)), kit_line(&sugar, kit_g(250)),
                               kit_line(&water, kit_ml(1000)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 3);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    kit_sharp_tools(&r);
    line[2].amount.make_up_to = true;
    line[0].amount.tool = ST_TOOL_CUP;
    r.tools.of[ST_TOOL_CUP].scale = 0.3;
    struct st_plan *p = plan_of(&r);
    enum { N = 300 };
    const int n_in = st_plan_n_inputs(p);
    double *X = malloc((size_t)n_in * N * sizeof *X), x[8];
    struct st_balance b;
    assert_in_range(n_in, 1, 8);
    st_plan_inputs(p, 1, 0, N, X);
    for (int i = 0; i < N; i++) {
        for (int k = 0; k < n_in; k++)
            x[k] = X[k * N + i];
        assert_true(st_plan_balance(p, x, &b) >= 0);
        near("made up", b.volume_ml, 1000.0, 1e-6);
    }
    free(X);
    st_plan_free(p);
}

static void already_full_adds_nothing(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40), water = kit_water();
    struct st_line line[2] = { kit_line(&spirit, kit_ml(900)), kit_line(&water, kit_ml(500)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    line[1].amount.make_up_to = true;
    struct st_foretold f = run(&r);
    near("volume", f.fig[ST_FIG_VOLUME].value, 900.0, 1e-6);
    assert_true(has_note(&f, ST_NOTE_ALREADY_FULL));
    st_foretold_done(&f);
}

static void boiled_down_to_a_volume(void **state)
{
    const struct st_ingredient sugar = kit_sugar(), water = kit_water();
    struct st_line line[2] = { kit_line(&sugar, kit_g(300)), kit_line(&water, kit_g(700)) };
    struct st_step step = kit_step("syrup", ST_DO_SYRUP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    step.boil_down_to = kit_ml(500);
    struct st_foretold f = run(&r);
    near("volume", f.fig[ST_FIG_VOLUME].value, 500.0, 1e-5);
    near("sugar stays", f.final_g[ST_SUCROSE], 300.0, 1e-9);
    st_foretold_done(&f);
    step.boil_down_to = kit_ml(100); /* less than the sugar itself */
    f = run(&r);
    assert_true(has_note(&f, ST_NOTE_BOILED_DRY) && has_note(&f, ST_NOTE_CRYSTALLISES));
    assert_true(f.fig[ST_FIG_VOLUME].value > 100.0);
    st_foretold_done(&f);
}

/* ---- direction ---- */

struct tale { /* one recipe with knobs */
    double spirit_ml, strength, sugar_g, fruit_g, loss;
};

static double told(struct tale t, enum st_figure which)
{
    const struct st_ingredient spirit = kit_spirit(t.strength), sugar = kit_sugar(), water = kit_water();
    const struct st_ingredient fruit = kit_fruit("damsons", 0.83, 0.10, 0.02, 0.75);
    struct st_line first[2] = { kit_line(&spirit, kit_ml(t.spirit_ml)), kit_line(&fruit, kit_g(t.fruit_g)) };
    struct st_line second[3] = { kit_from(0, ST_LIQUOR, kit_all()), kit_line(&sugar, kit_g(t.sugar_g)),
                                 kit_line(&water, kit_ml(200)) };
    struct st_step step[3] = { kit_step("jar", ST_DO_STEEP, first, 2), kit_step("blend", ST_DO_BLEND, second, 3),
                               kit_step("rack", ST_DO_RACK, NULL, 0) };
    struct st_recipe r = kit_recipe(step, 3);
    step[2].loss_share = kit_sharp(t.loss);
    return figure(&r, which);
}

static void more_of_a_thing_shows(void **state)
{
    const struct tale t = { 700, 50, 200, 400, 0.02 };
    struct tale u = t;
    (void)state;
    for (u.spirit_ml = 300; u.spirit_ml < 3000; u.spirit_ml *= 1.3) {
        struct tale v = u;
        v.spirit_ml *= 1.3;
        assert_true(told(v, ST_FIG_STRENGTH) > told(u, ST_FIG_STRENGTH));
        assert_true(told(v, ST_FIG_SUGAR) < told(u, ST_FIG_SUGAR));
        assert_true(told(v, ST_FIG_VOLUME) > told(u, ST_FIG_VOLUME));
    }
    u = t;
    for (u.sugar_g = 0; u.sugar_g < 600; u.sugar_g += 100) {
        struct tale v = u;
        v.sugar_g += 100;
        assert_true(told(v, ST_FIG_SUGAR) > told(u, ST_FIG_SUGAR));
        assert_true(told(v, ST_FIG_BRIX) > told(u, ST_FIG_BRIX));
        assert_true(told(v, ST_FIG_STRENGTH) < told(u, ST_FIG_STRENGTH));
    }
    u = t;
    for (u.fruit_g = 0; u.fruit_g < 700; u.fruit_g += 100) {
        struct tale v = u;
        v.fruit_g += 100;
        assert_true(told(v, ST_FIG_STRENGTH) < told(u, ST_FIG_STRENGTH));
        assert_true(told(v, ST_FIG_ACID) > told(u, ST_FIG_ACID));
    }
}

static void losses_never_raise_the_volume(void **state)
{
    struct tale t = { 700, 50, 200, 400, 0.0 };
    (void)state;
    double last = told(t, ST_FIG_VOLUME);
    const double strength = told(t, ST_FIG_STRENGTH);
    for (t.loss = 0.01; t.loss < 0.5; t.loss += 0.07) {
        const double v = told(t, ST_FIG_VOLUME);
        assert_true(v < last);
        near("strength is not touched", told(t, ST_FIG_STRENGTH), strength, 1e-9);
        last = v;
    }
}

/* In every draw each treatment leaves at most what came. */
static void no_treatment_gains(void **state)
{
    static const enum st_do KIND[] = { ST_DO_REST, ST_DO_RACK, ST_DO_FINE, ST_DO_FILTER, ST_DO_BOTTLE };
    const struct st_ingredient wine = kit_spirit(30);
    struct st_line line[1] = { kit_line(&wine, kit_ml(700)) };
    struct st_step step[6] = { kit_step("mix", ST_DO_BLEND, line, 1) };
    struct st_balance b[6];
    enum { N = 200 };
    (void)state;
    for (int i = 0; i < 5; i++) {
        step[i + 1] = kit_step(st_do_name(KIND[i]), KIND[i], NULL, 0);
        step[i + 1].time = kit_amount(ST_DIM_TIME, 90 * 86400.0);
    }
    struct st_recipe r = kit_recipe(step, 6);
    struct st_plan *p = plan_of(&r);
    const int n = st_plan_n_inputs(p);
    double *X = malloc((size_t)n * N * sizeof *X), *x = malloc((size_t)n * sizeof *x);
    st_plan_inputs(p, 1, 0, N, X);
    for (int i = 0; i < N; i++) {
        for (int k = 0; k < n; k++)
            x[k] = X[k * N + i];
        assert_true(st_plan_balance(p, x, b) >= 0);
        for (int s = 1; s < 6; s++)
            for (int c = 0; c < ST_NCOMP; c++)
                assert_true(b[s].mass_g[c] <= b[s].in_g[c] && b[s].lost_g[c] >= 0.0);
    }
    free(X);
    free(x);
    st_plan_free(p);
}

/* ---- steps ---- */

static void pressing_and_weighing(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40), fruit = kit_fruit("damsons", 0.83, 0.10, 0.02, 0.75);
    struct st_line line[2] = { kit_line(&spirit, kit_g(600)), kit_line(&fruit, kit_g(400)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    kit_ideal(&step);
    near("kept 0.75 x 400", figure(&r, ST_FIG_MASS), 600 + 0.95 * 400 - 300, 1e-9);
    step.press = true;
    step.press_share = kit_sharp(0.4);
    near("pressed", figure(&r, ST_FIG_MASS), 600 + 0.95 * 400 - 180, 1e-9);
    step.drained_solids_g = kit_sharp(320); /* 20 g of it insoluble */
    near("weighed", figure(&r, ST_FIG_MASS), 600 + 0.95 * 400 - 300, 1e-9);
    step.drained_solids_g = kit_sharp(990); /* possible, but hardly anything comes off */
    struct st_foretold f = run(&r);
    assert_true(has_note(&f, ST_NOTE_KEEPS_ALL) && f.fig[ST_FIG_MASS].value > 0.0);
    st_foretold_done(&f);
    step.drained_solids_g = kit_sharp(5000);
    refused(&r, "weigh more than went into"); /* a slip of the scale is no retention */
}

/* Spent fruit into a syrup: its spirit comes along, and it keeps the same weight of the new liquid. */
static void second_pour(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40), fruit = kit_fruit("damsons", 0.83, 0.10, 0.02, 0.75);
    const struct st_ingredient sugar = kit_sugar(), water = kit_water();
    struct st_line first[2] = { kit_line(&spirit, kit_g(600)), kit_line(&fruit, kit_g(400)) };
    struct st_line second[3] = { kit_from(0, ST_SPENT, kit_all()), kit_line(&sugar, kit_g(200)),
                                 kit_line(&water, kit_g(200)) };
    struct st_line last[2] = { kit_from(0, ST_LIQUOR, kit_all()), kit_from(1, ST_LIQUOR, kit_all()) };
    struct st_step step[3] = { kit_step("jar", ST_DO_STEEP, first, 2), kit_step("syrup", ST_DO_STEEP, second, 3),
                               kit_step("blend", ST_DO_BLEND, last, 2) };
    struct st_recipe r = kit_recipe(step, 3);
    (void)state;
    kit_ideal(&step[0]);
    kit_ideal(&step[1]);
    struct st_foretold f = run(&r);
    near("second liquor", total(f.balance[1].mass_g), 400 + 300 - 300, 1e-9);
    near("second spent", total(f.balance[1].spent_g), 320, 1e-9);
    assert_true(f.balance[1].mass_g[ST_ETHANOL] > 0.0);
    assert_false(has_note(&f, ST_NOTE_UNUSED));
    st_foretold_done(&f);
}

static void half_of_a_step(void **state)
{
    const struct st_ingredient spirit = kit_spirit(60), water = kit_water();
    struct st_line first[1] = { kit_line(&spirit, kit_g(1000)) };
    struct st_line second[2] = { kit_from(0, ST_LIQUOR, kit_amount(ST_DIM_PIECE, 0.5)), kit_line(&water, kit_g(300)) };
    struct st_line third[1] = { kit_from(0, ST_LIQUOR, kit_amount(ST_DIM_PIECE, 0.25)) };
    struct st_step step[3] = { kit_step("a", ST_DO_BLEND, first, 1), kit_step("b", ST_DO_BLEND, second, 2),
                               kit_step("c", ST_DO_BLEND, third, 1) };
    struct st_recipe r = kit_recipe(step, 3);
    (void)state;
    struct st_foretold f = run(&r);
    near("half", total(f.balance[1].in_g), 800, 1e-6);
    near("a quarter of the whole", total(f.balance[2].in_g), 250, 1e-6);
    st_foretold_done(&f);
    second[0].amount.value = 0.9;
    f = run(&r);
    assert_true(has_note(&f, ST_NOTE_TAKEN_TOO_MUCH));
    near("no more than is left", total(f.balance[2].in_g), 100, 1e-6);
    st_foretold_done(&f);
}

static void a_step_can_be_shared(void **state)
{
    const struct st_ingredient spirit = kit_spirit(60), water = kit_water();
    struct st_line first[1] = { kit_line(&spirit, kit_g(1000)) };
    struct st_line second[2] = { kit_from(0, ST_LIQUOR, kit_g(300)), kit_line(&water, kit_g(300)) };
    struct st_line third[2] = { kit_from(1, ST_LIQUOR, kit_ml(100)), kit_from(0, ST_LIQUOR, kit_all()) };
    struct st_step step[3] = { kit_step("a", ST_DO_BLEND, first, 1), kit_step("b", ST_DO_BLEND, second, 2),
                               kit_step("c", ST_DO_BLEND, third, 2) };
    struct st_recipe r = kit_recipe(step, 3);
    (void)state;
    struct st_foretold f = run(&r);
    near("the rest", total(f.balance[2].in_g), 700 + 100 * f.balance[1].density / 1000, 1e-6);
    st_foretold_done(&f);
    second[0].amount = kit_g(1500);
    refused(&r, "nothing is left"); /* all of it went into the second */
    third[1] = kit_line(&water, kit_g(10));
    f = run(&r);
    assert_true(has_note(&f, ST_NOTE_TAKEN_TOO_MUCH));
    near("no more than there is", total(f.balance[1].in_g), 1300, 1e-9);
    st_foretold_done(&f);
}

/* Spirit, poured or kept by drained fruit, is not put in a pan. */
static void spirit_is_not_toasted(void **state)
{
    const struct st_ingredient spirit = kit_spirit(60);
    struct st_ingredient bark = kit_ingredient("bark", ST_KIND_BARK);
    struct st_problem p = { 0 };
    (void)state;
    bark.part[ST_WATER] = kit_sharp(0.1);
    bark.sugars = kit_sharp(0.0);
    struct st_line poured[2] = { kit_line(&bark, kit_g(10)), kit_line(&spirit, kit_ml(300)) };
    struct st_line again[1] = { kit_from(0, ST_SPENT, kit_all()) };
    struct st_step step[2] = { kit_step("pan", ST_DO_TOAST, poured, 2), kit_step("dry", ST_DO_TOAST, again, 1) };
    struct st_recipe r = kit_recipe(step, 1);
    assert_null(st_plan_create(&r, &p));
    assert_non_null(strstr(p.what, "spirit cannot be toasted"));
    assert_int_equal(p.is_question, 0);

    step[0].kind = ST_DO_STEEP;
    r = kit_recipe(step, 2);
    memset(&p, 0, sizeof p);
    assert_null(st_plan_create(&r, &p));
    assert_non_null(strstr(p.what, "spirit cannot be toasted"));
}

static void toasting_drives_off_water_only(void **state)
{
    struct st_ingredient kernels = kit_ingredient("kernels", ST_KIND_KERNEL);
    const struct st_ingredient spirit = kit_spirit(40);
    kernels.part[ST_WATER] = kit_sharp(0.05);
    kernels.sugars = kit_sharp(0.05);
    struct st_line first[1] = { kit_line(&kernels, kit_g(100)) };
    struct st_line second[2] = { kit_from(0, ST_LIQUOR, kit_all()), kit_line(&spirit, kit_ml(700)) };
    struct st_step step[2] = { kit_step("toast", ST_DO_TOAST, first, 1), kit_step("jar", ST_DO_STEEP, second, 2) };
    struct st_recipe r = kit_recipe(step, 2);
    (void)state;
    struct st_foretold f = run(&r);
    for (int c = 0; c < ST_NCOMP; c++)
        assert_true(c == ST_WATER ? f.balance[0].lost_g[c] > 0.0 : f.balance[0].lost_g[c] == 0.0);
    near("what goes on", total(f.balance[0].mass_g), 97.0, 1e-9); /* 60 % of 5 g */
    st_foretold_done(&f);
}

static void crystals_are_foretold(void **state)
{
    const struct st_ingredient sugar = kit_sugar(), water = kit_water();
    struct st_line line[2] = { kit_line(&sugar, kit_g(300)), kit_line(&water, kit_g(100)) };
    struct st_step step = kit_step("syrup", ST_DO_SYRUP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    struct st_foretold f = run(&r);
    assert_true(has_note(&f, ST_NOTE_CRYSTALLISES)); /* 75 %; 67 % dissolve at 20 C */
    st_foretold_done(&f);
    line[0].amount = kit_g(150);
    f = run(&r);
    assert_false(has_note(&f, ST_NOTE_CRYSTALLISES));
    st_foretold_done(&f);
}

static void open_amounts_are_wide(void **state)
{
    struct st_ingredient spirit = kit_spirit(40), fruit = kit_fruit("damsons", 0.83, 0.10, 0.02, 0.75);
    const struct st_ingredient sugar = kit_sugar();
    struct st_line line[3] = { kit_line(&spirit, kit_all()), kit_line(&fruit, kit_g(500)),
                               kit_line(&sugar, kit_all()) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 3);
    struct st_recipe r = kit_recipe(&step, 1);
    struct st_foretold f;
    const struct st_options o = { 1, 1000, true };
    (void)state;
    line[0].amount.open = ST_OPEN_COVER;
    line[2].amount.open = ST_OPEN_TASTE;
    struct st_plan *p = plan_of(&r);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    for (int i = 0; i < f.n_note; i++)
        if (f.note[i].code == ST_NOTE_OPEN)
            assert_true(0.0 < f.note[i].low && f.note[i].low < f.note[i].is && f.note[i].is < f.note[i].limit);
    assert_true(has_note(&f, ST_NOTE_OPEN));
    assert_true(f.fig[ST_FIG_SUGAR].high > 1.5 * f.fig[ST_FIG_SUGAR].low);
    assert_int_equal(f.effect[0].cause, ST_CAUSE_OPEN);
    st_foretold_done(&f);
    st_plan_free(p);
    line[0].amount.open = ST_OPEN_FILL;
    line[0].amount.fill_share = 0.85;
    refused(&r, "vessel");
    step.vessel_ml = 1500;
    f = run(&r);
    assert_true(f.balance[0].in_g[ST_ETHANOL] > 0.0);
    st_foretold_done(&f);
    line[0].amount.open = ST_OPEN_SOME;
    refused(&r, "how much");
}

/* ---- refusals ---- */

static void what_is_not_known_is_asked(void **state)
{
    struct st_ingredient odd = kit_ingredient("oddfruit", ST_KIND_FRESH_FRUIT);
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_line line[2] = { kit_line(&spirit, kit_ml(500)), kit_line(&odd, kit_ml(200)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    refused(&r, "oddfruit"); /* no sugar known */
    odd.sugars = kit_sharp(0.1);
    odd.part[ST_WATER] = kit_sharp(0.85);
    refused(&r, "cup"); /* no weight of a cup */
    line[1].amount = kit_amount(ST_DIM_PIECE, 3);
    refused(&r, "piece");
    line[1].amount = kit_g(200);
    line[1].gross = true;
    refused(&r, "trimming");
    line[1].trimmed_share = kit_sharp(0.9);
    struct st_foretold f = run(&r);
    near("net", f.balance[0].in_g[ST_GLUCOSE] + f.balance[0].in_g[ST_FRUCTOSE] + f.balance[0].in_g[ST_SUCROSE], 18.0,
         1e-9);
    st_foretold_done(&f);
    line[0].temperature_K = kit_sharp(333.15);
    refused(&r, "hot");
    line[0].temperature_K = (struct st_range){ 0 };
    line[0].amount.value = (double)NAN;
    refused(&r, "amount");
    line[0].amount = kit_g(0);
    line[1].amount = kit_g(0);
    refused(&r, "nothing goes into");
    r.n_step = 0;
    refused(&r, "steps");
}

static void inputs_that_are_no_numbers(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_line line[1] = { kit_line(&spirit, kit_ml(500)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 1);
    struct st_recipe r = kit_recipe(&step, 1);
    struct st_plan *p = plan_of(&r);
    double X[16], y[ST_NFIG] = { 0 };
    (void)state;
    assert_in_range(st_plan_n_inputs(p), 1, 16);
    st_plan_inputs(p, 1, 0, 1, X);
    assert_true(st_plan_evaluate(p, 1, X, y) >= 0);
    y[0] = 7.0;
    X[0] = (double)NAN;
    assert_int_equal(st_plan_evaluate(p, 1, X, y), ST_E_DOMAIN);
    X[0] = (double)INFINITY;
    assert_int_equal(st_plan_evaluate(p, 1, X, y), ST_E_DOMAIN);
    assert_true(y[0] == 7.0); /* untouched */
    st_plan_free(p);
}

/* 0 and 96 and 100 % vol, nothing but water, tiny and huge amounts: finite, in order. */
static void limits_are_finite(void **state)
{
    static const double STRENGTH[] = { 0, 0.1, 40, 96, 100 }, ML[] = { 1e-3, 1, 700, 1e6 };
    const struct st_ingredient fruit = kit_fruit("damsons", 0.83, 0.10, 0.02, 0.75);
    (void)state;
    for (size_t i = 0; i < 5; i++)
        for (size_t k = 0; k < 4; k++) {
            const struct st_ingredient spirit = kit_spirit(STRENGTH[i]);
            struct st_line line[2] = { kit_line(&spirit, kit_ml(ML[k])), kit_line(&fruit, kit_g(0.3 * ML[k])) };
            struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
            struct st_recipe r = kit_recipe(&step, 1);
            struct st_foretold f = run(&r);
            for (int g = 0; g < ST_NFIG; g++)
                if (f.fig[g].known) {
                    assert_true(isfinite(f.fig[g].value));
                    assert_true(f.fig[g].low <= f.fig[g].value && f.fig[g].value <= f.fig[g].high);
                }
            assert_true(f.fig[ST_FIG_STRENGTH].value <= STRENGTH[i]);
            st_foretold_done(&f);
        }
}

/* ---- random recipes ---- */

struct dice {
    uint64_t seed;
    uint32_t at;
};

static double roll(struct dice *d)
{
    double u;
    st_uniform_n(d->seed, d->at++, 0, 1, &u);
    return u;
}

static int pick(struct dice *d, int n)
{
    return (int)(roll(d) * n);
}

enum { NKINDS = 10, MAX_STEPS = 8, MAX_LINES = 5 };

static void stock(struct st_ingredient in[NKINDS])
{
    in[0] = kit_spirit(40);
    in[1] = kit_spirit(96);
    in[1].slug = in[1].name = "strong spirit";
    in[2] = kit_water();
    in[3] = kit_sugar();
    in[3].cup = kit_range(190, 200, 215);
    in[4] = kit_fruit("damsons", 0.83, 0.10, 0.02, 0.75);
    in[4].sugars = kit_range(0.07, 0.10, 0.13);
    in[4].retention = kit_range(0.5, 0.75, 1.1);
    in[5] = kit_fruit("dried apricots", 0.31, 0.53, 0.024, 0.9);
    in[5].part[ST_WATER] = kit_range(0.25, 0.31, 0.37);
    in[5].sugars = kit_range(0.45, 0.53, 0.60);
    in[5].extract_share = kit_range(0.1, 0.2, 0.4);
    in[6] = kit_ingredient("kernels", ST_KIND_KERNEL);
    in[6].part[ST_WATER] = kit_range(0.04, 0.05, 0.06);
    in[6].part[ST_FAT] = kit_sharp(0.5);
    in[6].sugars = kit_sharp(0.05);
    in[7] = kit_ingredient("juice", ST_KIND_JUICE);
    in[7].sugars = kit_range(0.08, 0.10, 0.12);
    in[7].part[ST_ACID] = kit_range(0.01, 0.02, 0.03);
    in[8] = kit_ingredient("cordial", ST_KIND_WINE);
    in[8].strength = kit_sharp(17);
    in[8].sugars = kit_range(0.09, 0.10, 0.11);
    in[9] = kit_ingredient("cinnamon", ST_KIND_BARK);
    in[9].part[ST_WATER] = kit_sharp(0.1);
    in[9].sugars = kit_sharp(0.02);
    in[9].n_marker = 1;
    in[9].marker[0].marker = "coumarin";
    in[9].marker[0].mg_g = kit_range(0.1, 1, 5);
}

static void random_line(struct dice *d, const struct st_ingredient in[NKINDS], int step, struct st_line *out)
{
    if (step > 0 && roll(d) < 0.35) {
        *out = kit_from(pick(d, step), roll(d) < 0.3 ? ST_SPENT : ST_LIQUOR,
                        roll(d) < 0.5 ? kit_all() : kit_g(500 * roll(d)));
    } else {
        const struct st_ingredient *what = &in[pick(d, NKINDS)];
        *out = kit_line(what, kit_g(1000 * roll(d) * roll(d)));
        if (what->kind == ST_KIND_SPIRIT || what->kind == ST_KIND_WATER)
            out->amount = kit_ml(1000 * roll(d));
        if (what->kind == ST_KIND_WATER && roll(d) < 0.3)
            out->amount.make_up_to = true;
    }
    out->amount.tool = roll(d) < 0.5 ? ST_TOOL_SCALE : ST_TOOL_CUP;
}

static void random_step(struct dice *d, const struct st_ingredient in[NKINDS], int i, struct st_line line[MAX_LINES],
                        struct st_step *out)
{
    static const char *const ID[MAX_STEPS] = { "a", "b", "c", "d", "e", "f", "g", "h" };
    const enum st_do kind = i == 0 ? (enum st_do)(ST_DO_STEEP + pick(d, 3)) : (enum st_do)pick(d, ST_NDO);
    const bool treatment = kind >= ST_DO_REST;
    const int n = treatment ? 0 : 1 + pick(d, MAX_LINES);
    for (int k = 0; k < n; k++)
        random_line(d, in, i, &line[k]);
    *out = kit_step(ID[i], kind, line, n);
    if (roll(d) < 0.5)
        out->time = kit_amount(ST_DIM_TIME, 86400 * 200 * roll(d));
    out->press = roll(d) < 0.3;
    if (roll(d) < 0.2)
        out->drained_solids_g = kit_range(150, 200, 250);
    if (kind == ST_DO_SYRUP && roll(d) < 0.4)
        out->boil_off_g = kit_range(50, 100, 150);
    else if (kind == ST_DO_SYRUP && roll(d) < 0.4)
        out->boil_down_to = kit_ml(100 + 500 * roll(d));
    if (treatment && roll(d) < 0.3)
        out->loss_ml = kit_range(5, 10, 20);
}

/* The balance of every step and component, nominal and at a few draws. */
static void check_closure(const struct st_plan *p, int n_step, uint64_t seed)
{
    enum { N = 4 };
    struct st_balance b[MAX_STEPS];
    const int n = st_plan_n_inputs(p);
    double *X = malloc((size_t)(n + 1) * N * sizeof *X), *x = malloc((size_t)(n + 1) * sizeof *x);
    st_plan_inputs(p, seed, 0, N, X);
    for (int i = -1; i < N; i++) {
        for (int k = 0; k < n && i >= 0; k++)
            x[k] = X[k * N + i];
        assert_true(st_plan_balance(p, i < 0 ? NULL : x, b) >= 0);
        for (int s = 0; s < n_step; s++) {
            if (!(b[s].closure <= 1e-9))
                fail_msg("seed %llu, step %d: closure %g", (unsigned long long)seed, s, b[s].closure);
            for (int c = 0; c < ST_NCOMP; c++)
                assert_true(b[s].mass_g[c] >= 0.0 && b[s].spent_g[c] >= 0.0 && b[s].lost_g[c] >= 0.0);
        }
    }
    free(X);
    free(x);
}

static void random_recipes_close(void **state)
{
    enum { RECIPES = 6000, AT_LEAST = 2000 }; /* those that toast spirit are refused, too */
    struct st_ingredient in[NKINDS];
    int built = 0;
    (void)state;
    stock(in);
    for (uint64_t seed = 1; seed <= RECIPES; seed++) {
        struct dice d = { seed, 0 };
        struct st_line line[MAX_STEPS][MAX_LINES];
        struct st_step step[MAX_STEPS];
        struct st_problem problem;
        const int n = 1 + pick(&d, MAX_STEPS);
        for (int i = 0; i < n; i++)
            random_step(&d, in, i, line[i], &step[i]);
        struct st_recipe r = kit_recipe(step, n);
        struct st_plan *p = st_plan_create(&r, &problem);
        struct st_problem all[20];
        assert_int_equal(st_plan_problems(&r, all, 20) > 0, p == NULL);
        if (!p) /* it asked for what was not there; most such recipes make no sense */
            continue;
        check_closure(p, n, seed);
        st_plan_free(p);
        built++;
    }
    if (built < AT_LEAST)
        fail_msg("only %d of %d random recipes could be built", built, (int)RECIPES);
}

/* Dials on closed lines of such recipes, turned from a fifth to five: as a plan of the recipe so changed, or both refuse. */
static void turn_and_compare(struct dice *d, struct st_recipe *r, const struct st_plan *p, const struct st_dial *dial, int n,
                             int *same)
{
    double factor[ST_MAX_DIALS], y[ST_NFIG];
    struct st_problem problem;
    struct st_foretold f;
    const struct st_options o = { 1, 0, false };
    for (int k = 0; k < n; k++) {
        struct st_amount *a = &r->step[dial[k].step].line[dial[k].line].amount;
        factor[k] = pow(5.0, 2.0 * roll(d) - 1.0);
        a->value *= factor[k], a->low *= factor[k], a->high *= factor[k], a->fills *= factor[k];
    }
    const enum st_status s = st_plan_at(p, factor, y);
    struct st_plan *q = st_plan_create(r, &problem);
    if ((q == NULL) != (s < 0))
        fail_msg("seed %d: status %d; a fresh plan: %s", (int)d->seed, (int)s, q ? "fine" : problem.what);
    if (!q)
        return;
    assert_true(st_plan_run(q, &o, &f) >= 0);
    for (int i = 0; i < ST_NFIG; i++) {
        const double x = f.fig[i].value, by = fmax(fabs(x), 1e-3);
        if (isnan(x) != isnan(y[i]) || fabs(y[i] - x) > 1e-10 * by)
            fail_msg("seed %d: %s = %.15g, a fresh plan gives %.15g", (int)d->seed, st_figure_info((enum st_figure)i)->key, y[i], x);
    }
    st_foretold_done(&f);
    st_plan_free(q);
    ++*same;
}

static void random_recipes_turned(void **state)
{
    enum { RECIPES = 3000, AT_LEAST = 800 };
    struct st_ingredient in[NKINDS];
    int same = 0;
    (void)state;
    stock(in);
    for (uint64_t seed = 1; seed <= RECIPES; seed++) {
        struct dice d = { seed, 0 };
        struct st_line line[MAX_STEPS][MAX_LINES];
        struct st_step step[MAX_STEPS];
        struct st_dial dial[ST_MAX_DIALS];
        struct st_problem problem;
        const int n = 1 + pick(&d, MAX_STEPS);
        int dials = 0;
        for (int i = 0; i < n; i++) {
            random_step(&d, in, i, line[i], &step[i]);
            for (int k = 0; k < step[i].n_line && dials < ST_MAX_DIALS; k++)
                if (line[i][k].amount.open == ST_CLOSED && line[i][k].amount.value > 0.0)
                    dial[dials++] = (struct st_dial){ i, k, ST_DIAL_AMOUNT };
        }
        struct st_recipe r = kit_recipe(step, n);
        struct st_plan *p = dials ? st_plan_create_dials(&r, dial, dials, &problem) : NULL;
        if (p)
            turn_and_compare(&d, &r, p, dial, dials, &same);
        st_plan_free(p);
    }
    if (same < AT_LEAST)
        fail_msg("only %d of %d random recipes were compared", same, (int)RECIPES);
}

/* 200 lines from a milligram to a tonne, in no order: the balance closes to 1e-12, and what came in is the sum of the lines to
 * the last digits, which a plain sum misses. */
static void many_lines_close(void **state)
{
    enum { LINES = 200 };
    static struct st_line line[LINES + 1], all[2];
    struct st_ingredient sugar = kit_sugar(), water = kit_water(), fruit = kit_fruit("fruit", 0.8, 0.1, 0.02, 0.1);
    struct st_step step[2] = { kit_step("jar", ST_DO_STEEP, line, LINES), kit_step("drink", ST_DO_RACK, all, 1) };
    struct st_recipe r = kit_recipe(step, 2);
    struct st_balance b[2];
    long double sucrose = 0.0L;
    double plain = 0.0;
    (void)state;
    kit_sharp_tools(&r);
    all[0] = kit_from(0, ST_LIQUOR, kit_all());
    for (int i = 0; i < LINES; i++) {
        const double g = 1e-3 * pow(10.0, 9.0 * (double)((i * 73) % LINES) / (LINES - 1));
        line[i] = kit_line(i % 3 == 0 ? &sugar : i % 3 == 1 ? &water : &fruit, kit_g(g));
        sucrose += i % 3 == 0 ? (long double)g : 0.0L;
        plain += i % 3 == 0 ? g : 0.0;
    }
    fruit.part[ST_GLUCOSE] = kit_sharp(0.1); /* its sugar apart from that of the bag */
    fruit.sugars = (struct st_range){ .known = false };
    struct st_plan *p = plan_of(&r);
    assert_true(st_plan_balance(p, NULL, b) >= 0);
    for (int i = 0; i < 2; i++)
        if (!(b[i].closure <= 1e-12))
            fail_msg("step %d closes to %.3g only", i, b[i].closure);
    const double half_a_digit = 1.2e-16 * (double)sucrose;
    near("sucrose that came in", b[0].in_g[ST_SUCROSE], (double)sucrose, half_a_digit);
    assert_true(fabs(plain - (double)sucrose) > half_a_digit); /* else this says nothing */
    st_plan_free(p);
}

/* ---- the same numbers however they are cut ---- */

static struct st_recipe cut_recipe(struct st_step step[2], struct st_line first[2], struct st_line second[3],
                                   struct st_ingredient in[NKINDS])
{
    stock(in);
    first[0] = kit_line(&in[0], kit_ml(700));
    first[1] = kit_line(&in[4], kit_g(400));
    second[0] = kit_from(0, ST_LIQUOR, kit_all());
    second[1] = kit_line(&in[3], kit_ml(236.6));
    second[2] = kit_line(&in[2], kit_ml(1200));
    second[1].amount.tool = ST_TOOL_CUP;
    second[2].amount.make_up_to = true;
    step[0] = kit_step("jar", ST_DO_STEEP, first, 2);
    step[1] = kit_step("blend", ST_DO_BLEND, second, 3);
    return kit_recipe(step, 2);
}

static void any_cut_gives_the_same_result(void **state)
{
    static const size_t CUT[] = { 1, 50, 128, 200, 333 };
    enum { N = 333 };
    struct st_ingredient in[NKINDS];
    struct st_line first[2], second[3];
    struct st_step step[2];
    struct st_recipe r = cut_recipe(step, first, second, in);
    struct st_plan *p = plan_of(&r);
    const size_t n_in = (size_t)st_plan_n_inputs(p);
    double *X = malloc(n_in * N * sizeof *X), *y = malloc(ST_NFIG * N * sizeof *y),
           *z = malloc(ST_NFIG * N * sizeof *z);
    (void)state;
    st_plan_inputs(p, 1, 0, N, X);
    assert_true(st_plan_evaluate(p, N, X, y) >= 0);
    for (size_t k = 0; k < sizeof CUT / sizeof CUT[0]; k++)
        for (size_t i = 0; i < N; i += CUT[k]) {
            const size_t m = N - i < CUT[k] ? N - i : CUT[k];
            st_plan_inputs(p, 1, i, m, X);
            assert_true(st_plan_evaluate(p, m, X, z) >= 0);
            for (int f = 0; f < ST_NFIG; f++)
                for (size_t j = 0; j < m; j++)
                    assert_memory_equal(&z[(size_t)f * m + j], &y[(size_t)f * N + i + j], sizeof *y);
        }
    free(X);
    free(y);
    free(z);
    st_plan_free(p);
}

static void a_longer_run_begins_with_the_shorter(void **state)
{
    struct st_ingredient in[NKINDS];
    struct st_line first[2], second[3];
    struct st_step step[2];
    struct st_recipe r = cut_recipe(step, first, second, in);
    struct st_plan *p = plan_of(&r);
    struct st_foretold a, b, c;
    const struct st_options few = { 1, 500, false }, many = { 1, 3000, true }, other = { 2, 500, false };
    (void)state;
    assert_true(st_plan_run(p, &few, &a) >= 0);
    assert_true(st_plan_run(p, &many, &b) >= 0);
    assert_true(st_plan_run(p, &other, &c) >= 0);
    assert_memory_equal(a.draw[ST_FIG_STRENGTH], b.draw[ST_FIG_STRENGTH], 500 * sizeof(double));
    assert_true(memcmp(a.draw[ST_FIG_STRENGTH], c.draw[ST_FIG_STRENGTH], 500 * sizeof(double)) != 0);
    assert_true(a.fig[ST_FIG_STRENGTH].value == c.fig[ST_FIG_STRENGTH].value); /* nominal: no draws in it */
    st_foretold_done(&a);
    st_foretold_done(&b);
    st_foretold_done(&c);
    st_plan_free(p);
}

/* A recipe with one line more shares the numbers of what it shares: the strength of the liquor is the same draw by
 * draw. */
static void variants_share_their_numbers(void **state)
{
    struct st_ingredient in[NKINDS];
    struct st_line line[3];
    struct st_step step;
    double X[2][32], y[2][ST_NFIG];
    (void)state;
    stock(in);
    line[0] = kit_line(&in[0], kit_ml(700));
    line[1] = kit_line(&in[4], kit_g(400));
    line[2] = kit_line(&in[9], kit_g(0)); /* no cinnamon at all, but its ranges are there */
    step = kit_step("jar", ST_DO_STEEP, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    for (int k = 0; k < 2; k++) {
        step.n_line = 2 + k;
        struct st_plan *p = plan_of(&r);
        assert_in_range(st_plan_n_inputs(p), 1, 32);
        st_plan_inputs(p, 1, 17, 1, X[k]);
        assert_true(st_plan_evaluate(p, 1, X[k], y[k]) >= 0);
        st_plan_free(p);
    }
    near("strength", y[0][ST_FIG_SUGAR], y[1][ST_FIG_SUGAR], 1e-3);
}

/* What has no spread has no effect, what has all of it has all; knowing it leaves next to nothing. */
static void effects_add_up(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40), water = kit_water();
    struct st_line line[2] = { kit_line(&spirit, kit_g(500)), kit_line(&water, kit_g(500)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 2);
    struct st_recipe r = kit_recipe(&step, 1);
    struct st_foretold f;
    const struct st_options o = { 1, 4000, true };
    (void)state;
    kit_sharp_tools(&r);
    line[1].amount.tool = ST_TOOL_CUP;
    r.tools.of[ST_TOOL_CUP].scale = 0.2;
    struct st_plan *p = plan_of(&r);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    assert_int_equal(f.effect[0].cause, ST_CAUSE_TOOL);
    assert_int_equal(f.effect[0].tool, ST_TOOL_CUP);
    assert_true(f.effect[0].total[0] > 0.85);
    assert_true(f.effect[0].half_without[0] < 0.25 * f.effect[0].half[0]);
    for (int i = 1; i < f.n_effect; i++) {
        assert_true(f.effect[i].total[0] < 0.1);
        assert_true(f.effect[i].half_without[0] > 0.9 * f.effect[i].half[0]);
    }
    st_foretold_done(&f);
    st_plan_free(p);
}

/* ---- all problems in one go ---- */

/* Two jars, a blend of them, a filter: what is wrong is told once each; what follows from it is not. */
static void problems_are_gathered(void **state)
{
    enum { MOST = 20 };
    const struct st_ingredient spirit = kit_spirit(40), water = kit_water();
    struct st_ingredient fruit = kit_fruit("fruit", 0.8, 0.1, 0.01, 0.5), unknown = kit_ingredient("syrup", ST_KIND_SYRUP);
    struct st_line first[3] = { kit_line(&fruit, kit_amount(ST_DIM_PIECE, 3)), kit_line(&unknown, kit_g(100)),
                                kit_line(&spirit, kit_ml(500)) };
    struct st_line second[3] = { kit_line(&fruit, kit_g(300)), kit_line(&water, kit_ml(100)), kit_line(&spirit, kit_all()) };
    struct st_line both[2] = { kit_from(0, ST_LIQUOR, kit_all()), kit_from(1, ST_LIQUOR, kit_all()) };
    struct st_step step[4] = { kit_step("one", ST_DO_STEEP, first, 3), kit_step("two", ST_DO_STEEP, second, 3),
                               kit_step("both", ST_DO_BLEND, both, 2), kit_step("clear", ST_DO_FILTER, NULL, 0) };
    struct st_recipe r = kit_recipe(step, 4);
    struct st_problem problem[MOST], one;
    (void)state;
    for (int i = 0; i < 3; i++) {
        first[i].at.line = 10 + i;
        second[i].at.line = 20 + i;
    }
    assert_int_equal(st_plan_problems(&r, problem, MOST), 3);
    assert_int_equal(problem[0].at.line, 10); /* three of a fruit without a weight */
    assert_int_equal(problem[1].at.line, 11); /* sugar not known */
    assert_int_equal(problem[2].at.line, 22); /* how much of it? */
    assert_int_equal(problem[2].is_question, 1);
    assert_int_equal(st_plan_problems(&r, problem, 2), 2);
    assert_null(st_plan_create(&r, &one));
    assert_int_equal(one.at.line, 10);

    first[0].amount = kit_g(100), first[1].amount = kit_g(0), second[2].amount = kit_ml(200);
    first[1].what = &water;
    assert_int_equal(st_plan_problems(&r, problem, MOST), 0);
    step[1].drained_solids_g = kit_sharp(5000); /* a step as a whole; the others follow from it */
    assert_int_equal(st_plan_problems(&r, problem, MOST), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cherries_in_spirit),
        cmocka_unit_test(sloes_in_spirit),
        cmocka_unit_test(published_mixtures),
        cmocka_unit_test(water_for_a_syrup),
        cmocka_unit_test(equal_volumes_shrink),
        cmocka_unit_test(energy_by_hand),
        cmocka_unit_test(status_travels_with_the_figure),
        cmocka_unit_test(made_up_to_a_volume),
        cmocka_unit_test(already_full_adds_nothing),
        cmocka_unit_test(boiled_down_to_a_volume),
        cmocka_unit_test(more_of_a_thing_shows),
        cmocka_unit_test(losses_never_raise_the_volume),
        cmocka_unit_test(no_treatment_gains),
        cmocka_unit_test(pressing_and_weighing),
        cmocka_unit_test(second_pour),
        cmocka_unit_test(half_of_a_step), cmocka_unit_test(a_step_can_be_shared),
        cmocka_unit_test(toasting_drives_off_water_only),
        cmocka_unit_test(spirit_is_not_toasted),
        cmocka_unit_test(crystals_are_foretold),
        cmocka_unit_test(open_amounts_are_wide),
        cmocka_unit_test(what_is_not_known_is_asked),
        cmocka_unit_test(inputs_that_are_no_numbers),
        cmocka_unit_test(limits_are_finite),
        cmocka_unit_test(random_recipes_close),
        cmocka_unit_test(random_recipes_turned),
        cmocka_unit_test(many_lines_close),
        cmocka_unit_test(any_cut_gives_the_same_result),
        cmocka_unit_test(a_longer_run_begins_with_the_shorter),
        cmocka_unit_test(variants_share_their_numbers),
        cmocka_unit_test(effects_add_up),
        cmocka_unit_test(problems_are_gathered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
