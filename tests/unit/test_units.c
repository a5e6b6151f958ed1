/* The table of units: definitions, words people write, ambiguity, round trips. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "core/strength.h"
#include "core/units.h"
#include "core/units_words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void near_to(double got, double want, double tolerance)
{
    if (!(fabs(got - want) <= tolerance))
        fail_msg("%.12g is not within %g of %.12g", got, tolerance, want);
}

static double base_of(const char *key, double x)
{
    const struct st_unit *u = st_unit_by_key(key);
    double base = -1.0;
    if (u == NULL)
        fail_msg("no unit %s", key);
    assert_int_equal(st_unit_to_base(u, x, &base), ST_OK);
    return base;
}

/* The single meaning of a word, or NULL. */
static const struct st_unit *meaning(const char *word, enum st_measures declared, enum st_dimension want)
{
    const struct st_unit *out[4] = { NULL };
    return st_unit_match(word, strlen(word), declared, want, out, 4) == 1 ? out[0] : NULL;
}

static void means(const char *word, enum st_measures declared, enum st_dimension want, const char *key)
{
    const struct st_unit *u = meaning(word, declared, want);
    if (u == NULL)
        fail_msg("'%s' has no single meaning", word);
    assert_string_equal(u->key, key);
}

/* Published definitions, [hb44] and [ucum_units], to the digits printed. */
static void definitions(void **state)
{
    (void)state;
    static const struct {
        const char *key;
        double base;
    } PRINTED[] = {
        { "cup_us", 236.5882365 },   { "tbsp_us", 14.78676478 },    { "tsp_us", 4.928921594 },
        { "fl_oz_us", 29.57352956 }, { "gill_us", 118.2941182 },    { "quart_us", 946.352946 },
        { "fl_oz_imp", 28.4130625 }, { "gill_imp", 142.0653125 },   { "pint_imp", 568.26125 },
        { "cup_imp", 284.130625 },   { "fl_dram_us", 3.696691195 }, { "oz_av", 28.349523125 },
        { "lb_av", 453.59237 },      { "grain", 0.06479891 },       { "dash_kitchen", 0.6161151992 },
        { "cup_metric_anz", 250.0 }, { "gallon_imp", 4546.09 },     { "tbsp_au", 20.0 },
    };
    for (size_t i = 0; i < sizeof PRINTED / sizeof PRINTED[0]; i++)
        near_to(base_of(PRINTED[i].key, 1.0), PRINTED[i].base, 1e-9 * PRINTED[i].base);
}

static void every_row_is_whole(void **state)
{
    (void)state;
    assert_null(st_unit_at(st_unit_count()));
    for (size_t i = 0; i < st_unit_count(); i++) {
        const struct st_unit *u = st_unit_at(i);
        assert_true(u->low <= u->factor && u->factor <= u->high && u->low > 0.0);
        assert_true(u->dim < ST_DIM_OPEN && u->tool < ST_NTOOL);
        assert_non_null(strchr("drmp", u->mark));
        assert_true(u->source[0] != '\0');
        if (u->mark == 'm') /* a factor from memory says so */
            assert_true(strstr(u->source, "memory") != NULL || strstr(u->source, "common practice") != NULL);
        assert_ptr_equal(st_unit_by_key(u->key), u);
        assert_non_null(meaning(u->key, ST_MEASURES_NONE, u->dim));
    }
}

static void values_come_back(void **state)
{
    (void)state;
    static const double X[] = { 1.0, 2.5, 40.0, 95.0 };
    for (size_t i = 0; i < st_unit_count(); i++)
        for (size_t j = 0; j < sizeof X / sizeof X[0]; j++) {
            const struct st_unit *u = st_unit_at(i);
            double base = 0.0, back = 0.0;
            assert_int_equal(st_unit_to_base(u, X[j], &base), ST_OK);
            assert_int_equal(st_unit_from_base(u, base, &back), ST_OK);
            near_to(back, X[j], 1e-9 * X[j] + 1e-9);
        }
}

static void ten_grams(void **state)
{
    (void)state;
    near_to(base_of("dag", 1.0), 10.0, 1e-12);
}

static void temperatures(void **state)
{
    (void)state;
    near_to(base_of("deg_f", 32.0), 273.15, 1e-9);
    near_to(base_of("deg_f", 212.0), 373.15, 1e-9);
    near_to(base_of("deg_f", -40.0), 233.15, 1e-9);
    near_to(base_of("deg_re", 20.0), 298.15, 1e-9);
    near_to(base_of("gas_mark", 1.0), base_of("deg_f", 275.0), 1e-9);
    near_to(base_of("gas_mark", 4.0), base_of("deg_f", 350.0), 1e-9);
    double x = 77.0;
    assert_int_equal(st_unit_to_base(st_unit_by_key("deg_c"), -274.0, &x), ST_E_DOMAIN);
    assert_int_equal(st_unit_to_base(st_unit_by_key("gas_mark"), 0.5, &x), ST_E_DOMAIN);
    assert_true(x == 77.0);
}

/* US proof is twice the % vol at 60 F: 80 proof is 40.069 % vol at 20 C, not 40. */
static void proof_is_not_just_half(void **state)
{
    (void)state;
    near_to(base_of("proof_us", 80.0), 40.069, 5e-4);
    near_to(base_of("proof_us", 100.0), 50.061, 5e-4);
    near_to(base_of("proof_us", 200.0), 100.0, 1e-9);
    near_to(base_of("pct_mass", 33.2996), 40.0, 1e-4);
    double x = 77.0;
    assert_int_equal(st_unit_to_base(st_unit_by_key("proof_us"), 201.0, &x), ST_E_DOMAIN);
    assert_int_equal(st_unit_to_base(st_unit_by_key("pct_vol"), 101.0, &x), ST_E_DOMAIN);
    assert_true(x == 77.0);
}

static void nonsense_is_refused(void **state)
{
    (void)state;
    const struct st_unit *g = st_unit_by_key("g");
    double x = 77.0, y = 77.0;
    assert_int_equal(st_unit_to_base(g, -1.0, &x), ST_E_DOMAIN);
    assert_int_equal(st_unit_to_base(g, (double)NAN, &x), ST_E_DOMAIN);
    assert_int_equal(st_unit_to_base(g, (double)INFINITY, &x), ST_E_DOMAIN);
    assert_int_equal(st_unit_from_base(g, -1.0, &x), ST_E_DOMAIN);
    assert_int_equal(st_unit_range(g, -1.0, &x, &y), ST_E_DOMAIN);
    assert_true(x == 77.0 && y == 77.0);
    assert_null(st_unit_by_key("furlong"));
    assert_null(st_unit_by_key("g "));
    const struct st_unit *out[1];
    assert_int_equal(st_unit_match("", 0, ST_MEASURES_NONE, ST_DIM_OPEN, out, 1), 0);
    assert_int_equal(st_unit_match("...", 3, ST_MEASURES_NONE, ST_DIM_OPEN, out, 1), 0);
    assert_int_equal(st_unit_match("furlong", 7, ST_MEASURES_NONE, ST_DIM_OPEN, out, 1), 0);
}

static void words_that_cooks_write(void **state)
{
    (void)state;
    means("grams", ST_MEASURES_NONE, ST_DIM_OPEN, "g");
    means("G", ST_MEASURES_US, ST_DIM_MASS, "g");
    means("ML", ST_MEASURES_NONE, ST_DIM_OPEN, "ml");
    means("Litres", ST_MEASURES_NONE, ST_DIM_OPEN, "l");
    means("l", ST_MEASURES_NONE, ST_DIM_OPEN, "l");
    means("Tbsp.", ST_MEASURES_US, ST_DIM_OPEN, "tbsp_us");
    means("tbsps", ST_MEASURES_METRIC, ST_DIM_OPEN, "tbsp_metric");
    means("fl. oz.", ST_MEASURES_US, ST_DIM_OPEN, "fl_oz_us");
    means("fl-oz", ST_MEASURES_IMPERIAL, ST_DIM_OPEN, "fl_oz_imp");
    means("half-bottle", ST_MEASURES_METRIC, ST_DIM_OPEN, "half_bottle_metric");
    means("dashes", ST_MEASURES_NONE, ST_DIM_OPEN, "dash_bitters");
    means("\xc2\xb0"
          "C",
          ST_MEASURES_NONE, ST_DIM_OPEN, "deg_c");
    means("weeks", ST_MEASURES_NONE, ST_DIM_OPEN, "week");
    means("% ABV", ST_MEASURES_NONE, ST_DIM_OPEN, "pct_vol");
    means("cup_us", ST_MEASURES_METRIC, ST_DIM_OPEN, "cup_us");
}

static void one_letter_keeps_its_case(void **state)
{
    (void)state;
    means("T", ST_MEASURES_US, ST_DIM_OPEN, "tbsp_us");
    means("T.", ST_MEASURES_US, ST_DIM_OPEN, "tbsp_us");
    means("t", ST_MEASURES_US, ST_DIM_OPEN, "tsp_us");
    means("C", ST_MEASURES_US, ST_DIM_OPEN, "deg_c");
    means("c", ST_MEASURES_US, ST_DIM_OPEN, "cup_us");
    means("F", ST_MEASURES_US, ST_DIM_OPEN, "deg_f");
}

/* Where measures differ and none is declared, somebody has to be asked. */
static void undeclared_measures_stay_open(void **state)
{
    (void)state;
    const struct st_unit *out[4];
    assert_int_equal(st_unit_match("cup", 3, ST_MEASURES_NONE, ST_DIM_OPEN, out, 4), 3);
    assert_int_equal(st_unit_match("cup", 3, ST_MEASURES_US, ST_DIM_OPEN, out, 4), 1);
    assert_int_equal(st_unit_match("pint", 4, ST_MEASURES_METRIC, ST_DIM_OPEN, out, 4), 2);
    assert_int_equal(st_unit_match("cup", 3, ST_MEASURES_NONE, ST_DIM_OPEN, out, 1), 3); /* no room: still told */
    /* ounces weigh or fill */
    assert_int_equal(st_unit_match("oz", 2, ST_MEASURES_US, ST_DIM_OPEN, out, 4), 2);
    means("oz", ST_MEASURES_US, ST_DIM_MASS, "oz_av");
    means("oz", ST_MEASURES_US, ST_DIM_VOLUME, "fl_oz_us");
    /* "gr" is a gram to some and a grain to others: fifteen-fold, so it is nobody's */
    assert_int_equal(st_unit_match("gr", 2, ST_MEASURES_NONE, ST_DIM_OPEN, out, 4), 0);
}

static void vague_units_give_a_range(void **state)
{
    (void)state;
    double low = 0.0, high = 0.0;
    assert_int_equal(st_unit_range(st_unit_by_key("dash_bitters"), 2.0, &low, &high), ST_OK);
    near_to(low, 0.6, 1e-12);
    near_to(high, 2.6, 1e-12);
    assert_true(st_unit_is_vague(st_unit_by_key("handful")));
    assert_int_equal(st_unit_range(st_unit_by_key("deg_f"), 50.0, &low, &high), ST_OK);
    near_to(low, 283.15, 1e-9);
    near_to(high, 283.15, 1e-9);
    assert_false(st_unit_is_vague(st_unit_by_key("proof_us")));
}

/* ---- the table of words ---- */

enum { MOST_WORDS = 1000, WORD = 48 };
static struct made {
    char word[WORD];
    size_t row;
} made[MOST_WORDS];
static size_t n_made;

static char folded(char c, size_t n)
{
    if (n > 1 && c >= 'A' && c <= 'Z')
        return (char)(c | 0x20);
    return n > 1 && (c == '-' || c == '_') ? ' ' : c;
}

static void make_word(const char *text, size_t n, size_t row)
{
    struct made *m = &made[n_made];
    size_t k = 0;

    assert_true(n_made < MOST_WORDS && n < WORD);
    for (size_t i = 0; i < n; i++)
        if (n == 1 || text[i] != '.')
            m->word[k++] = folded(text[i], n);
    m->word[k] = '\0';
    m->row = row;
    for (size_t i = 0; i < n_made; i++)
        if (made[i].row == row && strcmp(made[i].word, m->word) == 0)
            return;
    n_made += k > 0;
}

static int in_order(const void *a, const void *b)
{
    const struct made *x = a, *y = b;
    const int c = strcmp(x->word, y->word);
    return c ? c : (x->row > y->row) - (x->row < y->row);
}

static void print_words(void)
{
    for (size_t i = 0; i < n_made; i++) {
        print_message("    { \"");
        for (const char *c = made[i].word; *c; c++) /* the two quotes end a number in hexadecimals */
            print_message((*c & 0x80) ? "\\x%02x\"\"" : "%c", (unsigned char)*c);
        print_message("\", %zu },\n", made[i].row);
    }
}

/* units_words.h is the table of units by words; whoever changes units.c finds the new one printed here. */
static void words_are_in_step(void **state)
{
    const size_t n = sizeof ST_UNIT_WORDS / sizeof ST_UNIT_WORDS[0];
    bool same = true;
    (void)state;

    for (size_t i = 0; i < st_unit_count(); i++) {
        const struct st_unit *u = st_unit_at(i);
        make_word(u->key, strlen(u->key), i);
        make_word(u->name, strlen(u->name), i);
        make_word(u->plural, strlen(u->plural), i);
        for (const char *p = u->aliases; *p;) {
            const size_t k = strcspn(p, "|");
            make_word(p, k, i);
            p += k + (p[k] == '|');
        }
    }
    qsort(made, n_made, sizeof made[0], in_order);
    for (size_t i = 0; same && i < n_made; i++)
        same = i < n && made[i].row == ST_UNIT_WORDS[i].row && strcmp(made[i].word, ST_UNIT_WORDS[i].word) == 0;
    if (!same || n != n_made) {
        print_words();
        fail_msg("src/core/units_words.h has %zu words, the table of units %zu; what it should hold is above", n,
                 n_made);
    }
}

/* Every way of writing a word is found as the word itself. */
static void any_spelling_is_found(void **state)
{
    static const char *const same[][2] = { { "TABLESPOON", "tablespoon" }, { "fl. oz.", "fl oz" },
                                           { "fl-oz", "fl oz" },           { "Fl_Oz", "fl oz" },
                                           { "tbsps", "tbsp" },            { "PCT", "pct" },
                                           { "Per Cent", "percent" },      { "degC.", "deg C" } };
    (void)state;
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        const struct st_unit *a[8] = { NULL }, *b[8] = { NULL };
        const size_t n = st_unit_match(same[i][0], strlen(same[i][0]), ST_MEASURES_NONE, ST_DIM_OPEN, a, 8);
        assert_int_equal(n, st_unit_match(same[i][1], strlen(same[i][1]), ST_MEASURES_NONE, ST_DIM_OPEN, b, 8));
        assert_true(n > 0 && n <= 8);
        assert_memory_equal(a, b, n * sizeof a[0]);
    }
    char longer[200];
    memset(longer, 'g', sizeof longer);
    assert_int_equal(st_unit_match(longer, sizeof longer, ST_MEASURES_NONE, ST_DIM_OPEN, NULL, 0), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(definitions),
        cmocka_unit_test(every_row_is_whole),
        cmocka_unit_test(values_come_back),
        cmocka_unit_test(ten_grams),
        cmocka_unit_test(temperatures),
        cmocka_unit_test(proof_is_not_just_half),
        cmocka_unit_test(nonsense_is_refused),
        cmocka_unit_test(words_that_cooks_write),
        cmocka_unit_test(one_letter_keeps_its_case),
        cmocka_unit_test(undeclared_measures_stay_open),
        cmocka_unit_test(vague_units_give_a_range),
        cmocka_unit_test(words_are_in_step),
        cmocka_unit_test(any_spelling_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
