/* Tries: names, numbers, side lines, and that nothing of a text is lost. */

#include "book_kit.h"

#include "api/book_recipe.h"
#include "api/book_reference.h"
#include "util/file.h"

static struct st_buf sheet;

static struct st_catalogue *new_catalogue(void)
{
    struct st_problem p = { .what = "" };
    return st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
}

static const struct st_how HOW = {
    .catalogue = new_catalogue, .measures = ST_MEASURES_METRIC, .seed = 1, .draws = 200
};
static struct st_keep_told told;

static const char RECIPE[] =
    "schema_version: 1\r\ntitle: Plum, invented   # a remark\r\nmeasures: metric\nsteps:\n"
    "  - steep: jar\n    add: [\"500 g damsons, as bought\", \"%d mL vodka 40 %%\"]\n    for: 6 weeks\n\n\n";

static const char *recipe(int ml)
{
    return st_arena_printf(&kit_arena, RECIPE, ml);
}

static bool keep(const char *text, const char *side, const char *from)
{
    const struct st_keep k = { .file = "r.yaml", .text = text, .size = strlen(text), .side = side, .from = from };
    return st_recipe_keep(&desk, &HOW, &k, &told);
}

static void texts_come_back_byte_for_byte(void **state)
{
    (void)state;
    struct st_try t;
    done(keep(recipe(700), NULL, NULL));
    done(st_try_named(&desk, "plum, INVENTED", &t));
    assert_string_equal(t.row.text, recipe(700));
    assert_string_equal(t.ref, "Plum, invented/1");
    assert_true(t.fig[ST_FIG_STRENGTH].known && t.fig[ST_FIG_STRENGTH].low < t.fig[ST_FIG_STRENGTH].value);
    assert_non_null(strstr(t.program, "seed 1, 200 draws"));
}

static void the_same_again_is_nothing_new(void **state)
{
    (void)state;
    done(keep(recipe(700), NULL, NULL));
    const int before = kit_deeds();
    done(keep(recipe(700), NULL, NULL));
    assert_true(told.nothing);
    assert_string_equal(told.now.ref, "Plum, invented/1");
    assert_int_equal(kit_deeds(), before);
    done(keep(recipe(800), NULL, NULL));
    done(keep(recipe(700), NULL, NULL)); /* back to what the first was: a third try */
    assert_false(told.nothing);
    assert_string_equal(told.now.ref, "Plum, invented/3");
}

static void side_lines_count_for_themselves(void **state)
{
    (void)state;
    struct st_try t, *all_tries;
    int n;
    done(keep(recipe(700), NULL, NULL));
    done(keep(recipe(720), NULL, NULL));
    done(keep(recipe(600), "weak one", "1"));
    assert_string_equal(told.now.ref, "Plum, invented/weak one/1");
    assert_string_equal(told.now.from, "Plum, invented/1");
    done(keep(recipe(610), "Weak One", NULL));
    assert_string_equal(told.now.ref, "Plum, invented/weak one/2");
    assert_string_equal(told.now.from, "Plum, invented/weak one/1");
    done(keep(recipe(730), NULL, "weak one/2"));
    assert_string_equal(told.now.ref, "Plum, invented/3");
    assert_string_equal(told.now.from, "Plum, invented/weak one/2");
    done(st_try_named(&desk, "plum/weak one", &t));
    assert_int_equal(t.row.number, 2);
    done(st_try_named(&desk, "Plum, invented", &t));
    assert_int_equal(t.row.number, 3);
    refused(st_try_named(&desk, "Plum, invented/9", &t), "no such try");
    refused(st_try_named(&desk, "Plum, invented/strong one", &t), "no such try");
    refused(st_try_named(&desk, "Quince", &t), "no recipe of this name");
    done(st_tries_of(&desk, "plum", &all_tries, &n));
    assert_int_equal(n, 5);
    assert_string_equal(all_tries[2].ref, "Plum, invented/weak one/1");
}

static void the_list_has_figures_and_no_texts(void **state)
{
    (void)state;
    struct st_kept_recipe *all_recipes;
    struct st_try t;
    int n, of;
    done(keep(recipe(700), NULL, NULL));
    done(keep(recipe(900), NULL, NULL));
    done(keep(recipe(500), "weak one", NULL));
    done(st_recipes_read(&desk, NULL, 0, &all_recipes, &n, &of));
    assert_int_equal(n, 1);
    done(st_try_named(&desk, "Plum, invented/2", &t));
    assert_string_equal(all_recipes[0].last.ref, "Plum, invented/2");
    assert_true(all_recipes[0].last.fig[ST_FIG_STRENGTH].value == t.fig[ST_FIG_STRENGTH].value);
    assert_true(all_recipes[0].last.fig[ST_FIG_SUGAR].high == t.fig[ST_FIG_SUGAR].high);
    assert_null(all_recipes[0].last.row.text);
    assert_int_equal(all_recipes[0].n_side, 2);
    done(st_recipes_read(&desk, "damsons vodka", 0, &all_recipes, &n, &of));
    assert_int_equal(n, 1);
    done(st_recipes_read(&desk, "weak", 0, &all_recipes, &n, &of));
    assert_int_equal(n, 1);
    done(st_recipes_read(&desk, "quince", 0, &all_recipes, &n, &of));
    assert_int_equal(n, 0);
}

static void what_is_wrong_is_told_with_its_place(void **state)
{
    (void)state;
    refused(keep("schema_version: 1\ntitle: X\nsteps:\n  - steep: jar\n    add: [\"5 g nonsuch\", \"3 g nonesuch\"]\n",
                 NULL, NULL),
            "unknown ingredient");
    assert_int_equal(desk.problem.at.line, 5);
    assert_true(desk.n_more >= 1);
    refused(keep("schema_version: 1\ntitle: X\nsteps:\n  - steep: jar\n    add: [\"5 g foxglove leaves\", \"1 L vodka "
                 "40 %\"]\n",
                 NULL, NULL),
            "must not go into a drink");
    assert_int_equal(kit_deeds(), 0);
}

static void without_a_title_a_name_is_asked_for(void **state)
{
    (void)state;
    static const char TEXT[] =
        "schema_version: 1\nsteps:\n  - steep: jar\n    add: [\"500 g damsons\", \"1 L vodka 40 %\"]\n";
    const bool kept = keep(TEXT, NULL, NULL);
    assert_false(kept);
    assert_int_equal(desk.status, BOOK_OK);
    const struct st_keep k = { .file = "r.yaml", .text = TEXT, .size = strlen(TEXT), .name = "Mine" };
    if (strstr(desk.problem.what, "name") || strstr(desk.problem.why, "name"))
        done(st_recipe_keep(&desk, &HOW, &k, &told));
}

static void renamed_recipes_keep_their_tries(void **state)
{
    (void)state;
    struct st_try t;
    char words[400];
    done(keep(recipe(700), NULL, NULL));
    done(st_recipe_rename(&desk, "plum, invented", "Damson", words));
    done(st_try_named(&desk, "Damson/1", &t));
    assert_string_equal(t.row.text, recipe(700));
    refused(st_recipe_rename(&desk, "Plum, invented", "X", words), "no recipe of this name");
}

static void a_reference_by_tongue_and_by_readings(void **state)
{
    (void)state;
    struct st_reference r;
    char words[400], reading[] = "sg=1.06", other[] = "brix=32", *both[] = { reading, other };
    struct st_reference_given g = { .name = "green one", .strength = 28, .above = 250, .below = 300 };
    g.volume_ml = g.price = (double)NAN;
    done(st_reference_put(&desk, &g, &r, words));
    assert_int_equal(r.by, ST_REFERENCE_TONGUE);
    assert_true(r.sugar.low == 250.0 && r.sugar.value == 275.0 && r.sugar.high == 300.0);
    g.above = g.below = g.strength = (double)NAN;
    g.reading = both;
    g.n_reading = 2;
    done(st_reference_put(&desk, &g, &r, words));
    assert_int_equal(r.by, ST_REFERENCE_READ);
    assert_true(r.above == 250.0 && r.sugar.value > 240.0 && r.sugar.value < 260.0);
    assert_true(r.strength.value == 28.0); /* the label's stays */
}

static int load(void **state)
{
    (void)state;
    return st_file_read("data/ingredients.sheet", 4u << 20, &sheet) ? -1 : 0;
}

static int unload(void **state)
{
    (void)state;
    st_buf_done(&sheet);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(texts_come_back_byte_for_byte, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(the_same_again_is_nothing_new, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(side_lines_count_for_themselves, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(the_list_has_figures_and_no_texts, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(what_is_wrong_is_told_with_its_place, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(without_a_title_a_name_is_asked_for, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(renamed_recipes_keep_their_tries, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(a_reference_by_tongue_and_by_readings, kit_open, kit_close),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
