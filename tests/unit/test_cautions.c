/* First cautions: worst first, each once, a full list keeps the worst, and no word that promises anything. */
#include <ctype.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "plan_kit.h"
#include "text/advice.h"
#include "text/cautions.h"
#include "text/held.h"
#include "text/stops.h"

static struct st_cautions found;

/* The cautions of one jar of these lines, nothing foretold. */
static void collect(struct st_line *line, int n)
{
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
    const struct st_recipe r = kit_recipe(&step, 1);
    memset(&found, 0x5a, sizeof found);
    st_cautions_collect(&r, NULL, NULL, &found);
}

static bool has(const char *code, enum st_level level)
{
    for (int i = 0; i < found.n; i++)
        if (strcmp(found.item[i].code, code) == 0 && found.item[i].level == level)
            return true;
    return false;
}

static void sound(const char *name)
{
    assert_in_range(found.n, 0, ST_MAX_CAUTIONS);
    for (int i = 0; i < found.n; i++) {
        const struct st_caution *c = &found.item[i];
        if (!c->what[0] || !c->because[0] || !c->code || !c->code[0] || !c->source || !c->source[0])
            fail_msg("%s: caution %d (%s) lacks a word, a reason or a source", name, i, c->what);
        if (i > 0 && c->level > c[-1].level)
            fail_msg("%s: '%s' stands after something lesser", name, c->what);
        for (int k = 0; k < i; k++)
            if (found.item[k].step == c->step && found.item[k].line == c->line &&
                strcmp(found.item[k].code, c->code) == 0 && strcmp(found.item[k].what, c->what) == 0)
                fail_msg("%s: '%s' is told twice", name, c->what);
    }
}

/* Poisons by dose are no mere notes from `moderate` on, and say that their worst case is open. */
static void poisons_are_cautions(void **state)
{
    static const char *const CASE[][2] = {
        { "rowan berries", "parasorbic" }, { "avocado stone", "persin" },  { "larch agaric", "agaric" },
        { "bitter aloes", "aloin" },       { "wormseed", "santonin" },     { "birch bark", "salicylates" },
        { "poppy seeds", "opiates" },      { "rhubarb root", "laxative" }, { "sweet apricot kernels", "cyanogenic" }
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        struct st_line line = kit_line(must(CASE[i][0]), kit_g(5));
        collect(&line, 1);
        sound(CASE[i][0]);
        if (!has(CASE[i][1], ST_LEVEL_CAUTION))
            fail_msg("%s: %s is no caution", CASE[i][0], CASE[i][1]);
        for (int k = 0; k < found.n; k++)
            if (strcmp(found.item[k].code, CASE[i][1]) == 0)
                assert_non_null(strstr(found.item[k].because, "worst case not assessed"));
    }
}

static void worst_first(void **state)
{
    struct st_line line[] = { kit_line(must("whole milk"), kit_ml(100)), kit_line(must("wormwood"), kit_g(2)),
                              kit_line(must("calamus root"), kit_g(5)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 3);
    const struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    assert_ptr_equal(st_recipe_stop(&r), must("calamus root"));
    step.n_line = 2;
    assert_null(st_recipe_stop(&r));
    collect(line, 3);
    sound("three");
    assert_true(found.n >= 4);
    assert_int_equal(found.item[0].level, ST_LEVEL_STOP);
    assert_string_equal(found.item[0].code, "banned");
    assert_int_equal(found.item[0].line, 2);
    assert_true(has("thujone", ST_LEVEL_CAUTION));
    assert_true(has("perishable", ST_LEVEL_CAUTION));
    assert_true(has("allergen", ST_LEVEL_NOTE));
}

static void nothing_to_tell(void **state)
{
    const struct st_ingredient water = kit_water();
    struct st_line line[] = { kit_line(&water, kit_ml(100)) };
    const struct st_recipe empty = kit_recipe(NULL, 0);
    (void)state;
    collect(line, 1);
    assert_int_equal(found.n, 0);
    found.n = 7;
    st_cautions_collect(&empty, NULL, NULL, &found);
    assert_int_equal(found.n, 0);
}

/* A hundred lines of milk fill the list; what is barred comes last and must still be told, first. */
static void full_list_keeps_the_worst(void **state)
{
    enum { MANY = 100 };
    static struct st_line line[MANY + 1];
    (void)state;
    for (int i = 0; i < MANY; i++)
        line[i] = kit_line(must("whole milk"), kit_ml(10));
    line[MANY] = kit_line(must("calamus root"), kit_g(5));
    collect(line, MANY + 1);
    sound("a hundred");
    assert_int_equal(found.n, ST_MAX_CAUTIONS);
    assert_int_equal(found.item[0].level, ST_LEVEL_STOP);
    assert_string_equal(found.item[0].code, "banned");
    assert_true(has("perishable", ST_LEVEL_CAUTION));
}

static bool holds_word(const char *text, const char *word)
{
    const size_t n = strlen(word);
    for (const char *p = text; *p; p++) {
        size_t k = 0;
        while (k < n && tolower((unsigned char)p[k]) == word[k])
            k++;
        if (k == n && (p == text || !isalpha((unsigned char)p[-1])) && !isalpha((unsigned char)p[n]))
            return true;
    }
    return false;
}

static void promises_nothing(const char *name, const char *text)
{
    static const char *const word[] = { "safe", "safely", "harmless" };
    for (size_t i = 0; i < sizeof word / sizeof word[0]; i++)
        if (holds_word(text, word[i]))
            fail_msg("%s: '%s' holds '%s'", name, text, word[i]);
}

static void every_ingredient(void **state)
{
    int told = 0, stopped = 0;
    (void)state;
    assert_true(holds_word("It is Safe.", "safe"));
    assert_false(holds_word("unsafe, safety", "safe"));
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        struct st_line line[] = { kit_line(in, kit_g(10)) };
        collect(line, 1);
        sound(in->name);
        told += found.n;
        assert_true(st_ingredient_is_stopped(in) == st_cautions_stop(&found)); /* one rule */
        stopped += st_cautions_stop(&found);
        for (int k = 0; k < found.n; k++) {
            promises_nothing(in->name, found.item[k].what);
            promises_nothing(in->name, found.item[k].because);
        }
    }
    assert_true(told > 100);
    assert_true(stopped > 20);
}

static const struct st_caution *told(const char *code)
{
    for (int i = 0; i < found.n; i++)
        if (strcmp(found.item[i].code, code) == 0)
            return &found.item[i];
    return NULL;
}

/* "walnut" is a part of the word "black walnut" and must be named all the same. */
static void a_name_within_a_name(void **state)
{
    struct st_line line[] = { kit_line(must("black walnut"), kit_g(50)), kit_line(must("walnut"), kit_g(50)) };
    (void)state;
    collect(line, 2);
    const struct st_caution *c = told("allergens");
    assert_non_null(c);
    assert_non_null(strstr(c->what, ": black walnut, walnut"));
}

/* One ingredient may hold it, the other does: the surer of the two is told, whichever comes first. */
static void the_surest_mention_counts(void **state)
{
    struct st_ingredient may = kit_ingredient("may", ST_KIND_OTHER), does = kit_ingredient("does", ST_KIND_OTHER);
    (void)state;
    may.allergen[0] = (struct st_flag){ "sulphites", "possible_eu_us", "read the pack", "eu_1169_2011", 'r' };
    may.allergen[1] = (struct st_flag){ "milk", "possible_eu_us", "read the pack", "eu_1169_2011", 'r' };
    may.n_allergen = 2;
    does.allergen[0] = (struct st_flag){ "sulphites", "eu_us", "declared", "eu_1169_2011", 'r' };
    does.allergen[1] = (struct st_flag){ "almond", "voluntary", "close to it", "eu_1169_2011", 'r' };
    does.n_allergen = 2;
    struct st_line line[] = { kit_line(&may, kit_g(1)), kit_line(&does, kit_g(1)) };
    collect(line, 2);
    assert_non_null(told("allergens"));
    assert_string_equal(told("allergens")->what,
                        "allergens in this bottle: sulphites; may be there: milk; on no list: almond");
}

/* More allergens than the line holds: it says that there are more. */
static void many_allergens(void **state)
{
    static char code[40][40];
    static struct st_ingredient in[40];
    static struct st_line line[40];
    (void)state;
    for (int i = 0; i < 40; i++) {
        snprintf(code[i], sizeof code[i], "invented_thing_%d", i);
        in[i] = kit_ingredient(code[i], ST_KIND_OTHER);
        in[i].allergen[0] = (struct st_flag){ code[i], "eu_us", "declared", "eu_1169_2011", 'r' };
        in[i].n_allergen = 1;
        line[i] = kit_line(&in[i], kit_g(1));
    }
    collect(line, 40);
    assert_non_null(told("allergens"));
    assert_non_null(strstr(told("allergens")->what, "and more, see each line"));
}

/* The line for the whole bottle is not what a full list loses. */
static void a_full_list_keeps_the_whole_bottle(void **state)
{
    static struct st_line line[100];
    (void)state;
    for (int i = 0; i < 100; i++)
        line[i] = kit_line(must("walnut"), kit_g(1));
    collect(line, 100);
    sound("walnuts");
    assert_int_equal(found.n, ST_MAX_CAUTIONS);
    assert_non_null(told("allergens"));
}

static bool stone_told(const char *words)
{
    struct st_line line[] = { kit_line(must("damson"), kit_g(500)) };
    line[0].text = words;
    collect(line, 1);
    return told("cyanogenic") != NULL;
}

static void a_stone_only_while_it_is_in(void **state)
{
    (void)state;
    assert_true(stone_told("500 g damsons"));
    assert_true(stone_told(NULL));
    assert_false(stone_told("500 g damsons, pitted"));
    assert_false(stone_told("500 g stoned damsons"));
    assert_true(stone_told("500 g damsons, unpitted"));
    assert_true(stone_told("500 g damsons, not pitted"));
    assert_true(stone_told("500 g damsons, half of them pitted"));
    assert_true(stone_told("500 g damsons, pitted, with 20 stones cracked"));
    struct st_line kernel[] = { kit_line(must("bitter apricot kernel"), kit_g(5)) };
    kernel[0].text = "5 g apricot kernels, pitted"; /* never a way round a kernel */
    collect(kernel, 1);
    assert_true(has("cyanogenic", ST_LEVEL_CAUTION));
}

/* No flag that the sheet calls high is told as a mere note. */
static void high_is_never_a_note(void **state)
{
    int high = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        struct st_line line[] = { kit_line(in, kit_g(10)) };
        collect(line, 1);
        for (int k = 0; k < in->n_caution; k++) {
            if (strcmp(in->caution[k].degree, "high") != 0)
                continue;
            high++;
            if (!has(in->caution[k].what, ST_LEVEL_CAUTION) && !has(in->caution[k].what, ST_LEVEL_STOP))
                fail_msg("%s: %s, high, is told as a note", in->name, in->caution[k].what);
        }
    }
    assert_true(high > 50);
}

static bool warmed(double strength, double celsius)
{
    const struct st_ingredient spirit = kit_spirit(strength);
    struct st_line line[] = { kit_line(&spirit, kit_ml(500)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 1);
    step.temperature_K = kit_sharp(celsius + 273.15);
    const struct st_recipe r = kit_recipe(&step, 1);
    st_cautions_collect(&r, NULL, NULL, &found);
    return told("heat") != NULL;
}

/* [flash_table]: 40 % vol 26 C, 20 % vol 36 C. */
static void warm_spirit(void **state)
{
    (void)state;
    assert_false(warmed(40, 20));
    assert_true(warmed(40, 28));
    assert_non_null(strstr(told("heat")->because, "40 % vol is about 26 "));
    assert_false(warmed(20, 28));
    assert_true(warmed(20, 60));
    assert_non_null(strstr(told("heat")->because, "20 % vol is about 36 "));
    assert_true(warmed(3, 60)); /* off the table: told without a figure */
    assert_non_null(strstr(told("heat")->because, "begins at 5 % vol"));
    assert_true(warmed(100, 60));
    assert_true(has("flammable", ST_LEVEL_CAUTION));
}

static void strong_spirit_poured(void **state)
{
    (void)state;
    warmed(59, 15);
    assert_null(told("flammable"));
    warmed(60, 15);
    assert_non_null(told("flammable"));
    assert_non_null(strstr(told("flammable")->because, "about 22 "));
}

/* What only some places bar stops there, and where nobody said where they live; poison stops everywhere. */
static void barred_by_place(void **state)
{
    static const struct {
        const char *name;
        unsigned places;
        bool stops;
    } CASE[] = {
        { "tonka bean", ST_PLACE_ALL, true },
        { "tonka bean", ST_PLACE_US | ST_PLACE_HEALTH, true },
        { "tonka bean", ST_PLACE_CA | ST_PLACE_HEALTH, true },
        { "tonka bean", ST_PLACE_EU | ST_PLACE_HEALTH, false },
        { "tansy", ST_PLACE_US, true },
        { "tansy", ST_PLACE_UK, false },
        { "aconite", ST_PLACE_EU, true },
        { "aconite", ST_PLACE_ALL, true },
        { "calamus root", ST_PLACE_NZ, true },
        { "tonka bean", ST_PLACE_ALL, true }, /* and back again */
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        st_catalogue_live_in(all, CASE[i].places);
        const struct st_ingredient *in = st_catalogue_find(all, CASE[i].name, strlen(CASE[i].name));
        assert_non_null(in);
        if (st_ingredient_is_stopped(in) != CASE[i].stops)
            fail_msg("%s: %s", CASE[i].name, CASE[i].stops ? "does not stop" : "stops");
    }
    assert_false(st_catalogue_is_changed(all));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(poisons_are_cautions),
        cmocka_unit_test(worst_first),
        cmocka_unit_test(nothing_to_tell),
        cmocka_unit_test(full_list_keeps_the_worst),
        cmocka_unit_test(every_ingredient),
        cmocka_unit_test(a_name_within_a_name),
        cmocka_unit_test(the_surest_mention_counts),
        cmocka_unit_test(many_allergens),
        cmocka_unit_test(a_full_list_keeps_the_whole_bottle),
        cmocka_unit_test(a_stone_only_while_it_is_in),
        cmocka_unit_test(high_is_never_a_note),
        cmocka_unit_test(barred_by_place),
        cmocka_unit_test(warm_spirit),
        cmocka_unit_test(strong_spirit_poured),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
