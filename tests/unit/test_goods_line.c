#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "text/day_words.h"
#include "text/goods_line.h"

/* Things owned, as makers say them; and days as one says them. */

struct want {
    const char *text, *name, *slug; /* slug NULL: not on the sheet */
    enum st_dimension dim;
    double amount, strength; /* strength 0: not said */
};

static void lines_that_are_read(void **state)
{
    (void)state;
    static const struct want WANT[] = {
        { "500 g green walnuts", "green walnuts", "walnut_green", ST_DIM_MASS, 500, 0 },
        { "700 mL vodka 40 %", "vodka", "vodka", ST_DIM_VOLUME, 700, 40 },
        { "700 mL vodka", "vodka", "vodka", ST_DIM_VOLUME, 700, 0 },
        { "300 mL orange tincture 55 %", "orange tincture", NULL, ST_DIM_VOLUME, 300, 55 },
        { "1.5 kg damsons, as bought", "damsons", "damson", ST_DIM_MASS, 1500, 0 },
        { "6 lemons", "lemons", NULL, ST_DIM_PIECE, 6, 0 },
        { "1.000 L vodka - 40 %", "vodka", "vodka", ST_DIM_VOLUME, 1000, 40 },
        { "0.250 g saffron", "saffron", "saffron", ST_DIM_MASS, 0.25, 0 },
        { ",5 L gin 40 %", "gin", "gin", ST_DIM_VOLUME, 500, 40 },
        { "gin .5 L 40 %", "gin", "gin", ST_DIM_VOLUME, 500, 40 },
        { "gin,5 L 40 %", "gin", "gin", ST_DIM_VOLUME, 5000, 40 },
        { "40 %,5 L gin", "gin", "gin", ST_DIM_VOLUME, 5000, 40 },
        { ",75 kg white sugar", "white sugar", "sugar_white", ST_DIM_MASS, 750, 0 },
        { "20 cl house bitters no. 3", "house bitters no. 3", NULL, ST_DIM_VOLUME, 200, 0 },
    };
    for (size_t i = 0; i < sizeof WANT / sizeof *WANT; i++) {
        const struct want *w = &WANT[i];
        struct st_goods_line line;
        struct st_problem p = { .what = "" };
        if (st_goods_line_read(w->text, ST_MEASURES_METRIC, all, &line, &p) != 0)
            fail_msg("%s: %s: %s", w->text, p.what, p.why);
        if (strcmp(line.name, w->name) != 0 && strncmp(line.name, w->name, strlen(w->name)) != 0)
            fail_msg("%s: '%s'", w->text, line.name);
        if (w->slug ? !line.what || strcmp(line.what->slug, w->slug) != 0 : line.what != NULL)
            fail_msg("%s: %s", w->text, line.what ? line.what->slug : "not known");
        assert_int_equal(line.amount.dim, w->dim);
        assert_float_equal(line.amount.value, w->amount, 1e-9);
        assert_true(line.strength.known == (w->strength > 0));
        if (w->strength > 0)
            assert_float_equal(line.strength.value, w->strength, 1e-9);
    }
}

static void lines_that_are_not(void **state)
{
    (void)state;
    static const struct {
        const char *text, *says;
        int result;
    } NOT[] = {
        { "walnuts", "no amount", -1 },
        { "some sugar", "no amount", -1 },
        { "water to 1 L", "no amount", -1 },
        { "500 g", "", -1 },
        { "", "", -1 },
        { "100 g foxglove leaves", "must not go into a drink", -1 },
        { "500 mL methylated spirit", "must not go into a drink", -1 },
        { "1 L rubbing alcohol 70 %", "must not go into a drink", -1 },
        { "300 mL foxglove tincture 40 %", "must not go into a drink", -1 },
        { "200 g foxgloove leaves", "must not go into a drink", -1 },
        { "zest and juice of 2 lemons", "two", -1 },
        { "1 jar honey", "how much it holds", -1 },
        { "2 cups sugar", "which cup", 1 },
        { "500 m sugar", "'m'", -1 },
        { "2 Pfund Kirschen", "'Pfund'", -1 },
        { "3 Bund Minze", "'Bund'", -1 },
        { "1 L vodka -40 %", "below nothing", -1 },
        { "1.000 g sugar", "two ways", 1 },
        { "gin ,5 L 40 %", "two ways to read ',5'", 1 },
        { "gin 1 L ,40 %", "two ways to read ',40'", 1 },
        { "sugar 1.234 g", "two ways", 1 },
        { "1 L vodka \xe2\x88\x92"
          "40 %",
          "below nothing", -1 },
    };
    for (size_t i = 0; i < sizeof NOT / sizeof *NOT; i++) {
        struct st_goods_line line;
        struct st_problem p = { .what = "" };
        const int got = st_goods_line_read(NOT[i].text, ST_MEASURES_NONE, all, &line, &p);
        if (got != NOT[i].result || !strstr(p.what, NOT[i].says) || !*p.what)
            fail_msg("'%s': %d, %s", NOT[i].text, got, p.what);
    }
}

static void how_it_was_weighed(void **state)
{
    (void)state;
    struct st_goods_line line;
    struct st_problem p;

    assert_int_equal(st_goods_line_read("500 g cherries, as bought", ST_MEASURES_NONE, all, &line, &p), 0);
    assert_true(line.gross && line.weighing_said);
    assert_int_equal(st_goods_line_read("500 g cherries, pitted", ST_MEASURES_NONE, all, &line, &p), 0);
    assert_true(!line.gross && line.weighing_said);
    assert_int_equal(st_goods_line_read("500 g cherries", ST_MEASURES_NONE, all, &line, &p), 0);
    assert_true(!line.weighing_said);
}

/* Drained fruit is no fresh fruit, but what comes out of a tin is drained too. */
static void drained(void **state)
{
    (void)state;
    struct st_goods_line line;
    struct st_problem p;

    assert_int_equal(st_goods_line_read("200 g drained sloes", ST_MEASURES_NONE, all, &line, &p), 0);
    assert_true(line.drained);
    assert_int_equal(st_goods_line_read("200 g sloes, drained", ST_MEASURES_NONE, all, &line, &p), 0);
    assert_true(line.drained);
    assert_int_equal(st_goods_line_read("300 g cherries in syrup, drained", ST_MEASURES_NONE, all, &line, &p), 0);
    assert_true(!line.drained);
    assert_int_equal(st_goods_line_read("200 g sloes", ST_MEASURES_NONE, all, &line, &p), 0);
    assert_true(!line.drained);
}

static void amounts_alone(void **state)
{
    (void)state;
    struct st_amount a;
    struct st_problem p;

    assert_int_equal(st_goods_amount("1.000 g", ST_MEASURES_NONE, &a, &p), 1);
    assert_true(p.is_question);
    assert_int_equal(st_goods_amount("120 g", ST_MEASURES_NONE, &a, &p), 0);
    assert_float_equal(a.value, 120.0, 1e-9);
    assert_int_equal(st_goods_amount("120 g walnuts", ST_MEASURES_NONE, &a, &p), -1);
    assert_int_equal(st_goods_amount("20 min", ST_MEASURES_NONE, &a, &p), -1);
    assert_int_equal(st_goods_amount("-3 g", ST_MEASURES_NONE, &a, &p), -1);
}

static void days_as_one_says_them(void **state)
{
    (void)state;
    static const struct {
        long days;
        const char *words;
    } SAY[] = {
        { 0, "today" },          { 1, "tomorrow" },       { -1, "yesterday" },     { 2, "in 2 days" },
        { -13, "13 days ago" },  { 14, "in 2 weeks" },    { -63, "9 weeks ago" },  { 64, "in 2 months" },
        { 365, "in 12 months" }, { -730, "2 years ago" }, { 3653, "in 10 years" },
    };
    for (size_t i = 0; i < sizeof SAY / sizeof *SAY; i++) {
        char text[40];
        st_days_words(text, sizeof text, SAY[i].days);
        assert_string_equal(text, SAY[i].words);
    }
}

static void days_of_the_calendar(void **state)
{
    (void)state;
    static const struct {
        const char *iso, *today;
        bool weekday;
        const char *words;
    } SAY[] = {
        { "2027-06-06", "2026-11-30", true, "Sunday 6 June 2027" },
        { "2026-06-06", "2026-11-30", true, "Saturday 6 June" },
        { "2026-06-06T18:30", "2026-11-30", false, "6 June" },
        { "2026-12-31", NULL, false, "31 December 2026" },
        { "2026-02-30", "2026-11-30", true, "a day not known" },
        { NULL, NULL, true, "a day not known" },
    };
    for (size_t i = 0; i < sizeof SAY / sizeof *SAY; i++) {
        char text[40];
        st_date_words(text, sizeof text, SAY[i].iso, SAY[i].today, SAY[i].weekday);
        assert_string_equal(text, SAY[i].words);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_that_are_read),  cmocka_unit_test(lines_that_are_not),
        cmocka_unit_test(how_it_was_weighed),   cmocka_unit_test(drained),
        cmocka_unit_test(amounts_alone),        cmocka_unit_test(days_as_one_says_them),
        cmocka_unit_test(days_of_the_calendar),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
