/* Amounts changed in the text of a recipe, and amounts said so that they can be measured. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "text/amount_fine.h"
#include "text/quantity.h"
#include "text/recipe_edit.h"
#include "text/recipe_yaml.h"
#include "util/embedded.h"

static const char GOOD[] = "title: Invented\n"
                           "measures: metric\n"
                           "currency: EUR\n"
                           "steps:\n"
                           "  - steep: jar\n"
                           "    add:\n"
                           "\n"
                           "      - {line: \"500 g damsons, as bought\", trimmed: 480 g, price: 2.50} # picked\n"
                           "      # a remark of its own\n"
                           "      - line: 700 mL vodka 50 %\n"
                           "        price: 19.90   # dear\n"
                           "    vessel: 2 L jar # the tall one\n"
                           "  - blend: drink\n"
                           "    add: [all of jar, 130 g sugar, water to 1000 mL]\n";

static struct st_catalogue *catalogue;
static struct st_recipe_file file;

static void read_recipe(const char *text)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem problem;
    catalogue = st_catalogue_create((const char *)sheet->bytes, sheet->size, &problem);
    assert_non_null(catalogue);
    if (st_recipe_read("test", text, strlen(text), catalogue, &file) != 0)
        fail_msg("%s: %s", file.problem[0].what, file.problem[0].why);
}

static void drop(void)
{
    st_recipe_done(&file);
    st_catalogue_free(catalogue);
}

static void only_what_changes_changes(void **state)
{
    (void)state;
    struct st_buf out = { 0 };
    struct st_problem problem = { .what = "" };
    read_recipe(GOOD);
    const struct st_recipe *r = &file.recipe;
    const struct st_edit edit[] = {
        { .line = &r->step[1].line[2], .amount = "1.1 L" },
        { .line = &r->step[0].line[0], .amount = "600 g" },
        { .line = &r->step[0].line[1], .amount = "650 mL", .strength = 55 },
        { .line = &r->step[1].line[1], .amount = "150 g" },
        { .step = &r->step[0], .vessel = "3 L" },
    };
    if (st_recipe_edit(GOOD, strlen(GOOD), ST_MEASURES_METRIC, edit, 5, &out, &problem) != 0)
        fail_msg("%s: %s", problem.what, problem.why);
    assert_string_equal(st_buf_text(&out),
                        "title: Invented\n"
                        "measures: metric\n"
                        "currency: EUR\n"
                        "steps:\n"
                        "  - steep: jar\n"
                        "    add:\n"
                        "\n"
                        "      - {line: \"600 g damsons, as bought\", trimmed: 96 %, price: 2.50 for 500 g} # picked\n"
                        "      # a remark of its own\n"
                        "      - line: 650 mL vodka 55 %\n"
                        "        price: 19.90 for 700 mL   # dear\n"
                        "    vessel: 3 L # the tall one\n"
                        "  - blend: drink\n"
                        "    add: [all of jar, 150 g sugar, water to 1.1 L]\n");
    drop();
    char *changed = st_buf_take(&out); /* and reads as meant, prices too */
    read_recipe(changed);
    assert_true(file.recipe.step[0].line[1].strength.value == 55.0);
    assert_true(file.recipe.step[0].line[0].price > 2.99 && file.recipe.step[0].line[0].price < 3.01);
    assert_true(file.recipe.step[0].vessel_ml == 3000.0);
    drop();
    free(changed);
}

static void what_cannot_be_seen_is_not_changed(void **state)
{
    (void)state;
    static const char FOLDED[] =
        "title: T\nmeasures: metric\nsteps:\n  - blend: drink\n    add:\n      - >-\n        700 mL vodka\n"
        "        50 %\n      - \"100\\u0020g sugar\"\n";
    struct st_buf out = { 0 };
    struct st_problem problem;
    read_recipe(FOLDED);
    for (int i = 0; i < 2; i++) {
        const struct st_edit edit = { .line = &file.recipe.step[0].line[i], .amount = "1 g" };
        memset(&problem, 0, sizeof problem);
        assert_int_equal(st_recipe_edit(FOLDED, strlen(FOLDED), ST_MEASURES_METRIC, &edit, 1, &out, &problem), -1);
        assert_int_equal(out.length, 0);
        assert_true(problem.at.line > 0 && *problem.why && *problem.try_);
    }
    drop();
    st_buf_done(&out);
}

static void letters_of_two_bytes(void **state)
{
    (void)state;
    static const char TEXT[] = "title: T\nmeasures: metric\nsteps:\n  - blend: \"k\xc3\xbc"
                               "che\"\n    add: [{price: 1, said: \"\xc3\xbc\xc3\xbc\xc3\xbc\", line: 100 g "
                               "sugar}, 1 L water]\n";
    struct st_buf out = { 0 };
    struct st_problem problem = { .what = "" };
    read_recipe(TEXT);
    const struct st_edit edit = { .line = &file.recipe.step[0].line[0], .amount = "120 g" };
    if (st_recipe_edit(TEXT, strlen(TEXT), ST_MEASURES_METRIC, &edit, 1, &out, &problem) != 0)
        fail_msg("%s: %s", problem.what, problem.why);
    assert_non_null(strstr(st_buf_text(&out), "line: 120 g sugar}, 1 L water"));
    drop();
    st_buf_done(&out);
}

/* What is said reads back within the last digit that is said. */
static void fine_amounts_read_back(void **state)
{
    (void)state;
    static const struct {
        const char *as;
        double by, within;
    } CASE[] = { { "700 mL", 0.93, 0.5 }, { "1 L", 1.2341, 0.5 }, { "1.2 kg", 0.777, 0.5 }, { "20 g", 0.5, 0.05 },
                 { "2 g", 0.37, 0.005 },  { "5 cl", 1.1, 0.5 },   { "4 oz", 1.31, 0.5 },    { "3 cups", 1.07, 7.6 },
                 { "2 tbsp", 1.3, 0.7 },  { "3", 1.4, 0.13 },     { "1 lb", 1.5, 0.5 } };
    for (size_t i = 0; i < sizeof CASE / sizeof *CASE; i++) {
        struct st_amount a, back;
        struct st_problem problem;
        size_t used;
        char buf[64];
        assert_int_equal(st_quantity_parse(CASE[i].as, strlen(CASE[i].as), ST_MEASURES_US, &a, &used, &problem), 0);
        st_amount_fine(&a, a.value * CASE[i].by, ST_MEASURES_US, buf, sizeof buf);
        if (st_quantity_parse(buf, strlen(buf), ST_MEASURES_US, &back, &used, &problem) != 0 || used != strlen(buf))
            fail_msg("%s: cannot read %s", CASE[i].as, buf);
        assert_int_equal(back.dim, a.dim);
        if (!(back.value > a.value * CASE[i].by - CASE[i].within && back.value < a.value * CASE[i].by + CASE[i].within))
            fail_msg("%s times %g: %s", CASE[i].as, CASE[i].by, buf);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_what_changes_changes),
        cmocka_unit_test(what_cannot_be_seen_is_not_changed),
        cmocka_unit_test(letters_of_two_bytes),
        cmocka_unit_test(fine_amounts_read_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
