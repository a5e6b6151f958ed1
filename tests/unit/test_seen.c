/* Files of readings, and days of the calendar. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "text/calendar_day.h"
#include "text/learnt_words.h"
#include "text/seen_yaml.h"

static struct st_seen_file F;

static void is_near(double a, double b, double tolerance)
{
    assert_true(fabs(a - b) <= tolerance);
}

static int reads(const char *text)
{
    return st_seen_read("seen.yaml", text, strlen(text), &F);
}

static void refused(const char *text, int line, const char *what)
{
    assert_int_equal(reads(text), -1);
    assert_true(F.file.n_problem > 0);
    const struct st_problem *p = &F.file.problem[0];
    if (p->at.line != line || !strstr(p->what, what))
        print_error("%d:%d: %s\n", p->at.line, p->at.column, p->what);
    assert_int_equal(p->at.line, line);
    assert_non_null(strstr(p->what, what));
    assert_true(*p->why && *p->try_);
    st_seen_done(&F);
}

static void test_one_entry_may_hold_several_readings(void **state)
{
    (void)state;
    assert_int_equal(reads("jar: fruit jar\nbatch: October\nbegun: 2026-10-01\nseen:\n"
                           "  - {day: 1.5, colour: 3, taste: too weak, of: cloves}\n"
                           "  - {on: 2026-10-08, mark: 6, of: cloves, by: Ada}\n"
                           "  - {hour: 12, sg: 1.045, at: 18 °C, strained: yes}\n"
                           "  - {day: 9, drained: 540 ± 9.8 g}\n"),
                     0);
    assert_int_equal(F.n, 5);
    assert_int_equal(F.seen[0].what, ST_SEEN_COLOUR);
    is_near(F.seen[0].t_s, 129600.0, 0.0);
    assert_int_equal(F.seen[1].what, ST_SEEN_TASTE);
    is_near(F.seen[1].value, -1.0, 0.0);
    assert_string_equal(F.seen[1].of, "cloves");
    assert_string_equal(F.seen[1].jar, "fruit jar");
    assert_string_equal(F.seen[1].batch, "October");
    is_near(F.seen[2].t_s, 7 * 86400.0, 0.0);
    assert_string_equal(F.seen[2].by, "Ada");
    is_near(F.seen[3].t_s, 43200.0, 0.0);
    is_near(F.seen[3].temperature_K, 291.15, 1e-9);
    assert_true(F.seen[3].after_straining && !F.seen[2].after_straining);
    is_near(F.seen[4].sd, 5.0, 0.01); /* 9.8 / 1.96 */
    assert_true(F.seen[4].after_straining);
    st_seen_done(&F);
}

static void test_every_figure_is_read_with_its_unit(void **state)
{
    (void)state;
    assert_int_equal(
        reads("seen:\n  - {day: 1, sugar: 180 g/L, acid: 6.2 g/L, strength: 24 %, brix: 23 %, sg: 1.04, ph: 3.2, "
              "strained_off: 270 mL, drained: 41 g}\n"),
        0);
    assert_int_equal(F.n, 8);
    st_seen_done(&F);
}

static void test_a_flask_brings_what_it_holds(void **state)
{
    (void)state;
    assert_int_equal(
        reads("seen:\n  - {day: 9, flask: 98.7 g, flask_holds: 100 mL, sg_boiled: 1.072, weighed: 1.02 kg, at: "
              "21 °C}\n  - {day: 9, sg: 1.01}\n"),
        0);
    assert_int_equal(F.n, 4);
    for (int i = 0; i < F.n; i++)
        is_near(F.seen[i].flask_ml, F.seen[i].what == ST_SEEN_FLASK_G ? 100.0 : 0.0, 0.0);
    assert_int_equal(F.seen[0].what, ST_SEEN_LIQUOR_G);
    assert_true(F.seen[0].after_straining);
    is_near(F.seen[0].value, 1020.0, 1e-9);
    assert_int_equal(F.seen[1].what, ST_SEEN_FLASK_G);
    is_near(F.seen[1].value, 98.7, 1e-9);
    is_near(F.seen[1].temperature_K, 294.15, 1e-9);
    assert_int_equal(F.seen[2].what, ST_SEEN_SG_BOILED);
    st_seen_done(&F);
    refused("seen:\n  - {day: 9, flask: 98.7 g}\n", 2, "nobody knows how much this");
    refused("seen:\n  - {day: 9, sg: 1.02, flask_holds: 100 mL}\n", 2, "stands alone");
    refused("seen:\n  - {day: 9, flask: 182 g, flask_holds: 100 mL}\n", 2, "cannot fill");
    refused("seen:\n  - {day: 9, flask: 98.7 g, flask_holds: 0.1 mL}\n", 2, "cannot be");
    refused("seen:\n  - {day: 9, flask: 98.7 g, flask_holds: 100 g}\n", 2, "100 g");
}

static void test_refusals_say_where(void **state)
{
    (void)state;
    refused("seen:\n  - {day: 1}\n", 2, "says nothing");
    refused("seen:\n  - {colour: 3}\n", 2, "no day");
    refused("seen:\n  - {day: 1, hour: 2, colour: 3}\n", 2, "told twice");
    refused("seen:\n  - {day: 1, mark: 11}\n", 2, "cannot be");
    refused("seen:\n  - {day: 1, taste: lovely}\n", 2, "lovely");
    refused("seen:\n  - {day: 1, colour: 0}\n", 2, "depth of colour");
    refused("seen:\n  - {on: 2026-10-08, colour: 1}\n", 2, "cannot be counted");
    refused("begun: 2026-10-08\nseen:\n  - {on: 2026-10-01, colour: 1}\n", 3, "before");
    refused("begun: 2026-02-29\nseen: []\n", 1, "date");
    refused("title: x\n", 1, "holds no readings");
    refused("seen: much\n", 1, "holds no readings");
    refused("schema_version: 2\nseen: []\n", 1, "version");
    refused("seen:\n  - {day: 1, color: 3}\n", 2, "color");
    refused("seen:\n  - {day: 1, drained: 540 mL}\n", 2, "540 mL");
    refused("seen:\n  - 3\n", 2, "");
}

/* What, where, why, and what to try, for slips that people make. */
static void test_slips_are_told_in_full(void **state)
{
    static const struct {
        const char *entry, *what, *why, *try_;
    } CASE[] = {
        { "{day: -2, colour: 3}", "`day` cannot be `-2`", "begun on day 0", "`day: 2`" },
        { "{hour: \u2212 3, colour: 3}", "`hour` cannot be", "begun on day 0", "begun:" },
        { "{day: 1, mark: 14}", "`mark` cannot be `14`", "from 0, nothing of it, to 10", "14 of 20 is `mark: 7`" },
        { "{day: 1, mark: -1}", "`mark` cannot be `-1`", "never below 0", "sign" },
        { "{day: 1, colour: -1}", "`colour` cannot be `-1`", "grows from 0", "sign" },
        { "{day: 1, sg: 3}", "`sg` cannot be `3`", "between 0.75 and 1.5 20/20", "decimal point" },
        { "{day: 1, ph: 15}", "`ph` cannot be `15`", "pH lies between 0 and 14", "decimal point" },
        { "{day: 1, sg: 1.02, at: 300 \u00b0c}",
          "`at` cannot be 300 \u00b0"
          "C",
          "between -20 and 100", "at: 18" },
        { "{day: x, colour: 3}", "cannot read `x`", "neither a figure", "such as 9 or 8-10" },
        { "{day: 1, tast: right}", "`tast`", "no such key", "`taste`" },
        { "{day: 1, opinion: right}", "`opinion`", "no such key", "docs/seen-file.md" },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        char text[200];
        snprintf(text, sizeof text, "seen:\n  - %s\n", CASE[i].entry);
        assert_int_equal(reads(text), -1);
        const struct st_problem *p = &F.file.problem[0];
        if (!strstr(p->what, CASE[i].what) || !strstr(p->why, CASE[i].why) || !strstr(p->try_, CASE[i].try_) ||
            p->at.line != 2 || p->at.column < 5)
            fail_msg("%d:%d: %s: %s; %s", p->at.line, p->at.column, p->what, p->why, p->try_);
        assert_null(strstr(p->why, " ;"));
        st_seen_done(&F);
    }
    assert_int_equal(reads(""), -1);
    assert_non_null(strstr(F.file.problem[0].try_, "docs/seen-file.md"));
    assert_null(strstr(F.file.problem[0].try_, "recipe-file"));
    st_seen_done(&F);
}

static void scale_words(const char *text, int i, const char *has)
{
    char words[600];
    assert_int_equal(reads(text), 0);
    st_seen_scale_words(words, sizeof words, F.seen, F.n, i);
    if (*has ? !strstr(words, has) : *words)
        fail_msg("%d: %s", i, words);
    st_seen_done(&F);
}

/* Colours and marks of nothing named have a scale of their own, and one alone on its scale says nothing. */
static void test_scales_are_told(void **state)
{
    static const char MIXED[] = "seen:\n  - {day: 1, colour: 3, of: cloves}\n  - {day: 3, colour: 4}\n"
                                "  - {day: 5, colour: 5}\n  - {day: 7, colour: 6, of: cloves}\n";
    static const char MARKS[] =
        "seen:\n  - {day: 1, mark: 3, of: cloves, by: Ada}\n"
        "  - {day: 3, mark: 4, of: cloves, by: Ben}\n  - {day: 5, mark: 5, of: cloves, by: Ada}\n"
        "  - {day: 5, sg: 1.02}\n";
    (void)state;
    scale_words(MIXED, 0, "");
    scale_words(MIXED, 1, "add `of: cloves`");
    scale_words(MIXED, 2, ""); /* once for each scale */
    scale_words(MIXED, 3, "");
    scale_words(MARKS, 0, "");
    scale_words(MARKS, 1, "only mark on its scale, of cloves, by Ben");
    scale_words(MARKS, 3, "");
    scale_words("seen:\n  - {day: 1, colour: 3}\n  - {day: 2, colour: 4}\n", 0, ""); /* all of the whole jar */
    scale_words("seen:\n  - {day: 1, colour: 3, of: cloves}\n", 0, "only depth of colour");
}

/* An odd reading has its unit and an interval, as has what it should be. */
static void test_odd_readings_are_told_with_unit_and_interval(void **state)
{
    const struct st_observation drained = { .what = ST_SEEN_DRAINED_G, .value = 300.0, .sd = 5.0, .t_s = 9 * 86400.0 },
                                sg = { .what = ST_SEEN_SG, .value = 0.98, .t_s = 86400.0 },
                                mark = { .what = ST_SEEN_MARK, .value = 10.0, .t_s = 86400.0 };
    const struct st_learnt_reading weighs = { .after = 37.9 }, floats = { .after = 0.935 }, tastes = { .after = 5.0 };
    char words[600];
    (void)state;
    st_seen_odd_words(words, sizeof words, &drained, &weighs);
    assert_non_null(strstr(words, "300 g on day 9 (with its error 290 to 310)"));
    assert_non_null(strstr(words, "about 37.9 g (with the error of a reading 28.1 to 47.7)"));
    st_seen_odd_words(words, sizeof words, &sg, &floats); /* usual error 0.001, so 0.002 at 95 % */
    assert_non_null(strstr(words, "0.980 (20/20 \u00b0"
                                  "C) on day 1 (with its error 0.978 to 0.982)"));
    st_seen_odd_words(words, sizeof words, &mark, &tastes);
    assert_non_null(strstr(words, "a mark of 10 of 10 on day 1 (with its error 8.04 to 10)"));
    assert_non_null(strstr(words, "about 5 of 10 (with the error of a reading 3.04 to 6.96)"));
}

static void test_too_many_readings_are_refused(void **state)
{
    (void)state;
    static char text[40000];
    size_t n = (size_t)snprintf(text, sizeof text, "seen:\n");
    for (int i = 0; i <= ST_SEEN_MOST; i++)
        n += (size_t)snprintf(text + n, sizeof text - n, "- {day: %d, colour: 1}\n", i);
    assert_int_equal(reads(text), -1);
    st_seen_done(&F);
}

static void test_days_of_the_calendar(void **state)
{
    (void)state;
    long day = 0;
    char out[11];
    assert_true(st_day_number("1970-01-01", &day) && day == 0);
    assert_true(st_day_number("2000-02-29", &day) && day == 11016); /* 30 years of 365, 7 leap days, 31 + 28 */
    assert_int_equal(st_weekday(day), 1);                           /* a Tuesday */
    assert_false(st_day_number("1900-02-29", &day) || st_day_number("2026-04-31", &day) ||
                 st_day_number("2026-1-1", &day) || st_day_number("2026-01-011", &day) || st_day_number("", &day));
    long before = 0;
    assert_true(st_day_number("1800-01-01", &before));
    const long first = before;
    for (long d = first; d < first + 438000; d++) { /* every day of 1800..2999 comes back */
        st_day_write(d, out);
        assert_true(st_day_number(out, &day) && day == d);
    }
    assert_string_equal(out, "2999-03-15"); /* 437,999 days later, by another calendar program */
}

static void test_every_kind_has_its_words(void **state)
{
    (void)state;
    for (int k = 0; k < ST_NSEEN; k++) {
        const struct st_seen_info *i = st_seen_info((enum st_seen)k);
        assert_true(*i->key && *i->name && i->low < i->high);
        assert_true(st_seen_usual_sd((enum st_seen)k, 0.5 * (i->low + i->high)) > 0.0);
    }
    assert_null(st_seen_info(ST_NSEEN));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_entry_may_hold_several_readings),
        cmocka_unit_test(test_every_figure_is_read_with_its_unit),
        cmocka_unit_test(test_a_flask_brings_what_it_holds),
        cmocka_unit_test(test_refusals_say_where),
        cmocka_unit_test(test_slips_are_told_in_full),
        cmocka_unit_test(test_scales_are_told),
        cmocka_unit_test(test_odd_readings_are_told_with_unit_and_interval),
        cmocka_unit_test(test_too_many_readings_are_refused),
        cmocka_unit_test(test_days_of_the_calendar),
        cmocka_unit_test(test_every_kind_has_its_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
