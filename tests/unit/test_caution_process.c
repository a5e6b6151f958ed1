/* Cautions of the making itself: published figures, what triggers each, and what holds of all cautions together. */
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
#include "core/flash.h"
#include "core/keeping.h"
#include "core/strength.h"
#include "plan_kit.h"
#include "share.h"
#include "text/caution_process.h"
#include "text/cautions.h"
#include "text/source_entry.h"

static struct st_cautions found;
static struct st_buf sources;

static int open_all(void **state)
{
    return load(state) || st_file_read("docs/sources.md", 4u << 20, &sources);
}

static int close_all(void **state)
{
    st_buf_done(&sources);
    return unload(state);
}

static const struct st_caution *told(const char *code)
{
    for (int i = 0; i < found.n; i++)
        if (strcmp(found.item[i].code, code) == 0)
            return &found.item[i];
    return NULL;
}

/* The cautions of these steps, with what is foretold of them. */
static void foretell(struct st_step *step, int n)
{
    static struct st_foretold f;
    struct st_problem p = { .what = "" };
    const struct st_recipe r = kit_recipe(step, n);
    struct st_plan *plan = st_plan_create(&r, &p);
    if (!plan)
        fail_msg("%s: %s", p.what, p.why);
    const struct st_options o = { .seed = 1, .draws = 100 };
    assert_true(st_plan_run(plan, &o, &f) >= 0);
    st_cautions_collect(&r, &f, NULL, &found);
    st_foretold_done(&f);
    st_plan_free(plan);
}

/* One jar of these lines with these words. */
static void jar(struct st_line *line, int n, const char *words)
{
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
    kit_ideal(&step);
    step.words = words;
    foretell(&step, 1);
}

/* ---- published figures ---- */

/* Flash points as published, % vol and degC, 4 C either way [flash_table]: the jar's caution tells them. */
static void flash_points(void **state)
{
    static const double ROW[][2] = { { 10, 49 }, { 20, 36 }, { 40, 26 }, { 50, 24 } };
    (void)state;
    for (size_t i = 0; i < sizeof ROW / sizeof *ROW; i++) {
        const struct st_ingredient spirit = kit_spirit(ROW[i][0]);
        struct st_line line[] = { kit_line(&spirit, kit_ml(500)) };
        jar(line, 1, "");
        const struct st_caution *c = told("flash");
        const char *at = c ? strstr(c->what, "about ") : NULL;
        if (!at) {
            fail();
            return;
        }
        assert_float_equal(strtod(at + 6, NULL), ROW[i][1], 4.0);
        assert_string_equal(c->source, "[flash_table]");
    }
    /* below 5 % vol the table ends, and from 60 % vol on the stronger caution is told instead */
    const struct st_ingredient thin = kit_spirit(4), strong = kit_spirit(70);
    struct st_line line[] = { kit_line(&thin, kit_ml(500)) };
    jar(line, 1, "");
    assert_null(told("flash"));
    line[0].what = &strong;
    jar(line, 1, "");
    assert_null(told("flash"));
    assert_non_null(told("flammable"));
    line[0].what = &thin;
}

/* The published floor of 78 Delle units, 75 to 85 observed [delle_floors]; worked by hand: 100 g/L and 14 % vol give
 * 100 / 10 + 4.5 x 14 = 73, 150 g/L and 14 % vol 78. */
static void delle_row(void **state)
{
    const struct st_floor_row *d = st_floor_get(ST_FLOOR_DELLE);
    (void)state;
    assert_float_equal(d->limit, 78.0, 0.0);
    assert_float_equal(d->clear, 85.0, 0.0);
    struct st_ingredient spirit = kit_spirit(14), sugar = kit_sugar();
    struct st_line line[] = { kit_line(&spirit, kit_ml(1000)), kit_line(&sugar, kit_g(100)) };
    jar(line, 2, "");
    const struct st_caution *c = told("weak_bottle");
    assert_non_null(c);
    assert_non_null(strstr(c->because, "75 to 85 Delle units"));
}

/* ---- what triggers each ---- */

static void garlic_and_herbs(void **state)
{
    const struct st_ingredient thin = kit_spirit(15), strong = kit_spirit(40);
    struct st_line line[] = { kit_line(&thin, kit_ml(500)), kit_line(must("basil"), kit_g(10)) };
    (void)state;
    jar(line, 2, "");
    const struct st_caution *c = told("low_acid");
    assert_non_null(c);
    assert_int_equal(c->level, ST_LEVEL_CAUTION);
    assert_int_equal(c->line, 1);
    assert_non_null(strstr(c->because, "4.6"));
    line[0].what = &strong;
    jar(line, 2, "");
    assert_null(told("low_acid"));
    line[0].what = &thin;
    line[1].what = must("lemon");
    jar(line, 2, "");
    assert_null(told("low_acid"));
}

static void herbs_in_oil(void **state)
{
    struct st_ingredient oil = kit_ingredient("olive oil", ST_KIND_OTHER);
    struct st_line line[] = { kit_line(&oil, kit_ml(500)), kit_line(must("garlic"), kit_g(10)) };
    struct st_step step = kit_step("oil", ST_DO_STEEP, line, 2);
    const struct st_recipe r = kit_recipe(&step, 1);
    (void)state;
    st_cautions_collect(&r, NULL, NULL, &found);
    assert_non_null(told("oil_infusion"));
    step.n_line = 1;
    st_cautions_collect(&r, NULL, NULL, &found);
    assert_null(told("oil_infusion"));
}

static void made_ahead(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40), water = kit_water(), sugar = kit_sugar();
    struct st_line syrup[] = { kit_line(&water, kit_ml(100)), kit_line(&sugar, kit_g(100)) };
    struct st_line drink[] = { kit_line(&spirit, kit_ml(500)), kit_from(0, ST_LIQUOR, kit_all()) };
    struct st_step step[] = { kit_step("syrup", ST_DO_SYRUP, syrup, 2), kit_step("drink", ST_DO_BLEND, drink, 2) };
    (void)state;
    foretell(step, 2);
    assert_null(told("made_ahead"));
    step[0].words = "Boil, cool, and keep it in the fridge until the jar is ready.";
    foretell(step, 2);
    assert_non_null(told("made_ahead"));
    assert_non_null(strstr(told("made_ahead")->what, "50 %"));
    step[0].words = "";
    step[0].time = kit_amount(ST_DIM_TIME, 7 * 86400.0);
    foretell(step, 2);
    assert_non_null(told("made_ahead"));
    syrup[1].amount = kit_g(200); /* two to one, 66.7 % */
    foretell(step, 2);
    assert_null(told("made_ahead"));
}

/* By hand: 100 g of ethanol-water of 40 % vol hold 33.3 g of ethanol (40 x 0.78924 / 0.94805) [oiml1975]. */
static void fruit_that_is_eaten(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_ingredient fruit = kit_fruit("raisin", 0.0, 0.0, 0.0, 1.0);
    struct st_line line[] = { kit_line(&spirit, kit_ml(1000)), kit_line(&fruit, kit_g(100)) };
    (void)state;
    jar(line, 2, "");
    const struct st_caution *c = told("steeped_fruit");
    assert_non_null(c);
    assert_int_equal(c->level, ST_LEVEL_NOTE);
    /* each gram of fruit keeps one gram of liquor: half of what is strained off */
    const double g = strtod(strstr(c->what, "about ") + 6, NULL);
    assert_float_equal(g, 33.3 / 2, 0.6);
    jar(line, 2, "Serve the fruit with ice cream.");
    assert_int_equal(told("steeped_fruit")->level, ST_LEVEL_CAUTION);
}

static const struct {
    const char *words, *code;
    bool is_told;
} WORDS[] = {
    { "Then distil it in a copper still.", "distil", true },
    { "Redistill with the peel.", "distil", true },
    { "Pour it off and distil.", "distil", true },
    { "Freeze, then pour the liquid off the ice.", "distil", true },
    { "Concentrate it in a rotary evaporator.", "distil", true },
    { "Never distil this.", "distil", false },
    { "Use distilled water.", "distil", false },
    { "Triple distilled vodka, 40 %.", "distil", false },
    { "Keep it in a still, dark place.", "distil", false },
    { "Stir while still warm.", "distil", false },
    { "Serve from the freezer, without ice.", "distil", false },
    { "Leave it in a lead crystal decanter.", "vessel", true },
    { "Use an earthenware crock.", "vessel", true },
    { "Use a glass jar.", "vessel", false },
    { "Rinse the jar with rubbing alcohol.", "denatured", true },
    { "Never take methylated spirits.", "denatured", false },
    { "Add pectic enzyme to the fruit.", "methanol", true },
    { "Add pectin.", "methanol", false },
    { "", "distil", false },
};

static void words_that_are_told(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_line line[] = { kit_line(&spirit, kit_ml(500)) };
    (void)state;
    for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++) {
        jar(line, 1, WORDS[i].words);
        if ((told(WORDS[i].code) != NULL) != WORDS[i].is_told)
            fail_msg("'%s': %s is %s", WORDS[i].words, WORDS[i].code, WORDS[i].is_told ? "missing" : "told");
    }
}

static void hot_glass(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_line line[] = { kit_line(&spirit, kit_ml(500)) };
    struct st_line rest[] = { kit_from(0, ST_LIQUOR, kit_all()) };
    struct st_step step[] = { kit_step("jar", ST_DO_STEEP, line, 1), kit_step("b", ST_DO_BOTTLE, rest, 1) };
    (void)state;
    step[0].words = "Warm gently for an hour.";
    step[1].words = "Bottle while still hot.";
    step[1].bottle_ml = 500;
    foretell(step, 2);
    assert_non_null(told("glass"));
    assert_int_equal(told("glass")->level, ST_LEVEL_CAUTION);
    int n = 0;
    for (int i = 0; i < found.n; i++)
        n += strcmp(found.item[i].code, "glass") == 0;
    assert_int_equal(n, 2);
    assert_null(told("flash")); /* the heating step told it */
}

static void light_on_stone_fruit(void **state)
{
    const struct st_ingredient spirit = kit_spirit(40);
    struct st_line line[] = { kit_line(&spirit, kit_ml(500)), kit_line(must("damson"), kit_g(100)) };
    (void)state;
    jar(line, 2, "");
    assert_non_null(told("light"));
    line[1].what = must("strawberry");
    jar(line, 2, "");
    assert_null(told("light"));
}

/* ---- of all cautions ---- */

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

/* "Cured" is what a vanilla pod is. */
static const char *const PROMISE[] = { "safe",       "safely",  "safer",     "safest", "harmless",
                                       "harmlessly", "healthy", "healthier", "cure",   "cures" };

static const char *promise_in(const char *text)
{
    for (size_t i = 0; i < sizeof PROMISE / sizeof *PROMISE; i++)
        if (holds_word(text, PROMISE[i]))
            return PROMISE[i];
    return NULL;
}

static bool has_source(const char *source)
{
    char key[80];
    struct st_source_entry e;
    if (strcmp(source, "from memory") == 0 || strcmp(source, "common practice, no source") == 0 ||
        strcmp(source, st_floor_get(ST_FLOOR_SHELF)->source) == 0) /* "policy, from memory" */
        return true;
    snprintf(key, sizeof key, "%s", source + (source[0] == '['));
    key[strcspn(key, "]")] = '\0';
    return st_source_find(st_buf_text(&sources), sources.length, key, &e);
}

static uint64_t seed = 20260501;

static uint32_t draw(uint32_t below)
{
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(seed >> 33) % below;
}

enum { MOST = 120 };

/* Some things of the catalogue in one jar; nothing is foretold. */
static int random_lines(struct st_line line[MOST])
{
    const int n = 1 + (int)draw(draw(4) ? 12 : MOST - 1);
    for (int i = 0; i < n; i++)
        line[i] = kit_line(st_catalogue_at(all, draw((uint32_t)st_catalogue_count(all))), kit_g(10));
    return n;
}

static void collect(struct st_line *line, int n)
{
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
    step.words = "Warm it gently, keep it in an earthenware crock, then distil.";
    const struct st_recipe r = kit_recipe(&step, 1);
    st_cautions_collect(&r, NULL, NULL, &found);
}

static void check_found(void)
{
    for (int i = 0; i < found.n; i++) {
        const struct st_caution *c = &found.item[i];
        if (!has_source(c->source))
            fail_msg("'%s': its source '%s' has no entry", c->what, c->source);
        if (!c->what[0] || !c->because[0])
            fail_msg("'%s' has no reason", c->what);
        if (promise_in(c->what) || promise_in(c->because))
            fail_msg("'%s': '%s'", c->what, c->because);
        if (strlen(c->what) + 1 == sizeof c->what || strlen(c->because) + 1 == sizeof c->because)
            fail_msg("'%s' is cut off: '%s'", c->what, c->because);
    }
}

static void every_caution_has_a_source(void **state)
{
    static struct st_foretold f;
    struct st_line line[MOST];
    int foretold = 0;
    (void)state;
    for (int k = 0; k < ST_SHARE_OF(2000, 4); k++) {
        collect(line, random_lines(line));
        check_found();
    }
    for (int k = 0; k < ST_SHARE_OF(300, 2); k++) {
        const struct st_ingredient spirit = kit_spirit(5.0 + draw(90));
        struct st_problem p = { .what = "" };
        const int n = random_lines(line);
        line[n - 1] = kit_line(&spirit, kit_ml(20.0 + draw(1000)));
        struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
        const struct st_recipe r = kit_recipe(&step, 1);
        struct st_plan *plan = st_plan_create(&r, &p);
        const struct st_options o = { .seed = 1, .draws = 40 };
        if (plan && st_plan_run(plan, &o, &f) >= 0) {
            st_cautions_collect(&r, &f, NULL, &found);
            check_found();
            foretold++;
            st_foretold_done(&f);
        }
        st_plan_free(plan);
    }
    assert_true(foretold > ST_SHARE_OF(30, 2));
}

/* The same thing told: of a whole jar the figure in it may change ("about 96 % vol" where another spirit joins). */
static bool is_still_told(const struct st_caution *c)
{
    for (int i = 0; i < found.n; i++)
        if (strcmp(found.item[i].code, c->code) == 0 && found.item[i].line == c->line &&
            found.item[i].step == c->step && found.item[i].level >= c->level &&
            (c->line < 0 || strcmp(found.item[i].what, c->what) == 0))
            return true;
    return false;
}

static void adding_takes_nothing_away(void **state)
{
    static struct st_cautions before;
    struct st_line line[MOST + 1];
    int cut = 0;
    (void)state;
    for (int k = 0; k < ST_SHARE_OF(3000, 4); k++) {
        const int n = random_lines(line);
        collect(line, n);
        before = found;
        line[n] = kit_line(st_catalogue_at(all, draw((uint32_t)st_catalogue_count(all))), kit_g(10));
        collect(line, n + 1);
        const struct st_caution *over = told("left_out");
        cut += over != NULL;
        for (int i = 0; i < before.n; i++)
            if (strcmp(before.item[i].code, "left_out") != 0 && !is_still_told(&before.item[i]) &&
                !(over && before.item[i].level <= over->level))
                fail_msg("adding %s takes away '%s'", line[n].what->name, before.item[i].what);
    }
    assert_true(cut > ST_SHARE_OF(20, 4));
}

/* More than there is room for: the worst are kept, and that some are missing is told. */
static void overflow_is_told(void **state)
{
    enum { MANY = 120 };
    static struct st_line line[MANY];
    (void)state;
    for (int i = 0; i < MANY; i++)
        line[i] = kit_line(must("almond"), kit_g(1));
    line[MANY - 1] = kit_line(must("calamus root"), kit_g(1));
    collect(line, 20);
    const int few = found.n;
    assert_true(few < ST_MAX_CAUTIONS && !told("left_out"));
    collect(line, MANY);
    assert_int_equal(found.n, ST_MAX_CAUTIONS);
    assert_int_equal(found.item[0].level, ST_LEVEL_STOP);
    assert_non_null(told("left_out"));
    assert_true(found.left_out > 0);
    for (int i = 0; i < found.n; i++)
        assert_true(found.item[i].level >= told("left_out")->level);
    collect(line, 20);
    assert_int_equal(found.n, few);
    assert_int_equal(found.left_out, 0);
}

/* ---- all texts in one sitting ---- */

static const char *const TEXTS[] = {
    "data/ingredients.sheet",
    "data/rescue.tsv",
    "data/fining.tsv",
    "data/habits.tsv",
    "data/markers.tsv",
    "src/text/caution_process.c",
    "src/text/caution_words_asked.c",
    "src/text/cautions.c",
    "src/text/caution_heat.c",
    "src/text/caution_words.c",
    "src/text/caution_list.c",
    "src/text/clearing_words.c",
    "src/text/advice.c",
    "src/text/stops.c",
    "src/text/held.c",
    "src/text/heat_words.c",
    "src/cli/rescue.c",
    "src/cli/rescue_page.c",
};

/* Sheets of other parts of "what to watch": read where they are there. */
static const char *const MAYBE[] = { "data/toxicants.tsv", "data/contents.tsv",  "data/rules.tsv",  "data/places.tsv",
                                     "data/classes.tsv",   "data/allergens.tsv", "data/drinks.tsv", "data/guest.tsv",
                                     "data/shop_units.tsv" };

static int read_text(const char *name, bool must_be)
{
    struct st_buf b = { 0 };
    if (st_file_read(name, 4u << 20, &b)) {
        if (must_be)
            fail_msg("%s cannot be read", name);
        return 0;
    }
    int number = 0;
    for (char *line = b.text; line && *line;) {
        char *end = strchr(line, '\n');
        if (end)
            *end = '\0';
        number++;
        const char *word = *line == '#' ? NULL : promise_in(line);
        if (word)
            fail_msg("%s:%d: '%s' in: %.200s", name, number, word, line);
        line = end ? end + 1 : NULL;
    }
    st_buf_done(&b);
    return number;
}

static void texts_promise_nothing(void **state)
{
    int lines = 0;
    (void)state;
    assert_non_null(promise_in("It will Cure you."));
    assert_null(promise_in("unsafe, safety, secure, health"));
    for (size_t i = 0; i < sizeof TEXTS / sizeof *TEXTS; i++)
        lines += read_text(TEXTS[i], true);
    for (size_t i = 0; i < sizeof MAYBE / sizeof *MAYBE; i++)
        lines += read_text(MAYBE[i], false);
    assert_true(lines > 5000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(flash_points),
        cmocka_unit_test(delle_row),
        cmocka_unit_test(garlic_and_herbs),
        cmocka_unit_test(herbs_in_oil),
        cmocka_unit_test(made_ahead),
        cmocka_unit_test(fruit_that_is_eaten),
        cmocka_unit_test(words_that_are_told),
        cmocka_unit_test(hot_glass),
        cmocka_unit_test(light_on_stone_fruit),
        cmocka_unit_test(every_caution_has_a_source),
        cmocka_unit_test(adding_takes_nothing_away),
        cmocka_unit_test(overflow_is_told),
        cmocka_unit_test(texts_promise_nothing),
    };
    return cmocka_run_group_tests(tests, open_all, close_all);
}
