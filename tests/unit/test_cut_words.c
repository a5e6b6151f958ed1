/* The cut from a maker's words: lines first, then sentences of the step, and what they deny. */
#include "jar_kit.h"

#include "text/cut_words.h"

enum { LINES = 4 };

static struct st_line line[LINES];
static struct st_step step;
static struct st_recipe recipe;

/* A steep of up to four lines with these names and texts. */
static void steep(const char *words, const char *const goods[][2], int n)
{
    memset(line, 0, sizeof line);
    for (int i = 0; i < n; i++)
        line[i] = (struct st_line){ .text = goods[i][1], .what = kit_must(goods[i][0]), .from_step = -1 };
    step = (struct st_step){ .id = "jar", .words = words, .kind = ST_DO_STEEP, .line = line, .n_line = n };
    recipe = (struct st_recipe){ .step = &step, .n_step = 1 };
}

static void cut_is(int i, enum st_cut want, bool want_said)
{
    bool said;
    const enum st_cut got = st_cut_of_line(&recipe, 0, i, &said);
    if (got != want || said != want_said)
        fail_msg("'%s' with '%s': %s%s, wanted %s%s", line[i].text, step.words, st_cut_name(got), said ? " (said)" : "",
                 st_cut_name(want), want_said ? " (said)" : "");
}

static void one(const char *name, const char *text, const char *words, enum st_cut want, bool said)
{
    const char *const goods[1][2] = { { name, text } };
    steep(words, goods, 1);
    cut_is(0, want, said);
}

static void lines(void **state)
{
    (void)state;
    one("almonds", "40 g almonds, crushed", "", ST_CUT_CRUSHED, true);
    one("damsons", "4 damsons, pricked", "", ST_CUT_PRICKED, true);
    one("damsons", "620 g damsons", "", ST_CUT_WHOLE, false);
    one("dried apricots", "200 g dried apricots, halved", "", ST_CUT_HALVED, true);
    one("orange peel", "3 strips of orange peel", "", ST_CUT_STRIPS, true);
    one("orange peel", "peel of one orange, finely grated", "", ST_CUT_CRUSHED, true);
    one("fresh ginger", "30 g fresh ginger, sliced", "", ST_CUT_SLICED, true);
    one("green walnuts", "30 green walnuts, quartered", "", ST_CUT_QUARTERED, true);
    one("cloves", "4 whole cloves", "", ST_CUT_WHOLE, true);
    one("coriander seed", "5 g coriander seed, coarsely ground", "", ST_CUT_GROUND, true);
    one("green walnuts", "30 green walnuts, cut into four", "", ST_CUT_QUARTERED, true);
    one("vanilla pod", "1 vanilla pod, split", "", ST_CUT_HALVED, true);
    one("cinnamon stick", "1 cinnamon stick, broken", "", ST_CUT_CHOPPED, true);
    one("dried apricots", "200 g dried apricots, cut in half", "", ST_CUT_HALVED, true);
    one("dried apricots", "200 g dried apricots, cut up small", "", ST_CUT_CHOPPED, true);
    one("damsons", "half a pound of damsons", "", ST_CUT_WHOLE, false);
    one("damsons", "1 lb 4 oz damsons, uncut", "", ST_CUT_WHOLE, true);
    one("ground almonds", "40 g ground almonds", "", ST_CUT_WHOLE, true); /* as bought */
}

static void steps(void **state)
{
    (void)state;
    one("damsons", "620 g damsons",
        "Prick each damson twice. Keep the jar dark and turn it once a week. Do not crack the stones.", ST_CUT_PRICKED,
        true);
    one("quinces", "1.2 kg quinces", "Rub off the down, grate coarsely with the skin; throw away core and pips.",
        ST_CUT_STRIPS, true);
    one("damsons", "620 g damsons", "Do not crush the damsons.", ST_CUT_WHOLE, true);
    one("damsons", "620 g damsons", "Shake well without bruising.", ST_CUT_WHOLE, false);
    one("damsons", "620 g damsons, sliced", "Prick each damson twice.", ST_CUT_SLICED, true); /* the line rules */
    one("cloves", "4 cloves", "Crush in a mortar.", ST_CUT_CRUSHED, true);                    /* no fruit: all of it */
    one("damsons", "620 g damsons", NULL, ST_CUT_WHOLE, false);
}

static void deeds_go_to_what_their_sentence_names(void **state)
{
    static const char *const GOODS[3][2] = { { "dried apricots", "400 g dried apricots" },
                                             { "cardamom", "3 g cardamom" },
                                             { "cloves", "1 g cloves" } };
    (void)state;
    steep("Halve the apricots and crush the cardamom. Shake the jar on most days.", GOODS, 3);
    cut_is(0, ST_CUT_HALVED, true);
    cut_is(1, ST_CUT_CRUSHED, true);
    cut_is(2, ST_CUT_WHOLE, false);
    steep("The apricots are chopped. Leave the cloves whole.", GOODS, 3);
    cut_is(0, ST_CUT_CHOPPED, true);
    cut_is(1, ST_CUT_WHOLE, false);
    cut_is(2, ST_CUT_WHOLE, true);
    steep("Chop coarsely.", GOODS, 3); /* names nothing: the fruit */
    cut_is(0, ST_CUT_CHOPPED, true);
    cut_is(1, ST_CUT_WHOLE, false);
}

static void steps_that_take_it_on_and_what_was_said(void **state)
{
    const char *const goods[1][2] = { { "coriander seed", "6 g coriander seed" } };
    (void)state;
    steep("In a dry pan.", goods, 1);
    struct st_line take = { .text = "all of jar", .from_step = 0, .part = ST_LIQUOR };
    struct st_step two[2] = {
        step, { .id = "b", .words = "Crack the coriander seed.", .kind = ST_DO_STEEP, .line = &take, .n_line = 1 }
    };
    recipe.step = two;
    recipe.n_step = 2;
    cut_is(0, ST_CUT_CRUSHED, true);
    line[0].said = "6 g coriander seed, ground";
    cut_is(0, ST_CUT_GROUND, true);
}

/* Zest is peel without the white; peel has it. */
static void peel_and_its_white(void **state)
{
    static const char *const GOODS[2][2] = { { "lemon peel", "peel of 4 lemons" },
                                             { "orange peel", "peel of 1 orange" } };
    (void)state;
    one("lemon peel", "zest of 4 lemons", "", ST_CUT_ZEST, true);
    one("lemon peel", "4 lemons, zested", "", ST_CUT_ZEST, true);
    one("lemon peel", "zest of 4 lemons, finely grated", "", ST_CUT_GRATED_ZEST, true);
    one("lemon peel", "3 strips of lemon zest", "", ST_CUT_ZEST, true);
    one("lemon peel", "3 strips of lemon peel, no pith", "", ST_CUT_ZEST, true);
    one("lemon peel", "90 g lemon peel, thinly pared", "", ST_CUT_ZEST, true);
    one("lemon peel", "90 g lemon peel, white removed", "", ST_CUT_ZEST, true);
    one("dried lemon peel", "5 g dried lemon zest", "", ST_CUT_ZEST, true);
    one("lemon peel", "90 g lemon peel", "", ST_CUT_WHOLE, false);
    one("lemon peel", "90 g lemon peel, with the pith", "", ST_CUT_WHOLE, true);
    one("lemon peel", "3 strips of lemon peel, pith and all", "", ST_CUT_STRIPS, true);
    one("lemon peel", "peel of 4 lemons, chopped", "", ST_CUT_CHOPPED, true);
    one("lemon peel", "90 g lemon peel", "Take none of the white.", ST_CUT_ZEST, true);
    one("lemon peel", "90 g lemon peel", "Pour the white rum over it.", ST_CUT_WHOLE, false);
    one("damsons", "620 g damsons", "Add the zest.", ST_CUT_WHOLE, false); /* of peel alone */
    steep("Pare the zest of the lemon; leave the orange in strips, with its pith.", GOODS, 2);
    cut_is(0, ST_CUT_ZEST, true);
    cut_is(1, ST_CUT_STRIPS, true);
    steep("Scrape off the pith.", GOODS, 2); /* names none: all */
    cut_is(0, ST_CUT_ZEST, true);
    cut_is(1, ST_CUT_ZEST, true);
}

static void single_words(void **state)
{
    enum st_cut c;
    (void)state;
    assert_true(st_cut_of_word("Crushed", 7, &c) && c == ST_CUT_CRUSHED);
    assert_true(st_cut_of_word("slices of", 6, &c) && c == ST_CUT_SLICED);
    assert_true(st_cut_of_word("zested", 6, &c) && c == ST_CUT_ZEST);
    assert_true(st_cut_of_word("wedges", 6, &c) && c == ST_CUT_QUARTERED);
    assert_false(st_cut_of_word("half", 4, &c));
    assert_false(st_cut_of_word("pound", 5, &c));
    assert_false(st_cut_of_word("", 0, &c));
    assert_false(st_cut_of_word("|", 1, &c));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines),
        cmocka_unit_test(steps),
        cmocka_unit_test(deeds_go_to_what_their_sentence_names),
        cmocka_unit_test(steps_that_take_it_on_and_what_was_said),
        cmocka_unit_test(peel_and_its_white),
        cmocka_unit_test(single_words),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
