/* The ledger in sentences: bounds are never told smaller than they are, what counts as passed, places by name. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "text/ledger_words.h"
#include "text/rules_built.h"

/* Told to two digits, rounded up: parsed again it is never less, and less than a tenth more. */
static void test_bounds_are_never_told_smaller(void **state)
{
    (void)state;
    char buf[40];
    assert_string_equal(st_bound_words(0.0, buf, sizeof buf), "0");
    assert_string_equal(st_bound_words(41.0, buf, sizeof buf), "41");
    assert_string_equal(st_bound_words(41.01, buf, sizeof buf), "42");
    assert_string_equal(st_bound_words(0.0341, buf, sizeof buf), "0.035");
    assert_string_equal(st_bound_words(1201.0, buf, sizeof buf), "1300");
    assert_string_equal(st_bound_words((double)NAN, buf, sizeof buf), "an unknown amount");
    for (double x = 1e-4; x < 1e6; x *= 1.0137) {
        const double told = strtod(st_bound_words(x, buf, sizeof buf), NULL);
        assert_true(told >= x * (1 - 1e-8) && told < 1.11 * x);
    }
}

static const struct st_rule DRINKS = { .id = "eu-hcn",
                                       .places = ST_PLACE_EU | ST_PLACE_UK,
                                       .document = "Reg. (EC) 1334/2008",
                                       .article = "Annex III Part B",
                                       .year = 2008,
                                       .toxicant = "hydrogen_cyanide",
                                       .plant = "",
                                       .unit = ST_RULE_MG_KG,
                                       .limit = 35,
                                       .in_force = true,
                                       .says = "",
                                       .source = "eu_1334_2008",
                                       .mark = 'm' };

static void test_what_counts(void **state)
{
    (void)state;
    struct st_rule rule = DRINKS;
    struct st_test t = { .rule = &rule, .is = 36, .high = 38, .limit = 35, .verdict = ST_PASSES };
    assert_true(st_test_counts(&t));
    t.verdict = ST_MAY_PASS;
    assert_true(st_test_counts(&t));
    t.verdict = ST_WITHIN;
    assert_false(st_test_counts(&t));
    t.verdict = ST_NOT_ASSESSED; /* no finding of its own exit; told as a caution */
    assert_false(st_test_counts(&t));
    t.verdict = ST_PASSES;
    rule.in_force = false; /* a benchmark */
    assert_false(st_test_counts(&t));
    rule.in_force = true;
    rule.at_least = true; /* a declaration */
    assert_false(st_test_counts(&t));
}

static void test_a_test_told(void **state)
{
    (void)state;
    const struct st_drinker who = { 40, 60 };
    char buf[400];
    struct st_test t = { .rule = &DRINKS, .is = 40.2, .high = 41, .limit = 35, .verdict = ST_PASSES };
    assert_string_equal(
        st_test_words(&t, &who, buf, sizeof buf),
        "at most 41 mg/kg, over 35: Reg. (EC) 1334/2008, Annex III Part B (EU and UK, 2008; unverified figure)");
    struct st_rule dose = DRINKS;
    dose.unit = ST_RULE_MG_KG_BW_DAY;
    dose.places = ST_PLACE_HEALTH;
    dose.document = "EFSA, acute reference dose";
    dose.article = "";
    dose.year = 2016;
    dose.mark = 'r';
    t = (struct st_test){ .rule = &dose, .is = 0.0243, .high = 0.0249, .limit = 0.02, .verdict = ST_PASSES };
    assert_string_equal(st_test_words(&t, &who, buf, sizeof buf),
                        "at most 0.025 mg per kg of body weight in 40 mL for 60 kg, over "
                        "0.02: EFSA, acute reference dose (a health body, 2016)");
}

static void test_places(void **state)
{
    (void)state;
    char buf[120];
    assert_string_equal(st_law_place_words(ST_PLACE_EU | ST_PLACE_UK, buf, sizeof buf), "EU and UK");
    assert_string_equal(st_law_place_words(ST_PLACE_EU | ST_PLACE_US | ST_PLACE_CA, buf, sizeof buf),
                        "EU, US and Canada");
    assert_string_equal(st_law_place_words(0, buf, sizeof buf), "");

    struct st_problem problem = { .what = "" };
    struct st_homes *all = st_homes_built(&problem);
    if (!all)
        fail_msg("%d: %s", problem.at.line, problem.what);
    static const char *const SAME[][2] = { { "EU", "eu" },      { "new zealand", "nz" }, { "USA", "us" },
                                           { "Britain", "uk" }, { "any", "strictest" },  { "Canada", "ca" },
                                           { "au", "au" } };
    for (size_t i = 0; i < sizeof SAME / sizeof *SAME; i++) {
        const struct st_home *p = st_home_find(all, SAME[i][0]);
        assert_non_null(p);
        assert_string_equal(p->code, SAME[i][1]);
        assert_true(p->places & ST_PLACE_HEALTH); /* health bodies hold wherever one lives */
        assert_non_null(strstr(p->first, "ocal rules"));
    }
    assert_null(st_home_find(all, "atlantis"));
    assert_ptr_equal(st_home_find(all, ""), &all->home[0]);
    assert_int_equal(all->home[0].places, ST_PLACE_ALL);
    st_homes_free(all);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(test_bounds_are_never_told_smaller),
                                        cmocka_unit_test(test_what_counts), cmocka_unit_test(test_a_test_told),
                                        cmocka_unit_test(test_places) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
