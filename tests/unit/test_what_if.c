/* A jar made otherwise, in a maker's words. */
#include "steep_kit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "text/what_if.h"

static const double DAY_S = 86400.0;
static struct st_jar jar;
static struct st_problem problem;
static struct st_what_said said;

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
    return 0;
}

static void does(const char *text, const char *understood)
{
    if (!st_what_if(text, &jar, &said, &problem))
        print_error("%s: %s: %s\n", text, problem.what, problem.why);
    assert_string_equal(said.words, understood);
}

static void refuses(const char *text, const char *what)
{
    static struct st_jar was;
    memcpy(&was, &jar, sizeof was);
    assert_false(st_what_if(text, &jar, &said, &problem));
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
    does("frozen", "fruit frozen");
    assert_true(jar.piece[2].kind == ST_KIND_FROZEN_FRUIT && said.thing == -1);
    does("fresh", "fruit fresh");
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
    assert_true(said.until_s == 60.0 * DAY_S && jar.stage[1].time_s == 57.0 * DAY_S);
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
    does("in the freezer", "at -18 °C");
    does("35 C", "at 35 °C");
    does("at 35 c", "at 35 °C");
    does("35 °c", "at 35 °C");
    does("30 C for 3 days, then 12 C", "at 30 °C for 3 days, then 12 °C");
    assert_int_equal(jar.stage[0].n_heat, 2);
    refuses("30 C for 30 days, then 12 C", "cannot reckon"); /* strained by then */
    refuses("90 °C", "cannot reckon");                       /* spirit is not heated */
    refuses("90 °C", "90 °C");                               /* as it was written */
    refuses("More LOVE", "More LOVE");
    does("vodka 40 %", "spirit of 40 % vol");
    assert_true(jar.pour[0].strength_pct_vol == 40.0);
    refuses("rum 60 %", "cannot reckon");
    does("strain on day 10", "strained on day 10");
    assert_true(said.until_s == 10.0 * DAY_S && jar.stage[0].time_s == 10.0 * DAY_S);
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

/* Two jars side by side and one they are poured into, each a step of its own: days are of the jar that a thing lies in. */
static void three_jars(void)
{
    (void)fresh(NULL);
    for (int k = 1; k < 3; k++) {
        jar.stage[k] = jar.stage[0];
        jar.stage[k].time_s = 10.0 * k * DAY_S;
    }
    jar.n_stage = 3;
    for (int k = 0; k < 3; k++)
        jar.stage[k].step = k;
    for (int i = 0; i < jar.n_piece; i++)
        memset(jar.piece[i].lies, 0, sizeof jar.piece[i].lies);
    jar.piece[0].lies[0] = 1.0;                        /* cloves in the first, of 30 days */
    jar.piece[1].lies[1] = 1.0;                        /* vanilla in the second, of 10 */
    jar.piece[2].lies[2] = 1.0;                        /* damsons in the third, of 20 */
    jar.piece[3].lies[1] = jar.piece[3].lies[2] = 1.0; /* the peel in both */
    jar.stage[2].take[0] = (struct st_jar_take){ 0, 1.0, -1 };
    jar.stage[2].take[1] = (struct st_jar_take){ 1, 1.0, -1 };
    jar.stage[2].n_take = 2;
}

static void test_days_are_of_the_jar_a_thing_lies_in(void **state)
{
    (void)state;
    three_jars();
    does("vanilla out on day 3", "vanilla out on day 3");
    assert_int_equal(jar.n_stage, 4);
    assert_true(jar.stage[1].time_s == 3.0 * DAY_S && jar.stage[2].time_s == 7.0 * DAY_S);
    assert_true(jar.piece[1].lies[1] == 1.0 && jar.piece[1].lies[2] == 0.0);
    assert_true(jar.stage[3].take[0].from == 0 && jar.stage[3].take[1].from == 2); /* the later part is poured */
    refuses("vanilla out on day 11", "cannot reckon");

    three_jars();
    does("fresh orange peel out on day 5", "fresh orange peel out on day 5"); /* of the last, where it lies too */
    assert_int_equal(jar.n_stage, 4);
    assert_true(jar.piece[3].lies[1] == 1.0 && jar.piece[3].lies[2] == 1.0 && jar.piece[3].lies[3] == 0.0);
    assert_true(jar.stage[2].time_s == 5.0 * DAY_S);

    three_jars();
    does("fresh orange peel in on day 5", "fresh orange peel in on day 5");
    assert_true(jar.piece[3].lies[1] == 1.0 && jar.piece[3].lies[2] == 0.0 && jar.piece[3].lies[3] == 1.0);

    three_jars();
    does("15 days", "15 days"); /* the last jar's, whatever came before */
    assert_true(jar.stage[2].time_s == 15.0 * DAY_S && jar.stage[0].time_s == 30.0 * DAY_S);
    does("30 C for 3 days, then 12 C", "at 30 °C for 3 days, then 12 °C");
    assert_true(jar.stage[0].n_heat == 0 && jar.stage[1].n_heat == 0 && jar.stage[2].n_heat == 2);
}

/* A path goes on through the parts of a jar. */
static void test_a_path_over_parts(void **state)
{
    (void)state;
    does("cloves out on day 2", "cloves out on day 2");
    does("30 C for 3 days, then 12 C", "at 30 °C for 3 days, then 12 °C");
    assert_true(jar.stage[0].heat[0].t_s == 3.0 * DAY_S && jar.stage[1].heat[0].t_s == 1.0 * DAY_S);
}

static bool contradict(const char *a, const char *b)
{
    struct st_what_said x, y;
    struct st_jar j = jar;
    if (!st_what_if(a, &j, &x, &problem) || !st_what_if(b, &j, &y, &problem))
        print_error("%s, %s: %s\n", a, b, problem.what);
    problem.what[0] = '\0';
    const bool no = st_what_contradicts(&x, a, &y, b, &problem);
    if (no)
        assert_true(strstr(problem.what, a) && strstr(problem.what, b) && *problem.why && *problem.try_);
    return no;
}

static void test_what_cannot_both_be(void **state)
{
    (void)state;
    assert_true(contradict("cloves whole", "cloves crushed"));
    assert_true(contradict("spirit 40 %", "vodka 60 %"));
    assert_true(contradict("in the fridge", "30 C"));
    assert_true(contradict("90 days", "strain on day 10"));
    assert_true(contradict("frozen", "damsons fresh"));
    assert_true(contradict("half the cloves", "2 times the cloves"));
    assert_true(contradict("left still", "turned"));
    assert_true(contradict("cloves out on day 3", "cloves out on day 4"));
    assert_false(contradict("cloves crushed", "vanilla crushed"));
    assert_false(contradict("cloves crushed", "half the cloves"));
    assert_false(contradict("cloves in on day 3", "cloves out on day 9"));
    assert_false(contradict("damsons frozen", "damsons halved"));
    assert_false(contradict("in the fridge", "90 days"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(test_cut_and_kind, fresh),
        cmocka_unit_test_setup(test_amounts, fresh),
        cmocka_unit_test_setup(test_days, fresh),
        cmocka_unit_test_setup(test_the_whole_jar, fresh),
        cmocka_unit_test_setup(test_days_are_of_the_jar_a_thing_lies_in, fresh),
        cmocka_unit_test_setup(test_a_path_over_parts, fresh),
        cmocka_unit_test_setup(test_what_cannot_both_be, fresh),
        cmocka_unit_test_setup(test_names_that_fit_several_are_asked_about, fresh),
    };
    return cmocka_run_group_tests(tests, load_steep, unload_steep);
}
