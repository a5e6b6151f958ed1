/* Quantities: every way of writing in tests/data/quantity/read.cases, the open ones, limits, and the way back. */
#include "sheet_kit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "text/quantity.h"
#include "util/buf.h"
#include "util/file.h"

static const char *const DIM[] = { "mass", "volume", "piece", "temperature", "time", "strength", "open" };

/* Parse from memory of just this size, so that a read past the end shows under the sanitizer. */
static int parse_exactly(const char *text, enum st_measures m, struct st_amount *a, size_t *used, struct st_problem *p)
{
    const size_t n = strlen(text);
    char *copy = malloc(n ? n : 1);
    assert_non_null(copy);
    memcpy(copy, text, n);
    const int result = st_quantity_parse(copy, n, m, a, used, p);
    free(copy);
    return result;
}

/* ---- the sheet ---- */

enum { FIELDS = 10 };

static bool near_to(double got, const char *want)
{
    const double x = strtod(want, NULL);
    return fabs(got - x) <= 1e-6 * fabs(x) + 1e-12;
}

static bool has(const char *flags, const char *flag)
{
    return strstr(flags, flag) != NULL;
}

static const char *wrong(const struct st_amount *a, const char *rest, char *const f[FIELDS])
{
    if ((int)a->dim != index_of(f[2], DIM, 7))
        return "dimension";
    if (!near_to(a->value, f[3]))
        return "value";
    if (!near_to(a->low, f[4]) || !near_to(a->high, f[5]))
        return "range";
    if (strcmp(rest, f[6]) != 0)
        return "rest";
    if (strcmp(f[7], "-") != 0 && strcmp(f[7], st_tool_name(a->tool)) != 0)
        return "tool";
    if (strcmp(f[8], "-") != 0 && !near_to(a->fills, f[8]))
        return "fills";
    if (a->vague != has(f[9], "vague") || a->heaped != has(f[9], "heaped") || a->scant != has(f[9], "scant") ||
        a->make_up_to != has(f[9], "make_up"))
        return "flags";
    return NULL;
}

static bool refusal_fits(const struct st_problem *p, int result, char *const f[FIELDS])
{
    return result == (strcmp(f[2], "asked") == 0 ? 1 : -1) && p->is_question == (result > 0) && p->at.column == 1 &&
           (strstr(p->what, f[3]) || strstr(p->why, f[3]) || strstr(p->try_, f[3]));
}

static bool row_is_right(char *line, int number)
{
    char *f[FIELDS];
    struct st_amount a = { 0 };
    struct st_problem p = { 0 };
    size_t used = 0;
    const int n = sheet_split(line, f, FIELDS), m = index_of(f[0], SHEET_MEASURES, 4);

    if (m < 0 || (n != 4 && n != FIELDS)) {
        print_message("read.cases:%d: cannot read this row (%d fields)\n", number, n);
        return false;
    }
    const int result = parse_exactly(f[1], (enum st_measures)m, &a, &used, &p);
    if (n == 4) {
        if (refusal_fits(&p, result, f))
            return true;
        print_message("read.cases:%d: '%s' gave %d: %s: %s; %s\n", number, f[1], result, p.what, p.why, p.try_);
        return false;
    }
    const char *what = result == 0 ? wrong(&a, f[1] + used, f) : p.what;
    if (!what)
        return true;
    print_message("read.cases:%d: '%s' gave %d, %.9g (%.9g..%.9g), rest '%s': %s\n", number, f[1], result, a.value,
                  a.low, a.high, result == 0 ? f[1] + used : "", what);
    return false;
}

static void the_sheet(void **state)
{
    (void)state;
    sheet_check("tests/data/quantity/read.cases", row_is_right, 200);
}

/* ---- open amounts ---- */

static void open_amounts(void **state)
{
    static const struct {
        const char *text;
        enum st_open open;
        double share, low, high, vessel;
    } ROW[] = {
        { "to taste", ST_OPEN_TASTE, 0, 0, 0, 0 },
        { "until covered", ST_OPEN_COVER, 0, 0, 0, 0 },
        { "to cover", ST_OPEN_COVER, 0, 0, 0, 0 },
        { "enough to cover", ST_OPEN_COVER, 0, 0, 0, 0 },
        { "top up", ST_OPEN_TOP_UP, 0, 0, 0, 0 },
        { "to fill", ST_OPEN_TOP_UP, 0, 0, 0, 0 },
        { "some", ST_OPEN_SOME, 0, 0, 0, 0 },
        { "as needed", ST_OPEN_SOME, 0, 0, 0, 0 },
        { "to the shoulder", ST_OPEN_FILL, 0.85, 0.80, 0.90, 0 },
        { "to the shoulder of a 2 L jar", ST_OPEN_FILL, 0.85, 0.80, 0.90, 2000 },
        { "fill to the shoulder of the jar", ST_OPEN_FILL, 0.85, 0.80, 0.90, 0 },
        { "fill the 1.5 L jar two thirds", ST_OPEN_FILL, 2.0 / 3, 2.0 / 3, 2.0 / 3, 1500 },
        { "fill the 1.5 L jar two thirds full", ST_OPEN_FILL, 2.0 / 3, 2.0 / 3, 2.0 / 3, 1500 },
        { "two thirds of a 2 L jar", ST_OPEN_FILL, 2.0 / 3, 2.0 / 3, 2.0 / 3, 2000 },
        { "half a 2 L jar", ST_OPEN_FILL, 0.5, 0.5, 0.5, 2000 },
        { "to 67 % of the jar", ST_OPEN_FILL, 0.67, 0.67, 0.67, 0 },
        { "3/4 full", ST_OPEN_FILL, 0.75, 0.75, 0.75, 0 },
        { "fill the jar", ST_OPEN_FILL, 0.95, 0.90, 0.99, 0 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof ROW / sizeof ROW[0]; i++) {
        struct st_amount a = { 0 };
        struct st_problem p;
        size_t used = 0;
        if (parse_exactly(ROW[i].text, ST_MEASURES_NONE, &a, &used, &p) != 0 || used != strlen(ROW[i].text))
            fail_msg("'%s' is not read to its end", ROW[i].text);
        if (a.dim != ST_DIM_OPEN || a.open != ROW[i].open || fabs(a.fill_share - ROW[i].share) > 1e-9 ||
            fabs(a.low - ROW[i].low) > 1e-9 || fabs(a.high - ROW[i].high) > 1e-9 ||
            fabs(a.value - ROW[i].vessel) > 1e-9)
            fail_msg("'%s' is read as %d, %g (%g..%g) of %g mL", ROW[i].text, (int)a.open, a.fill_share, a.low, a.high,
                     a.value);
    }
}

/* 80 US proof at 20 C: [cfr27_30] with the densities of [oiml1975] gives 40.07 % vol to the digits given. */
static void proof(void **state)
{
    struct st_amount a = { 0 };
    struct st_problem p;
    size_t used = 0;
    (void)state;
    assert_int_equal(parse_exactly("80 proof", ST_MEASURES_US, &a, &used, &p), 0);
    assert_int_equal(a.dim, ST_DIM_STRENGTH);
    assert_true(fabs(a.value - 40.07) <= 0.005);
    /* it was the British who said degrees, and theirs were other ones */
    assert_int_equal(parse_exactly("80° proof", ST_MEASURES_NONE, &a, &used, &p), 1);
    assert_int_equal(parse_exactly("70 British proof", ST_MEASURES_NONE, &a, &used, &p), 1);
    assert_int_equal(parse_exactly("80 degrees proof", ST_MEASURES_US, &a, &used, &p), 0);
    assert_true(fabs(a.value - 40.07) <= 0.005);
}

/* Nothing is written when there is nothing to say. */
static void untouched(void **state)
{
    static const char *const TEXT[] = { "apple", "-5 g", "1 cup", "1,000 g" };
    (void)state;
    for (size_t i = 0; i < sizeof TEXT / sizeof TEXT[0]; i++) {
        struct st_amount a, before;
        struct st_problem p;
        size_t used = 7;
        memset(&a, 0x5a, sizeof a);
        memcpy(&before, &a, sizeof a);
        const int result = parse_exactly(TEXT[i], ST_MEASURES_NONE, &a, &used, &p);
        assert_true(result != 0);
        assert_memory_equal(&a, &before, sizeof a);
        assert_int_equal(used, result < 0 ? 7 : strlen(TEXT[i]));
    }
}

/* ---- every word of the table of units can be written ---- */

static void try_word(const struct st_unit *u, const char *word, size_t n, int *bad)
{
    static const enum st_measures ALL[] = { ST_MEASURES_US, ST_MEASURES_METRIC, ST_MEASURES_IMPERIAL };
    char text[120];
    struct st_amount a = { 0 };
    struct st_problem p = { 0 };
    size_t used = 0;
    const enum st_measures m = u->system ? u->system : ALL[n % 3];

    (void)snprintf(text, sizeof text, strcmp(u->key, "gas_mark") == 0 ? "%.*s 3" : "3 %.*s", (int)n, word);
    if (n == 0 || strcmp(word, "overnight") == 0)
        return;
    const int result = parse_exactly(text, m, &a, &used, &p);
    const bool ounce =
        strncmp(u->key, "fl_oz", 5) == 0 && n >= 2 && (word[0] == 'o'); /* a weight unless it is poured */
    if (result < 0 || used != strlen(text) || (result == 0 && a.unit != u && !ounce)) {
        print_message("'%s' (%s): %d, unit %s %s\n", text, u->key, result, a.unit ? a.unit->key : "none", p.what);
        ++*bad;
    }
}

static void words_of_units(void **state)
{
    int bad = 0;
    (void)state;
    for (size_t i = 0; i < st_unit_count(); i++) {
        const struct st_unit *u = st_unit_at(i);
        try_word(u, u->name, strlen(u->name), &bad);
        try_word(u, u->plural, strlen(u->plural), &bad);
        for (const char *p = u->aliases; *p;) {
            const size_t n = strcspn(p, "|");
            if (strncmp(p, "overnight", 9) != 0)
                try_word(u, p, n, &bad);
            p += n + (p[n] == '|');
        }
    }
    assert_int_equal(bad, 0);
}

/* ---- limits ---- */

static void lengths(void **state)
{
    struct st_amount a;
    struct st_problem p;
    char *text = malloc(4097);
    (void)state;
    assert_non_null(text);
    static const char FILL[] = "1 a-+(,./\xc2\xbdg°x";
    for (size_t k = 0; k + 1 < sizeof FILL; k++)
        for (size_t n = 1; n <= 4096; n *= 4) {
            size_t used = 0;
            memset(text, FILL[k], n);
            if (st_quantity_parse(text, n, ST_MEASURES_US, &a, &used, &p) >= 0)
                assert_true(used <= n);
            memcpy(text, "2 g", n < 3 ? n : 3);
            (void)st_quantity_parse(text, n, ST_MEASURES_NONE, &a, &used, &p);
            assert_true(used <= n);
        }
    free(text);
}

static void largest(void **state)
{
    struct st_amount a = { 0 };
    struct st_problem p;
    size_t used;
    (void)state;
    assert_int_equal(parse_exactly("1000000 g", ST_MEASURES_NONE, &a, &used, &p), 0);
    assert_true(a.value <= 1e6);
    assert_int_equal(parse_exactly("1000 L", ST_MEASURES_NONE, &a, &used, &p), 0);
    assert_int_equal(parse_exactly("1000.001 L", ST_MEASURES_NONE, &a, &used, &p), -1);
    assert_int_equal(parse_exactly("about 1000 L", ST_MEASURES_NONE, &a, &used, &p), 0);
    assert_true(a.high <= 1e6);
    assert_int_equal(parse_exactly("100 years", ST_MEASURES_NONE, &a, &used, &p), 0);
    assert_int_equal(parse_exactly("1 x 1000001 g", ST_MEASURES_NONE, &a, &used, &p), -1);
    assert_int_equal(parse_exactly("999 x 1001 kg", ST_MEASURES_NONE, &a, &used, &p), -1);
}

/* ---- printed ---- */

static void prints(enum st_dimension dim, double value, const char *key, enum st_measures m, const char *want)
{
    char got[80];
    const struct st_amount a = {
        .dim = dim, .value = value, .low = value, .high = value, .unit = key ? st_unit_by_key(key) : NULL
    };
    assert_int_equal(st_quantity_print(&a, m, got, sizeof got), strlen(want));
    assert_string_equal(got, want);
}

static void printed(void **state)
{
    (void)state;
    prints(ST_DIM_VOLUME, 354.9, NULL, ST_MEASURES_US, "1 1/2 cups");
    prints(ST_DIM_VOLUME, 207.01471, NULL, ST_MEASURES_US, "3/4 cup + 2 tbsp");
    prints(ST_DIM_VOLUME, 354.9, NULL, ST_MEASURES_METRIC, "355 mL");
    prints(ST_DIM_VOLUME, 354.9, "ml", ST_MEASURES_US, "355 mL");
    prints(ST_DIM_VOLUME, 4.93, NULL, ST_MEASURES_US, "1 tsp");
    prints(ST_DIM_VOLUME, 1.23, NULL, ST_MEASURES_US, "1/4 tsp");
    prints(ST_DIM_VOLUME, 29.57, NULL, ST_MEASURES_US, "2 tbsp");
    prints(ST_DIM_VOLUME, 250, "cup_metric_anz", ST_MEASURES_METRIC, "1 cup");
    prints(ST_DIM_VOLUME, 236.588, "cup_us", ST_MEASURES_METRIC, "237 mL");
    prints(ST_DIM_VOLUME, 1234, NULL, ST_MEASURES_METRIC, "1.23 L");
    prints(ST_DIM_VOLUME, 750, "bottle_us", ST_MEASURES_US, "1 bottle");
    prints(ST_DIM_VOLUME, 88.72, "fl_oz_us", ST_MEASURES_US, "3 fl oz");
    prints(ST_DIM_MASS, 83.4, NULL, ST_MEASURES_US, "83.5 g");
    prints(ST_DIM_MASS, 123.4, NULL, ST_MEASURES_US, "123 g");
    prints(ST_DIM_MASS, 777, NULL, ST_MEASURES_NONE, "775 g");
    prints(ST_DIM_MASS, 1234, NULL, ST_MEASURES_NONE, "1.23 kg");
    prints(ST_DIM_MASS, 999.9, NULL, ST_MEASURES_NONE, "1 kg");
    prints(ST_DIM_MASS, 3.14, NULL, ST_MEASURES_NONE, "3.1 g");
    prints(ST_DIM_MASS, 340.2, "oz_av", ST_MEASURES_NONE, "12 oz");
    prints(ST_DIM_PIECE, 2.5, NULL, ST_MEASURES_NONE, "2 1/2");
    prints(ST_DIM_TIME, 14 * 86400.0, NULL, ST_MEASURES_NONE, "2 weeks");
    prints(ST_DIM_TIME, 5400, "hour", ST_MEASURES_NONE, "1 1/2 h");
    prints(ST_DIM_TEMPERATURE, 449.8167, NULL, ST_MEASURES_US, "350 °F");
    prints(ST_DIM_TEMPERATURE, 293.15, NULL, ST_MEASURES_METRIC, "20 °C");
    prints(ST_DIM_STRENGTH, 40.0685, "proof_us", ST_MEASURES_US, "40.1 % vol");
}

/* However small the room, the text is closed and begins like the whole. */
static void little_room(void **state)
{
    const struct st_amount a = { .dim = ST_DIM_VOLUME, .value = 207.0147, .low = 207.0147, .high = 207.0147 };
    char whole[80], part[80];
    (void)state;
    const size_t n = st_quantity_print(&a, ST_MEASURES_US, whole, sizeof whole);
    for (size_t size = 0; size <= n + 1; size++) {
        memset(part, 'x', sizeof part);
        const size_t got = st_quantity_print(&a, ST_MEASURES_US, part, size);
        assert_true(size == 0 ? got == 0 && part[0] == 'x' : got < size && part[got] == '\0' && part[size] == 'x');
        assert_memory_equal(part, whole, size == 0 ? 0 : got);
    }
}

/* parse(print(x)) is x within the step it was printed in, for every unit and four decades of sizes. */
static void round_trip_of(const struct st_unit *u, enum st_dimension dim, double x, enum st_measures m, int *bad)
{
    char text[120];
    struct st_amount a = { .dim = dim, .value = x, .low = x, .high = x, .unit = u }, b = { 0 };
    struct st_problem p = { 0 };
    size_t used = 0;
    const size_t n = st_quantity_print(&a, m, text, sizeof text);
    const int result = st_quantity_parse(text, n, m, &b, &used, &p);
    const double by = dim == ST_DIM_STRENGTH      ? 0.051
                      : dim == ST_DIM_TEMPERATURE ? 0.051 + 0.006 * fabs(x - 255.0)
                      : dim == ST_DIM_PIECE       ? 0.0101 * x + 0.001
                                                  : fmax(0.0101 * x, dim == ST_DIM_TIME ? 0.0 : 0.63);
    if (result != 0 || used != n || b.dim != dim || fabs(b.value - x) > by) {
        print_message("%.9g %s printed '%s' reads %d, %.9g %s\n", x, u ? u->key : st_dimension_base(dim), text, result,
                      b.value, p.what);
        ++*bad;
    }
}

static void round_trip(void **state)
{
    int bad = 0;
    (void)state;
    for (int m = ST_MEASURES_NONE; m <= ST_MEASURES_IMPERIAL; m++)
        for (double x = 0.11; x < 9000.0; x *= 1.0173) {
            round_trip_of(NULL, ST_DIM_MASS, x, (enum st_measures)m, &bad);
            round_trip_of(NULL, ST_DIM_VOLUME, x, (enum st_measures)m, &bad);
            round_trip_of(NULL, ST_DIM_PIECE, x, (enum st_measures)m, &bad);
            round_trip_of(NULL, ST_DIM_TIME, 10.0 * x, (enum st_measures)m, &bad);
            round_trip_of(NULL, ST_DIM_STRENGTH, fmin(x, 100.0), (enum st_measures)m, &bad);
            round_trip_of(NULL, ST_DIM_TEMPERATURE, 255.0 + fmin(x, 500.0), (enum st_measures)m, &bad);
        }
    for (size_t i = 0; i < st_unit_count(); i++) {
        const struct st_unit *u = st_unit_at(i);
        double base;
        for (double x = 0.25; x < 60.0; x *= 1.37)
            if (st_unit_to_base(u, x, &base) >= 0)
                round_trip_of(u, u->dim, base, u->system ? u->system : ST_MEASURES_US, &bad);
    }
    assert_int_equal(bad, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sheet),  cmocka_unit_test(open_amounts),   cmocka_unit_test(proof),
        cmocka_unit_test(untouched),  cmocka_unit_test(words_of_units), cmocka_unit_test(lengths),
        cmocka_unit_test(largest),    cmocka_unit_test(printed),        cmocka_unit_test(little_room),
        cmocka_unit_test(round_trip),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
