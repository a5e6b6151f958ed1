/* Aims: rows of the reference table optimisation.csv that ask for a blend or a correction (worked out apart from the
 * program, on the same two-binaries density model; tolerances as given there), limits, ways round, odds. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "core/density_mixture.h"
#include "core/least_squares.h"
#include "core/strength.h"
#include "model/aim.h"
#include "model/reverse.h"
#include "plan_kit.h"

static void near(double x, double expected, double tolerance, const char *what)
{
    if (!(fabs(x - expected) <= tolerance))
        fail_msg("%s = %.8g, expected %.8g +/- %g", what, x, expected, tolerance);
}

/* ---- (a) blend, rows OP001-OP015 ---- */

struct blend {
    double strength, sugar, volume, of_spirit, spirit_ml, sugar_g, water_g;
};
static const struct blend BLEND[] = {
    { 28, 220, 1000, 50, 560.00, 220.000, 307.53 }, { 25, 250, 1000, 40, 625.00, 250.000, 221.01 },
    { 30, 300, 1000, 96, 312.50, 300.000, 522.96 }, { 17, 350, 750, 40, 318.75, 262.500, 268.11 },
    { 40, 50, 700, 60, 466.67, 35.000, 217.52 },
};

/* Spirit, sugar and water in one step, nothing lost; the amounts are what a maker might begin with. */
struct kitchen {
    struct st_ingredient spirit, sugar, water, fruit;
    struct st_line line[4];
    struct st_step step[2];
    struct st_recipe recipe;
};

static void set_kitchen(struct kitchen *k, double strength, double spirit_ml, double sugar_g, double water_g)
{
    memset(k, 0, sizeof *k);
    k->spirit = kit_spirit(strength);
    k->sugar = kit_sugar();
    k->water = kit_water();
    k->line[0] = kit_line(&k->spirit, kit_ml(spirit_ml));
    k->line[1] = kit_line(&k->sugar, kit_g(sugar_g));
    k->line[2] = kit_line(&k->water, kit_g(water_g));
    k->step[0] = kit_step("drink", ST_DO_BLEND, k->line, 3);
    kit_ideal(&k->step[0]);
    k->recipe = kit_recipe(k->step, 1);
    kit_sharp_tools(&k->recipe);
}

static void all_free(struct st_aim *a, const struct st_recipe *r)
{
    st_aim_init(a, r);
    for (int i = 0; i < r->step[0].n_line; i++)
        assert_true(st_aim_free(a, 0, i));
}

static void wish_two(struct st_aim *a, double strength, double sugar)
{
    st_aim_wish(a, ST_FIG_STRENGTH, strength, strength, 0.5);
    st_aim_wish(a, ST_FIG_SUGAR, sugar, sugar, 5.0);
}

static void solved(const struct st_aim *a, struct st_aim_found *f)
{
    struct st_problem problem;
    const enum st_status s = st_aim_solve(a, f, &problem);
    if (s < 0)
        fail_msg("not solved (%d): %s: %s", s, problem.what, problem.why);
}

static void blends_are_exact(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof BLEND / sizeof *BLEND; i++) {
        const struct blend *b = &BLEND[i];
        struct kitchen k;
        struct st_aim a;
        struct st_aim_found f;
        set_kitchen(&k, b->of_spirit, 500, 200, 300);
        all_free(&a, &k.recipe);
        wish_two(&a, b->strength, b->sugar);
        st_aim_wish(&a, ST_FIG_VOLUME, b->volume, b->volume, 10.0);
        if (i == 4)
            a.dial[1].low = 0.0; /* 35 g from 200 is less than a quarter */
        solved(&a, &f);
        assert_true(f.met);
        near(500 * f.value[0], b->spirit_ml, 0.5, "spirit, mL");
        near(200 * f.value[1], b->sugar_g, 0.01, "sugar, g");
        near(300 * f.value[2], b->water_g, 0.7, "water, g");
        near(f.y[ST_FIG_STRENGTH], b->strength, 0.05 * 0.5, "strength (the pull must not show)");
    }
}

/* ---- (b) correct by additions, rows OP016-OP028 ---- */

enum { SUGAR, WATER, SPIRIT96 };
struct correction {
    double ml, strength, sugar, to_strength, to_sugar;
    int add[2];
    double amount[2], tolerance[2], final_ml;
};
static const struct correction CORRECTION[] = {
    { 1000, 32, 150, 28, 200, { SUGAR, WATER }, { 78.57, 94.40 }, { 0.5, 0.7 }, 1142.9 },
    { 1000, 22, 320, 26, 290, { SPIRIT96, WATER }, { 69.68, 38.95 }, { 0.5, 0.7 }, 1103.4 },
    { 800, 24, 180, 26, 220, { SPIRIT96, SUGAR }, { 32.28, 44.68 }, { 0.5, 0.7 }, 857.6 },
    { 1500, 28, 250, 25, 250, { SUGAR, WATER }, { 45.00, 152.29 }, { 0.5, 0.7 }, 1680.0 },
    { 1000, 25, 150, 30, 150, { SUGAR, WATER }, { 0, 0 }, { 0, 0 }, 0 }, /* cannot be: -25 g, -151 g */
};

/* The batch as a line of its own, by weight; begun with 50 g or mL of each addition. */
static void set_correction(struct kitchen *k, struct st_ingredient *batch, const struct correction *c)
{
    double solutes[ST_NCOMP] = { [ST_SUCROSE] = c->sugar }, w[ST_NCOMP], rho;
    set_kitchen(k, 96, 50, 50, 50);
    assert_true(st_mixture_from_strength(c->strength, solutes, w) >= 0);
    assert_true(st_density_mixture(w, ST_T20, &rho) >= 0);
    *batch = kit_ingredient("batch", ST_KIND_WINE);
    batch->strength = kit_sharp(c->strength);
    batch->part[ST_SUCROSE] = batch->sugars = kit_sharp(w[ST_SUCROSE]);
    batch->part[ST_ETHANOL] = kit_sharp(w[ST_ETHANOL]);
    batch->part[ST_WATER] = kit_sharp(w[ST_WATER]);
    const struct st_line of[3] = { [SUGAR] = kit_line(&k->sugar, kit_g(50)),
                                   [WATER] = kit_line(&k->water, kit_g(50)),
                                   [SPIRIT96] = kit_line(&k->spirit, kit_ml(50)) };
    k->line[0] = kit_line(batch, kit_g(c->ml * rho * 1e-3));
    k->line[1] = of[c->add[0]];
    k->line[2] = of[c->add[1]];
}

static void corrections(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof CORRECTION / sizeof *CORRECTION; i++) {
        const struct correction *c = &CORRECTION[i];
        struct st_ingredient batch;
        struct kitchen k;
        struct st_aim a;
        struct st_aim_found f;
        set_correction(&k, &batch, c);
        st_aim_init(&a, &k.recipe);
        for (int line = 1; line < 3; line++) {
            assert_true(st_aim_free(&a, 0, line));
            a.dial[line - 1].low = 0.0; /* additions only */
            a.dial[line - 1].high = 100.0;
        }
        wish_two(&a, c->to_strength, c->to_sugar);
        solved(&a, &f);
        if (c->final_ml == 0.0) {
            assert_false(f.met);
            assert_true(f.miss[0] < -4.0);
            assert_true(f.n_stop > 0 && !f.stop[0].upper); /* stopped by: nothing can be taken out */
            near(50 * f.value[1], 0.0, 1e-6, "water, g");
            continue;
        }
        assert_true(f.met);
        near(50 * f.value[0], c->amount[0], c->tolerance[0], "first addition");
        near(50 * f.value[1], c->amount[1], c->tolerance[1], "second addition");
        near(f.y[ST_FIG_VOLUME], c->final_ml, 0.5, "volume after, mL");
    }
}

/* ---- row OP039: five targets, five amounts, by the core's solver; 1 % ---- */

struct six {
    double part[6][ST_NCOMP], rho[6];
};

static void a_liquid(struct six *s, int i, double strength, double sugar, double acid)
{
    const double solutes[ST_NCOMP] = { [ST_SUCROSE] = sugar, [ST_ACID] = acid };
    assert_true(st_mixture_from_strength(strength, solutes, s->part[i]) >= 0);
    assert_true(st_density_mixture(s->part[i], ST_T20, &s->rho[i]) >= 0);
}

static enum st_status five_targets(const double x[], double r[], void *arg)
{
    const struct six *s = arg; /* x: mL of water, g of sugar, mL of lemon, raspberry, tincture; 700 mL of spirit */
    const double ml[6] = { 700, x[0], 0, x[2], x[3], x[4] };
    double g[ST_NCOMP] = { 0 }, w[ST_NCOMP], rho, sum = 0.0;
    for (int i = 0; i < 6; i++)
        for (int c = 0; c < ST_NCOMP; c++)
            g[c] += (i == 2 ? x[1] : ml[i] * s->rho[i] * 1e-3) * s->part[i][c];
    for (int c = 0; c < ST_NCOMP; c++)
        sum += g[c];
    if (st_mixture_from_masses(g, w) < 0 || st_density_mixture(w, ST_T20, &rho) < 0)
        return ST_E_DOMAIN;
    const double litres = sum / rho;
    r[0] = (g[ST_ETHANOL] / 789.239 * 100.0 / litres - 26.0) / 0.3;
    r[1] = (g[ST_SUCROSE] / litres - 200.0) / 5.0;
    r[2] = (g[ST_ACID] / litres - 6.0) / 0.3;
    r[3] = (2.0 * x[4] / litres - 12.0) / 1.2;
    r[4] = (0.1 * x[3] / litres - 20.0) / 2.0;
    return ST_OK;
}

static void five_targets_at_once(void **state)
{
    (void)state;
    static const double EXPECTED[5] = { 148.3, 246.7, 91.2, 273.6, 8.21 }, LOW[5] = { 0 };
    struct six s = { .rho = { 0 } };
    double x[5] = { 200, 200, 50, 200, 5 }, work[300];
    struct st_ls_result out;
    a_liquid(&s, 0, 50, 0, 0);
    a_liquid(&s, 1, 0, 0, 0);
    s.part[2][ST_SUCROSE] = 1.0;
    a_liquid(&s, 3, 0, 25, 48);
    a_liquid(&s, 4, 0, 90, 14);
    a_liquid(&s, 5, 70, 0, 0);
    const struct st_ls_problem p = {
        .n = 5, .m = 5, .lower = LOW, .residuals = five_targets, .arg = &s, .limits = st_ls_defaults()
    };
    assert_true(st_ls_work(5, 5) <= sizeof work / sizeof *work);
    assert_int_equal(st_least_squares(&p, x, work, &out), ST_OK);
    assert_true(out.f < 1e-16);
    for (int i = 0; i < 5; i++)
        near(x[i], EXPECTED[i], 0.01 * EXPECTED[i], "amount");
}

/* ---- limits ---- */

static void wish_three(struct st_aim *a, double strength, double sugar, double ml)
{
    wish_two(a, strength, sugar);
    st_aim_wish(a, ST_FIG_VOLUME, ml, ml, 0.02 * ml);
}

static void smallest_change_where_there_is_a_choice(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    set_kitchen(&k, 50, 500, 200, 300);
    all_free(&a, &k.recipe);
    st_aim_wish(&a, ST_FIG_SUGAR, 150, 160, 5.0);
    solved(&a, &f);
    assert_true(f.met);
    near(f.y[ST_FIG_SUGAR], 159.0, 0.01, "the near end of the range, a little inside");
    assert_true(fabs(f.value[0] - 1.0) < 0.2 && fabs(f.value[2] - 1.0) < 0.2 && f.value[1] < 1.0);
    set_kitchen(&k, 50, 500, 200, 300); /* met as it stands: nothing moves */
    all_free(&a, &k.recipe);
    st_aim_wish(&a, ST_FIG_SUGAR, 150, 300, 5.0);
    solved(&a, &f);
    for (int i = 0; i < 3; i++)
        near(f.value[i], 1.0, 1e-6, "an amount that need not change");
}

/* ---- what nobody asked to change ---- */

static double drift_of(const struct st_aim_found *f, const struct st_stays *stays)
{
    return st_stays_drift(stays, f->y, 1);
}

static void what_nobody_asks_for_stays(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found was, f, alone;
    struct st_stays stays;
    set_kitchen(&k, 50, 500, 200, 300);
    all_free(&a, &k.recipe);
    st_aim_wish(&a, ST_FIG_SUGAR, 0.0, 1000.0, 5.0); /* met as it stands */
    solved(&a, &was);
    a.n_wish = 0;
    st_aim_wish(&a, ST_FIG_SUGAR, 0.8 * was.y[ST_FIG_SUGAR], 0.8 * was.y[ST_FIG_SUGAR], 5.0);
    st_aim_stays(&a, was.y, &stays);
    assert_int_equal(stays.n, 3); /* strength, acid, volume */
    solved(&a, &f);
    assert_true(f.met);
    near(f.y[ST_FIG_SUGAR], 0.8 * was.y[ST_FIG_SUGAR], 0.005, "sugar, a thousandth of a tolerance");
    near(f.y[ST_FIG_STRENGTH], was.y[ST_FIG_STRENGTH], 0.02, "strength that nobody asked to change");
    near(f.y[ST_FIG_VOLUME], was.y[ST_FIG_VOLUME], 0.01 * was.y[ST_FIG_VOLUME], "volume that nobody asked to change");
    a.wishes_only = true;
    solved(&a, &alone);
    assert_true(drift_of(&alone, &stays) > drift_of(&f, &stays) + 0.5); /* it is this that keeps it */
    a.n_wish = 0;
    a.wishes_only = false;
    st_aim_wish(&a, ST_FIG_STRENGTH, 32.0, 32.0, 0.5);
    solved(&a, &f);
    assert_true(f.met);
    near(f.y[ST_FIG_STRENGTH], 32.0, 0.0005, "strength");
    near(f.y[ST_FIG_SUGAR], was.y[ST_FIG_SUGAR], 0.5, "sugar that nobody asked to change");
}

/* What stays is weaker than any wish: sugar that cannot stay holds no wish back. */
static void a_wish_goes_first(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    set_kitchen(&k, 50, 500, 200, 300);
    st_aim_init(&a, &k.recipe);
    assert_true(st_aim_free(&a, 0, 2)); /* water alone */
    st_aim_wish(&a, ST_FIG_STRENGTH, 18.0, 18.0, 0.5);
    solved(&a, &f);
    assert_true(f.met);
    near(f.y[ST_FIG_STRENGTH], 18.0, 0.0005, "strength");
    assert_true(f.y[ST_FIG_SUGAR] < 150.0);
}

static void which_figures_stay(void **state)
{
    (void)state;
    static const struct {
        enum st_figure wish;
        int n;
        enum st_figure absent;
    } CASE[] = { { ST_FIG_BRIX, 4, ST_FIG_BRIX },          { ST_FIG_STRENGTH, 3, ST_FIG_STRENGTH },
                 { ST_FIG_SUGAR_INVERT, 3, ST_FIG_SUGAR }, { ST_FIG_BOTTLES, 3, ST_FIG_VOLUME },
                 { ST_FIG_COST, 3, ST_FIG_VOLUME },        { ST_FIG_ACID, 3, ST_FIG_ACID } };
    double y[ST_NFIG];
    for (int i = 0; i < ST_NFIG; i++)
        y[i] = 10.0;
    for (size_t i = 0; i < sizeof CASE / sizeof *CASE; i++) {
        struct st_aim a = { .n_wish = 0 };
        struct st_stays s;
        assert_true(st_aim_wish(&a, CASE[i].wish, 1.0, 1.0, 1.0));
        st_aim_stays(&a, y, &s);
        assert_int_equal(s.n, CASE[i].n);
        for (int k = 0; k < s.n; k++)
            assert_true(s.of[k].of != CASE[i].absent && s.of[k].at == 10.0);
    }
    struct st_aim a = { .wishes_only = true };
    struct st_stays s;
    st_aim_stays(&a, y, &s);
    assert_int_equal(s.n, 0);
    a.wishes_only = false;
    y[ST_FIG_ACID] = (double)NAN; /* not known */
    st_aim_stays(&a, y, &s);
    assert_int_equal(s.n, 3);
    y[ST_FIG_STRENGTH] += 1.5; /* three steps of 0.5 % vol, and four of 5 g/L */
    y[ST_FIG_SUGAR] -= 20.0;
    near(st_stays_drift(&s, y, 1), 5.0, 1e-12, "drift");
}

static void what_one_has(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    struct st_aim_way way[2];
    set_kitchen(&k, 50, 500, 200, 300);
    all_free(&a, &k.recipe);
    wish_three(&a, 28, 220, 1000);
    assert_true(st_aim_have(&a, &k.spirit, ST_DIM_VOLUME, 450));
    solved(&a, &f);
    assert_false(f.met);
    near(500 * f.value[0], 450, 1e-9, "all there is");
    assert_true(f.n_stop >= 1 && f.stop[0].dial == 0 && f.stop[0].upper && f.stop[0].by == ST_BOUND_HAVE);
    const int n = st_aim_ways(&a, &f, way, 2);
    assert_int_equal(n, 2);
    assert_int_equal(way[0].way, ST_WAY_LOOSEN);
    near(500 * way[0].to, 560, 10, "560 mL would do"); /* some mL less, within the tolerances */
    assert_int_equal(way[1].way, ST_WAY_FREE);         /* stronger spirit */
    assert_int_equal(way[1].dial.of, ST_DIAL_STRENGTH);
    assert_true(way[0].found.met && way[1].found.met);
}

/* Two lines of one spirit share what there is. */
static void what_one_has_over_two_lines(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    set_kitchen(&k, 50, 300, 200, 300);
    k.line[3] = kit_line(&k.spirit, kit_ml(200));
    k.step[0].n_line = 4;
    all_free(&a, &k.recipe);
    wish_three(&a, 28, 220, 1000);
    assert_true(st_aim_have(&a, &k.spirit, ST_DIM_VOLUME, 450));
    assert_int_equal(a.n_limit, 1);
    solved(&a, &f);
    assert_false(f.met);
    near(300 * f.value[0] + 200 * f.value[3], 450, 450e-6, "all there is");
    assert_true(f.n_stop >= 1 && f.stop[0].limit == 0);
    all_free(&a, &k.recipe);
    wish_three(&a, 28, 220, 1000);
    assert_true(st_aim_have(&a, &k.spirit, ST_DIM_VOLUME, 561));
    solved(&a, &f);
    assert_true(f.met);
    assert_false(st_aim_have(&a, &k.spirit, ST_DIM_MASS, 500)); /* a weight against volumes */
}

static void a_jar(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    struct st_aim_way way[2];
    set_kitchen(&k, 50, 500, 200, 300);
    all_free(&a, &k.recipe);
    wish_three(&a, 28, 220, 1000);
    assert_true(st_aim_jar(&a, 0, 900));
    solved(&a, &f);
    assert_false(f.met);
    near(f.fill[0], 900, 900e-6, "mL in the jar");
    near(f.y[ST_FIG_STRENGTH], 28, 0.5, "strength, which the jar does not touch");
    assert_true(f.n_stop == 1 && f.stop[0].limit == 0);
    assert_true(st_aim_ways(&a, &f, way, 2) >= 1);
    assert_int_equal(way[0].way, ST_WAY_LOOSEN);
    near(way[0].to, 1000, 1e-9, "a jar of a litre");
    all_free(&a, &k.recipe);
    wish_three(&a, 28, 220, 1000);
    assert_true(st_aim_jar(&a, 0, 1010));
    solved(&a, &f);
    assert_true(f.met && f.n_stop == 0);
}

/* The limit's multiplier is what a larger jar gains: asked of a second run. */
static void gain_is_what_loosening_brings(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a, b;
    struct st_aim_found f, g;
    set_kitchen(&k, 50, 500, 200, 300);
    all_free(&a, &k.recipe);
    wish_three(&a, 28, 220, 1000);
    b = a;
    assert_true(st_aim_jar(&a, 0, 700) && st_aim_jar(&b, 0, 700.7)); /* a tenth of a per cent more */
    solved(&a, &f);
    solved(&b, &g);
    near((f.score - g.score) / (f.stop[0].gain / 100.0), 1.0, 0.02, "gain by the multiplier");
}

static void nothing_to_aim_at(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    struct st_problem problem;
    set_kitchen(&k, 50, 500, 200, 300);
    st_aim_init(&a, &k.recipe);
    assert_false(st_aim_wish(&a, ST_FIG_SUGAR, 200, 100, 5.0));
    st_aim_wish(&a, ST_FIG_SUGAR, 100, 200, 5.0);
    assert_int_equal(st_aim_solve(&a, &f, &problem), ST_E_REFUSED);
    assert_int_equal(st_aim_free_usual(&a), 3);
    st_aim_wish(&a, ST_FIG_COST, 10, 10, 1.0);
    assert_int_equal(st_aim_solve(&a, &f, &problem), ST_E_REFUSED);
    assert_non_null(strstr(problem.what, "cost"));
    st_aim_keep(&a, 0, 1);
    assert_int_equal(a.n_dial, 2);
    assert_false(st_aim_free_strength(&a, 0, 1, 40, 40, ST_BOUND_ASKED)); /* sugar has none */
    assert_false(st_aim_free(&a, 0, 9));
}

/* ---- with fruit: the changed recipe, fresh ---- */

static void set_fruit(struct kitchen *k)
{
    set_kitchen(k, 50, 700, 130, 120);
    k->fruit = kit_fruit("damson", 0.8, 0.1, 0.02, 0.5);
    k->line[3] = k->line[1]; /* the sugar, then the water, go to the second step */
    const struct st_line water = k->line[2], spirit = k->line[0];
    k->line[0] = kit_line(&k->fruit, kit_g(600));
    k->line[1] = spirit;
    static struct st_line second[3];
    second[0] = kit_from(0, ST_LIQUOR, kit_all());
    second[1] = k->line[3];
    second[2] = water;
    k->step[0] = kit_step("jar", ST_DO_STEEP, k->line, 2);
    k->step[1] = kit_step("drink", ST_DO_BLEND, second, 3);
    kit_ideal(&k->step[0]);
    kit_ideal(&k->step[1]);
    k->recipe = kit_recipe(k->step, 2);
}

static void fresh_plan_of_the_changed_recipe_agrees(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    struct st_problem problem;
    struct st_foretold out;
    struct st_aim_odds odds;
    set_fruit(&k);
    st_aim_init(&a, &k.recipe);
    assert_int_equal(st_aim_free_usual(&a), 3);
    wish_three(&a, 24, 180, 1100);
    solved(&a, &f);
    assert_true(f.met);
    struct st_recipe *r = st_aim_recipe(&a, f.value);
    assert_non_null(r);
    struct st_plan *p = st_plan_create(r, &problem);
    assert_non_null(p);
    assert_true(st_plan_run(p, &(struct st_options){ 1, 2000, false }, &out) >= 0);
    for (int i = 0; i < 3; i++)
        near(out.fig[a.wish[i].of].value, f.y[a.wish[i].of], 1e-9 * f.y[a.wish[i].of], "figure of the fresh plan");
    st_aim_odds(&a, &out, &odds);
    for (int i = 0; i < 3; i++)
        assert_true(odds.each[i] > 0.05 && odds.each[i] <= 1.0 && odds.all <= odds.each[i]);
    double inside = 0.0; /* counted again, by hand */
    for (int i = 0; i < out.draws; i++)
        inside += fabs(out.draw[ST_FIG_STRENGTH][i] - 24.0) <= 0.5;
    near(odds.each[0], inside / out.draws, 1e-3, "share of draws");
    st_foretold_done(&out);
    st_plan_free(p);
    st_aim_recipe_free(r);
}

/* ---- only what can be made ---- */

static void set_syrup(struct kitchen *k, struct st_line syrup[2], struct st_line blend[3])
{
    set_kitchen(k, 37.5, 500, 250, 250);
    k->fruit = kit_fruit("raspberry", 0.86, 0.05, 0.02, 0.5);
    syrup[0] = k->line[1];
    syrup[1] = k->line[2];
    k->line[1] = kit_line(&k->fruit, kit_g(500));
    blend[0] = kit_from(0, ST_LIQUOR, kit_all());
    blend[1] = kit_from(1, ST_LIQUOR, kit_all());
    static struct st_step step[3];
    step[0] = kit_step("jar", ST_DO_STEEP, k->line, 2);
    step[1] = kit_step("syrup", ST_DO_SYRUP, syrup, 2);
    step[2] = kit_step("drink", ST_DO_BLEND, blend, 2);
    for (int i = 0; i < 3; i++)
        kit_ideal(&step[i]);
    k->recipe = kit_recipe(step, 3);
}

static double sugar_as_written(const struct st_recipe *r)
{
    struct st_problem problem;
    struct st_foretold out;
    struct st_plan *p = st_plan_create(r, &problem);
    assert_true(st_plan_run(p, &(struct st_options){ .draws = 0 }, &out) >= 0);
    const double sugar = out.fig[ST_FIG_SUGAR].value;
    st_foretold_done(&out);
    st_plan_free(p);
    return sugar;
}

/* Stronger from weak spirit is to be had by leaving water out of the syrup alone: 67 % mass dissolve at 20 C,
 * [browne_sucrose]. */
static void syrups_dissolve(void **state)
{
    (void)state;
    for (int q = 16; q <= 28; q += 2) {
        struct kitchen k;
        struct st_line syrup[2], blend[3];
        struct st_aim a;
        struct st_aim_found f;
        set_syrup(&k, syrup, blend);
        st_aim_init(&a, &k.recipe);
        assert_int_equal(st_aim_free_usual(&a), 3);
        st_aim_wish(&a, ST_FIG_STRENGTH, q, q, 0.5);
        struct st_aim bare = a;
        st_aim_makeable(&a);
        assert_true(a.n_limit >= 2);
        solved(&a, &f);
        const double sugar = 250 * f.value[1], share = sugar / (sugar + 250 * f.value[2]);
        assert_true(share <= 0.667);
        if (q >= 18 && q <= 24) { /* they bind */
            struct st_aim_found g;
            solved(&bare, &g);
            assert_true(g.value[1] / (g.value[1] + g.value[2]) > 0.7);
            assert_true(f.met);
        }
        assert_true(f.y[ST_FIG_SUGAR] <= sugar_as_written(&k.recipe) + 5.0); /* nobody asked for more */
    }
}

/* Sweeter than dissolves with no line to make room: told as what stops it, and nothing to loosen. */
static void sugar_stops(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_line syrup[2], blend[3];
    struct st_aim a;
    struct st_aim_found f;
    struct st_aim_way way[2];
    set_syrup(&k, syrup, blend);
    st_aim_init(&a, &k.recipe);
    assert_true(st_aim_free(&a, 1, 0));
    st_aim_wish(&a, ST_FIG_SUGAR, 500, 500, 5);
    st_aim_makeable(&a);
    solved(&a, &f);
    assert_false(f.met);
    assert_true(f.n_stop >= 1 && f.stop[0].limit >= 0);
    assert_int_equal(a.limit[f.stop[0].limit].of, ST_LIMIT_SUGAR);
    assert_int_equal(a.limit[f.stop[0].limit].step, 1);
    near(f.fill[f.stop[0].limit], ST_AIM_DISSOLVED, 1e-5, "as full as it may be");
    const int n = st_aim_ways(&a, &f, way, 2);
    for (int i = 0; i < n; i++)
        assert_true(way[i].way != ST_WAY_LOOSEN);
}

/* 450 mL of what a jar gives: it is not wished so weak that it gives less. */
static void a_step_gives_what_is_asked(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_line syrup[2], blend[3];
    struct st_aim a;
    struct st_aim_found f;
    set_syrup(&k, syrup, blend);
    blend[0] = kit_from(0, ST_LIQUOR, kit_ml(450));
    st_aim_init(&a, &k.recipe);
    assert_int_equal(st_aim_free_usual(&a), 3);
    st_aim_wish(&a, ST_FIG_STRENGTH, 8, 8, 0.1);
    st_aim_wish(&a, ST_FIG_SUGAR, 150, 150, 1);
    st_aim_makeable(&a);
    int take = 0;
    while (take < a.n_limit && a.limit[take].of != ST_LIMIT_TAKE)
        take++;
    assert_true(take < a.n_limit);
    assert_int_equal(a.limit[take].step, 2);
    solved(&a, &f);
    assert_true(f.fill[take] <= 1.0 + 1e-5);
    struct st_recipe *r = st_aim_recipe(&a, f.value);
    struct st_problem problem;
    struct st_plan *p = st_plan_create(r, &problem);
    struct st_foretold out;
    assert_true(st_plan_run(p, &(struct st_options){ .draws = 0 }, &out) >= 0);
    for (int i = 0; i < out.n_note; i++)
        assert_true(out.note[i].code != ST_NOTE_TAKEN_TOO_MUCH || out.note[i].is <= out.note[i].limit * 1.00001);
    st_foretold_done(&out);
    st_plan_free(p);
    st_aim_recipe_free(r);
}

/* ---- reverse questions ---- */

static void same_bottle_from_another_spirit(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_aim a;
    struct st_aim_found f;
    struct st_problem problem;
    set_fruit(&k);
    st_aim_init(&a, &k.recipe);
    assert_int_equal(st_aim_free_usual(&a), 3);
    assert_true(st_aim_same_bottle(&a, 0, 1, 60, &problem) >= 0);
    solved(&a, &f);
    assert_true(f.met);
    near(f.value[3], 60, 0, "the strength asked for");
    /* the alcohol of the bottle comes from 700 mL of 50 %; what the fruit keeps is weaker or stronger with the jar */
    near(700 * f.value[0] * 0.6, 350, 12, "alcohol poured, mL");
    assert_true(f.value[2] > 1.2);                                              /* more water goes in */
    assert_int_equal(st_aim_same_bottle(&a, 0, 0, 60, &problem), ST_E_REFUSED); /* no spirit on that line */
}

static void spirit_over_fruit(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_problem problem;
    double q = 0.0;
    set_fruit(&k);
    assert_true(st_spirit_for(&k.recipe, 0, 1, 30, &q, &problem) >= 0);
    k.spirit = kit_spirit(q); /* the answer, poured */
    struct st_plan *p = st_plan_create(&k.recipe, &problem);
    struct st_foretold out;
    assert_true(st_plan_run(p, &(struct st_options){ 1, 0, false }, &out) >= 0);
    near(out.balance[0].strength_in_steep, 30, 1e-6, "strength over the fruit");
    st_foretold_done(&out);
    st_plan_free(p);
    assert_true(q > 40 && q < 60);
    assert_int_equal(st_spirit_for(&k.recipe, 0, 1, 80, &q, &problem), ST_E_REFUSED);
    assert_true(strlen(problem.try_) > 0);
}

static void dilution(void **state)
{
    (void)state;
    struct st_dilution d, e;
    assert_int_equal(st_dilute_all(95, 50, 500, &d), ST_OK);
    near(d.made_ml, 950, 1e-9, "500 mL of 95 % hold 475 mL of alcohol: 950 mL of 50 %");
    assert_true(d.shrinks_ml > 25 && d.shrinks_ml < 40);
    near(d.spirit_g + d.water_g, d.made_g, 1e-9, "weights add up");
    assert_int_equal(st_dilute_make(95, 50, 950, &e), ST_OK);
    near(e.spirit_ml, 500, 1e-9, "the same, asked from the other end");
    near(e.water_g, d.water_g, 1e-9, "its water");
    assert_int_equal(st_dilute_all(40, 50, 500, &d), ST_E_DOMAIN);
    assert_int_equal(st_dilute_make(40, 0, 500, &d), ST_E_DOMAIN);
    assert_int_equal(st_dilute_all(40, 30, 0, &d), ST_E_DOMAIN);
    assert_int_equal(st_dilute_all(40, 30, (double)NAN, &d), ST_E_DOMAIN);
    assert_int_equal(st_dilute_all(40, 40, 700, &d), ST_OK);
    near(d.water_ml, 0, 1e-9, "nothing to do");
}

static void bottles_and_jars(void **state)
{
    (void)state;
    struct kitchen k;
    struct st_problem problem;
    double bottles, factor, ml;
    int step = -1;
    assert_int_equal(st_whole_bottles(500, 700, 2, &bottles, &factor), ST_OK);
    near(bottles, 1, 0, "bottles");
    near(factor, 1.4, 1e-12, "factor");
    assert_int_equal(st_whole_bottles(0, 700, 2, &bottles, &factor), ST_E_DOMAIN);
    set_fruit(&k);
    assert_int_equal(st_spirit_in(&k.recipe, &ml), ST_OK);
    near(ml, 700, 0, "spirit");
    assert_true(st_fits_jar(&k.recipe, 1000, &factor, &step, &problem) >= 0);
    assert_int_equal(step, 0);
    /* 700 mL of spirit and 600 g of fruit of about 1.1 g/mL: about 1.24 L */
    near(1000 / factor, 1240, 40, "mL in the jar");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(blends_are_exact),
        cmocka_unit_test(corrections),
        cmocka_unit_test(five_targets_at_once),
        cmocka_unit_test(smallest_change_where_there_is_a_choice),
        cmocka_unit_test(what_nobody_asks_for_stays),
        cmocka_unit_test(a_wish_goes_first),
        cmocka_unit_test(which_figures_stay),
        cmocka_unit_test(what_one_has),
        cmocka_unit_test(what_one_has_over_two_lines),
        cmocka_unit_test(a_jar),
        cmocka_unit_test(syrups_dissolve),
        cmocka_unit_test(sugar_stops),
        cmocka_unit_test(a_step_gives_what_is_asked),
        cmocka_unit_test(gain_is_what_loosening_brings),
        cmocka_unit_test(nothing_to_aim_at),
        cmocka_unit_test(fresh_plan_of_the_changed_recipe_agrees),
        cmocka_unit_test(same_bottle_from_another_spirit),
        cmocka_unit_test(spirit_over_fruit),
        cmocka_unit_test(dilution),
        cmocka_unit_test(bottles_and_jars),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
