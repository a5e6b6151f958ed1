/* What a maker's words say of stones and pips: out, shut, opened; and what the ledger makes of that. */
#include "catalogue_kit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "model/ledger.h"
#include "text/recipe_yaml.h"
#include "text/rules_built.h"
#include "text/stone_words.h"
#include "text/watch.h"

static struct st_recipe_file file;

static void read_jar(const char *line, const char *words)
{
    char text[800];
    snprintf(
        text, sizeof text,
        "title: Test\nsteps:\n  - steep: jar\n    words: %s\n    add: [\"%s\", 700 g vodka 40 %%]\n    for: 4 weeks\n",
        words, line);
    if (st_recipe_read("test.yaml", text, strlen(text), all, &file) != 0)
        fail_msg("%s: %s", line, file.problem[0].what);
}

static void test_words(void **state)
{
    static const struct {
        const char *line, *words;
        enum st_stones is;
    } CASE[] = {
        { "500 g damsons", "Turn it now and then.", ST_STONES_SHUT },
        { "500 g damsons", "Prick them. Do not crack the stones.", ST_STONES_SHUT },
        { "500 g damsons", "never crush them", ST_STONES_SHUT },
        { "500 g damsons", "without bruising them", ST_STONES_SHUT },
        { "500 g damsons", "Do not crack all of the stones.", ST_STONES_OPENED },
        { "500 g damsons", "Do not crack more than ten.", ST_STONES_OPENED },
        { "500 g damsons", "Do not shake it. Crack a few stones.", ST_STONES_OPENED },
        { "500 g damsons, crushed", "Turn it.", ST_STONES_OPENED },
        { "500 g cherries, stones cracked", "Turn it.", ST_STONES_OPENED },
        { "200 g peaches with kernels", "Turn it.", ST_STONES_OPENED },
        { "500 g damsons", "Bruise them in a mortar.", ST_STONES_OPENED },
        { "500 g damsons", "Leave them uncracked.", ST_STONES_SHUT },
        { "500 g damsons, pitted", "Turn it.", ST_STONES_OUT },
        { "500 g pitted damsons", "Turn it.", ST_STONES_OUT },
        { "500 g damsons, stones removed", "Turn it.", ST_STONES_OUT },
        { "500 g damsons, half of them pitted", "Turn it.", ST_STONES_SHUT },
        { "500 g damsons, not pitted", "Turn it.", ST_STONES_SHUT },
        { "500 g damsons, pitted, some stones cracked", "Turn it.", ST_STONES_OPENED },
        { "500 g unpitted damsons", "Turn it.", ST_STONES_SHUT },
        { "500 g apples, cored", "Turn it.", ST_STONES_OUT },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        read_jar(CASE[i].line, CASE[i].words);
        if (st_stones_said(&file.recipe, 0, 0) != CASE[i].is)
            fail_msg("%s / %s: %d, not %d", CASE[i].line, CASE[i].words, (int)st_stones_said(&file.recipe, 0, 0),
                     (int)CASE[i].is);
        st_recipe_done(&file);
    }
}

/* The cyanide entry of a jar; NULL: there is none.  *l to be freed. */
static const struct st_ledger_entry *cyanide(struct st_ledger **l, const struct st_rule_books *books)
{
    static struct st_foretold f;
    struct st_problem problem = { .what = "" };
    const struct st_options o = { .seed = 1, .draws = 500 };
    const struct st_drinker who = { 40, 60 };
    struct st_plan *p = st_plan_create(&file.recipe, &problem);
    assert_non_null(p);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    *l = calloc(1, sizeof **l);
    assert_int_equal(st_ledger_make(&file.recipe, &f, books, ST_PLACE_ALL, &who, NULL, 0, *l), ST_OK);
    st_foretold_done(&f);
    st_plan_free(p);
    for (int i = 0; i < (*l)->n_entry; i++)
        if (strcmp((*l)->entry[i].toxicant->slug, "hydrogen_cyanide") == 0)
            return &(*l)->entry[i];
    return NULL;
}

/* The same jar: opened it passes, shut nobody knows, out there is none of it; and the bound is the same opened or shut. */
static void test_the_ledger(void **state)
{
    struct st_problem problem = { .what = "" };
    struct st_rule_books *books = st_rules_built(&problem);
    struct st_ledger *l;
    (void)state;
    assert_non_null(books);
    read_jar("700 g damsons, crushed", "Turn it.");
    const struct st_ledger_entry *e = cyanide(&l, books);
    assert_non_null(e);
    assert_int_equal(e->verdict, ST_PASSES);
    assert_int_equal(e->n_shut, 0);
    const double bound = e->high_mg;
    free(l);
    st_recipe_done(&file);

    read_jar("700 g damsons", "Turn it.");
    e = cyanide(&l, books);
    assert_non_null(e);
    assert_int_equal(e->verdict, ST_IF_OPENED);
    assert_int_equal(e->n_shut, 1);
    assert_true(fabs(e->high_mg - bound) <= 1e-9 * bound);
    free(l);
    st_recipe_done(&file);

    read_jar("700 g damsons, pitted", "Turn it.");
    assert_null(cyanide(&l, books));
    free(l);
    st_recipe_done(&file);

    /* so little that even opened it is within: assessed */
    read_jar("10 g damsons", "Turn it.");
    e = cyanide(&l, books);
    assert_non_null(e);
    assert_int_equal(e->verdict, ST_WITHIN);
    free(l);
    st_recipe_done(&file);
    st_rule_books_free(books);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(test_words), cmocka_unit_test(test_the_ledger) };
    return cmocka_run_group_tests(tests, load, unload);
}
