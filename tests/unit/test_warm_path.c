/* Warmth that changes, in a maker's words: as words, as the key `at` of a steep, and in the jar. */
#include "jar_kit.h"

#include "core/arrhenius.h"
#include "text/recipe_yaml.h"
#include "text/warm_path.h"

/* ---- words ---- */

static int read_path(const char *text, struct st_warm_part part[], struct st_problem *p)
{
    return st_warm_path_read(text, strlen(text), part, p);
}

static void reads(const char *text, const char *back)
{
    struct st_warm_part part[ST_WARM_PARTS];
    struct st_problem p = { .what = "" };
    char words[200];
    const int n = read_path(text, part, &p);
    if (n < 1)
        fail_msg("%s: %s: %s", text, p.what, p.why);
    st_warm_path_words(words, sizeof words, part, n);
    assert_string_equal(words, back);
}

static void words_are_read(void **state)
{
    (void)state;
    reads("30 C for 3 days, then 12 C", "30 °C for 3 days, then 12 °C");
    reads("at 30 °c for 3 days then at 12 c", "30 °C for 3 days, then 12 °C");
    reads("30 C for 36 hours, 12,5 C for 2 weeks; in the fridge",
          "30 °C for 36 hours, then 12.5 °C for 14 days, then 4 °C");
    reads("In the freezer", "-18 °C");
    reads("86 F for 30 min, then fridge", "30 °C for 30 minutes, then 4 °C");
    reads("-20 C for 1 day, then 60 C", "-20 °C for 1 day, then 60 °C"); /* the limits */
    assert_true(st_is_warmth("35 C", 4) && st_is_warmth("at 35 c", 7) && st_is_warmth("in the fridge", 14 - 1));
    assert_false(st_is_warmth("90 days", 7) || st_is_warmth("", 0) || st_is_warm_path("35 C", 4));
}

static void refuses(const char *text, int column, const char *why)
{
    struct st_warm_part part[ST_WARM_PARTS];
    struct st_problem p = { .what = "" };
    assert_int_equal(read_path(text, part, &p), -1);
    if (p.at.column != column || !strstr(p.why, why))
        fail_msg("%s: column %d: %s", text, p.at.column, p.why);
    assert_true(*p.what && *p.try_);
}

static void what_cannot_be_is_refused_at_its_place(void **state)
{
    (void)state;
    refuses("30 C, then 12 C", 1, "each but the last needs its time");
    refuses("30 C for 3 days, then soon", 23, "no temperature");
    refuses("30 C for a while, then 12 C", 10, "a time");
    refuses("30 C for 0 days, then 12 C", 10, "a time");
    refuses("30 C for 3 days, then 60.1 C", 23, "-20 and 60");
    refuses("-20.1 C for 3 days, then 6 C", 1, "-20 and 60");
    refuses("1 C for 1 day, 2 C for 1 day, 3 C for 1 day, 4 C for 1 day, 5 C for 1 day, 6 C for 1 day, 7 C for 1 day, "
            "8 C for 1 day, 9 C",
            121, "eight");
}

/* ---- the recipe ---- */

static struct st_recipe_file file;
static struct st_catalogue *own;

static int read_recipe(const char *step)
{
    char text[600];
    struct st_problem p;
    struct st_buf sheet = { 0 };
    snprintf(text, sizeof text, "title: t\nmeasures: metric\nsteps:\n%s", step);
    assert_int_equal(st_file_read("data/ingredients.sheet", 4u << 20, &sheet), 0);
    own = st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
    st_buf_done(&sheet);
    return st_recipe_read("test.yaml", text, strlen(text), own, &file);
}

static void forget(void)
{
    st_recipe_done(&file);
    st_catalogue_free(own);
}

#define STEEP "  - steep: jar\n    add: [500 mL vodka 45 %, 3 g vanilla pod]\n    for: 10 days\n"

static void the_key_is_read(void **state)
{
    (void)state;
    assert_int_equal(read_recipe(STEEP "    at: 30 C for 3 days, then 12 C\n"), 0);
    const struct st_step *s = &file.recipe.step[0];
    assert_int_equal(s->n_warm, 2);
    assert_about(s->warm[0].T_K, 303.15, 1e-9);
    assert_about(s->warm[0].time_s, 3 * DAY, 1e-6);
    assert_about(s->temperature_K.value, 303.15, 1e-9); /* the warmest: what cautions go by */
    assert_about(s->temperature_K.low, 285.15, 1e-9);
    forget();
    assert_int_equal(read_recipe(STEEP "    at: in the fridge\n"), 0);
    assert_int_equal(file.recipe.step[0].n_warm, 0);
    assert_about(file.recipe.step[0].temperature_K.value, 277.15, 1e-9);
    forget();
}

static void recipe_refuses(const char *step, int line, int column, const char *what)
{
    assert_int_equal(read_recipe(step), -1);
    const struct st_problem *p = &file.problem[0];
    if (p->at.line != line || p->at.column != column || !strstr(p->what, what))
        fail_msg("%d:%d: %s: %s", p->at.line, p->at.column, p->what, p->why);
    assert_true(*p->why && *p->try_);
    forget();
}

static void the_key_is_refused_with_its_place(void **state)
{
    (void)state;
    recipe_refuses(STEEP "    at: 30 C for 3 days, then warm\n", 7, 31, "warm");
    recipe_refuses(STEEP "    at: 30 C for 3 days, then 61 C\n", 7, 31, "61 C");
    recipe_refuses(STEEP "    at: 30 C for 10 days, then 12 C\n", 7, 9, "longer than its `for`");
    recipe_refuses("  - blend: b\n    add: [500 mL vodka 45 %]\n    at: 30 C for 3 days, then 12 C\n", 6, 9,
                   "of a blend");
}

/* ---- the jar ---- */

static const struct st_jar_options MIDDLE = { .seed = 1, .own_clock = true };

static double mean_factor(double ea_kj)
{
    double warm = 0.0, cool = 0.0;
    assert_true(st_arrhenius_factor(1e3 * ea_kj, 303.15, 293.15, &warm) >= 0);
    assert_true(st_arrhenius_factor(1e3 * ea_kj, 285.15, 293.15, &cool) >= 0);
    return 0.3 * warm + 0.7 * cool;
}

static struct st_jar *jar_of(const char *step)
{
    struct st_problem p = { .what = "" };
    assert_int_equal(read_recipe(step), 0);
    struct st_jar *j = st_jar_of_recipe(&kit_books, &file.recipe, 0, &p);
    if (!j)
        fail_msg("%s: %s", p.what, p.why);
    return j;
}

/* With one warmth after another, diffusion comes as far as in the integral of D over time at 20 °C: exact, as D t/a^2
 * is all that decides (what washes off at once does so in minutes here as there). */
static void a_recipe_reaches_the_integral_of_d(void **state)
{
    struct st_jar_told ta, tb;
    struct st_habit h;
    (void)state;
    struct st_jar *a = jar_of(STEEP "    at: 30 C for 3 days, then 12 C\n");
    assert_int_equal(a->stage[0].n_heat, 2);
    assert_true(st_jar_habit(a, 0, ST_OF_AROMA, &h) >= 0);
    const double stretch = mean_factor(h.ea_kj);
    assert_true(stretch > 1.0001 || stretch < 0.9999); /* else it would show nothing */
    struct st_jar b = *a;
    b.stage[0].n_heat = 0;
    b.stage[0].temperature_K = (struct st_range){ 293.15, 293.15, 293.15, true, 'u', "" };
    b.stage[0].time_s = 10 * DAY * stretch;
    kit_run(a, &MIDDLE, &ta);
    kit_run(&b, &MIDDLE, &tb);
    const double path = kit_curve(&ta, 0, "vanillin")->at_plan.value,
                 even = kit_curve(&tb, 0, "vanillin")->at_plan.value;
    print_message("vanillin: %.6f by the path, %.6f by the integral of D\n", path, even);
    assert_about(path, even, 2e-4);
    st_jar_told_done(&ta);
    st_jar_told_done(&tb);

    b = *a; /* the same as a jar that is carried from one room to the other */
    assert_true(st_jar_split(&b, 0, 3 * DAY));
    for (int k = 0; k < 2; k++) {
        const struct st_warm_part one = { k ? 285.15 : 303.15, 0.0 };
        st_jar_warm(&b.stage[k], &one, 1, 0.0);
        assert_int_equal(b.stage[k].n_heat, 0);
    }
    kit_run(a, &MIDDLE, &ta);
    kit_run(&b, &MIDDLE, &tb);
    assert_about(kit_curve(&ta, 0, "vanillin")->at_plan.value, kit_curve(&tb, 0, "vanillin")->at_plan.value, 1e-4);
    assert_about(tb.plan_s, 10 * DAY, 1e-6); /* parts of one step are one jar */
    st_jar_told_done(&ta);
    st_jar_told_done(&tb);
    st_jar_free(a);
    forget();
}

/* Warm from the first differs from warm at the end on the way, and not when all is over. */
static void the_order_of_warmth_is_seen_on_the_way(void **state)
{
    struct st_jar_told ta, tb;
    (void)state;
    struct st_jar *a = jar_of(STEEP "    at: 35 C for 5 days, then 5 C\n");
    struct st_jar b = *a;
    const struct st_warm_part turned[2] = { { 278.15, 5 * DAY }, { 308.15, 0.0 } };
    st_jar_warm(&b.stage[0], turned, 2, 0.0);
    kit_run(a, &MIDDLE, &ta);
    kit_run(&b, &MIDDLE, &tb);
    const struct st_jar_curve *ca = kit_curve(&ta, 0, "vanillin"), *cb = kit_curve(&tb, 0, "vanillin");
    assert_true(kit_share(&ta, ca, 4 * DAY) > kit_share(&tb, cb, 4 * DAY) + 0.05);
    assert_about(ca->at_plan.value, cb->at_plan.value, 2e-3);
    st_jar_told_done(&ta);
    st_jar_told_done(&tb);
    st_jar_free(a);
    forget();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_are_read),
        cmocka_unit_test(what_cannot_be_is_refused_at_its_place),
        cmocka_unit_test(the_key_is_read),
        cmocka_unit_test(the_key_is_refused_with_its_place),
        cmocka_unit_test(a_recipe_reaches_the_integral_of_d),
        cmocka_unit_test(the_order_of_warmth_is_seen_on_the_way),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
