/* Toast steps of recipes: against core asked directly, longer and hotter, what is not known, what the words say.  The
 * recipes are invented. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "core/steep_constants.h"
#include "model/random.h"
#include "text/ingredients.h"
#include "text/recipe_yaml.h"
#include "text/steep_books.h"
#include "text/toast_words.h"
#include "util/embedded.h"

static struct st_catalogue *all;
static struct st_steep_books *books;
static struct st_recipe_file file;
static struct st_toast_told told;
static char words[600];

static int load(void **state)
{
    struct st_problem p = { .what = "" };
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    (void)state;
    all = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    books = st_steep_books_create(&p);
    return all && books ? 0 : -1;
}

static int unload(void **state)
{
    (void)state;
    st_steep_books_free(books);
    st_catalogue_free(all);
    return 0;
}

static void read_text(const char *text)
{
    if (st_recipe_read("toast.yaml", text, strlen(text), all, &file) != 0)
        fail_msg("not read: %s; %s", file.problem[0].what, file.problem[0].why);
}

/* The toast of `add` with the lines of time and temperature and words of `how`; the recipe stays in `file`. */
static const struct st_toast_piece *toast(const char *add, const char *how)
{
    char text[900];
    (void)snprintf(text, sizeof text,
                   "title: toast (invented)\nmeasures: metric\nsteps:\n"
                   "  - toast: dry\n    add: [%s]\n%s"
                   "  - steep: jar\n    add: [all of dry, 500 mL vodka 50 %%]\n    for: 2 weeks\n",
                   add, how);
    read_text(text);
    assert_true(st_toast_step(&books->jar, &file.recipe, 0, st_toast_way_of(&file.recipe.step[0]), 1, &told) >= 0);
    return &told.piece[0];
}

static void done(void)
{
    st_recipe_done(&file);
}

static void near(double got, double want, double rel)
{
    if (!(fabs(got - want) <= rel * fabs(want)))
        fail_msg("%.12g, expected %.12g", got, want);
}

/* ---- figures ---- */

/* The middle is core's own answer for the middles: half thickness of the sheet of habits, and a ball as a slab of a
 * third. */
static void the_middle_is_what_core_says(void **state)
{
    static const struct {
        const char *add, *how;
        double half, h, T, s;
    } CASE[] = {
        { "30 g sweet almonds", "    words: In the oven.\n    for: 10 min\n    at: 175 C\n", 3.5e-3, 16.0, 448.15,
          600.0 },
        { "\"30 g almonds, halved\"", "    words: A fan oven.\n    for: 8 min\n    at: 160 C\n", 2.5e-3, 26.0, 433.15,
          480.0 },
        { "5 g coriander seed", "    words: In a dry pan.\n    for: 2 min\n    at: 150 C\n", 0.4e-3, 55.0, 423.15,
          120.0 },
        { "\"30 g almonds, chopped\"", "    for: 8 min\n    at: 160 C\n", 1.9e-3 / 3.0, 25.0, 433.15, 480.0 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof CASE / sizeof CASE[0]; i++) {
        const struct st_toast_piece *p = toast(CASE[i].add, CASE[i].how);
        const struct st_piece_heat heat = { CASE[i].half, CASE[i].h, 1000.0, 2000.0 };
        const struct st_oven_point oven = { 0.0, CASE[i].T };
        double T = 0.0, index = 0.0;
        assert_int_equal(p->why, ST_TOAST_RECKONED);
        assert_int_equal(st_toast_core(&heat, 1, &oven, 293.15, CASE[i].s, &T), ST_ESTIMATED);
        assert_int_equal(st_toast_index(&heat, 1, &oven, 293.15, CASE[i].s, 100e3, &index), ST_ESTIMATED);
        near(p->core_K.value, T, 1e-9);
        near(p->index.value, index, 1e-9);
        near(p->path_K[ST_TOAST_TIMES - 1].value, T, 1e-9);
        near(p->path_K[0].value, 293.15, 1e-12);
        assert_true(p->core_K.low < T && T < p->core_K.high && p->index.low < index && index < p->index.high);
        done();
    }
}

static void ordered(const struct st_interval *x)
{
    assert_true(x->known && isfinite(x->low) && isfinite(x->high));
    assert_true(x->low <= x->value && x->value <= x->high);
}

/* Longer and hotter is never cooler inside, nor less toasted, at the middle and at both ends; and nothing is ever
 * hotter than the oven. */
static void longer_and_hotter_is_more(void **state)
{
    (void)state;
    for (int by = 0; by < 2; by++) {
        struct st_interval last_K = { 0 }, last_index = { 0 };
        for (int i = 1; i <= 20; i++) {
            const double minutes = by ? 10.0 : 2.0 * i, t_C = by ? 60.0 + 10.0 * i : 170.0;
            char how[120];
            (void)snprintf(how, sizeof how, "    words: In the oven.\n    for: %.0f min\n    at: %.0f C\n", minutes,
                           t_C);
            const struct st_toast_piece *p = toast("30 g hazelnuts", how);
            assert_int_equal(p->why, ST_TOAST_RECKONED);
            assert_true(p->core_K.value > last_K.value && p->index.value > last_index.value);
            assert_true(p->core_K.low > last_K.low && p->core_K.high >= last_K.high);
            assert_true(p->index.low > last_index.low && p->index.high > last_index.high);
            for (int k = 0; k < ST_TOAST_TIMES; k++) {
                ordered(&p->path_K[k]);
                assert_true(p->path_K[k].high <= t_C + 273.15 + 1e-9);
                assert_true(k == 0 ||
                            (p->path_K[k].value > p->path_K[k - 1].value && p->path_K[k].low >= p->path_K[k - 1].low));
            }
            last_K = p->core_K;
            last_index = p->index;
            done();
        }
    }
}

/* Random toasts with ranges: never above the hottest that was told, nor below the room. */
static void never_hotter_than_the_oven(void **state)
{
    static const char *const WHERE[] = { "", "    words: In the oven.\n", "    words: In a dry pan.\n" };
    double u[60][4];
    (void)state;
    st_uniform_n(7, 1, 0, sizeof u / sizeof u[0][0], u[0]);
    for (int i = 0; i < 60; i++) {
        const double *x = u[i], low = 30.0 + 200.0 * x[0], high = low + 1.0 + 40.0 * x[1];
        char how[160];
        (void)snprintf(how, sizeof how, "%s    for: %.0f-%.0f min\n    at: %.0f-%.0f C\n", WHERE[i % 3],
                       1.0 + 20.0 * x[2], 22.0 + 30.0 * x[3], floor(low), ceil(high));
        (void)toast("10 g sweet almonds, 2 g fennel seed, 3 g cinnamon stick, \"4 g hazelnuts, chopped\"", how);
        assert_int_equal(told.n_piece, 4);
        for (int k = 0; k < 4; k++) {
            const struct st_toast_piece *p = &told.piece[k];
            assert_int_equal(p->why, ST_TOAST_RECKONED);
            ordered(&p->core_K);
            ordered(&p->index);
            assert_true(p->core_K.high <= ceil(high) + 273.15 + 1e-9 && p->core_K.low >= 293.15);
            assert_true(p->index.low >= 0.0);
        }
        done();
    }
}

/* A range of the maker's widens what is told. */
static void a_range_is_wider(void **state)
{
    (void)state;
    const struct st_toast_piece *p =
        toast("5 g coriander seed", "    words: In a pan.\n    for: 3 min\n    at: 155 C\n");
    const double sharp = p->core_K.high - p->core_K.low;
    done();
    p = toast("5 g coriander seed", "    words: In a pan.\n    for: 3 min\n    at: 140-170 C\n");
    assert_true(p->core_K.high - p->core_K.low > sharp + 10.0);
    done();
}

/* "A short toast of kernels in a medium oven is a flavour step only": common practice, no source.  Plausible here: the
 * inside is between browning (above 120 C, read) and the oven, not far from one usual toast, and most of the amygdalin
 * may be there still. */
static void a_short_toast_of_kernels(void **state)
{
    (void)state;
    const struct st_toast_piece *p =
        toast("20 g bitter apricot kernels", "    words: In the oven.\n    for: 10 min\n    at: 175 C\n");
    assert_true(p->cyanogenic && p->amygdalin);
    assert_true(p->core_K.value > 273.15 + 120.0 && p->core_K.high < 273.15 + 175.0);
    assert_true(p->index.low < 1.0 && p->index.high > 0.3);
    assert_true(p->left_high > 0.9 && p->left_low < 0.35);
    st_toast_left_words(words, sizeof words, p);
    assert_non_null(strstr(words, "may be left (one published run: 35 % after 10 min at 160 °C [nalcaci_2025])"));
    assert_non_null(strstr(st_toast_flavour_only, "lowers no worst case"));
    assert_non_null(strstr(st_toast_flavour_only, "common practice, no source"));
    done();
}

/* The one published run lies in the range told of it, whatever the size: 9.77 of 27.64 mg/g [nalcaci_2025]. */
static void the_published_run_is_inside(void **state)
{
    (void)state;
    const struct st_toast_piece *p =
        toast("20 g bitter apricot kernels", "    words: In the oven.\n    for: 10 min\n    at: 160 C\n");
    assert_true(p->left_low < 9.77 / 27.64 && 9.77 / 27.64 < p->left_high);
    done();
    p = toast("20 g bitter apricot kernels", "    words: In the oven.\n    for: 23 h\n    at: 290 C\n");
    assert_true(p->left_high >= 0.1); /* one run cannot show that nothing is left */
    st_toast_left_words(words, sizeof words, p);
    assert_non_null(strstr(words, "under 1 to 10 %"));
    done();
}

/* ---- what is not known ---- */

static void is_unknown(const char *add, const char *how, enum st_toast_why why, const char *says)
{
    const struct st_toast_piece *p = toast(add, how);
    assert_int_equal(p->why, why);
    assert_false(p->core_K.known || p->index.known);
    st_toast_piece_words(words, sizeof words, &told, p);
    if (!strstr(words, says) || strstr(words, "inside"))
        fail_msg("'%s' does not say '%s'", words, says);
    st_toast_basis_words(words, sizeof words, &told);
    assert_string_equal(words, "");
    st_toast_left_words(words, sizeof words, p);
    assert_null(strchr(words, '%'));
    done();
}

static void what_nobody_said_is_not_invented(void **state)
{
    (void)state;
    is_unknown("30 g sweet almonds", "    for: 10 min\n", ST_TOAST_NO_TEMPERATURE, "nobody said how hot");
    is_unknown("30 g sweet almonds", "    at: 170 C\n", ST_TOAST_NO_TIME, "nobody said how long");
    is_unknown("20 g bitter apricot kernels", "    words: In a medium oven until golden.\n", ST_TOAST_NEITHER,
               "write `at:` and `for:`");
    is_unknown("300 g raspberries", "    at: 170 C\n    for: 10 min\n", ST_TOAST_WET, "holds much water");
    is_unknown("30 g sweet almonds", "    at: 320 C\n    for: 10 min\n", ST_TOAST_OUTSIDE, "hotter than 300");
    is_unknown("30 g sweet almonds", "    at: 150 C\n    for: 2 days\n", ST_TOAST_OUTSIDE, "longer than a day");
}

static enum st_toast_way way_of(const char *id, const char *said)
{
    const struct st_step s = { .id = id, .words = said, .kind = ST_DO_TOAST };
    return st_toast_way_of(&s);
}

static void what_gives_the_heat(void **state)
{
    (void)state;
    assert_int_equal(way_of("nuts", "In a dry pan until they smell."), ST_TOAST_PAN);
    assert_int_equal(way_of("oven", ""), ST_TOAST_OVEN);
    assert_int_equal(way_of("nuts", "Spread on a tray."), ST_TOAST_OVEN);
    assert_int_equal(way_of("nuts", "Fan oven, middle shelf."), ST_TOAST_FAN);
    assert_int_equal(way_of("nuts", "Until golden."), ST_TOAST_UNSAID);
    assert_int_equal(way_of("nuts", "In a pan, or in the oven."), ST_TOAST_UNSAID);
    assert_int_equal(way_of("pandan", "With Spanish almonds."), ST_TOAST_UNSAID);
    for (int w = 0; w < ST_NTOAST; w++) { /* unsaid holds all of the others */
        const struct st_range h = st_toast_heat((enum st_toast_way)w), any = st_toast_heat(ST_TOAST_UNSAID);
        assert_true(h.low < h.value && h.value < h.high && any.low <= h.low && any.high >= h.high);
    }
}

/* ---- which steps ---- */

static void toasts_that_come_into_a_jar(void **state)
{
    int at[8];
    (void)state;
    read_text("title: two (invented)\nmeasures: metric\nsteps:\n"
              "  - toast: one\n    add: 20 g sweet almonds\n    for: 5 min\n    at: 150 C\n"
              "  - toast: two\n    add: [all of one, 10 g hazelnuts]\n    for: 5 min\n    at: 170 C\n"
              "  - toast: other\n    add: 5 g coriander seed\n    for: 2 min\n    at: 150 C\n"
              "  - steep: first\n    add: [all of two, 300 mL vodka 40 %]\n    for: 2 weeks\n"
              "  - steep: second\n    add: [all of other, 300 mL vodka 40 %]\n    for: 2 weeks\n"
              "  - blend: drink\n    add: [all of first, all of second]\n");
    assert_int_equal(st_toasts_for(&file.recipe, 3, at, 8), 2);
    assert_true(at[0] == 0 && at[1] == 1);
    assert_int_equal(st_toasts_for(&file.recipe, 4, at, 8), 1);
    assert_int_equal(at[0], 2);
    assert_int_equal(st_toasts_for(&file.recipe, 5, at, 2), 2);
    assert_int_equal(st_toast_step(&books->jar, &file.recipe, 3, ST_TOAST_OVEN, 1, &told), ST_E_REFUSED);
    assert_int_equal(st_toast_step(&books->jar, &file.recipe, 6, ST_TOAST_OVEN, 1, &told), ST_E_REFUSED);
    assert_int_equal(st_toast_step(&books->jar, &file.recipe, 1, ST_TOAST_OVEN, 1, &told), ST_ESTIMATED);
    assert_int_equal(told.n_piece, 2);
    assert_true(told.piece[0].again && !told.piece[1].again);
    st_toast_piece_words(words, sizeof words, &told, &told.piece[0]);
    assert_non_null(strstr(words, "toasted before"));
    done();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_middle_is_what_core_says),     cmocka_unit_test(longer_and_hotter_is_more),
        cmocka_unit_test(never_hotter_than_the_oven),       cmocka_unit_test(a_range_is_wider),
        cmocka_unit_test(a_short_toast_of_kernels),         cmocka_unit_test(the_published_run_is_inside),
        cmocka_unit_test(what_nobody_said_is_not_invented), cmocka_unit_test(what_gives_the_heat),
        cmocka_unit_test(toasts_that_come_into_a_jar),
    };
    return cmocka_run_group_tests_name("toast", tests, load, unload);
}
