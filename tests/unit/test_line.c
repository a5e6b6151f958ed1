/* Ingredient lines: every way of writing in tests/data/quantity/lines.cases, places of problems, limits. */
#include "sheet_kit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "text/line.h"
#include "util/buf.h"
#include "util/embedded.h"
#include "util/file.h"

static struct st_catalogue *larder;

static int open_larder(void **state)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem p;
    (void)state;
    larder = sheet ? st_catalogue_create((const char *)sheet->bytes, sheet->size, &p) : NULL;
    return larder ? 0 : -1;
}

static int close_larder(void **state)
{
    (void)state;
    st_catalogue_free(larder);
    return 0;
}

static const char *const SORT[] = { "mass",   "volume", "piece", "temperature", "time",   "strength",
                                    "closed", "cover",  "fill",  "taste",       "top_up", "some" };

/* ---- the sheet ---- */

enum { FIELDS = 8 };

static bool near_to(double got, const char *want, double by)
{
    const double x = strtod(want, NULL);
    return fabs(got - x) <= by + 1e-6 * fabs(x);
}

static const char *wrong(const struct st_line *l, char *const f[FIELDS])
{
    const int sort = l->amount.dim == ST_DIM_OPEN ? 6 + (int)l->amount.open : (int)l->amount.dim;
    if (!l->what || strcmp(l->what->slug, f[2]) != 0)
        return "ingredient";
    if (sort != index_of(f[3], SORT, 12))
        return "sort of amount";
    if (!near_to(l->amount.value, f[4], 1e-9))
        return "value";
    if (strcmp(f[5], "-") == 0 ? l->strength.known : !l->strength.known || !near_to(l->strength.value, f[5], 0.005))
        return "strength";
    if (strcmp(f[6], "-") != 0 && strcmp(f[6], st_tool_name(l->amount.tool)) != 0)
        return "tool";
    if (l->gross != (strstr(f[7], "gross") != NULL) || l->amount.make_up_to != (strstr(f[7], "make_up") != NULL) ||
        l->temperature_K.known != (strstr(f[7], "warm") != NULL))
        return "flags";
    if (l->from_step != -1 || !isnan(l->price))
        return "what a line cannot say";
    return NULL;
}

static bool row_is_right(char *line, int number)
{
    char *f[FIELDS];
    struct st_line l = { 0 };
    struct st_problem p = { 0 };
    const int n = sheet_split(line, f, FIELDS), m = index_of(f[0], SHEET_MEASURES, 4);

    if (m < 0 || (n != 4 && n != FIELDS)) {
        print_message("lines.cases:%d: cannot read this row (%d fields)\n", number, n);
        return false;
    }
    const int result = st_line_parse(f[1], (enum st_measures)m, larder, &l, &p);
    if (n == 4) {
        if (result == (strcmp(f[2], "asked") == 0 ? 1 : -1) && p.is_question == (result > 0) && *p.what && *p.why &&
            *p.try_ && (strstr(p.what, f[3]) || strstr(p.why, f[3]) || strstr(p.try_, f[3])))
            return true;
        print_message("lines.cases:%d: '%s' gave %d: %s: %s; %s\n", number, f[1], result, p.what, p.why, p.try_);
        return false;
    }
    const char *what = result == 0 ? wrong(&l, f) : p.what;
    if (!what)
        return true;
    print_message("lines.cases:%d: '%s' gave %d, %s %.9g, %s: wrong is: %s\n", number, f[1], result,
                  l.what ? l.what->slug : "nothing", l.amount.value, st_tool_name(l.amount.tool), what);
    return false;
}

static void the_sheet(void **state)
{
    (void)state;
    sheet_check("tests/data/quantity/lines.cases", row_is_right, 100);
}

/* ---- places, ranges ---- */

static void places(void **state)
{
    static const struct {
        const char *text;
        int column;
    } ROW[] = {
        { "200 g blorpberries", 7 },  { "  200 g   blorpberries", 11 },
        { "700 mL vodka", 8 },        { "200 g sugar plus 50 g", 18 },
        { "500 g damsons 40 %", 15 }, { "1 cup sugar", 1 },
        { "sugar 1 cup", 7 },         { "700 mL vodka 40 % or 50 %", 22 },
        { "1 L methanol", 5 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof ROW / sizeof ROW[0]; i++) {
        struct st_line l;
        struct st_problem p = { 0 };
        assert_true(st_line_parse(ROW[i].text, ST_MEASURES_NONE, larder, &l, &p) != 0);
        if (p.at.column != ROW[i].column)
            fail_msg("'%s': column %d, expected %d (%s)", ROW[i].text, p.at.column, ROW[i].column, p.what);
    }
}

static void ranges(void **state)
{
    struct st_line l;
    struct st_problem p;
    (void)state;
    assert_int_equal(st_line_parse("700 mL vodka 38-40 %", ST_MEASURES_NONE, larder, &l, &p), 0);
    assert_true(fabs(l.strength.low - 38) < 1e-9 && fabs(l.strength.high - 40) < 1e-9 && l.strength.mark == 'u');
    assert_int_equal(st_line_parse("1 lb (450 g) damsons", ST_MEASURES_NONE, larder, &l, &p), 0);
    assert_true(fabs(l.amount.low - 450) < 1e-9 && fabs(l.amount.high - 453.59237) < 1e-9);
    assert_int_equal(st_line_parse("100 mL boiling water", ST_MEASURES_NONE, larder, &l, &p), 0);
    assert_true(l.temperature_K.low > 360 && l.temperature_K.high <= 373.16);
    assert_int_equal(st_line_parse("100 mL water at 60 °C", ST_MEASURES_NONE, larder, &l, &p), 0);
    assert_true(fabs(l.temperature_K.value - 333.15) < 1e-9);
    assert_string_equal(l.text, "100 mL water at 60 °C");
}

/* Nothing is written when the line is refused or asked about. */
static void untouched(void **state)
{
    static const char *const TEXT[] = { "700 mL vodka", "200 g blorp", "2 cups sugar", "sugar" };
    (void)state;
    for (size_t i = 0; i < sizeof TEXT / sizeof TEXT[0]; i++) {
        struct st_line l, before;
        struct st_problem p;
        memset(&l, 0x5a, sizeof l);
        memcpy(&before, &l, sizeof l);
        assert_true(st_line_parse(TEXT[i], ST_MEASURES_NONE, larder, &l, &p) != 0);
        assert_memory_equal(&l, &before, sizeof l);
    }
}

/* No spirit is ever read without a strength, whatever the amount. */
static void no_silent_strength(void **state)
{
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(larder); i++) {
        const struct st_ingredient *in = st_catalogue_at(larder, i);
        struct st_buf b = { 0 };
        struct st_line l;
        struct st_problem p;
        if (in->kind != ST_KIND_SPIRIT)
            continue;
        st_buf_printf(&b, "100 mL %s", in->name);
        if (st_line_parse(st_buf_text(&b), ST_MEASURES_NONE, larder, &l, &p) == 0 && !l.strength.known &&
            !l.what->strength.known)
            fail_msg("'%s' is read without a strength", st_buf_text(&b));
        st_buf_done(&b);
    }
}

/* Every ingredient is found by its own name, or refused for what it is. */
static void every_ingredient(void **state)
{
    int bad = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(larder); i++) {
        const struct st_ingredient *in = st_catalogue_at(larder, i);
        struct st_buf b = { 0 };
        struct st_line l;
        struct st_problem p = { 0 };
        const bool drink = in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE;
        bool poison = false;
        for (int k = 0; k < in->n_caution; k++)
            poison = poison || strcmp(in->caution[k].what, "denatured") == 0;
        st_buf_printf(&b, "100 g %s%s", in->name, drink && !strchr(in->name, '%') ? " 40 %" : "");
        const int result = st_line_parse(st_buf_text(&b), ST_MEASURES_NONE, larder, &l, &p);
        if (poison ? result != -1 : result != 0 || (l.what != in && !strchr(in->name, '%'))) {
            print_message("'%s': %d, %s\n", st_buf_text(&b), result, result == 0 ? l.what->slug : p.what);
            bad++;
        }
        st_buf_done(&b);
    }
    assert_int_equal(bad, 0);
}

/* ---- limits ---- */

static void lengths(void **state)
{
    static const char FILL[] = "1 a,(-.%/x\xc2\xb0";
    char *text = malloc(5000);
    (void)state;
    assert_non_null(text);
    for (size_t k = 0; k + 1 < sizeof FILL; k++)
        for (size_t n = 16; n <= 4096; n *= 4) {
            struct st_line l;
            struct st_problem p;
            memset(text, FILL[k], n);
            text[n] = '\0';
            (void)st_line_parse(text, ST_MEASURES_US, larder, &l, &p);
            memcpy(text, "500 g damsons, ", 15);
            (void)st_line_parse(text, ST_MEASURES_US, larder, &l, &p);
        }
    struct st_line l;
    struct st_problem p;
    memset(text, ' ', 4098);
    memcpy(text, "500 g damsons", 13);
    text[4096] = '\0';
    assert_int_equal(st_line_parse(text, ST_MEASURES_NONE, larder, &l, &p), 0);
    text[4096] = ' ';
    text[4097] = '\0';
    assert_int_equal(st_line_parse(text, ST_MEASURES_NONE, larder, &l, &p), -1);
    assert_non_null(strstr(p.what, "too long"));
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sheet),
        cmocka_unit_test(places),
        cmocka_unit_test(ranges),
        cmocka_unit_test(untouched),
        cmocka_unit_test(no_silent_strength),
        cmocka_unit_test(every_ingredient),
        cmocka_unit_test(lengths),
    };
    return cmocka_run_group_tests(tests, open_larder, close_larder);
}
