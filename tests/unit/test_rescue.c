/* What went wrong with a bottle: the sheet is read or refused, a maker's words find their row, and hazards decide. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <string.h>

#include "catalogue_kit.h"
#include "plan_kit.h"
#include "text/low_acid.h"
#include "text/rescue.h"
#include "text/rescue_weigh.h"

static struct st_rescue_book *book;
static struct st_buf file;

static int open_all(void **state)
{
    struct st_problem p = { .what = "" };
    if (load(state) || st_file_read("data/rescue.tsv", 1u << 20, &file))
        return -1;
    book = st_rescue_create(st_buf_text(&file), file.length, &p);
    if (!book)
        print_error("rescue.tsv:%d: %s: %s; %s\n", p.at.line, p.what, p.why, p.try_);
    return book ? 0 : -1;
}

static int close_all(void **state)
{
    st_rescue_free(book);
    st_buf_done(&file);
    return unload(state);
}

/* ---- words ---- */

static const struct {
    const char *words, *keys; /* in the order told; a ? in front: only near */
} SAID[] = {
    { "it fizzes", "fizz" },
    { "it is fizzing a lot!", "fizz" },
    { "mould on top", "mould" },
    { "Mold on top", "mould" },
    { "my jar has mouldy cherries", "mould" },
    { "set like jelly", "jelly" },
    { "cream split", "split" },
    { "the cream curdled after two days", "split" },
    { "oily ring", "ring" },
    { "too bitter", "bitter" },
    { "went brown", "brown" },
    { "sugar crust at the bottom", "crust" },
    { "label lost", "label" },
    { "cork crumbled", "cork" },
    { "smells of vinegar", "vinegar" },
    { "smells of bitter almond", "almond" },
    { "smells of solvent", "solvent" },
    { "acetone", "solvent" }, /* not acetic, which has its stem */
    { "lid bulges", "bulge" },
    { "the lid is bulging", "bulge" },
    { "fruit floats above the liquid", "floats" },
    { "froze", "froze" },
    { "left in the sun", "sun" },
    { "cloudy after water", "water" },
    { "watery", "weakness" },
    { "syrupy", "sweet" },
    { "cloudy", "haze" },
    { "thick sediment", "sediment" },
    { "metal taste", "metal" },
    { "leaked from the lid", "leaked" },
    { "snapped a thermometer in it", "thermometer" },
    { "insects", "insects" },
    { "a wasp fell in", "insects" },
    /* several, the worst first; who denies a hazard is told of it too */
    { "it fizes and there is mold on top", "mould fizz" },
    { "no mould, only a sugar crust", "mould crust" },
    { "it does not fizz", "fizz" },
    /* only near: what has but half of a phrase */
    { "white stuff", "?film sediment" },
    { "bottom", "?crust sediment" },
    /* nothing */
    { "xyzzy", "" },
    { "it", "" },
    { "", "" },
    { "?!", "" },
    { "123", "" },
};

static void keys_of(const struct st_rescue_found *found, char *buf, size_t size)
{
    size_t n = 0;
    *buf = '\0';
    for (int i = 0; i < found->n && n < size; i++)
        n += (size_t)snprintf(buf + n, size - n, "%s%s", i ? " " : found->sure ? "" : "?", found->row[i]->key);
}

static void words_find_their_row(void **state)
{
    char got[200];
    (void)state;
    for (size_t i = 0; i < sizeof SAID / sizeof *SAID; i++) {
        struct st_rescue_found found;
        st_rescue_find(book, SAID[i].words, &found);
        keys_of(&found, got, sizeof got);
        if (strcmp(got, SAID[i].keys) != 0)
            fail_msg("'%s' finds '%s', not '%s'", SAID[i].words, got, SAID[i].keys);
    }
}

/* Every way to say it that the sheet has finds its own row. */
static void every_phrase_finds_its_row(void **state)
{
    (void)state;
    for (int i = 0; i < book->n_row; i++)
        for (const char *p = book->row[i].words; *p;) {
            char phrase[100];
            struct st_rescue_found found;
            bool there = false;
            const size_t n = strcspn(p, "|");
            assert_true(n > 0 && n < sizeof phrase);
            (void)snprintf(phrase, sizeof phrase, "%.*s", (int)n, p);
            st_rescue_find(book, phrase, &found);
            for (int k = 0; k < found.n; k++)
                there = there || found.row[k] == &book->row[i];
            if (!found.sure || !there)
                fail_msg("'%s' does not find %s", phrase, book->row[i].key);
            p += n + (p[n] == '|');
        }
}

static void long_words_end(void **state)
{
    static char many[5000];
    struct st_rescue_found found;
    (void)state;
    for (size_t i = 0; i + 1 < sizeof many; i++)
        many[i] = "fizz mould cork "[i % 16];
    st_rescue_find(book, many, &found);
    assert_true(found.sure && found.n >= 3);
    memset(many, 'a', sizeof many - 1);
    st_rescue_find(book, many, &found);
    assert_int_equal(found.n, 0);
}

/* ---- the sheet ---- */

static void rows_are_whole(void **state)
{
    (void)state;
    assert_true(book->n_row >= 30);
    for (int i = 0; i < book->n_row; i++) {
        const struct st_rescue_row *r = &book->row[i];
        const char *s = r->source;
        if (!(s[0] == '[' && s[strlen(s) - 1] == ']') && strcmp(s, "from memory") != 0 &&
            strcmp(s, "common practice, no source") != 0)
            fail_msg("%s: '%s' is no source", r->key, s);
        for (int k = 0; k < r->n_ask; k++)
            assert_true(r->ask[k].then >= r->verdict);
    }
}

#define HEAD "what\tkey\tname\twords\tasks\tverdict\tbecause\ttodo\tmark\tsource\n"
#define ASK  "ask\tweak\tIs it weak?\t\t\t\tbecause\tdo\tm\tfrom memory\n"

static void refuses(const char *text, int line, const char *why)
{
    struct st_problem p = { .what = "" };
    struct st_rescue_book *b = st_rescue_create(text, strlen(text), &p);
    if (b)
        fail_msg("'%s' was read", text);
    if (p.at.line != line || (!strstr(p.what, why) && !strstr(p.why, why)))
        fail_msg("'%s': line %d, '%s: %s', not line %d, '%s'", text, p.at.line, p.what, p.why, line, why);
}

static void sheets_are_refused(void **state)
{
    struct st_problem p = { .what = "" };
    (void)state;
    struct st_rescue_book *b =
        st_rescue_create(HEAD ASK "sight\tf\tFizz\tfizzy\tweak=bin\tfix\tb\td\tm\tfrom memory\n",
                         strlen(HEAD ASK "sight\tf\tFizz\tfizzy\tweak=bin\tfix\tb\td\tm\tfrom memory\n"), &p);
    assert_non_null(b);
    assert_int_equal(b->n_row, 1);
    assert_int_equal(b->row[0].ask[0].then, ST_RESCUE_BIN);
    st_rescue_free(b);
    st_rescue_free(NULL);
    refuses(HEAD "seen\tf\tFizz\t\t\tfix\tb\td\tm\tfrom memory\n", 2, "no sort of row");
    refuses(HEAD "sight\tf\tFizz\t\t\tkeeps\tb\td\tm\tfrom memory\n", 2, "no verdict");
    refuses(HEAD "sight\tf\tFizz\t\tweak=bin\tfix\tb\td\tm\tfrom memory\n" ASK, 2, "no question");
    refuses(HEAD ASK "sight\tf\tFizz\t\tweak=keep\tfix\tb\td\tm\tfrom memory\n", 3, "better than");
    refuses(HEAD ASK "sight\tf\tFizz\t\tweak\tfix\tb\td\tm\tfrom memory\n", 3, "no verdict");
    refuses(HEAD ASK "sight\tweak\tFizz\t\t\tfix\tb\td\tm\tfrom memory\n", 3, "stands twice");
    refuses(HEAD ASK ASK, 3, "stands twice");
    refuses(HEAD "sight\tf\tFizz\t\t\tfix\tb\t\tm\tfrom memory\n", 2, "empty");
    refuses(HEAD "sight\tf\tFizz\t\t\tfix\tb\td\tm\t\n", 2, "no source");
    refuses(HEAD "ask\tf\tIs it?\t\t\tfix\tb\td\tm\tfrom memory\n", 2, "a question has no");
    refuses(HEAD "sight\tf\tFizz\n", 2, "");
}

/* ---- hazards before thrift ---- */

static const struct st_rescue_row *row_of(const char *key)
{
    for (int i = 0; i < book->n_row; i++)
        if (strcmp(book->row[i].key, key) == 0)
            return &book->row[i];
    fail_msg("no row '%s'", key);
    return NULL;
}

/* The verdict on `key` of a jar of these lines. */
static struct st_rescue_weighed weigh(const char *key, struct st_line *line, int n)
{
    static struct st_foretold f;
    struct st_problem p = { .what = "" };
    struct st_rescue_weighed w;
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, n);
    kit_ideal(&step);
    const struct st_recipe r = kit_recipe(&step, 1);
    struct st_plan *plan = st_plan_create(&r, &p);
    if (!plan)
        fail_msg("%s: %s", p.what, p.why);
    const struct st_options o = { .seed = 1, .draws = 200 };
    assert_true(st_plan_run(plan, &o, &f) >= 0);
    st_rescue_weigh(row_of(key), &r, &f, &w);
    st_foretold_done(&f);
    st_plan_free(plan);
    return w;
}

static const struct st_rescue_ask *decided(const char *key, const struct st_rescue_weighed *w)
{
    return w->decided_by < 0 ? NULL : row_of(key)->ask[w->decided_by].ask;
}

static void strength_decides(void **state)
{
    const struct st_ingredient strong = kit_spirit(40), thin = kit_spirit(19);
    struct st_line line[] = { kit_line(&strong, kit_ml(500)) };
    (void)state;
    struct st_rescue_weighed w = weigh("fizz", line, 1);
    assert_int_equal(w.verdict, ST_RESCUE_FIX);
    assert_int_equal(w.decided_by, -1);
    line[0].what = &thin;
    w = weigh("fizz", line, 1);
    assert_int_equal(w.verdict, ST_RESCUE_BIN);
    assert_string_equal(decided("fizz", &w)->key, "weak");
    assert_non_null(strstr(w.ask[w.decided_by].because, "% vol"));
    /* a crust of sugar is no hazard whatever the strength */
    assert_int_equal(weigh("crust", line, 1).verdict, ST_RESCUE_KEEP);
}

static void milk_egg_garlic_kernels_decide(void **state)
{
    const struct st_ingredient strong = kit_spirit(50), thin = kit_spirit(18);
    struct st_line line[] = { kit_line(&strong, kit_ml(500)), kit_line(must("whole milk"), kit_ml(100)) };
    (void)state;
    struct st_rescue_weighed w = weigh("sun", line, 2);
    assert_int_equal(w.verdict, ST_RESCUE_BIN);
    assert_string_equal(decided("sun", &w)->key, "animal");
    line[1] = kit_line(must("garlic"), kit_g(10));
    w = weigh("vinegar", line, 2);
    assert_int_equal(w.verdict, ST_RESCUE_FIX);
    line[0].what = &thin;
    w = weigh("vinegar", line, 2);
    assert_int_equal(w.verdict, ST_RESCUE_BIN);
    assert_string_equal(decided("vinegar", &w)->key, "lowacid");
    line[0].what = &strong;
    line[1] = kit_line(must("bitter almond"), kit_g(5));
    w = weigh("almond", line, 2);
    assert_int_equal(w.verdict, ST_RESCUE_FIX);
    assert_string_equal(decided("almond", &w)->key, "kernel");
    /* fruit with its stones: nobody but the maker knows whether they were cracked */
    line[1] = kit_line(must("damson"), kit_g(50));
    w = weigh("almond", line, 2);
    assert_int_equal(w.verdict, ST_RESCUE_KEEP);
    assert_int_equal(w.ask[1].answer, ST_ANSWER_OPEN);
    assert_true(w.ask[1].because[0]);
}

static void what_is_barred_is_binned(void **state)
{
    struct st_line line[] = { kit_line(must("calamus root"), kit_g(5)) };
    struct st_step step = kit_step("jar", ST_DO_STEEP, line, 1);
    const struct st_recipe r = kit_recipe(&step, 1);
    struct st_foretold f = { .n_balance = 0 };
    struct st_rescue_weighed w;
    (void)state;
    st_rescue_weigh(row_of("sweet"), &r, &f, &w);
    assert_ptr_equal(w.stopped, must("calamus root"));
    assert_int_equal(w.verdict, ST_RESCUE_BIN);
    /* and without a strength the answer is the wary one */
    st_rescue_weigh(row_of("fizz"), &r, &f, &w);
    assert_int_equal(w.ask[0].answer, ST_ANSWER_YES);
}

/* No verdict with a recipe is better than without. */
static void recipes_only_make_it_worse(void **state)
{
    const struct st_ingredient spirit = kit_spirit(35);
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(all); i += 7) {
        struct st_line line[] = { kit_line(&spirit, kit_ml(10)), kit_line(st_catalogue_at(all, i), kit_g(3)) };
        struct st_step step = kit_step("jar", ST_DO_STEEP, line, 2);
        const struct st_recipe r = kit_recipe(&step, 1);
        const struct st_foretold f = { .fig[ST_FIG_STRENGTH] = { 35, 30, 40, ST_OK, true } };
        for (int k = 0; k < book->n_row; k++) {
            struct st_rescue_weighed w;
            st_rescue_weigh(&book->row[k], &r, &f, &w);
            assert_true(w.verdict >= book->row[k].verdict);
            assert_true(w.decided_by < book->row[k].n_ask);
        }
    }
}

static void low_acid_and_fat(void **state)
{
    static const char *const LOW[] = { "garlic", "carrot", "cucumber", "basil", "chilli", "melon", "pumpkin puree" };
    static const char *const NOT[] = { "damson", "lemon juice", "sugar", "almond", "dried oregano", "vodka" };
    struct st_ingredient oil = kit_ingredient("olive oil", ST_KIND_OTHER);
    (void)state;
    for (size_t i = 0; i < sizeof LOW / sizeof *LOW; i++)
        if (!st_is_low_acid(must(LOW[i])))
            fail_msg("%s", LOW[i]);
    for (size_t i = 0; i < sizeof NOT / sizeof *NOT; i++) {
        const struct st_ingredient *in = st_catalogue_find(all, NOT[i], strlen(NOT[i]));
        if (in && (st_is_low_acid(in) || st_is_fat(in)))
            fail_msg("%s", NOT[i]);
    }
    assert_false(st_is_low_acid(NULL) || st_is_fat(NULL));
    assert_true(st_is_fat(&oil) && st_is_fat(must("butter")));
    assert_false(st_is_fat(must("essential oil")) || st_is_fat(must("whole milk")));
    oil.name = "boiled thing";
    assert_false(st_is_fat(&oil));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_find_their_row),
        cmocka_unit_test(every_phrase_finds_its_row),
        cmocka_unit_test(long_words_end),
        cmocka_unit_test(rows_are_whole),
        cmocka_unit_test(sheets_are_refused),
        cmocka_unit_test(strength_decides),
        cmocka_unit_test(milk_egg_garlic_kernels_decide),
        cmocka_unit_test(what_is_barred_is_binned),
        cmocka_unit_test(recipes_only_make_it_worse),
        cmocka_unit_test(low_acid_and_fat),
    };
    return cmocka_run_group_tests(tests, open_all, close_all);
}
