#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "store/book.h"

/* The book as a file: rows come back as they went in, deeds are whole or not there, undo takes them back in any depth. */

static char folder[] = "/tmp/st_book_XXXXXX";
static char path[64];
static const char AT[] = "2026-03-01T10:00";

static int make_folder(void **state)
{
    (void)state;
    if (!mkdtemp(folder))
        return -1;
    snprintf(path, sizeof path, "%s/book", folder);
    return 0;
}

static int drop_folder(void **state)
{
    (void)state;
    static const char *const end[] = { "", "-wal", "-shm" };
    for (size_t i = 0; i < sizeof end / sizeof *end; i++) {
        char file[80];
        snprintf(file, sizeof file, "%s%s", path, end[i]);
        unlink(file);
    }
    rmdir(folder);
    return 0;
}

static int drop_file(void **state)
{
    drop_folder(state);
    snprintf(folder, sizeof folder, "/tmp/st_book_XXXXXX");
    return make_folder(state);
}

static struct book *open_new(void)
{
    struct book *b;
    if (book_open(path, BOOK_WRITE, &b) != BOOK_OK)
        fail_msg("%s: %s", book_said(b)->what, book_said(b)->why);
    return b;
}

static struct book_lot walnuts(void)
{
    struct book_lot lot;
    book_row_init(BOOK_LOT, &lot);
    lot.code = "L1";
    lot.kind = "bought";
    lot.name = "green walnuts";
    lot.dim = "g";
    lot.amount = 0.1 + 0.2; /* no short decimal */
    lot.gross = 1;
    lot.since = "2026-02-28";
    return lot;
}

static int64_t add(struct book *b, const struct book_lot *lot, const char *words)
{
    int64_t id = 0;
    assert_int_equal(book_begin(b, AT, words), BOOK_OK);
    assert_int_equal(book_put(b, BOOK_LOT, lot, &id), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
    return id;
}

static int64_t lots(struct book *b)
{
    int64_t n = -1;
    assert_int_equal(book_count(b, BOOK_LOT, NULL, &n), BOOK_OK);
    return n;
}

static void a_row_comes_back_bit_for_bit(void **state)
{
    (void)state;
    struct st_arena arena = { 0 };
    struct book *b = open_new();
    const struct book_lot in = walnuts();
    struct book_lot out;
    const int64_t id = add(b, &in, "added walnuts");

    book_close(b);
    b = open_new();
    assert_int_equal(book_get(b, BOOK_LOT, id, &arena, &out), BOOK_OK);
    assert_memory_equal(&out.amount, &in.amount, sizeof in.amount);
    assert_string_equal(out.name, "green walnuts");
    assert_string_equal(out.note, "");
    assert_null(out.use_by);
    assert_true(isnan(out.price));
    assert_true(out.from_batch == BOOK_NO && out.gross == 1);
    assert_int_equal(book_get(b, BOOK_LOT, id + 1, &arena, &out), BOOK_NONE);
    book_close(b);
    st_arena_done(&arena);
}

static void what_is_not_ended_is_not_there(void **state)
{
    (void)state;
    struct book *b = open_new();
    const struct book_lot lot = walnuts();

    assert_int_equal(book_begin(b, AT, "half done"), BOOK_OK);
    assert_int_equal(book_put(b, BOOK_LOT, &lot, NULL), BOOK_OK);
    book_close(b);
    b = open_new();
    assert_int_equal(lots(b), 0);
    book_close(b);
}

static void a_row_outside_the_limits_is_refused(void **state)
{
    (void)state;
    struct book *b = open_new();
    struct book_lot lot = walnuts();

    lot.kind = "stolen";
    assert_int_equal(book_begin(b, AT, "wrong"), BOOK_OK);
    assert_int_equal(book_put(b, BOOK_LOT, &lot, NULL), BOOK_E_REFUSED);
    lot = walnuts();
    lot.from_batch = 77;
    assert_int_equal(book_put(b, BOOK_LOT, &lot, NULL), BOOK_E_REFUSED);
    book_cancel(b);
    assert_int_equal(lots(b), 0);
    book_close(b);
}

static void undo_and_again(void **state)
{
    (void)state;
    struct st_arena arena = { 0 };
    struct book_deed d, *all;
    struct book *b = open_new();
    struct book_lot lot = walnuts();
    int n;

    lot.id = add(b, &lot, "first");
    lot.amount = 250.0;
    add(b, &lot, "second");
    assert_int_equal(book_undo(b, AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_string_equal(d.words, "second");
    assert_int_equal(book_get(b, BOOK_LOT, lot.id, &arena, &lot), BOOK_OK);
    assert_true(lot.amount < 1.0);
    assert_int_equal(book_undo(b, AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_string_equal(d.words, "first");
    assert_int_equal(lots(b), 0);
    assert_int_equal(book_undo(b, AT, BOOK_NO, &arena, &d), BOOK_NONE);
    assert_int_equal(book_redo(b, AT, &arena, &d), BOOK_OK);
    assert_int_equal(book_redo(b, AT, &arena, &d), BOOK_OK);
    assert_int_equal(book_redo(b, AT, &arena, &d), BOOK_NONE);
    assert_int_equal(book_get(b, BOOK_LOT, lot.id, &arena, &lot), BOOK_OK);
    assert_true(lot.amount == 250.0);
    assert_int_equal(book_deeds(b, 10, &arena, &all, &n), BOOK_OK);
    assert_int_equal(n, 6);
    assert_string_equal(all[0].words, "did again: second");
    assert_string_equal(all[5].words, "first");
    assert_int_equal(book_undo(b, AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_int_equal(book_undo(b, AT, BOOK_NO, &arena, &d), BOOK_OK);
    assert_int_equal(lots(b), 0);
    book_close(b);
    st_arena_done(&arena);
}

/* The journal has a row when its deed ends; until then it is later than all that is there. */
static void what_a_deed_enters_comes_last(void **state)
{
    (void)state;
    struct book *b = open_new();
    struct book_lot lot = walnuts();
    int64_t before = 0, now = 0, deed = 0;
    const int64_t first = add(b, &lot, "first");
    lot.code = "L2";
    assert_int_equal(book_begin(b, AT, "second"), BOOK_OK);
    assert_int_equal(book_entered(b, BOOK_LOT, first, &before), BOOK_OK);
    assert_int_equal(book_entered(b, BOOK_LOT, first + 1, &deed), BOOK_NONE);
    assert_int_equal(book_put(b, BOOK_LOT, &lot, &now), BOOK_OK);
    assert_int_equal(book_entered(b, BOOK_LOT, now, &deed), BOOK_OK);
    assert_true(deed > before && deed == INT64_MAX);
    /* a row that is changed was entered before, and one of another table is another row */
    lot.id = first;
    lot.code = "L1";
    lot.amount = 5.0;
    assert_int_equal(book_put(b, BOOK_LOT, &lot, NULL), BOOK_OK);
    assert_int_equal(book_entered(b, BOOK_LOT, first, &deed), BOOK_OK);
    assert_int_equal(deed, before);
    assert_int_equal(book_entered(b, BOOK_BATCH, now, &deed), BOOK_NONE);
    assert_int_equal(book_end(b), BOOK_OK);
    assert_int_equal(book_entered(b, BOOK_LOT, now, &deed), BOOK_OK);
    assert_int_equal(deed, before + 1);
    book_close(b);
}

/* The deed that last changed a row, or entered it; the one that is open is later than all. */
static void what_changed_a_row_last(void **state)
{
    (void)state;
    struct book *b = open_new();
    struct book_lot lot = walnuts();
    int64_t deed = 0, entered = 0;
    lot.id = add(b, &lot, "first");
    assert_int_equal(book_entered(b, BOOK_LOT, lot.id, &entered), BOOK_OK);
    assert_int_equal(book_changed(b, BOOK_LOT, lot.id, &deed), BOOK_OK);
    assert_int_equal(deed, entered);
    lot.amount = 5.0;
    assert_int_equal(book_begin(b, AT, "second"), BOOK_OK);
    assert_int_equal(book_put(b, BOOK_LOT, &lot, NULL), BOOK_OK);
    assert_int_equal(book_changed(b, BOOK_LOT, lot.id, &deed), BOOK_OK);
    assert_true(deed == INT64_MAX);
    assert_int_equal(book_end(b), BOOK_OK);
    assert_int_equal(book_changed(b, BOOK_LOT, lot.id, &deed), BOOK_OK);
    assert_int_equal(deed, entered + 1);
    assert_int_equal(book_changed(b, BOOK_LOT, lot.id + 1, &deed), BOOK_NONE);
    assert_int_equal(book_changed(b, BOOK_BATCH, lot.id, &deed), BOOK_NONE);
    assert_int_equal(deed, entered + 1);
    book_close(b);
}

static void undo_of_what_others_build_on_is_refused(void **state)
{
    (void)state;
    struct st_arena arena = { 0 };
    struct book_deed d, *all;
    struct book *b = open_new();
    struct book_lot lot = walnuts();
    struct book_lot_use use;
    int n;

    lot.id = add(b, &lot, "first");
    assert_int_equal(book_begin(b, AT, "took some"), BOOK_OK);
    book_row_init(BOOK_LOT_USE, &use);
    use.lot_id = lot.id;
    use.amount = 10.0;
    use.on_day = "2026-03-01";
    use.why = "tasted";
    assert_int_equal(book_put(b, BOOK_LOT_USE, &use, NULL), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
    assert_int_equal(book_deeds(b, 10, &arena, &all, &n), BOOK_OK);
    assert_int_equal(n, 2);
    assert_int_equal(book_undo(b, AT, all[1].id, &arena, &d), BOOK_E_CONFLICT);
    assert_int_equal(lots(b), 1);
    assert_int_equal(book_deeds(b, 10, &arena, &all, &n), BOOK_OK);
    assert_int_equal(n, 2);
    lot.amount = 5.0;
    add(b, &lot, "changed");
    assert_int_equal(book_undo(b, AT, all[1].id, &arena, &d), BOOK_E_CONFLICT);
    book_close(b);
    st_arena_done(&arena);
}

static void what_is_held_is_read_as_it_was(void **state)
{
    (void)state;
    struct book *b = open_new(), *held;
    struct book_lot lot = walnuts();

    add(b, &lot, "first");
    assert_int_equal(book_open(path, BOOK_READ, &held), BOOK_OK);
    assert_int_equal(book_hold(held), BOOK_OK);
    assert_int_equal(lots(held), 1);
    lot.code = "L2";
    lot.id = BOOK_NO;
    add(b, &lot, "second");
    assert_int_equal(lots(b), 2);
    assert_int_equal(lots(held), 1);
    book_close(held);
    assert_int_equal(book_open(path, BOOK_READ, &held), BOOK_OK);
    assert_int_equal(lots(held), 2);
    book_close(held);
    book_close(b);
}

static void settings_are_kept(void **state)
{
    (void)state;
    struct st_arena arena = { 0 };
    const char *value;
    struct book *b = open_new();

    assert_int_equal(book_setting(b, "place", &arena, &value), BOOK_OK);
    assert_string_equal(value, "");
    assert_int_equal(book_begin(b, AT, "said where I live"), BOOK_OK);
    assert_int_equal(book_set(b, "place", "eu"), BOOK_OK);
    assert_int_equal(book_set(b, "place", "uk"), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
    assert_int_equal(book_setting(b, "place", &arena, &value), BOOK_OK);
    assert_string_equal(value, "uk");
    book_close(b);
    st_arena_done(&arena);
}

static void other_files_are_left_alone(void **state)
{
    (void)state;
    static const char TEXT[] =
        "This is a letter of some length, and no book at all; a hundred bytes are needed to be looked "
        "at as the head of a database file, so here are some more.";
    char back[sizeof TEXT] = "";
    struct book *b;
    FILE *f = fopen(path, "wb");

    assert_non_null(f);
    fwrite(TEXT, 1, sizeof TEXT, f);
    fclose(f);
    assert_int_equal(book_open(path, BOOK_WRITE, &b), BOOK_E_FOREIGN);
    book_close(b);
    f = fopen(path, "rb");
    assert_non_null(f);
    assert_int_equal(fread(back, 1, sizeof back, f), sizeof TEXT);
    fclose(f);
    assert_memory_equal(back, TEXT, sizeof TEXT);
    unlink(path);
    assert_int_equal(book_open(path, BOOK_READ, &b), BOOK_NONE);
    book_close(b);
    assert_int_equal(access(path, F_OK), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(a_row_comes_back_bit_for_bit, drop_file),
        cmocka_unit_test_setup(what_is_not_ended_is_not_there, drop_file),
        cmocka_unit_test_setup(a_row_outside_the_limits_is_refused, drop_file),
        cmocka_unit_test_setup(undo_and_again, drop_file),
        cmocka_unit_test_setup(what_a_deed_enters_comes_last, drop_file),
        cmocka_unit_test_setup(what_changed_a_row_last, drop_file),
        cmocka_unit_test_setup(undo_of_what_others_build_on_is_refused, drop_file),
        cmocka_unit_test_setup(what_is_held_is_read_as_it_was, drop_file),
        cmocka_unit_test_setup(settings_are_kept, drop_file),
        cmocka_unit_test_setup(other_files_are_left_alone, drop_file),
    };
    return cmocka_run_group_tests(tests, make_folder, drop_folder);
}
