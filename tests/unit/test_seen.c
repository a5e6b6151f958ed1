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
        cmocka_unit_test(test_refusals_say_where),
        cmocka_unit_test(test_too_many_readings_are_refused),
        cmocka_unit_test(test_days_of_the_calendar),
        cmocka_unit_test(test_every_kind_has_its_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
