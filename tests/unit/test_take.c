/* A pasted text: what of it is kept, what answers and changes do, what is made where the text says little. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdlib.h>
#include <string.h>

#include "take_kit.h"

static const struct st_step *step_of(enum st_do kind)
{
    for (int i = 0; i < t.recipe.recipe.n_step; i++)
        if (t.recipe.recipe.step[i].kind == kind)
            return &t.recipe.recipe.step[i];
    return NULL;
}

static int n_of(const struct st_step *s, const char *slug)
{
    int n = 0;
    for (int i = 0; s && i < s->n_line; i++)
        n += s->line[i].what && strcmp(s->line[i].what->slug, slug) == 0;
    return n;
}

/* Whatever stands in the text comes back from the recipe file as it was. */
static void original_is_kept(void **state)
{
    static const char *const TEXT[] = {
        "Damson\n\n500 g damsons\n700 mL vodka 40 %\n",
        "  Damson, with blanks before\n500 g damsons  \n700 mL vodka 40 %   \n   \n\n\n",
        "500 g damsons\n\t700 mL vodka 40 %\n[not this] {nor this} \"quoted\" \\ # : - |\n% at the beginning",
        "\n\n500 g damsons\n700 mL vodka 40 %",
        "500 g damsons\n700 mL vodka 40 %\n---\n...\n&a *b !c > d\n'single'\n",
    };
    (void)state;
    for (size_t i = 0; i < sizeof TEXT / sizeof TEXT[0]; i++) {
        assert_true(take(TEXT[i], NULL) >= 0);
        assert_int_equal(t.recipe.n_problem, 0);
        assert_string_equal(t.recipe.recipe.original, TEXT[i]);
        st_take_done(&t);
    }
}

/* What no file can hold is put in another way: line ends, control characters, bytes that are no UTF-8. */
static void original_is_made_plain(void **state)
{
    (void)state;
    assert_true(take("500 g damsons\r\n700 mL vodka 40 %\a\r\n\xff\n", NULL) >= 0);
    assert_string_equal(t.recipe.recipe.original, "500 g damsons\n700 mL vodka 40 % \n?\n");
    st_take_done(&t);
}

static void no_method(void **state)
{
    (void)state;
    assert_int_equal(take("Damson\n\n500 g damsons\n700 mL vodka 40 %\n200 g sugar\n150 mL water\n", NULL), 0);
    assert_true(t.whole && t.n_said > 0);
    assert_int_equal(n_of(step_of(ST_DO_STEEP), "damson"), 1);
    assert_int_equal(n_of(step_of(ST_DO_STEEP), "vodka"), 1);
    assert_int_equal(n_of(step_of(ST_DO_SYRUP), "sugar_white"), 1);
    assert_int_equal(n_of(step_of(ST_DO_SYRUP), "water"), 1);
    assert_non_null(step_of(ST_DO_BLEND));
    st_take_done(&t);
}

/* No amount twice: what the method repeats is the same, half of it is half. */
static void counted_once(void **state)
{
    static const char text[] =
        "Damson\n\n500 g damsons\n700 mL vodka 40 %\n200 g sugar\n\nMethod\n"
        "Cover the 500 g damsons with the 700 mL vodka and half the sugar and leave for 4 weeks.\n"
        "Strain. Stir in the rest of the sugar.\n";
    (void)state;
    assert_int_equal(take(text, NULL), 0);
    const struct st_step *steep = step_of(ST_DO_STEEP), *blend = step_of(ST_DO_BLEND);
    assert_int_equal(n_of(steep, "damson"), 1);
    assert_int_equal(n_of(steep, "vodka"), 1);
    assert_int_equal(n_of(steep, "sugar_white"), 1);
    assert_int_equal(n_of(blend, "sugar_white"), 1);
    double sugar = 0;
    for (int i = 0; i < steep->n_line; i++)
        if (steep->line[i].what && strcmp(steep->line[i].what->slug, "sugar_white") == 0)
            sugar += steep->line[i].amount.value;
    assert_true(sugar > 99.9 && sugar < 100.1);
    st_take_done(&t);
}

static void answers_and_changes(void **state)
{
    static const char text[] = "Damson\n\n500 g damsons\n700 mL vodka\n200 g sugar\n";
    const struct st_take_answer answer[] = { { "l4.strength", "42.5" } };
    const struct st_take_change change[] = { { 3, "1 kg damsons", 0 }, { 5, "", 0 } };
    const struct st_take_given given = { .answer = answer, .n_answer = 1, .change = change, .n_change = 2 };
    (void)state;
    assert_int_equal(take(text, NULL), 1);
    assert_int_equal(t.n_question, 1);
    assert_string_equal(t.question[0].id, "l4.strength");
    assert_null(t.question[0].answered);
    assert_true(t.question[0].moves[0] > 1);
    st_take_done(&t);

    assert_int_equal(take(text, &given), 0);
    const struct st_step *steep = step_of(ST_DO_STEEP);
    assert_int_equal(n_of(steep, "sugar_white"), 0);
    for (int i = 0; i < steep->n_line; i++) {
        if (strcmp(steep->line[i].what->slug, "vodka") == 0)
            assert_true(steep->line[i].strength.value == 42.5);
        else
            assert_true(steep->line[i].amount.value == 1000);
    }
    assert_string_equal(t.question[0].answered, "42.5");
    st_take_done(&t);
}

static void a_jar_that_is_half_known(void **state)
{
    (void)state;
    assert_int_equal(take("I filled the jar two thirds with sloes and topped up with gin (37.5 %).\n", NULL), 1);
    assert_true(t.whole);
    assert_int_equal(n_of(step_of(ST_DO_STEEP), "sloe"), 1);
    bool jar = false;
    for (int i = 0; i < t.n_question; i++)
        jar = jar || strcmp(t.question[i].id, "jar.size") == 0;
    assert_true(jar && t.n_question <= 3);
    st_take_done(&t);
}

static void second_pour(void **state)
{
    static const char text[] =
        "Plums twice\n\n800 g plums\n700 mL rum 40 %\nLeave 4 weeks. Drain the liquor off.\n\n"
        "Now put 300 g sugar and 300 mL water over the same fruit, leave for 2 days and drain.\n";
    (void)state;
    assert_true(take(text, NULL) >= 0);
    bool spent = false;
    for (int i = 0; i < t.recipe.recipe.n_step; i++)
        for (int k = 0; k < t.recipe.recipe.step[i].n_line; k++)
            spent = spent || t.recipe.recipe.step[i].line[k].part == ST_SPENT;
    assert_true(spent && t.whole);
    st_take_done(&t);
}

static void refusals(void **state)
{
    struct st_problem p;
    const struct st_take_given none = { 0 };
    char *big = malloc((1 << 16) + 1);
    (void)state;
    assert_non_null(big);
    memset(big, 'a', (1 << 16) + 1);
    assert_int_equal(st_take_text(big, (1 << 16) + 1, catalogue, &none, &t, &p), -1);
    assert_non_null(strstr(p.what, "too long"));
    st_take_done(&t);
    for (int i = 0; i < (1 << 16); i += 2)
        memcpy(big + i, "a\n", 2);
    assert_int_equal(st_take_text(big, 1202, catalogue, &none, &t, &p), -1);
    assert_non_null(strstr(p.what, "too long"));
    st_take_done(&t);
    free(big);
    assert_int_equal(take(" \n\t\n", NULL), -1);
    st_take_done(&t);
    assert_int_equal(take("Good morning.\nHow are you?\n", NULL), -1);
    assert_non_null(strstr(problem.what, "no ingredient"));
    st_take_done(&t);
}

/* Nothing is told that goes in: it is asked, and the answer is read as if it stood in the text. */
static void what_goes_in(void **state)
{
    static const char text[] = "How long should I steep sloes, in gin or in vodka?\n";
    const struct st_take_answer answer[] = { { "goods.amount", "500 g sloes; 700 ml gin 40 %; 200 g sugar" } };
    const struct st_take_given given = { .answer = answer, .n_answer = 1 };
    (void)state;
    assert_int_equal(take(text, NULL), 1);
    assert_int_equal(t.n_question, 2);
    assert_non_null(question("goods.amount"));
    assert_non_null(question("goods.which"));
    assert_int_equal(t.yaml_size, 0);
    st_take_done(&t);
    assert_int_equal(take(text, &given), 0);
    assert_true(t.whole && question("goods.amount") && question("goods.amount")->answered);
    assert_int_equal(n_of(step_of(ST_DO_STEEP), "sloe"), 1);
    st_take_done(&t);
}

/* Who did it, and when, is passed over; the maker's words stay. */
static void a_story_in_the_past(void **state)
{
    (void)state;
    assert_int_equal(
        take("I took a kilo of sour cherries, stones and all, and put them in a jar with 300 g of sugar and a "
             "litre of brandy at 38 %. After 6 weeks or so I strained it and pressed the fruit hard.\n",
             NULL),
        0);
    const struct st_step *steep = step_of(ST_DO_STEEP);
    assert_non_null(steep);
    assert_int_equal(n_of(steep, "cherry_sour"), 1);
    for (int i = 0; i < steep->n_line; i++)
        assert_true(steep->line[i].gross == (strcmp(steep->line[i].what->slug, "cherry_sour") == 0));
    assert_true(steep->press);
    assert_non_null(strstr(t.yaml, "I took a kilo of sour cherries"));
    assert_non_null(strstr(t.yaml, "for: 38-48 days"));
    st_take_done(&t);
}

static void a_page_whose_steps_have_names(void **state)
{
    (void)state;
    assert_int_equal(take("{\"@type\":\"Recipe\",\"name\":\"Quince ratafia\",\"recipeIngredient\":[\"4 quinces\","
                          "\"1 l vodka 40 %\"],\"recipeInstructions\":[{\"@type\":\"HowToStep\",\"name\":"
                          "\"Leave the quinces in the vodka for 6 weeks.\"},{\"@type\":\"HowToStep\",\"name\":\"Last\","
                          "\"text\":\"Strain and bottle.\"}]}",
                          NULL),
                     0);
    assert_true(step_of(ST_DO_STEEP) && step_of(ST_DO_STEEP)->time.value > 41 * 86400.0);
    assert_non_null(step_of(ST_DO_BOTTLE));
    assert_null(strstr(t.yaml, "words: Last"));
    st_take_done(&t);
}

/* What was made of what does not go in besides; proof and strips are said again as they are written. */
static void said_again(void **state)
{
    (void)state;
    assert_int_equal(
        take("400 ml strong coffee, made with 60 g ground coffee\n700 ml vodka 80 proof\na strip of lemon rind\n",
             NULL),
        0);
    assert_int_equal(t.n_row, 3);
    assert_string_equal(t.row[0].item->as, "400 ml strong coffee");
    assert_string_equal(t.row[1].item->as, "700 ml vodka 80 proof");
    assert_string_equal(t.row[2].item->as, "1-5 g lemon rind");
    st_take_done(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(original_is_kept),
        cmocka_unit_test(original_is_made_plain),
        cmocka_unit_test(no_method),
        cmocka_unit_test(counted_once),
        cmocka_unit_test(answers_and_changes),
        cmocka_unit_test(a_jar_that_is_half_known),
        cmocka_unit_test(second_pour),
        cmocka_unit_test(refusals),
        cmocka_unit_test(what_goes_in),
        cmocka_unit_test(a_story_in_the_past),
        cmocka_unit_test(a_page_whose_steps_have_names),
        cmocka_unit_test(said_again),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
