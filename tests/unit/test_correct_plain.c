/* The plain addition comes first, what nobody asked for stays near, and no certainty is bought by making more of it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "model/correct_inside.h"
#include "model/random.h"

static struct st_correct_found found;
static struct st_problem problem;

static struct st_correct_thing poured(enum st_correct_kind kind, double strength, double sugar)
{
    struct st_correct_thing t = { .kind = kind, .have = HUGE_VAL, .cost = (double)NAN };
    const struct st_correct_liquid l = { .strength = strength, .sugar = sugar };
    assert_true(st_correct_poured(&l, &t) >= 0);
    return t;
}

static struct st_correct_thing sugar(void)
{
    struct st_correct_thing t = { .kind = ST_ADD_SUGAR, .have = HUGE_VAL, .cost = (double)NAN };
    st_correct_dry(ST_SUCROSE, &t);
    return t;
}

/* Readings as good as 0.4 % vol, 2.5 g/L and 20 mL, one standard deviation each. */
static struct st_correct_ask ask_of(double ml, double strength, double sugar_g_l)
{
    struct st_correct_ask a = { .certainty = 0.9, .seed = 3, .hold = true };
    a.batch = (struct st_correct_batch){ .ml = ml, .ml_u = 20.0 };
    a.batch.is =
        (struct st_correct_liquid){ .strength = strength, .strength_u = 0.4, .sugar = sugar_g_l, .sugar_u = 2.5 };
    a.thing[0] = poured(ST_ADD_SPIRIT, 96.0, 0.0);
    a.thing[1] = poured(ST_ADD_WATER, 0.0, 0.0);
    a.n_thing = 2;
    return a;
}

static void wish(struct st_correct_ask *a, enum st_correct_figure f, double low, double high)
{
    a->wish[f] = (struct st_correct_wish){ true, low, high };
}

static void put_right(const struct st_correct_ask *a)
{
    assert_true(st_correct(a, &found, &problem) >= 0);
}

static double moved(const struct st_correct_ask *a, const struct st_correct_made *m)
{
    struct st_correct_base b;
    const char *what;
    assert_true(st_correct_begin(a, &b, &what) >= 0);
    return m->g + m->draw_ml * b.batch_g_ml;
}

/* A reading of 0.4 % vol cannot be inside 1 % vol in 90 of 100, whatever is poured in: 930 mL of 23.6 % vol to 26 take
 * 930 (26 - 23.6)/(96 - 26) = 32 mL of spirit, and are inside in 2 Phi(0.5/0.39) - 1 = 80 of 100; nobody is told to make
 * four litres of it. */
static void test_certainty_is_not_bought(void **unused)
{
    struct st_correct_ask a = ask_of(930.0, 23.6, 171.0);
    (void)unused;
    wish(&a, ST_CORRECT_STRENGTH, 25.5, 26.5);
    put_right(&a);
    const struct st_correct_option *least = &found.option[ST_BY_LEAST];
    assert_int_equal(least->none, ST_NONE_LESS);
    assert_true(!found.met && found.by_reading && found.needs_u > 0.25 && found.needs_u < 0.4);
    assert_true(least->made.amount[0] > 27.0 && least->made.amount[0] < 34.0 && least->made.amount[1] == 0.0);
    assert_true(least->made.all > 0.77 && least->made.all < 0.83);
    a.batch.is.strength_u = 0.95 * found.needs_u; /* what it says would do, does */
    put_right(&a);
    assert_true(found.met && found.option[ST_BY_LEAST].made.amount[0] < 36.0);
    a.batch.is.strength_u = 0.4;
    a.certainty = 0.75;
    put_right(&a);
    assert_int_equal(least->none, ST_NONE_HERE);
    assert_true(least->made.all >= 0.75 && least->made.amount[0] < 33.0 && least->made.amount[1] == 0.0);
}

/* The same without any sugar that could tell: 24 % vol to 26. */
static void test_no_sugar_to_tell(void **unused)
{
    struct st_correct_ask a = ask_of(1000.0, 24.0, 0.0);
    (void)unused;
    a.batch.is.sugar_u = 0.0;
    wish(&a, ST_CORRECT_STRENGTH, 25.5, 26.5);
    a.draw_most_ml = 500.0;
    a.jar_ml = 3000.0;
    put_right(&a);
    const struct st_correct_made *m = &found.option[ST_BY_LEAST].made;
    assert_int_equal(found.option[ST_BY_LEAST].none, ST_NONE_LESS);
    assert_true(m->fig[ST_CORRECT_VOLUME].value < 1040.0 && m->draw_ml == 0.0);
    for (int by = 0; by < ST_CORRECT_NBY; by++)
        assert_true(!st_correct_shown(&found.option[by]) || found.option[by].made.draw_ml == 0.0);
}

/* Inside by the middle already: next to nothing, and never water by the litre. */
static void test_there_already(void **unused)
{
    struct st_correct_ask a = ask_of(930.0, 23.6, 171.0);
    (void)unused;
    wish(&a, ST_CORRECT_STRENGTH, 23.5, 24.5);
    put_right(&a);
    assert_int_equal(found.option[ST_BY_LEAST].none, ST_NONE_LESS);
    assert_true(found.option[ST_BY_LEAST].made.g < 6.0 && found.option[ST_BY_LEAST].made.all > found.before.all + 0.1);
    wish(&a, ST_CORRECT_STRENGTH, 23.1, 24.1); /* in its very middle: nothing makes it better */
    put_right(&a);
    assert_true(found.option[ST_BY_LEAST].none == ST_NONE_LESS && found.option[ST_BY_LEAST].made.g < 2.0);
}

/* A litre of 30 % vol and 100 g/L to 200 g/L with sugar alone: s = 200 (1 + 0.62 s/1000) - 100 (0.62 mL/g: what a gram
 * of sugar fills in solution) = 114 g, to 195 g/L 108 g.  Beside it, with the strength where it was. */
static void test_sugar_alone(void **unused)
{
    struct st_correct_ask a = ask_of(1000.0, 30.0, 100.0);
    (void)unused;
    a.batch.is.strength_u = 0.25;
    a.thing[0] = poured(ST_ADD_SPIRIT, 40.0, 0.0);
    a.thing[2] = sugar();
    a.n_thing = 3;
    wish(&a, ST_CORRECT_SUGAR, 195.0, 205.0);
    put_right(&a);
    const struct st_correct_made *least = &found.option[ST_BY_LEAST].made, *held = &found.option[ST_BY_HELD].made;
    assert_true(st_correct_shown(&found.option[ST_BY_LEAST]) && st_correct_shown(&found.option[ST_BY_HELD]));
    assert_true(least->amount[0] == 0.0 && least->amount[1] == 0.0);
    assert_true(least->amount[2] > 106.0 && least->amount[2] < 116.0);
    assert_true(held->amount[0] > 100.0 && held->amount[2] > least->amount[2]);
    assert_true(fabs(held->fig[ST_CORRECT_STRENGTH].value - 30.0) < 0.11);
    assert_true(moved(&a, held) > 2.0 * moved(&a, least));
}

/* Thinned from 260 to 200 g/L: as much of both keeps the strength, so it is kept. */
static void test_held_where_it_costs_nothing(void **unused)
{
    struct st_correct_ask a = ask_of(1000.0, 30.0, 260.0);
    (void)unused;
    wish(&a, ST_CORRECT_SUGAR, 190.0, 210.0);
    put_right(&a);
    assert_true(found.option[ST_BY_LEAST].none == ST_NONE_HERE);
    assert_true(fabs(found.option[ST_BY_LEAST].made.fig[ST_CORRECT_STRENGTH].value - 30.0) < 0.11);
    assert_int_equal(found.option[ST_BY_HELD].none, ST_NONE_NOT_APPLIES);
}

/* At least so much is reached by more of it, for as far as the doubt goes: that is no dilution. */
static void test_one_end(void **unused)
{
    struct st_correct_ask a = ask_of(930.0, 23.6, 171.0);
    (void)unused;
    wish(&a, ST_CORRECT_STRENGTH, 26.0, HUGE_VAL);
    put_right(&a);
    const struct st_correct_made *m = &found.option[ST_BY_LEAST].made;
    assert_true(found.met && m->all >= 0.9 && m->amount[1] == 0.0);
    /* 26 + 1.28 * 0.39 = 26.5 % vol */
    assert_true(m->fig[ST_CORRECT_STRENGTH].value > 26.35 && m->fig[ST_CORRECT_STRENGTH].value < 26.65);
}

/* Rows OP016 .. OP027 of the table of optimisation checks (see test_correct.c), of an ask that holds: both figures are
 * asked for, so it comes to the same pair. */
static void test_published_pairs(void **unused)
{
    static const struct {
        double ml, strength, sugar, to_strength, to_sugar;
        int first, second; /* 0 sugar, 1 water, 2 spirit 96 % */
        double is[2];
    } ROW[] = { { 1000, 32, 150, 28, 200, 0, 1, { 78.57, 94.40 } },
                { 1000, 22, 320, 26, 290, 2, 1, { 69.68, 38.95 } },
                { 800, 24, 180, 26, 220, 2, 0, { 32.28, 44.68 } },
                { 1500, 28, 250, 25, 250, 0, 1, { 45.00, 152.29 } } };
    (void)unused;
    for (size_t i = 0; i < sizeof ROW / sizeof *ROW; i++) {
        struct st_correct_ask a = ask_of(ROW[i].ml, ROW[i].strength, ROW[i].sugar);
        const struct st_correct_thing of[3] = { sugar(), a.thing[1], a.thing[0] };
        a.batch.ml_u = a.batch.is.strength_u = a.batch.is.sugar_u = 0.0;
        a.thing[0] = of[ROW[i].first];
        a.thing[1] = of[ROW[i].second];
        a.digit_g = 0.01;
        wish(&a, ST_CORRECT_STRENGTH, ROW[i].to_strength - 0.02, ROW[i].to_strength + 0.02);
        wish(&a, ST_CORRECT_SUGAR, ROW[i].to_sugar - 0.2, ROW[i].to_sugar + 0.2);
        put_right(&a);
        const struct st_correct_made *m = &found.option[ST_BY_LEAST].made;
        assert_true(found.option[ST_BY_LEAST].none == ST_NONE_HERE);
        assert_true(fabs(m->amount[0] - ROW[i].is[0]) < 2.0 && fabs(m->amount[1] - ROW[i].is[1]) < 2.5);
    }
}

/* Steps of what nobody asked for, as Note 7 of correct.h tells them. */
static void test_steps(void **unused)
{
    struct st_correct_ask a = ask_of(1000.0, 30.0, 100.0);
    (void)unused;
    a.batch.is.acid_known = true;
    a.batch.is.acid = 2.0;
    assert_true(st_correct_step(&a, ST_CORRECT_STRENGTH) == 0.5);
    assert_true(st_correct_step(&a, ST_CORRECT_SUGAR) == 5.0);
    assert_true(st_correct_step(&a, ST_CORRECT_ACID) == 0.3);
    a.batch.is.acid = 10.0;
    assert_true(fabs(st_correct_step(&a, ST_CORRECT_ACID) - 0.5) < 1e-12);
}

/* Acid that nobody knows cannot be held; acid that is known is: a sour spirit of 20 g/L brings about 2.8 g/L where it brings
 * 24 % vol to 28 .. 30 (1000 x 5 / 31 = 161 mL), far more than its step. */
static void test_acid_that_is_known(void **unused)
{
    (void)unused;
    for (int known = 0; known < 2; known++) {
        struct st_correct_ask a = ask_of(1000.0, 24.0, 0.0);
        const struct st_correct_liquid sour = { .strength = 60.0, .acid = 20.0, .acid_known = true };
        a.batch.is.sugar_u = 0.0;
        a.batch.is.acid_known = known;
        a.batch.is.acid = known ? 1.0 : 0.0;
        a.thing[0] = (struct st_correct_thing){ .kind = ST_ADD_SPIRIT, .have = HUGE_VAL, .cost = (double)NAN };
        assert_true(st_correct_poured(&sour, &a.thing[0]) >= 0);
        a.n_thing = 1;
        wish(&a, ST_CORRECT_STRENGTH, 28.0, 30.0);
        put_right(&a);
        assert_true(found.met && found.option[ST_BY_LEAST].made.amount[0] > 110.0);
        assert_int_equal(found.option[ST_BY_HELD].none, known ? ST_NONE_REACHED : ST_NONE_NOT_APPLIES);
    }
}

/* Two ends share what may fail: at least 26 % vol and at least 200 g/L, both in 90 of 100, takes 1.64 sd of each, not 1.28. */
static void test_two_ends(void **unused)
{
    struct st_correct_ask a = ask_of(930.0, 24.0, 171.0);
    (void)unused;
    a.thing[1] = sugar();
    wish(&a, ST_CORRECT_STRENGTH, 26.0, HUGE_VAL);
    wish(&a, ST_CORRECT_SUGAR, 200.0, HUGE_VAL);
    put_right(&a);
    const struct st_correct_made *m = &found.option[ST_BY_LEAST].made;
    assert_true(found.met && m->all >= 0.9);
    assert_true(m->fig[ST_CORRECT_STRENGTH].value > 26.4 && m->fig[ST_CORRECT_STRENGTH].value < 27.0);
    assert_true(m->fig[ST_CORRECT_SUGAR].value > 202.5 && m->fig[ST_CORRECT_SUGAR].value < 207.0);
}

/* ---- any batch ---- */

enum { BATCHES = 200, NUMBERS = 16, DRAWS = 1000 };

static double between(double u, double low, double high)
{
    return low + u * (high - low);
}

static struct st_correct_ask any_ask(uint32_t k)
{
    double u[NUMBERS];
    st_uniform_n(78, k, 0, NUMBERS, u);
    struct st_correct_ask a = ask_of(between(u[0], 300, 3000), between(u[1], 18, 45), between(u[2], 50, 350));
    a.batch.ml_u = 0.02 * a.batch.ml;
    a.batch.is.strength_u = between(u[3], 0.1, 0.8);
    a.batch.is.sugar_u = between(u[4], 1.0, 8.0);
    a.thing[2] = sugar();
    a.thing[3] = poured(ST_ADD_SPIRIT, 40.0, 0.0);
    a.n_thing = 4;
    a.jar_ml = u[5] < 0.3 ? a.batch.ml * between(u[6], 1.0, 1.4) : 0.0;
    a.draw_most_ml = a.jar_ml > 0.0 ? a.batch.ml / 3.0 : 0.0;
    const double q = a.batch.is.strength + between(u[7], -6, 6), s = a.batch.is.sugar + between(u[8], -40, 80);
    if (u[9] < 0.7)
        wish(&a, ST_CORRECT_STRENGTH, q - 0.5, q + 0.5);
    if (u[9] > 0.4)
        wish(&a, ST_CORRECT_SUGAR, s - 5.0, s + 5.0);
    a.certainty = u[10] < 0.5 ? 0.9 : 0.7;
    a.draws = DRAWS;
    a.seed = k;
    return a;
}

/* The least that brings the middle to the middle of what is wished, by an ask without any doubt: a way of its own. */
static bool plain_by_itself(const struct st_correct_ask *a, double *g)
{
    static struct st_correct_found f;
    struct st_correct_ask b = *a;
    b.hold = false;
    b.batch.ml_u = b.batch.is.strength_u = b.batch.is.sugar_u = 0.0;
    b.digit_g = 1e-3;
    for (int k = 0; k < ST_CORRECT_NFIG; k++)
        if (b.wish[k].asked) {
            const double middle = 0.5 * (b.wish[k].low + b.wish[k].high);
            wish(&b, (enum st_correct_figure)k, middle - 0.02, middle + 0.02);
        } else if (k != ST_CORRECT_VOLUME && k != ST_CORRECT_ACID) /* held, which takes the most */
            wish(&b, (enum st_correct_figure)k, (k == ST_CORRECT_SUGAR ? b.batch.is.sugar : b.batch.is.strength) - 0.02,
                 (k == ST_CORRECT_SUGAR ? b.batch.is.sugar : b.batch.is.strength) + 0.02);
    if (st_correct(&b, &f, &problem) < 0 || f.option[ST_BY_LEAST].none != ST_NONE_HERE)
        return false;
    *g = moved(&b, &f.option[ST_BY_LEAST].made);
    return true;
}

/* Whether some shown way falls short of what is said of it. */
static void check_shown(const struct st_correct_ask *a, const struct st_correct_option *o)
{
    struct st_correct_ask again = *a;
    struct st_correct_made other;
    again.seed = a->seed + 100000;
    again.draws = 4 * DRAWS;
    assert_true(st_correct_foretell(&again, o->made.amount, o->made.draw_ml, &other) >= 0);
    /* other random numbers: 3.6 standard deviations of both together, at most */
    assert_true(fabs(other.all - o->made.all) < 3.6 * sqrt(0.25 * (1.0 / DRAWS + 0.25 / DRAWS)));
    assert_true(o->none == ST_NONE_HERE ? o->made.all >= a->certainty : !o->made.met);
    assert_true(!(a->jar_ml > 0.0) || o->made.stands_ml <= a->jar_ml * (1.0 + 1e-9));
}

static void test_any_batch(void **unused)
{
    int met = 0, less = 0, compared = 0;
    (void)unused;
    for (uint32_t k = 0; k < BATCHES; k++) {
        const struct st_correct_ask a = any_ask(k);
        double g = 0.0;
        put_right(&a);
        const struct st_correct_option *least = &found.option[ST_BY_LEAST];
        for (int by = 0; by < ST_CORRECT_NBY; by++)
            if (st_correct_shown(&found.option[by]))
                check_shown(&a, &found.option[by]);
        met += found.met;
        less += least->none == ST_NONE_LESS;
        if (!st_correct_shown(least) || !plain_by_itself(&a, &g))
            continue;
        compared++;
        /* never more than what would bring both to their middles, held, by a tenth and a little: 2 g/L and a draw's jug */
        const double most = 1.1 * g + 0.01 * a.batch.ml;
        if (moved(&a, &least->made) > most)
            print_error("batch %u moves %.1f g, plainly %.1f g\n", (unsigned)k, moved(&a, &least->made), g);
        assert_true(moved(&a, &least->made) <= most);
    }
    assert_true(met > 30 && less > 30 && compared > 60);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_certainty_is_not_bought),
        cmocka_unit_test(test_no_sugar_to_tell),
        cmocka_unit_test(test_there_already),
        cmocka_unit_test(test_sugar_alone),
        cmocka_unit_test(test_held_where_it_costs_nothing),
        cmocka_unit_test(test_one_end),
        cmocka_unit_test(test_published_pairs),
        cmocka_unit_test(test_steps),
        cmocka_unit_test(test_acid_that_is_known),
        cmocka_unit_test(test_two_ends),
        cmocka_unit_test(test_any_batch),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
