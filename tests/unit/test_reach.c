/* What is within reach: lots against lines, how much of which, what is short, and what it costs. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "core/density_ethanol.h"
#include "core/strength.h"
#include "model/reach.h"
#include "plan_kit.h"
#include "text/reach_words.h"

enum { TODAY = 20000 };

/* A recipe of one step with these lines. */
struct one {
    struct st_line line[6];
    struct st_step step;
    struct st_recipe r;
    struct st_reach x;
};

static void reach(struct one *o, int n_line, const struct st_holding held[], int n)
{
    o->step = kit_step("jar", ST_DO_STEEP, o->line, n_line);
    o->r = kit_recipe(&o->step, 1);
    assert_true(st_reach_find(&o->r, NULL, held, n, TODAY, &o->x));
    assert_int_equal(o->x.n_line, n_line);
}

static struct st_holding lot(const char *slug, enum st_kind kind, enum st_dimension dim, double left)
{
    static long long id;
    return (struct st_holding){
        .id = ++id, .slug = slug, .name = slug, .kind = kind, .dim = dim, .left = left, .price = (double)NAN
    };
}

static struct st_holding spirit(const char *slug, double ml, double strength)
{
    struct st_holding h = lot(slug, ST_KIND_SPIRIT, ST_DIM_VOLUME, ml);
    h.strength = kit_sharp(strength);
    return h;
}

static struct st_line vodka(double ml, double strength)
{
    struct st_line l = kit_line(must("vodka"), kit_ml(ml));
    l.strength = kit_sharp(strength);
    return l;
}

static void near(double is, double want, double within)
{
    if (!(fabs(is - want) <= within))
        fail_msg("%.9g, not %.9g +- %.3g", is, want, within);
}

static void enough_short_none(void **state)
{
    (void)state;
    struct one o = { 0 };
    o.line[0] = kit_line(must("clove"), kit_g(4));
    o.line[1] = kit_line(must("sugar"), kit_g(200));
    o.line[2] = kit_line(must("nutmeg"), kit_g(3));
    o.line[3] = kit_line(must("water"), kit_ml(150));
    o.line[4] = kit_line(must("clove"), kit_g(5));
    const struct st_holding held[] = { lot(must("sugar")->slug, ST_KIND_SUGAR, ST_DIM_MASS, 150),
                                       lot(must("clove")->slug, ST_KIND_SEED, ST_DIM_MASS, 7) };
    reach(&o, 5, held, 2);
    assert_int_equal(o.x.line[0].state, ST_REACH_ENOUGH);
    assert_int_equal(o.x.line[1].state, ST_REACH_SHORT);
    near(o.x.line[1].missing.value, 50, 1e-9);
    assert_int_equal(o.x.line[2].state, ST_REACH_NONE);
    near(o.x.line[2].missing.value, 3, 1e-9);
    assert_int_equal(o.x.line[3].state, ST_REACH_TAP);
    assert_int_equal(o.x.line[4].state, ST_REACH_SHORT); /* the first line took 4 of the 7 g */
    near(o.x.line[4].missing.value, 2, 1e-9);
    assert_int_equal(o.x.cost.n_uncovered, 3);
    st_reach_done(&o.x);
}

static void first_to_expire_then_opened(void **state)
{
    (void)state;
    struct one o = { 0 };
    const char *sugar = must("sugar")->slug;
    o.line[0] = kit_line(must("sugar"), kit_g(350));
    struct st_holding held[5];
    for (int i = 0; i < 5; i++)
        held[i] = lot(sugar, ST_KIND_SUGAR, ST_DIM_MASS, 100);
    held[1].opened = true;
    held[2].has_use_by = held[3].has_use_by = held[4].has_use_by = true;
    held[2].use_by = TODAY + 50;
    held[3].use_by = TODAY; /* its last day */
    held[4].use_by = TODAY - 1;
    reach(&o, 1, held, 5);
    const int want[] = { 3, 2, 1, 0 };
    const double much[] = { 100, 100, 100, 50 };
    assert_int_equal(o.x.n_use, 4);
    for (int i = 0; i < 4; i++) {
        assert_int_equal(o.x.use[i].holding, want[i]);
        near(o.x.use[i].amount.value, much[i], 1e-9);
    }
    assert_int_equal(o.x.line[0].n_past, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_ENOUGH);
    st_reach_done(&o.x);
}

static void spirits_by_strength(void **state)
{
    (void)state;
    struct one o = { 0 };
    o.line[0] = vodka(700, 40);
    const struct st_holding near_by[] = { spirit("spirit_neutral", 900, 40.9), spirit("gin", 900, 40) };
    reach(&o, 1, near_by, 2); /* within 1 % vol the same; gin is no vodka */
    assert_int_equal(o.x.line[0].state, ST_REACH_ENOUGH);
    assert_int_equal(o.x.n_use, 1);
    assert_int_equal(o.x.use[0].holding, 0);
    near(o.x.use[0].amount.value, 700, 1e-9);
    st_reach_done(&o.x);

    const struct st_holding strong[] = { spirit("spirit_neutral", 900, 50) };
    reach(&o, 1, strong, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_OTHER_STRENGTH);
    near(o.x.use[0].amount.value, 560, 1e-9); /* the same ethanol: 700 x 40/50 */
    /* and the water that makes 40 % of it weighs what is missing: 700 mL at 40 % less 560 mL at 50 % */
    double rho40 = 0, rho50 = 0, rho_water = 0;
    assert_true(st_spirit_density(40, &rho40) >= 0 && st_spirit_density(50, &rho50) >= 0 &&
                st_spirit_density(0, &rho_water) >= 0);
    near(o.x.use[0].water_ml, (700 * rho40 - 560 * rho50) / rho_water, 1e-6);
    assert_true(o.x.use[0].water_ml > 140.0); /* more than 700 - 560, since the mixture shrinks */
    /* so mixed it is 40 % */
    double p50 = 0, q = 0;
    assert_true(st_p_from_strength(50, &p50) >= 0);
    const double g = 560 * rho50, water = o.x.use[0].water_ml * rho_water;
    assert_true(st_strength_from_p(p50 * g / (g + water), &q) >= 0);
    near(q, 40, 1e-6);
    st_reach_done(&o.x);

    const struct st_holding weak[] = { spirit("vodka", 2000, 37.5) };
    reach(&o, 1, weak, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_OTHER_STRENGTH);
    near(o.x.use[0].amount.value, 700 * 40 / 37.5, 1e-9);
    assert_true(o.x.use[0].water_ml < 0.0);
    st_reach_done(&o.x);

    /* Much weaker, it stands in only as far as the recipe has water to leave out: here none. */
    o.line[0] = vodka(500, 96);
    const struct st_holding thin[] = { spirit("vodka", 2000, 40) };
    reach(&o, 1, thin, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_NONE);
    assert_true(o.x.line[0].watery);
    st_reach_done(&o.x);
    o.line[1] = kit_line(must("water"), kit_ml(300));
    reach(&o, 2, thin, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_SHORT);
    near(o.x.use[0].water_ml, -300.0, 1e-6);
    assert_true(o.x.line[0].missing.value > 0.0);
    near(o.x.line[0].missing.value, 500.0 * (1.0 - o.x.use[0].share.value), 1e-6);
    st_reach_done(&o.x);
    o.line[1] = kit_line(must("water"), kit_ml(2000));
    reach(&o, 2, thin, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_OTHER_STRENGTH);
    assert_false(o.x.line[0].watery);
    st_reach_done(&o.x);
    o.line[0] = vodka(700, 40);

    const struct st_holding both[] = { spirit("vodka", 2000, 60), spirit("vodka", 300, 40) };
    reach(&o, 1, both, 2); /* the same first, then the other for what is left: 400 x 40/60 */
    assert_int_equal(o.x.n_use, 2);
    assert_int_equal(o.x.use[0].holding, 1);
    near(o.x.use[1].amount.value, 400 * 40 / 60.0, 1e-9);
    near(o.x.use[1].share.value, 4 / 7.0, 1e-9);
    st_reach_done(&o.x);

    const struct st_holding gin[] = { spirit("gin", 2000, 40) };
    reach(&o, 1, gin, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_NONE);
    st_reach_done(&o.x);
}

static void gross_trimmed_pieces(void **state)
{
    (void)state;
    struct one o = { 0 };
    const struct st_ingredient *quince = must("quince");
    struct st_holding h = lot(quince->slug, quince->kind, ST_DIM_MASS, 1000);
    h.weighed = ST_WEIGHED_GROSS;
    o.line[0] = kit_line(quince, kit_g(500)); /* trimmed */
    reach(&o, 1, &h, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_ENOUGH);
    near(o.x.use[0].amount.value, 500 / quince->edible.value, 1e-9);
    near(o.x.use[0].amount.low, 500 / quince->edible.high, 1e-9);
    near(o.x.use[0].amount.high, 500 / quince->edible.low, 1e-9);
    assert_true(o.x.use[0].crossed);
    st_reach_done(&o.x);

    h.left = 850; /* 500/0.61 = 820, but at the worse end 500/0.55 = 909 */
    reach(&o, 1, &h, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_MAYBE);
    assert_true(o.x.line[0].missing.value == 0.0 && o.x.line[0].missing.high > 0.0);
    st_reach_done(&o.x);

    h.trimmed_share = kit_sharp(0.5); /* of this lot */
    reach(&o, 1, &h, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_SHORT);
    near(o.x.line[0].missing.value, 500 - 850 * 0.5, 1e-9);
    st_reach_done(&o.x);

    o.line[0].gross = true; /* both as bought: no figure is needed */
    reach(&o, 1, &h, 1);
    near(o.x.use[0].amount.value, 500, 1e-9);
    assert_false(o.x.use[0].crossed);
    st_reach_done(&o.x);

    h = lot(quince->slug, quince->kind, ST_DIM_PIECE, 20);
    o.line[0].gross = false;
    reach(&o, 1, &h, 1);
    near(o.x.use[0].amount.value, 500 / quince->piece.value, 1e-9);
    assert_true(o.x.use[0].amount.low < o.x.use[0].amount.value);
    st_reach_done(&o.x);

    const struct st_ingredient *sugar = must("sugar"); /* a cup of it, from a bag that is weighed */
    const struct st_holding bag = lot(sugar->slug, sugar->kind, ST_DIM_MASS, 1000);
    o.line[0] = kit_line(sugar, kit_ml(236.588));
    reach(&o, 1, &bag, 1);
    near(o.x.use[0].amount.value, sugar->cup.value, 1e-3 * sugar->cup.value);
    st_reach_done(&o.x);

    struct st_ingredient odd = kit_ingredient("odd root", ST_KIND_ROOT_DRY);
    const struct st_holding pieces = lot("odd root", ST_KIND_ROOT_DRY, ST_DIM_PIECE, 9);
    o.line[0] = kit_line(&odd, kit_g(10)); /* nobody has weighed a piece */
    reach(&o, 1, &pieces, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_UNTOLD);
    assert_int_equal(o.x.line[0].n_unlike, 1);
    st_reach_done(&o.x);
}

static void house_stock(void **state)
{
    (void)state;
    struct one o = { 0 };
    struct st_ingredient tincture = kit_ingredient("tincture_gentian_house", ST_KIND_OTHER);
    tincture.name = "gentian tincture";
    tincture.names = "house gentian | bitter tincture";
    struct st_holding h = lot("", ST_KIND_OTHER, ST_DIM_VOLUME, 30);
    h.name = "House Gentian"; /* found by its name */
    h.potency = 0.8;
    o.line[0] = kit_line(&tincture, kit_ml(10));
    reach(&o, 1, &h, 1);
    near(o.x.use[0].amount.value, 12.5, 1e-9);
    st_reach_done(&o.x);
    h.name = "House Gent";
    reach(&o, 1, &h, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_NONE);
    st_reach_done(&o.x);
}

static void open_amounts(void **state)
{
    (void)state;
    struct one o = { 0 };
    struct st_foretold f = { .n_note = 1, .note = { { ST_NOTE_OPEN, 0, 0, 100, 150, 60 } } };
    const struct st_holding h = lot(must("sugar")->slug, ST_KIND_SUGAR, ST_DIM_MASS, 120);
    o.line[0] = kit_line(must("sugar"), (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_TASTE });
    reach(&o, 1, &h, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_UNTOLD); /* nobody foretold how much */
    st_reach_done(&o.x);
    assert_true(st_reach_find(&o.r, &f, &h, 1, TODAY, &o.x));
    assert_int_equal(o.x.line[0].state, ST_REACH_MAYBE); /* 100 of 60 to 150 g */
    near(o.x.use[0].amount.value, 100, 1e-9);
    near(o.x.line[0].missing.high, 30, 1e-9);
    st_reach_done(&o.x);
}

static void what_it_costs(void **state)
{
    (void)state;
    struct one o = { 0 };
    struct st_foretold f = { .n_note = 0 };
    struct st_holding held[2] = { spirit("vodka", 700, 40), lot(must("sugar")->slug, ST_KIND_SUGAR, ST_DIM_MASS, 800) };
    o.line[0] = vodka(350, 40);
    o.line[1] = kit_line(must("sugar"), kit_g(100));
    o.step = kit_step("b", ST_DO_BOTTLE, o.line, 2);
    o.step.bottle_ml = 250;
    o.r = kit_recipe(&o.step, 1);
    f.fig[ST_FIG_VOLUME] = (struct st_interval){ 500, 400, 600, ST_OK, true };
    held[0].price = 14.0, held[0].bought = 700, held[0].currency = "EUR";
    held[1].price = 1.5, held[1].bought = 1000, held[1].currency = "EUR";
    assert_true(st_reach_find(&o.r, &f, held, 2, TODAY, &o.x));
    const struct st_reach_cost *c = &o.x.cost;
    assert_true(c->batch.known && c->bottle.known && c->pour.known);
    near(c->batch.value, 7.15, 1e-9); /* half of 14.00, and a tenth of 1.50 */
    near(c->bottle.value, 7.15 / 2, 1e-9);
    near(c->bottle.low, 7.15 * 250 / 600, 1e-9);
    near(c->pour.value, 7.15 * 40 / 500, 1e-9);
    assert_string_equal(c->currency, "EUR");
    struct st_margin m = { 0 };
    assert_true(st_margin_of_pour(&c->pour, 6.0, 1.0 / 6.0, &m)); /* 5.00 after a fifth on top */
    near(m.net, 5.0, 1e-9);
    near(m.margin.value, 5.0 - 0.572, 1e-9);
    near(m.share.value, 1.0 - 0.572 / 5.0, 1e-9);
    assert_true(m.margin.low < m.margin.value && m.margin.value < m.margin.high);
    assert_false(st_margin_of_pour(&c->pour, -1.0, 0.0, &m));
    assert_false(st_margin_of_pour(&c->pour, 1.0, 1.0, &m));
    st_reach_done(&o.x);

    held[1].price = (double)NAN; /* nobody wrote it down */
    assert_true(st_reach_find(&o.r, &f, held, 2, TODAY, &o.x));
    assert_false(o.x.cost.batch.known);
    assert_false(st_margin_of_pour(&o.x.cost.pour, 6.0, 0.0, &m));
    assert_int_equal(o.x.cost.n_unpriced, 1);
    near(o.x.cost.at_least, 7.0, 1e-9);
    st_reach_done(&o.x);

    held[1].price = 1.5, held[1].currency = "USD";
    assert_true(st_reach_find(&o.r, &f, held, 2, TODAY, &o.x));
    assert_true(o.x.cost.mixed && !o.x.cost.batch.known && isnan(o.x.cost.at_least));
    st_reach_done(&o.x);
}

static void line_is(const struct one *o, int k, const struct st_holding held[], const char *want)
{
    char text[ST_REACH_WORDS];
    st_reach_line_words(text, sizeof text, &o->r, &o->x, k, held);
    if (strcmp(text, want) != 0)
        fail_msg("'%s', not '%s'", text, want);
}

static void in_words(void **state)
{
    (void)state;
    struct one o = { 0 };
    struct st_foretold f = { .n_note = 0 };
    char text[ST_REACH_WORDS];
    struct st_holding held[] = { spirit("vodka", 900, 50), lot(must("sugar")->slug, ST_KIND_SUGAR, ST_DIM_MASS, 150),
                                 lot(must("quince")->slug, ST_KIND_FRESH_FRUIT, ST_DIM_MASS, 2000),
                                 lot(must("clove")->slug, ST_KIND_SEED, ST_DIM_MASS, 10) };
    held[0].name = "the strong one";
    held[1].name = "sugar bag";
    held[2].name = "own quinces";
    held[2].weighed = ST_WEIGHED_GROSS;
    held[3].has_use_by = true; /* long past */
    o.line[0] = vodka(700, 40);
    o.line[1] = kit_line(must("sugar"), kit_g(200));
    o.line[2] = kit_line(must("quince"), kit_g(610));
    o.line[3] = kit_line(must("clove"), kit_g(4));
    o.line[4] = kit_line(must("water"), kit_ml(100));
    reach(&o, 5, held, 4);
    line_is(&o, 0, held, "700 mL vodka 40 %: of another strength: 560 mL of the strong one (50 %) and 143 mL water");
    line_is(&o, 1, held, "200 g white sugar: not enough, 50 g missing: 150 g of sugar bag");
    line_is(&o, 2, held, "610 g quince: enough: 1 kg (likely between 924 g and 1.11 kg) of own quinces");
    line_is(&o, 3, held, "4 g clove bud: not there; 1 lot is past the day it is to be used by");
    line_is(&o, 4, held, "100 mL water: from the tap");
    st_reach_cost_words(text, sizeof text, &o.r, &o.x.cost);
    assert_string_equal(
        text, "what the batch costs is not known; 3 of what is used have no price; 2 lines are not all there");
    st_reach_done(&o.x);

    held[0].price = 14.0, held[0].bought = 700, held[0].currency = "EUR";
    o.step = kit_step("b", ST_DO_BOTTLE, o.line, 1);
    o.step.bottle_ml = 250;
    o.r = kit_recipe(&o.step, 1);
    f.fig[ST_FIG_VOLUME] = (struct st_interval){ 500, 400, 600, ST_OK, true };
    assert_true(st_reach_find(&o.r, &f, held, 4, TODAY, &o.x));
    st_reach_cost_words(text, sizeof text, &o.r, &o.x.cost); /* 560 of 700 mL for 14.00 */
    assert_string_equal(text, "11.20 EUR the batch, 5.60 EUR (likely between 4.67 and 7.00) a bottle of 250 mL, "
                              "0.90 EUR (likely between 0.75 and 1.12) a pour of 40 mL");
    struct st_margin m;
    assert_true(st_margin_of_pour(&o.x.cost.pour, 6.0, 1.0 / 6.0, &m));
    st_margin_words(text, sizeof text, &m, 6.0, "EUR");
    assert_string_equal(text,
                        "of 6.00 EUR a pour 5.00 are left after tax; less what it costs: 4.10 EUR (likely between "
                        "3.88 and 4.25), 82 %");
    char small[12]; /* cut, and ended */
    st_margin_words(small, sizeof small, &m, 6.0, "EUR");
    assert_int_equal(strlen(small), sizeof small - 1);
    st_reach_done(&o.x);
}

/* Whatever is there and asked for: no lot gives more than it has, and shares with what is missing make the whole. */
static void balances_at_random(void **state)
{
    (void)state;
    const char *const WHAT[] = { "quince", "sugar", "clove", "vodka", "lemon juice", "nutmeg" };
    uint64_t dice = 12345;
    for (int round = 0; round < 2000; round++) {
        struct one o = { 0 };
        struct st_holding held[8];
        int roll[40];
        for (int i = 0; i < 40; i++) {
            dice = dice * 6364136223846793005u + 1442695040888963407u;
            roll[i] = (int)(dice >> 40);
        }
        for (int i = 0; i < 8; i++) {
            const struct st_ingredient *in = must(WHAT[roll[i] % 6]);
            held[i] = lot(in->slug, in->kind, (enum st_dimension)(roll[i + 8] % 3), roll[i + 8] % 300);
            held[i].weighed = (enum st_weighed)(roll[i] % 3);
            if (in->kind == ST_KIND_SPIRIT)
                held[i].strength = kit_sharp(30 + roll[i + 8] % 60);
        }
        for (int i = 0; i < 4; i++) {
            o.line[i] = kit_line(must(WHAT[roll[i + 20] % 6]),
                                 kit_amount((enum st_dimension)(roll[i + 30] % 3), 1 + roll[i + 24] % 300));
            o.line[i].gross = roll[i + 34] % 2;
            if (o.line[i].what->kind == ST_KIND_SPIRIT)
                o.line[i].strength = kit_sharp(40);
        }
        reach(&o, 4, held, 8);
        double used[8] = { 0 }, most[8] = { 0 };
        for (int k = 0; k < o.x.n_use; k++) {
            const struct st_reach_use *u = &o.x.use[k];
            used[u->holding] += u->amount.value;
            most[u->holding] += u->amount.high;
            assert_true(u->amount.low <= u->amount.value && u->amount.value <= u->amount.high);
        }
        for (int i = 0; i < 8; i++)
            assert_true(used[i] <= held[i].left + 1e-6 && used[i] <= most[i]);
        for (int i = 0; i < 4; i++) {
            const struct st_reach_line *x = &o.x.line[i];
            double share = x->missing.value / x->need.value;
            for (int k = 0; k < x->n_use; k++)
                share += o.x.use[x->first_use + k].share.value;
            if (x->state != ST_REACH_TAP)
                near(share, 1.0, 1e-6);
            assert_true(x->missing.low <= x->missing.value && x->missing.value <= x->missing.high);
        }
        st_reach_done(&o.x);
    }
}

/* Peel and juice of the same lemons count them once, yolk and white the same eggs; what is cut is no whole one any more.
 * 3 eggs, 4 yolks: the white of a fourth is not there either.  Prices are of whole eggs, each once. */
static void parts_of_a_whole(void **state)
{
    (void)state;
    struct one o = { 0 };
    struct st_holding held[] = { lot("egg_whole", ST_KIND_EGG, ST_DIM_PIECE, 12),
                                 lot(NULL, ST_KIND_OTHER, ST_DIM_PIECE, 4),
                                 lot(NULL, ST_KIND_OTHER, ST_DIM_MASS, 1000) };
    held[0].parts = "egg_white egg_yolk";
    held[0].price = 3.60;
    held[0].bought = 12;
    held[1].whole = held[2].whole = "lemon_whole";
    held[1].parts = held[2].parts = "lemon_juice lemon_peel_fresh";
    held[1].price = 0.0;
    held[1].bought = 4;
    held[2].piece_g = kit_sharp(100);
    o.line[0] = kit_line(must("egg yolk"), kit_amount(ST_DIM_PIECE, 4));
    o.line[1] = kit_line(must("egg white"), kit_amount(ST_DIM_PIECE, 6));
    o.line[2] = kit_line(must("lemon peel"), kit_amount(ST_DIM_PIECE, 3));
    o.line[3] = kit_line(must("lemon juice"), kit_g(96)); /* two of 48 g, by the sheet [usda_sr28] */
    o.line[4] = kit_line(must("whole lemon"), kit_amount(ST_DIM_PIECE, 2));
    o.line[5] = kit_line(must("egg yolk"), kit_amount(ST_DIM_PIECE, 9));
    reach(&o, 6, held, 2);
    const struct st_reach_use *u = o.x.use;
    assert_int_equal(o.x.n_use, 6);
    near(u[0].amount.value, 4, 1e-9);
    near(u[0].anew.value, 4, 1e-9);
    near(u[1].amount.value, 6, 1e-9);
    near(u[1].anew.value, 2, 1e-9);
    near(u[2].anew.value, 3, 1e-9);
    near(u[3].amount.value, 2, 1e-6);
    near(u[3].anew.value, 0, 1e-9);
    assert_int_equal(o.x.line[4].state, ST_REACH_SHORT); /* one is left untouched */
    near(u[4].amount.value, 1, 1e-9);
    near(u[5].amount.value, 8, 1e-9); /* 12 eggs, 4 yolks gone */
    near(u[5].anew.value, 6, 1e-9);
    near(o.x.line[5].missing.value, 1, 1e-9);
    near(o.x.cost.at_least, 12 * 0.30, 1e-9);
    st_reach_done(&o.x);

    o.line[0] = o.line[2]; /* by weight: three of 100 g */
    reach(&o, 1, held + 2, 1);
    near(o.x.use[0].amount.value, 300, 1e-9);
    assert_int_equal(o.x.line[0].state, ST_REACH_ENOUGH);
    st_reach_done(&o.x);
    held[2].piece_g.known = false;
    reach(&o, 1, held + 2, 1);
    assert_int_equal(o.x.line[0].state, ST_REACH_UNTOLD);
    st_reach_done(&o.x);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(enough_short_none),   cmocka_unit_test(first_to_expire_then_opened),
        cmocka_unit_test(spirits_by_strength), cmocka_unit_test(gross_trimmed_pieces),
        cmocka_unit_test(house_stock),         cmocka_unit_test(open_amounts),
        cmocka_unit_test(what_it_costs),       cmocka_unit_test(parts_of_a_whole),
        cmocka_unit_test(balances_at_random),  cmocka_unit_test(in_words),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
