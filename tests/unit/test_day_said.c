/* Days in a maker's words. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "text/calendar_day.h"
#include "text/day_said.h"

static const struct {
    const char *words;
    enum st_day_said said;
    const char *day;
} CASE[] = {
    { "Oct 4: put", ST_DAY_SAID, "2026-10-04" },
    { "4 October put", ST_DAY_SAID, "2026-10-04" },
    { "On 4th of October, put", ST_DAY_SAID, "2026-10-04" },
    { "October 4th, 2025: put", ST_DAY_SAID, "2025-10-04" },
    { "Sunday, Oct 4: put", ST_DAY_SAID, "2026-10-04" },
    { "4.10. put", ST_DAY_SAID, "2026-10-04" },
    { "4.10: put", ST_DAY_SAID, "2026-10-04" },
    { "04.10.2026 put", ST_DAY_SAID, "2026-10-04" },
    { "2026-10-04: put", ST_DAY_SAID, "2026-10-04" },
    { "Dec 24: put", ST_DAY_SAID, "2025-12-24" }, /* the latest such day that has been */
    { "29 February put", ST_DAY_SAID, "2024-02-29" },
    { "Dec 24, 2026: put", ST_DAY_AHEAD, "2026-12-24" },
    { "31 February: put", ST_DAY_NEVER, "" },
    { "40.10. put", ST_DAY_NONE, "" },
    { "12.45. put", ST_DAY_NEVER, "" },
    { "10/4: put", ST_DAY_TWO, "" },
    { "10/24: put", ST_DAY_SAID, "2026-10-24" },
    { "24/10: put", ST_DAY_SAID, "2026-10-24" },
    { "yesterday put", ST_DAY_SAID, "2026-11-28" },
    { "last month I put", ST_DAY_ABOUT, "2026-10-30" },
    { "3 weeks ago I put", ST_DAY_SAID, "2026-11-08" },
    { "two months ago put", ST_DAY_ABOUT, "2026-09-30" },
    { "In October put", ST_DAY_ABOUT, "2026-10-15" },
    { "After six weeks, strain", ST_DAY_SAID, "2026-11-12" }, /* from 1 October */
    { "10 days later strained", ST_DAY_SAID, "2026-10-11" },
    { "after ten weeks strained", ST_DAY_AHEAD, "2026-12-10" },
    { "3/4 cup sugar", ST_DAY_NONE, "" },
    { "4.10 g salt", ST_DAY_NONE, "" },
    { "2 days in the dark", ST_DAY_NONE, "" },
    { "last month's damsons", ST_DAY_NONE, "" },
    { "600 g damsons", ST_DAY_NONE, "" },
    { "marmalade 4", ST_DAY_NONE, "" },
    { "On Nov 40 1 kg damsons", ST_DAY_NEVER, "" },
    { "Nov 40: put", ST_DAY_NEVER, "" },
    { "40 November, put", ST_DAY_NEVER, "" },
    { "May 50 g be enough?", ST_DAY_NONE, "" },
    { "10/4 some sugar", ST_DAY_TWO, "" },
    { "10/24 the sugar", ST_DAY_SAID, "2026-10-24" },
    { "10/12 500 g sugar", ST_DAY_TWO, "" },
    { "On 10/24 I put", ST_DAY_SAID, "2026-10-24" },
    { "On 3/4 the damsons went in", ST_DAY_TWO, "" },
    { "3/4 the sugar", ST_DAY_NONE, "" },
    { "1/2 750 ml bottle", ST_DAY_NONE, "" },
    { "5/4 cups sugar", ST_DAY_NONE, "" },
};

static void every_form(void **state)
{
    long today = 0, before = 0, day = 0;
    (void)state;
    assert_true(st_day_number("2026-11-29", &today) && st_day_number("2026-10-01", &before));
    for (size_t i = 0; i < sizeof CASE / sizeof *CASE; i++) {
        char iso[11] = "";
        const enum st_day_said said = st_day_said(CASE[i].words, today, before, false, &day);
        if (said == ST_DAY_SAID || said == ST_DAY_ABOUT || said == ST_DAY_AHEAD)
            st_day_write(day, iso);
        if (said != CASE[i].said || strcmp(iso, CASE[i].day) != 0)
            print_error("\"%s\": %d %s, wanted %d %s\n", CASE[i].words, (int)said, iso, (int)CASE[i].said, CASE[i].day);
        assert_true(said == CASE[i].said);
        assert_string_equal(iso, CASE[i].day);
    }
}

static void month_first_when_told(void **state)
{
    long today = 0, day = 0, want = 0;
    (void)state;
    assert_true(st_day_number("2026-11-29", &today) && st_day_number("2026-10-04", &want));
    assert_int_equal(st_day_said("10/4: put", today, today, true, &day), ST_DAY_SAID);
    assert_int_equal(day, want);
    assert_int_equal(st_day_said("24/10: put", today, today, true, &day), ST_DAY_SAID);
}

static void where_the_words_end(void **state)
{
    bool since;
    (void)state;
    assert_int_equal(st_day_words_at("Oct 4: put", true, &since), strlen("Oct 4:"));
    assert_false(since);
    assert_int_equal(st_day_words_at("after six weeks, strained", true, &since), strlen("after six weeks,"));
    assert_true(since);
    assert_int_equal(st_day_words_at("after six weeks", false, &since), 0);
    assert_int_equal(st_day_words_at("4.10. put", false, &since), 0);
    assert_int_equal(st_day_words_at("yesterday.", false, &since), strlen("yesterday"));
    assert_int_equal(st_day_words_at("", true, &since), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_form),
        cmocka_unit_test(month_first_when_told),
        cmocka_unit_test(where_the_words_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
