/* `assays:` of a recipe file: units by weight, what must be told, where a refusal stands. */
#include "catalogue_kit.h"

#include <stdio.h>

#include "text/recipe_yaml.h"

static struct st_recipe_file file;

static int read_assays(const char *assays)
{
    char text[2000];
    snprintf(text, sizeof text,
             "title: Test\nassays:\n%s\nsteps:\n  - steep: jar\n    add: [10 g cherry stones, 500 g vodka 40 %%]\n",
             assays);
    return st_recipe_read("test.yaml", text, strlen(text), all, &file);
}

/* found: as written; the lab's figure in mg/kg. */
static void test_units(void **state)
{
    static const struct {
        const char *found;
        double mg_kg;
    } CASE[] = {
        { "120 mg/kg", 120 },    { "120 ppm", 120 },      { "0.12 mg/g", 120 }, { "0.12 g/kg", 120 },
        { "12 mg/100 g", 120 },  { "12 mg/100g", 120 },   { "0.012 %", 120 },   { "120 ug/g", 120 },
        { "120000 µg/kg", 120 }, { "80-120 mg/kg", 120 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        char line[300];
        snprintf(
            line, sizeof line,
            "  - {of: cherry stones, toxicant: hydrogen cyanide, found: %s, laboratory: Invented, date: 2024-05-02}",
            CASE[i].found);
        if (read_assays(line) != 0)
            fail_msg("%s: %s: %s", CASE[i].found, file.problem[0].what, file.problem[0].why);
        assert_int_equal(file.recipe.n_assay, 1);
        assert_float_equal(file.recipe.assay[0].mg_kg, CASE[i].mg_kg, 1e-9);
        assert_string_equal(file.recipe.assay[0].ingredient, must("cherry stones")->slug);
        assert_string_equal(file.recipe.assay[0].toxicant, "hydrogen cyanide");
        assert_string_equal(file.recipe.assay[0].date, "2024-05-02");
        assert_int_equal(file.recipe.assay[0].at.line, 3);
        st_recipe_done(&file);
    }
}

/* Nothing of a list with a fault counts as an assay of that fault's line. */
static void test_refusals(void **state)
{
    static const struct {
        const char *line, *says;
        int column;
    } CASE[] = {
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 12 mg/L, laboratory: L, date: 2024-05-02}",
          "what a laboratory found", 60 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 12, laboratory: L, date: 2024-05-02}",
          "what a laboratory found", 60 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 2 kg/kg, laboratory: L, date: 2024-05-02}",
          "what a laboratory found", 60 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 101 %, laboratory: L, date: 2024-05-02}", "found",
          60 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 12 mg/kg, laboratory: L, date: last May}",
          "as a day", 91 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 12 mg/kg, date: 2024-05-02}",
          "`laboratory` is missing", 5 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 12 mg/kg, laboratory: L}", "`date` is missing",
          5 },
        { "  - {of: moonstones, toxicant: hydrogen cyanide, found: 12 mg/kg, laboratory: L, date: 2024-05-02}",
          "moonstones", 10 },
        { "  - {of: cherry stones, poison: x, toxicant: hydrogen cyanide, found: 12 mg/kg, laboratory: L, date: "
          "2024-05-02}",
          "poison", 25 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 0 mg/kg, laboratory: L, date: 2024-05-02}",
          "an assay of 0", 60 },
        { "  - {of: cherry stones, toxicant: hydrogen cyanide, found: 5 mg/kg, laboratory: L, date: 2999-05-02}",
          "2999-05-02 is still to come", 90 },
        { "  - sweet", "not an assay", 5 },
        { "  of: cherry stones", "is a list", 3 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        assert_int_equal(read_assays(CASE[i].line), -1);
        if (!strstr(file.problem[0].what, CASE[i].says))
            fail_msg("%s\n  %s", CASE[i].line, file.problem[0].what);
        assert_int_equal(file.problem[0].at.line, 3);
        assert_int_equal(file.problem[0].at.column, CASE[i].column);
        assert_int_equal(file.recipe.n_assay, 0);
        st_recipe_done(&file);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(test_units), cmocka_unit_test(test_refusals) };
    return cmocka_run_group_tests(tests, load, unload);
}
