/* Jars of recipes: they agree with foresee when the exchange is complete, and follow each chain of steps. */
#include "jar_kit.h"

#include <dirent.h>

#include "text/cut_words.h"
#include "text/recipe_yaml.h"

static struct st_recipe_file file;
static struct st_catalogue *own;

static void read_text(const char *text, size_t size)
{
    struct st_problem p;
    struct st_buf sheet = { 0 };
    assert_int_equal(st_file_read("data/ingredients.sheet", 4u << 20, &sheet), 0);
    own = st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
    st_buf_done(&sheet);
    if (st_recipe_read_as("test.yaml", text, size, own, ST_MEASURES_METRIC, &file) != 0)
        fail_msg("line %d: %s: %s", file.problem[0].at.line, file.problem[0].what, file.problem[0].why);
}

static void forget(void)
{
    st_recipe_done(&file);
    st_catalogue_free(own);
}

static struct st_jar *jar_at(int step)
{
    struct st_problem p = { .what = "" };
    const struct st_jar_books books = { kit_habits, kit_compounds, st_cut_of_line };
    struct st_jar *j = st_jar_of_recipe(&books, &file.recipe, step, &p);
    if (!j)
        fail_msg("step %d, line %d: %s: %s; %s", step, p.at.line, p.what, p.why, p.try_);
    return j;
}

static int step_named(const char *id)
{
    for (int i = 0; i < file.recipe.n_step; i++)
        if (file.recipe.step[i].id && strcmp(file.recipe.step[i].id, id) == 0)
            return i;
    fail_msg("no step %s", id);
    return -1;
}

static int piece_named(const struct st_jar *j, const char *slug)
{
    for (int i = 0; i < j->n_piece; i++)
        if (strcmp(j->piece[i].what->slug, slug) == 0)
            return i;
    fail_msg("no piece %s", slug);
    return -1;
}

/* ---- against foresee ---- */

static double worst_strength, worst_sugar;

/* Long enough that everything has mixed, against the plan with `exchanged: 100 %`.  Both lose the same ethanol only
 * when the times are the same: so the time is written into the recipe, and pieces are made fast instead. */
static void mixed_as_foreseen(int step)
{
    struct st_problem p;
    for (int i = 0; i < file.recipe.n_step; i++)
        file.recipe.step[i].exchanged = (struct st_range){ 1.0, 1.0, 1.0, true, 'u', "" };
    struct st_plan *plan = st_plan_create(&file.recipe, &p);
    struct st_balance *balance = calloc((size_t)file.recipe.n_step, sizeof *balance);
    struct st_jar *j = jar_at(step);
    struct st_jar_told t;
    assert_non_null(plan);
    assert_true(st_plan_balance(plan, NULL, balance) >= 0);
    for (int i = 0; i < j->n_piece; i++) {
        j->piece[i].size_mm = 0.05;
        j->piece[i].kind = ST_KIND_POWDER; /* no skin */
    }
    kit_run(j, &(struct st_jar_options){ .seed = 1 }, &t);
    const struct st_jar_end *end = &t.end[t.n_end - 1];
    const double dq = end->strength.at[0].value - balance[step].strength_in_steep;
    const double ds = end->sugar.at[0].value - balance[step].sugar;
    worst_strength = fmax(worst_strength, fabs(dq));
    worst_sugar = fmax(worst_sugar, fabs(ds));
    if (!(fabs(dq) <= 0.005) || !(fabs(ds) <= 0.02))
        fail_msg("%s, %s: %.3f %% vol and %.2f g/L, foreseen %.3f and %.2f", file.recipe.title,
                 file.recipe.step[step].id, end->strength.at[0].value, end->sugar.at[0].value,
                 balance[step].strength_in_steep, balance[step].sugar);
    assert_true(t.closure <= 1e-9);
    st_jar_told_done(&t);
    st_jar_free(j);
    st_plan_free(plan);
    free(balance);
}

static void every_example_agrees_with_foresee(void **state)
{
    (void)state;
    int jars = 0;
    DIR *d = opendir("examples");
    assert_non_null(d);
    for (const struct dirent *e; (e = readdir(d));) {
        char path[300];
        struct st_buf text = { 0 };
        if (!strstr(e->d_name, ".yaml"))
            continue;
        (void)snprintf(path, sizeof path, "examples/%s", e->d_name);
        assert_int_equal(st_file_read(path, 1u << 20, &text), 0);
        read_text(st_buf_text(&text), text.length);
        for (int s = 0; s < file.recipe.n_step; s++)
            if (st_jar_is_at(&file.recipe, s)) {
                mixed_as_foreseen(s);
                jars++;
            }
        forget();
        st_buf_done(&text);
    }
    closedir(d);
    print_message("%d jars: worst difference %.4f %% vol, %.3f g/L\n", jars, worst_strength, worst_sugar);
    assert_true(jars >= 10);
}

/* ---- chains ---- */

static const char CHAIN[] = "title: chain\n"
                            "measures: metric\n"
                            "steps:\n"
                            "  - toast: nuts\n"
                            "    words: Chop the almonds first.\n"
                            "    add: [30 g sweet almonds, 5 g coriander seed]\n"
                            "  - steep: sugared\n"
                            "    words: Halve the plums.\n"
                            "    add: [500 g plums, 150 g sugar]\n"
                            "    for: 3 days\n"
                            "  - steep: jar\n"
                            "    add: [fruit of sugared, all of sugared, 500 mL vodka 50 %, all of nuts]\n"
                            "    for: 30 days\n"
                            "    at: 18-22 °C\n"
                            "  - steep: late\n"
                            "    add: [all of jar, \"2 cloves, crushed\"]\n"
                            "    for: 4 days\n"
                            "  - bottle\n";

static void sugar_first_spirit_later_and_a_clove_in_late(void **state)
{
    (void)state;
    read_text(CHAIN, sizeof CHAIN - 1);
    struct st_jar *j = jar_at(step_named("late"));
    assert_int_equal(j->n_stage, 3);
    assert_int_equal(j->n_piece, 4);
    const int plum = piece_named(j, "plum_fresh"), almond = piece_named(j, "almond_sweet"),
              clove = piece_named(j, "clove");
    assert_true(j->piece[plum].lies[0] == 1.0 && j->piece[plum].lies[1] == 1.0 && j->piece[plum].lies[2] == 0.0);
    assert_true(j->piece[clove].lies[1] == 0.0 && j->piece[clove].lies[2] == 1.0);
    assert_true(j->piece[almond].lies[0] == 0.0 && j->piece[almond].lies[1] == 1.0);
    assert_int_equal(j->piece[plum].cut, ST_CUT_HALVED);
    assert_int_equal(j->piece[almond].cut, ST_CUT_CHOPPED);
    assert_int_equal(j->piece[clove].cut, ST_CUT_CRUSHED);
    assert_about(j->stage[1].temperature_K.value, 293.15, 0.01);
    struct st_jar_told t;
    kit_run(j, &(struct st_jar_options){ .seed = 1 }, &t);
    assert_about(t.plan_s, 37 * DAY, 1.0);
    assert_about(t.strength.at[0].value, 0.0, 1e-9); /* sugar and juice only */
    const struct st_jar_curve *eugenol = kit_curve(&t, clove, "eugenol");
    assert_about(kit_share(&t, eugenol, 32 * DAY), 0.0, 1e-12);
    assert_true(kit_share(&t, eugenol, 37 * DAY) > 0.9);
    const struct st_jar_curve *sugar = kit_curve(&t, plum, "sugar");
    assert_true(kit_share(&t, sugar, 37 * DAY) >= kit_share(&t, sugar, 20 * DAY));
    assert_true(t.closure <= 1e-9);
    st_jar_told_done(&t);
    st_jar_free(j);
    forget();
}

static void spent_fruit_steeped_again(void **state)
{
    struct st_buf text = { 0 };
    (void)state;
    assert_int_equal(st_file_read("examples/quince_two_pours.yaml", 1u << 20, &text), 0);
    read_text(st_buf_text(&text), text.length);
    struct st_jar *j = jar_at(step_named("second"));
    struct st_jar_told t;
    assert_int_equal(j->n_stage, 2);
    assert_int_equal(j->n_piece, 1);
    assert_int_equal(j->stage[1].n_take, 0);
    assert_int_equal(j->piece[0].cut, ST_CUT_STRIPS); /* grate coarsely */
    assert_true(j->piece[0].cut_said);
    kit_run(j, &(struct st_jar_options){ .seed = 1, .draws = 50 }, &t);
    assert_int_equal(t.n_end, 2);
    assert_about(t.end[0].solids_g.at[0].value, 900.0, 0.5); /* weighed by the maker */
    assert_true(t.end[1].strength.at[0].value > t.end[0].strength.at[0].value);
    /* what the second straining may keep is not in the first jar already: its liquid is as sure as the weighing */
    for (int i = 0; i < t.n_time; i++)
        if (t.stage[i] == 0)
            assert_true(t.volume_ml.at[i].high - t.volume_ml.at[i].low < 40.0);
    const struct st_jar_curve *sugar = kit_curve(&t, 0, "sugar");
    assert_true(kit_share(&t, sugar, 42 * DAY) >
                kit_share(&t, sugar, 28 * DAY) + 0.02); /* the second pour draws more */
    st_jar_told_done(&t);
    st_jar_free(j);
    forget();
    st_buf_done(&text);
}

/* With its own clock the second pour is told since it was filled: the same numbers, of what was left. */
static void a_second_pour_has_its_own_clock(void **state)
{
    struct st_buf text = { 0 };
    struct st_jar_told all, own_;
    (void)state;
    assert_int_equal(st_file_read("examples/quince_two_pours.yaml", 1u << 20, &text), 0);
    read_text(st_buf_text(&text), text.length);
    struct st_jar *j = jar_at(step_named("second"));
    kit_run(j, &(struct st_jar_options){ .seed = 1 }, &all);
    kit_run(j, &(struct st_jar_options){ .seed = 1, .own_clock = true }, &own_);
    assert_about(own_.filled_s, 28 * DAY, 1e-6);
    assert_about(own_.plan_s, 14 * DAY, 1e-6);
    assert_about(all.plan_s, 42 * DAY, 1e-6);
    assert_about(own_.t_s[0], 0.0, 1e-9);
    assert_about(own_.strength.at[0].value, 40.0, 0.1); /* as it is poured */
    const struct st_jar_curve *a = kit_curve(&all, 0, "sugar"), *b = kit_curve(&own_, 0, "sugar");
    assert_true(b->lies && b->before.value > 0.5 && b->before.value < 0.95);
    for (int i = 1; i < own_.n_time; i++) {
        const double share = kit_share(&all, a, 28 * DAY + own_.t_s[i]);
        assert_about(b->share.at[i].value, (share - b->before.value) / (1.0 - b->before.value), 1e-9);
    }
    assert_true(b->most_s.value < 14 * DAY && a->most_s.value > 28 * DAY);
    st_jar_told_done(&all);
    st_jar_told_done(&own_);

    /* as far as was asked for, and no further: what comes later is not known */
    kit_run(j,
            &(struct st_jar_options){
                .seed = 1, .own_clock = true, .look_s = 3600.0, .time = (double[]){ 28 * DAY + 3600.0 }, .n_time = 1 },
            &own_);
    assert_about(own_.t_s[own_.n_time - 1], 3600.0, 1e-6);
    b = kit_curve(&own_, 0, "sugar");
    assert_true(isinf(b->most_s.value) && isfinite(b->half_s.value));
    assert_about(b->at_last.value, b->share.at[own_.n_time - 1].value, 0.0);
    st_jar_told_done(&own_);
    st_jar_free(j);
    forget();
    st_buf_done(&text);
}

/* A thing of an earlier jar of which only the liquor came here. */
static void what_lies_elsewhere_is_marked(void **state)
{
    static const char TWO[] = "title: t\nmeasures: metric\nsteps:\n"
                              "  - steep: spices\n    add: [200 mL vodka 60 %, 5 g cloves]\n    for: 3 days\n"
                              "  - steep: fruit\n    add: [all of spices, 400 mL vodka 40 %, 300 g damsons]\n"
                              "    for: 20 days\n";
    struct st_jar_told t;
    (void)state;
    read_text(TWO, sizeof TWO - 1);
    struct st_jar *j = jar_at(step_named("fruit"));
    kit_run(j, &(struct st_jar_options){ .seed = 1, .own_clock = true }, &t);
    assert_about(t.filled_s, 3 * DAY, 1e-6);
    assert_false(kit_curve(&t, piece_named(j, "clove"), "eugenol")->lies);
    const struct st_jar_curve *sugar = kit_curve(&t, piece_named(j, "damson"), "sugar");
    assert_true(sugar->lies && sugar->before.value == 0.0);
    st_jar_told_done(&t);
    st_jar_free(j);
    forget();
}

/* The same seed draws the amounts that foresee draws: the interval of the strength is alike. */
static void amounts_are_drawn_as_foreseen(void **state)
{
    struct st_buf text = { 0 };
    struct st_problem p;
    struct st_foretold f;
    struct st_jar_told t;
    (void)state;
    assert_int_equal(st_file_read("examples/raspberry_us_cups.yaml", 1u << 20, &text), 0);
    read_text(st_buf_text(&text), text.length);
    for (int i = 0; i < file.recipe.n_step; i++)
        file.recipe.step[i].exchanged = (struct st_range){ 1.0, 1.0, 1.0, true, 'u', "" };
    /* only the jar, then the bottle */
    file.recipe.n_step = 1;
    struct st_plan *plan = st_plan_create(&file.recipe, &p);
    assert_non_null(plan);
    assert_true(st_plan_run(plan, &(struct st_options){ .seed = 3, .draws = 400 }, &f) >= 0);
    struct st_jar *j = jar_at(0);
    j->stage[0].time_s = 20 * DAY;
    kit_run(j, &(struct st_jar_options){ .seed = 3, .draws = 400, .shells = 12, .tolerance = 1e-4 }, &t);
    const struct st_interval jar = t.end[0].strength.at[0], foreseen = f.fig[ST_FIG_STRENGTH];
    assert_about(jar.low, foreseen.low, 0.15);
    assert_about(jar.high, foreseen.high, 0.15);
    st_jar_told_done(&t);
    st_foretold_done(&f);
    st_plan_free(plan);
    st_jar_free(j);
    forget();
    st_buf_done(&text);
}

static void what_is_no_jar_is_refused(void **state)
{
    struct st_problem p = { .what = "" };
    (void)state;
    read_text(CHAIN, sizeof CHAIN - 1);
    const struct st_jar_books books = { kit_habits, kit_compounds, NULL };
    assert_null(st_jar_of_recipe(&books, &file.recipe, file.recipe.n_step - 1, &p));
    assert_non_null(strstr(p.what, "no jar"));
    assert_null(st_jar_of_recipe(&books, &file.recipe, 99, &p));
    assert_null(st_jar_of_recipe(&books, &file.recipe, -1, &p));
    forget();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_example_agrees_with_foresee),
        cmocka_unit_test(sugar_first_spirit_later_and_a_clove_in_late),
        cmocka_unit_test(spent_fruit_steeped_again),
        cmocka_unit_test(a_second_pour_has_its_own_clock),
        cmocka_unit_test(what_lies_elsewhere_is_marked),
        cmocka_unit_test(amounts_are_drawn_as_foreseen),
        cmocka_unit_test(what_is_no_jar_is_refused),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
