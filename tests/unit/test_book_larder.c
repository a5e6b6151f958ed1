/* Lots and what is left of them. */

#include "book_kit.h"
#include "catalogue_kit.h"

#include <limits.h>
#include <math.h>

#include "api/book_larder.h"

static struct st_lot_told told;

static void add(const char *line, const char *code, const char *use_by)
{
    struct st_lot_given g;
    st_lot_given_init(&g);
    g.code = code;
    g.use_by = use_by;
    done(st_larder_add(&desk, all, ST_MEASURES_METRIC, line, &g, &told));
}

static bool take(const char *code, const char *amount)
{
    return st_larder_take(&desk, all, ST_MEASURES_METRIC, code, amount, "tasted", NULL, NULL, NULL, &told);
}

static void codes_go_on_from_the_largest(void **state)
{
    (void)state;
    char code[24];
    add("500 g sugar", NULL, NULL);
    assert_string_equal(told.lot.row.code, "L1");
    add("500 g sugar", "L41", NULL);
    add("500 g sugar", "HOUSE-7", NULL);
    add("500 g sugar", "L9x", NULL);
    done(st_lot_next_code(&desk, code));
    assert_string_equal(code, "L42");
}

/* Any order of taking and counting leaves what was counted last less what was taken since; sums of thirds do not drift to
 * a lot that is never used up. */
static void what_is_left(void **state)
{
    (void)state;
    add("1 kg sugar", NULL, NULL);
    for (int i = 0; i < 10; i++)
        done(take("L1", "33.3 g"));
    assert_float_equal(told.lot.left, 667.0, 1e-9);
    done(st_larder_count(&desk, all, ST_MEASURES_METRIC, "L1", "900 g", NULL, NULL, &told));
    assert_float_equal(told.lot.left, 900.0, 1e-9);
    for (int i = 0; i < 9; i++)
        done(take("L1", "100 g"));
    assert_true(told.lot.left == 0.0 && told.lot.over);
    refused(take("L1", "1 g"), "not so much");
    done(st_larder_count(&desk, all, ST_MEASURES_METRIC, "L1", "5 g", NULL, NULL, &told));
    assert_true(!told.lot.over);
    assert_int_equal(told.lot.n_use, 21);
}

static void all_of_it(void **state)
{
    (void)state;
    add("700 mL vodka 40 %", NULL, NULL);
    done(take("L1", "all"));
    assert_true(told.lot.over && told.lot.left == 0.0 && told.lot.row.ended_on == NULL);
}

/* 5 mL of honey weigh what the sheet says; what has no weight is refused. */
static void crossing_measures(void **state)
{
    (void)state;
    add("500 g honey", NULL, NULL);
    done(take("L1", "100 mL"));
    assert_true(told.lot.left < 500.0 - 130.0 && told.lot.left > 500.0 - 150.0);
    add("300 mL orange tincture 55 %", NULL, NULL); /* 0.92 g/mL by its strength */
    done(take("L2", "10 g"));
    assert_true(told.lot.left < 300.0 - 10.0 && told.lot.left > 300.0 - 11.5);
    add("300 mL quonk shrub", NULL, NULL);
    refused(take("L3", "10 g"), "not known");
}

static void a_refusal_leaves_no_deed(void **state)
{
    (void)state;
    struct st_lot_given g;
    add("500 g sugar", NULL, NULL);
    const int before = kit_deeds();
    refused(take("L1", "600 g"), "not so much");
    refused(take("L2", "6 g"), "no lot");
    st_lot_given_init(&g);
    g.as = "nonsuch";
    refused(st_larder_change(&desk, all, "L1", &g, &told), "no such name");
    g.as = NULL;
    g.sugar = 70000.0; /* outside the limits of its column: the store refuses */
    assert_false(st_larder_change(&desk, all, "L1", &g, &told));
    assert_int_equal(desk.status, BOOK_E_REFUSED);
    assert_int_equal(kit_deeds(), before);
    done(take("L1", "1 g"));
}

static void near_its_end_first(void **state)
{
    (void)state;
    struct st_larder l;
    static const char *const ORDER[] = { "C", "B", "D", "A" };
    add("1 kg sugar", "A", NULL);
    add("1 L cream", "B", "2026-07-01");
    add("1 L milk", "C", "2026-06-20");
    add("1 L milk", "E", "2026-06-01");
    add("1 kg salt", "D", NULL);
    done(st_larder_opened(&desk, "D", NULL, &told));
    done(st_larder_gone(&desk, "E", "thrown", NULL, &told));
    done(st_larder_read(&desk, false, &l));
    assert_int_equal(l.n_lot, 4);
    assert_int_equal(l.n_over, 1);
    for (int i = 0; i < 4; i++)
        assert_string_equal(l.lot[i].row.code, ORDER[i]);
    assert_int_equal(l.lot[0].use_by, -5);
    assert_int_equal(l.lot[3].use_by, LONG_MIN);
    done(st_larder_read(&desk, true, &l));
    assert_int_equal(l.n_lot, 5);
    assert_string_equal(l.lot[4].row.code, "E");
}

/* Each deed taken back in turn leaves what was there before it. */
static void undo_all_the_way(void **state)
{
    (void)state;
    struct st_larder l;
    struct book_deed d;
    add("1 kg sugar", NULL, NULL);
    done(take("L1", "100 g"));
    done(st_larder_opened(&desk, "L1", NULL, &told));
    done(st_larder_gone(&desk, "L1", "spilt", NULL, &told));
    assert_int_equal(book_undo(desk.book, desk.moment, BOOK_NO, &kit_arena, &d), BOOK_OK);
    assert_string_equal(d.words, "sugar (L1) is gone: 900 g spilt");
    done(st_larder_read(&desk, false, &l));
    assert_true(l.n_lot == 1 && l.lot[0].left == 900.0 && l.lot[0].opened == 0);
    for (int i = 0; i < 3; i++)
        assert_int_equal(book_undo(desk.book, desk.moment, BOOK_NO, &kit_arena, &d), BOOK_OK);
    assert_string_equal(d.words, "added 1 kg sugar (L1)");
    done(st_larder_read(&desk, true, &l));
    assert_int_equal(l.n_lot, 0);
}

static void amounts_in_words(void **state)
{
    (void)state;
    static const struct {
        double amount;
        const char *dim, *words;
        enum st_measures units;
    } SAY[] = {
        { 500, "g", "500 g", ST_MEASURES_NONE },       { 1240, "g", "1.24 kg", ST_MEASURES_NONE },
        { 700, "mL", "700 mL", ST_MEASURES_NONE },     { 1000, "mL", "1 L", ST_MEASURES_METRIC },
        { 2.5, "mL", "2.5 mL", ST_MEASURES_NONE },     { 1, "pieces", "1 piece", ST_MEASURES_NONE },
        { 6, "pieces", "6 pieces", ST_MEASURES_NONE }, { 236.588, "mL", "1 cup", ST_MEASURES_US },
        { 999.9, "mL", "1 L", ST_MEASURES_NONE },
    };
    for (size_t i = 0; i < sizeof SAY / sizeof *SAY; i++) {
        char text[60];
        st_lot_amount(text, sizeof text, SAY[i].amount, SAY[i].dim, SAY[i].units);
        assert_string_equal(text, SAY[i].words);
    }
}

static void words_are_found(void **state)
{
    (void)state;
    const char *const text[] = { "Green Walnuts", NULL, "cellar, left" };
    assert_true(st_words_in("walnut CELLAR", text, 3));
    assert_false(st_words_in("walnut attic", text, 3));
    assert_true(st_words_in("  ", text, 3));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(codes_go_on_from_the_largest, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(what_is_left, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(all_of_it, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(crossing_measures, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(a_refusal_leaves_no_deed, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(near_its_end_first, kit_open, kit_close),
        cmocka_unit_test_setup_teardown(undo_all_the_way, kit_open, kit_close),
        cmocka_unit_test(amounts_in_words),
        cmocka_unit_test(words_are_found),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
