/* Spirit told by what it does, and none told at all: it is never lost in silence. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "take_kit.h"

static bool says(const char *words)
{
    for (int i = 0; i < t.n_said; i++)
        if (strstr(t.said[i], words))
            return true;
    return false;
}

/* The line of the recipe that is of this thing; NULL none. */
static const struct st_line *line_of(const char *slug)
{
    for (int i = 0; i < t.recipe.recipe.n_step; i++)
        for (int k = 0; k < t.recipe.recipe.step[i].n_line; k++) {
            const struct st_line *l = &t.recipe.recipe.step[i].line[k];
            if (l->what && strcmp(l->what->slug, slug) == 0)
                return l;
        }
    return NULL;
}

static void poured_without_an_amount(void **state)
{
    static const struct {
        const char *text, *slug;
        enum st_open open;
    } CASE[] = {
        { "1 kg damsons in a 3 litre jar, filled up with gin and 250 g sugar.", "gin", ST_OPEN_TOP_UP },
        { "I put 400 g pears and 100 g sugar in a jar and topped it up with rum.", "rum", ST_OPEN_TOP_UP },
        { "We filled a jar half full with damsons, 5 tablespoons of sugar and the rest brandy.", "brandy",
          ST_OPEN_TOP_UP },
        { "She put 500 g plums and 200 g sugar in a jar, covered it with vodka and left it for a month.", "vodka",
          ST_OPEN_COVER },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        assert_int_equal(take(CASE[i].text, NULL), 1);
        const struct st_line *l = line_of(CASE[i].slug);
        assert_non_null(l);
        assert_int_equal(l->amount.open, CASE[i].open);
        assert_true(t.whole);
        assert_true(question("l1.strength") || t.n_more > 0);
        st_take_done(&t);
    }
}

static void poured_and_told_behind(void **state)
{
    (void)state;
    assert_int_equal(take("We covered 3 lb of plums with rum (40%), about 1.2 litres.", NULL), 0);
    const struct st_line *l = line_of("rum"), *plums = line_of("plum_fresh");
    assert_non_null(l);
    assert_true(l->amount.value > 1199 && l->amount.value < 1201);
    assert_true(l->strength.known && l->strength.value > 39.9 && l->strength.value < 40.1);
    assert_true(plums && plums->amount.value > 1360 && plums->amount.value < 1361);
    st_take_done(&t);
}

static void no_spirit_is_asked_for(void **state)
{
    static const struct st_take_answer answer = { "spirit.amount", "700 ml brandy 38%" };
    static const struct st_take_given given = { .answer = &answer, .n_answer = 1 };
    static const char TEXT[] = "Cherry brandy\n\n500 g cherries\n200 g sugar\nLeave 3 weeks, then strain.\n";
    (void)state;
    assert_int_equal(take(TEXT, NULL), 1);
    assert_false(t.whole);
    assert_true(says("The spirit is missing"));
    assert_non_null(question("spirit.amount"));
    st_take_done(&t);
    assert_int_equal(take(TEXT, &given), 0);
    assert_true(t.whole);
    assert_non_null(line_of("brandy"));
    assert_false(says("The spirit is missing"));
    st_take_done(&t);
    assert_int_equal(take("1 kg sugar\n1 l water\nBoil the sugar and water.\n", NULL), 0); /* a syrup needs none */
    assert_true(t.whole);
    st_take_done(&t);
}

static void equal_parts(void **state)
{
    (void)state;
    assert_int_equal(take("Equal parts damsons, sugar and gin\n", NULL), 1);
    assert_non_null(question("part.amount"));
    assert_true(line_of("damson") && line_of("sugar_white") && line_of("gin"));
    st_take_done(&t);
}

static void which_of_two_fruits(void **state)
{
    static const struct st_take_answer answer = { "l1.which", "plum" };
    static const struct st_take_given given = { .answer = &answer, .n_answer = 1 };
    static const char TEXT[] = "1 kg damsons or plums\n700 ml gin 40%\n300 g sugar\n";
    (void)state;
    assert_int_equal(take(TEXT, NULL), 1);
    assert_non_null(question("l1.which"));
    st_take_done(&t);
    assert_int_equal(take(TEXT, &given), 0);
    assert_true(line_of("plum_fresh") && !line_of("damson"));
    st_take_done(&t);
}

static void pages_and_codings(void **state)
{
    (void)state;
    assert_int_equal(take("Here it is: {\"@type\":\"Recipe\",\"name\":\"A\",\"recipeIngredient\":[\"500 g plums\","
                          "\"700 ml vodka 40%\"],\"ingredients\":[\"500 g plums\",\"700 ml vodka 40%\"]} and another "
                          "{\"@type\":\"Recipe\",\"name\":\"B\",\"recipeIngredient\":[\"1 kg pears\"]}",
                          NULL),
                     0);
    assert_true(line_of("plum_fresh") && !line_of("pear_fresh"));
    assert_true(says("holds 2 recipes"));
    int plums = 0;
    for (int i = 0; i < t.n_row; i++)
        plums += t.row[i].item->line.what && strcmp(t.row[i].item->line.what->slug, "plum_fresh") == 0;
    assert_int_equal(plums, 1);
    st_take_done(&t);
    assert_int_equal(take("Gr\xfcne N\xfcsse\n500 g plums\n700 ml vodka 40%\n", NULL), 0);
    assert_true(says("2 letters are of another coding"));
    st_take_done(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(poured_without_an_amount), cmocka_unit_test(poured_and_told_behind),
        cmocka_unit_test(no_spirit_is_asked_for),   cmocka_unit_test(equal_parts),
        cmocka_unit_test(which_of_two_fruits),      cmocka_unit_test(pages_and_codings),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
