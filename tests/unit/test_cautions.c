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

#include "plan_kit.h"
#include "text/cautions.h"
#include "text/ingredients.h"
#include "util/file.h"

static struct st_buf sheet;
static struct st_catalogue *all;
static struct st_cautions found;

static int load(void **state)
{
    struct st_problem p = { 0 };
    (void)state;
    if (st_file_read("data/ingredients.sheet", 4u << 20, &sheet))
        return -1;
    all = st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
    return all ? 0 : -1;
}

static int unload(void **state)
{
    (void)state;
    st_catalogue_free(all);
    st_buf_done(&sheet);
    return 0;
}

static const struct st_ingredient *must(const char *name)
{
    const struct st_ingredient *in = st_catalogue_find(all, name, strlen(name));
    if (!in)
        fail_msg("'%s' is not in the sheet", name);
    return in;
}

/* The cautions of one jar of these lines, nothing foretold. */
static void collect(struct st_line *line, int n)
{
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
    const struct st_recipe r = kit_recipe(&step, 1);
    memset(&found, 0x5a, sizeof found);
    st_cautions_collect(&r, NULL, &found);
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

static void worst_first(void **state)
{
    struct st_line line[] = { kit_line(must("whole milk"), kit_ml(100)), kit_line(must("wormwood"), kit_g(2)),
                              kit_line(must("calamus root"), kit_g(5)) };
    (void)state;
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
    st_cautions_collect(&empty, NULL, &found);
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
    int told = 0;
    (void)state;
    assert_true(holds_word("It is Safe.", "safe"));
    assert_false(holds_word("unsafe, safety", "safe"));
    for (size_t i = 0; i < st_catalogue_count(all); i++) {
        const struct st_ingredient *in = st_catalogue_at(all, i);
        struct st_line line[] = { kit_line(in, kit_g(10)) };
        collect(line, 1);
        sound(in->name);
        told += found.n;
        for (int k = 0; k < found.n; k++) {
            promises_nothing(in->name, found.item[k].what);
            promises_nothing(in->name, found.item[k].because);
        }
    }
    assert_true(told > 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(worst_first),
        cmocka_unit_test(nothing_to_tell),
        cmocka_unit_test(full_list_keeps_the_worst),
        cmocka_unit_test(every_ingredient),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
