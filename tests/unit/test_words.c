/* Wording of figures: rounding by the half width, ends outward, whole bottles before decimals. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"

static struct st_interval of(double value, double low, double high)
{
    return (struct st_interval){ value, low, high, ST_OK, true };
}

static void says(double value, double low, double high, const char *unit, const char *wanted)
{
    char text[160];
    const struct st_interval x = of(value, low, high);
    st_figure_words(text, sizeof text, &x, unit);
    assert_string_equal(text, wanted);
}

static void test_half_width_to_one_figure_two_if_it_starts_with_one(void **state)
{
    (void)state;
    says(23.41, 21.44, 25.36, "% vol", "23 % vol, likely between 21 and 26"); /* half 1.96: 2 */
    says(23.41, 21.51, 25.31, "% vol", "23.4 % vol, likely between 21.5 and 25.4"); /* half 1.90 */
    says(172.3, 141.0, 203.0, "g/L", "170 g/L, likely between 140 and 210"); /* half 31 */
    says(1.0432, 1.0402, 1.0463, "", "1.043, likely between 1.040 and 1.047"); /* half 0.003 */
    says(0.52, 0.42, 0.61, "g/L", "0.52 g/L, likely between 0.42 and 0.61"); /* half 0.09 or 0.10: place 0.01 both ways */
    says(0.52, 0.31, 0.72, "g/L", "0.5 g/L, likely between 0.3 and 0.8"); /* half 0.2 */
}

static void test_half_width_at_a_power_of_ten(void **state)
{
    (void)state;
    says(50.0, 40.0, 60.0, "g", "50 g, likely between 40 and 60");  /* half 10: two figures, place 1 */
    says(50.4, 40.6, 60.4, "g", "50 g, likely between 40 and 61");  /* half 9.9 rounds up to 10: place 1 */
    says(5.04, 4.06, 6.02, "g", "5.0 g, likely between 4.0 and 6.1");
}

static void test_ends_go_outward_never_inward(void **state)
{
    (void)state;
    char text[160];
    for (int i = 1; i < 4000; i++) {
        const double mid = 10.0 + 0.37 * i, half = 0.001 * i * (1 + i % 13);
        const struct st_interval x = of(mid, mid - half, mid + half);
        double value = 0, low = 0, high = 0;
        st_figure_words(text, sizeof text, &x, "g");
        const char *between = strstr(text, "between "), *and = strstr(text, " and ");
        assert_non_null(between);
        assert_non_null(and);
        value = strtod(text, NULL);
        low = strtod(between + 8, NULL);
        high = strtod(and + 5, NULL);
        assert_true(low <= mid - half + 1e-5 * half && high >= mid + half - 1e-5 * half);
        assert_true(low <= value && value <= high);
        assert_true(high - low <= 2.0 * half * 2.1); /* rounding does not blow it up */
    }
}

static void test_exact_and_unknown(void **state)
{
    (void)state;
    char text[160];
    says(40.0, 40.0, 40.0, "% vol", "exactly 40 % vol");
    struct st_interval x = of((double)NAN, (double)NAN, (double)NAN);
    st_figure_words(text, sizeof text, &x, "g");
    assert_string_equal(text, "not known");
    x = of(1.0, 0.5, 1.5);
    x.known = false;
    st_figure_words(text, sizeof text, &x, "g");
    assert_string_equal(text, "not known");
    says(-0.001, -0.3, 0.3, "g", "0.0 g, likely between -0.3 and 0.3"); /* no minus zero */
}

static void test_volumes_follow_the_measures(void **state)
{
    (void)state;
    char text[160];
    struct st_interval x = of(1021.0, 973.0, 1068.0);
    st_volume_words(text, sizeof text, &x, ST_MEASURES_METRIC);
    assert_string_equal(text, "1.02 L, likely between 0.97 and 1.07");
    st_volume_words(text, sizeof text, &x, ST_MEASURES_US); /* 34.52 +- 1.6 */
    assert_string_equal(text, "34.5 fl oz, likely between 32.9 and 36.2");
    st_volume_words(text, sizeof text, &x, ST_MEASURES_IMPERIAL); /* 35.93 +- 1.7 */
    assert_string_equal(text, "35.9 fl oz, likely between 34.2 and 37.6");
    x = of(999.0, 940.0, 1060.0);
    st_volume_words(text, sizeof text, &x, ST_MEASURES_NONE);
    assert_string_equal(text, "1000 mL, likely between 940 and 1060");
}

static void bottles(double ml, double size, const char *wanted)
{
    char text[120];
    st_bottles_words(text, sizeof text, ml, size);
    assert_string_equal(text, wanted);
}

static void test_bottles_whole_first(void **state)
{
    (void)state;
    bottles(1060.0, 500.0, "2 bottles of 500 mL and a glass");
    bottles(1000.0, 500.0, "2 bottles of 500 mL");
    bottles(1010.0, 500.0, "2 bottles of 500 mL");
    bottles(750.0, 500.0, "1 bottle of 500 mL and half of another");
    bottles(490.0, 500.0, "less than one bottle of 500 mL");
    bottles(1499.0, 500.0, "2 bottles of 500 mL and nearly another");
}

static void test_numbers_as_people_write_them(void **state)
{
    (void)state;
    double x = 0.0;
    assert_true(cli_number("1.043", &x) && fabs(x - 1.043) < 1e-12);
    assert_true(cli_number("1,043", &x) && fabs(x - 1.043) < 1e-12);
    assert_true(cli_number("-5", &x) && fabs(x + 5.0) < 1e-12);
    assert_false(cli_number("", &x));
    assert_false(cli_number("1,043.5", &x));
    assert_false(cli_number("0x10", &x));
    assert_false(cli_number("nan", &x));
    assert_false(cli_number("1e999", &x));
    assert_false(cli_number("12 g", &x));
}

static void test_json_null_when_not_known(void **state)
{
    (void)state;
    struct st_interval x = of(1.0, 0.5, 2.0);
    json_t *j = st_doc_interval(&x);
    assert_true(json_is_object(j) && json_object_size(j) == 4);
    assert_string_equal(json_string_value(json_object_get(j, "status")), "ok");
    json_decref(j);
    x.known = false;
    j = st_doc_interval(&x);
    assert_true(json_is_null(j));
    json_decref(j);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_half_width_to_one_figure_two_if_it_starts_with_one),
        cmocka_unit_test(test_half_width_at_a_power_of_ten),
        cmocka_unit_test(test_ends_go_outward_never_inward),
        cmocka_unit_test(test_exact_and_unknown),
        cmocka_unit_test(test_volumes_follow_the_measures),
        cmocka_unit_test(test_bottles_whole_first),
        cmocka_unit_test(test_numbers_as_people_write_them),
        cmocka_unit_test(test_json_null_when_not_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
