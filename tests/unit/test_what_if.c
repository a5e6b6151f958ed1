/* A jar made otherwise, in a maker's words. */
#include "steep_kit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "text/what_if.h"

static const double DAY_S = 86400.0;
static struct st_jar jar;
static struct st_problem problem;
static double until;
static char words[120];

static void add(const char *name, double g)
{
    const struct st_ingredient *in = must(name);
    assert_non_null(in);
    assert_non_null(st_jar_add(&jar, in, g, 0));
}

static int fresh(void **state)
{
    (void)state;
    st_jar_begin(&jar, &books->jar, 30.0 * DAY_S);
    add("cloves", 5.0);
    add("vanilla pod", 3.0);
    add("damsons", 300.0);
    add("fresh orange peel", 20.0);
    add("dried bitter orange peel", 10.0);
    assert_non_null(st_jar_pour_spirit(&jar, 700.0, 40.0, 0));
    until = -1.0;
    return 0;
}

static void does(const char *text, const char *understood)
{
    if (!st_what_if(text, &jar, &until, words, sizeof words, &problem))
        print_error("%s: %s: %s\n", text, problem.what, problem.why);
    assert_string_equal(words, understood);
}

static void refuses(const char *text, const char *what)
{
    static struct st_jar was;
    memcpy(&was, &jar, sizeof was);
    assert_false(st_what_if(text, &jar, &until, words, sizeof words, &problem));
    if (!strstr(problem.what, what))
        print_error("%s: %s\n", text, problem.what);
    assert_non_null(strstr(problem.what, what));
    assert_true(*problem.why && *problem.try_);
    assert_memory_equal(&was, &jar, sizeof was);
}

static void test_cut_and_kind(void **state)
{
    (void)state;
    does("cloves crushed", "clove bud crushed");
    assert_true(jar.piece[0].cut == ST_CUT_CRUSHED && jar.piece[0].cut_said);
    does("  Cloves   Ground. ", "clove bud ground");
    does("damsons frozen", "damson frozen");
    assert_int_equal(jar.piece[2].kind, ST_KIND_FROZEN_FRUIT);
    does("damson fresh", "damson fresh");
    assert_int_equal(jar.piece[2].kind, ST_KIND_FRESH_FRUIT);
    refuses("cloves frozen", "cannot reckon");
    refuses("pepper crushed", "this jar has no");
}

static void test_amounts(void **state)
{
    (void)state;
    does("half the vanilla", "half the vanilla");
    assert_true(jar.piece[1].factor == 0.5);
    does("2.5 times the cloves", "2.5 times the cloves");
    assert_true(jar.piece[0].factor == 2.5);
    does("no damsons", "no damsons");
    assert_true(jar.piece[2].factor == 0.0);
}

static void test_days(void **state)
{
    (void)state;
    does("cloves out on day 3", "cloves out on day 3");
    assert_int_equal(jar.n_stage, 2);
    assert_true(jar.stage[0].time_s == 3.0 * DAY_S && jar.stage[1].time_s == 27.0 * DAY_S);
    assert_true(jar.piece[0].lies[0] == 1.0 && jar.piece[0].lies[1] == 0.0 && jar.piece[1].lies[1] == 1.0);
    does("vanilla in on day 3", "vanilla in on day 3");
    assert_int_equal(jar.n_stage, 2); /* the same day: no third stage */
    assert_true(jar.piece[1].lies[0] == 0.0 && jar.piece[1].lies[1] == 1.0);
    does("60 days", "60 days");
    assert_true(until == 60.0 * DAY_S && jar.stage[1].time_s == 57.0 * DAY_S);
    refuses("2 days", "cannot reckon");
    refuses("cloves out on day 0", "cannot read");
    refuses("cloves out on day 100", "cannot reckon");
}

static void test_the_whole_jar(void **state)
{
    (void)state;
    does("spirit 60 %", "spirit of 60 % vol");
    assert_true(jar.pour[0].strength_pct_vol == 60.0);
    does("spirit 50", "spirit of 50 % vol");
    refuses("spirit 140 %", "cannot read");
    does("30 °C", "at 30 °C");
    assert_true(fabs(jar.stage[0].temperature_K.value - 303.15) < 1e-9);
    does("in the fridge", "at 4 °C");
    refuses("90 °C", "cannot reckon"); /* spirit is not heated */
    does("left still", "never turned");
    assert_true(jar.stage[0].still);
    does("turned", "turned now and then");
}

static void test_names_that_fit_several_are_asked_about(void **state)
{
    (void)state;
    refuses("peel chopped", "several things");
    assert_true(problem.is_question);
    does("bitter orange peel chopped", "bitter orange peel, dried chopped");
    refuses("", "cannot understand");
    refuses("more love", "cannot understand");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(test_cut_and_kind, fresh),
        cmocka_unit_test_setup(test_amounts, fresh),
        cmocka_unit_test_setup(test_days, fresh),
        cmocka_unit_test_setup(test_the_whole_jar, fresh),
        cmocka_unit_test_setup(test_names_that_fit_several_are_asked_about, fresh),
    };
    return cmocka_run_group_tests(tests, load_steep, unload_steep);
}
