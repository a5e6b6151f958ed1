#include "store/kit.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "store/backup.h"
#include "store/check.h"
#include "store/house.h"

/* Backups: whole or not there, by hand and by the calendar, brought back into a sound book and a torn one. */

static struct st_arena arena;

static struct book *house(struct kit *k)
{
    kit_make(k);
    struct book *b = kit_open(k);
    assert_int_equal(house_fill(b), BOOK_OK);
    return b;
}

static void done(struct kit *k, struct book *b)
{
    book_close(b);
    kit_done(k);
    st_arena_done(&arena);
}

static int backups(struct book *b, struct book_backup **all)
{
    int n = -1;
    assert_int_equal(book_backups(b, &arena, all, &n), BOOK_OK);
    return n;
}

static void a_backup_is_the_book(void **state)
{
    (void)state;
    struct kit k;
    struct book_backup *all;
    const char *path = NULL;
    struct book *b = house(&k);

    assert_int_equal(backups(b, &all), 0);
    assert_int_equal(book_backup_by_hand(b, "2026-10-04T18:30:59", &arena, &path), BOOK_OK);
    assert_string_equal(path, kit_file(&k, "backups/book-2026-10-04T1830.by-hand.backup"));
    kit_is_sound(path);
    char *one = kit_ask(k.book, "SELECT * FROM deed"), *other = kit_ask(path, "SELECT * FROM deed");
    assert_string_equal(one, other);
    free(one);
    free(other);
    assert_int_equal(book_backup_by_hand(b, "2026-10-04T18:30", &arena, &path), BOOK_OK);
    assert_string_equal(path, kit_file(&k, "backups/book-2026-10-04T1830-2.by-hand.backup"));
    assert_int_equal(backups(b, &all), 2);
    assert_string_equal(all[0].path, path);
    assert_string_equal(all[0].moment, "2026-10-04T18:30");
    assert_true(all[0].by_hand && all[0].bytes > 4096);
    done(&k, b);
}

static void what_is_there_is_not_written_over(void **state)
{
    (void)state;
    struct kit k;
    size_t size;
    struct book *b = house(&k);
    FILE *f = fopen(kit_file(&k, "mine"), "wb");

    assert_non_null(f);
    fputs("mine", f);
    fclose(f);
    assert_int_equal(book_backup_to(b, kit_file(&k, "mine")), BOOK_E_REFUSED);
    char *bytes = kit_read(kit_file(&k, "mine"), &size);
    assert_string_equal(bytes, "mine");
    free(bytes);
    assert_int_equal(book_backup_to(b, kit_file(&k, "no/such/folder")), BOOK_E_SYSTEM);
    assert_int_equal(book_backup_to(b, kit_file(&k, "other")), BOOK_OK);
    kit_is_sound(kit_file(&k, "other"));
    done(&k, b);
}

/* ---- by the calendar ---- */

static void set(struct book *b, const char *name, const char *value)
{
    assert_int_equal(book_begin(b, KIT_AT, name), BOOK_OK);
    assert_int_equal(book_set(b, name, value), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
}

static const char *when_due(struct book *b, const char *now)
{
    const char *path = "none";
    assert_int_equal(book_backup_when_due(b, now, &arena, &path), BOOK_OK);
    return path;
}

static void the_calendar_makes_them(void **state)
{
    (void)state;
    struct kit k;
    struct book_backup *all;

    kit_make(&k);
    struct book *b = kit_open(&k);
    assert_false(book_backup_due(b, "2026-03-01T10:00")); /* nothing is in it yet */
    kit_add_lot(b, "L1", "walnuts", "");                  /* on 2026-03-01T10:00 */
    assert_null(when_due(b, "2026-03-08T09:59"));
    assert_string_equal(when_due(b, "2026-03-08T10:00"), kit_file(&k, "backups/book-2026-03-08T1000.backup"));
    assert_null(when_due(b, "2026-03-08T10:01"));
    assert_null(when_due(b, "2026-03-15T09:59"));
    assert_non_null(when_due(b, "2026-03-15T10:00"));
    set(b, "backup_days", "1");
    set(b, "backup_keep", "2");
    const char *by_hand;
    assert_int_equal(book_backup_by_hand(b, "2026-03-15T11:00", &arena, &by_hand), BOOK_OK);
    assert_non_null(when_due(b, "2026-03-16T11:00"));
    assert_int_equal(backups(b, &all), 3); /* two of the calendar, and the one by hand, which stays */
    assert_string_equal(all[0].moment, "2026-03-16T11:00");
    assert_string_equal(all[1].path, by_hand);
    assert_string_equal(all[2].moment, "2026-03-15T10:00");
    set(b, "backup_days", "0");
    assert_null(when_due(b, "2030-01-01T00:00"));
    done(&k, b);
}

static void touch(const char *path)
{
    FILE *f = fopen(path, "wb");
    assert_non_null(f);
    fclose(f);
}

/* Only what bears our names is counted or removed. */
static void files_of_others_stay(void **state)
{
    (void)state;
    static const char *const OTHERS[] = { "backups/book-2001-01-01T0000.backups",  "backups/book-2001-01-01.backup",
                                          "backups/book2-2001-01-01T0000.backup",  "backups/book-2001-01-01T0000.txt",
                                          "backups/book-2001-01-01T0000-x.backup", "backups/notes" };
    struct kit k;
    struct book_backup *all;
    struct book *b = house(&k);

    mkdir(kit_file(&k, "backups"), 0700);
    for (size_t i = 0; i < sizeof OTHERS / sizeof *OTHERS; i++)
        touch(kit_file(&k, OTHERS[i]));
    touch(kit_file(&k, "backups/book-2001-01-01T0000.backup"));
    assert_int_equal(backups(b, &all), 1);
    set(b, "backup_keep", "1");
    assert_non_null(when_due(b, "2026-03-08T10:00"));
    assert_int_equal(backups(b, &all), 1);
    assert_string_equal(all[0].moment, "2026-03-08T10:00");
    for (size_t i = 0; i < sizeof OTHERS / sizeof *OTHERS; i++)
        assert_int_equal(access(kit_file(&k, OTHERS[i]), F_OK), 0);
    done(&k, b);
}

static void a_folder_of_ones_own(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);

    set(b, "backup_folder", "elsewhere");
    assert_string_equal(when_due(b, "2026-03-08T10:00"), kit_file(&k, "elsewhere/book-2026-03-08T1000.backup"));
    set(b, "backup_folder", kit_file(&k, "a/b/c"));
    const char *path;
    assert_true(book_backup_when_due(b, "2026-04-08T10:00", &arena, &path) < 0);
    assert_non_null(strstr(book_said(b)->why, "a/b/c"));
    kit_add_lot(b, "L9", "and the book goes on", "");
    done(&k, b);
}

/* ---- while another writes ---- */

static _Noreturn void write_on(const struct kit *k)
{
    struct book *b;
    char code[20];
    if (book_open(k->book, BOOK_WRITE, &b) != BOOK_OK)
        _exit(1);
    for (int i = 0;; i++) {
        struct book_lot lot;
        snprintf(code, sizeof code, "W%d", i);
        book_row_init(BOOK_LOT, &lot);
        lot.code = code;
        lot.kind = "bought";
        lot.name = "written meanwhile";
        lot.dim = "g";
        lot.amount = 1.0;
        if (book_begin(b, KIT_AT, "on") != BOOK_OK || book_put(b, BOOK_LOT, &lot, NULL) != BOOK_OK ||
            book_end(b) != BOOK_OK)
            _exit(2);
    }
}

static void others_write_meanwhile(void **state)
{
    (void)state;
    struct kit k;
    struct book *b = house(&k);
    char long_text[4001];
    int status;

    memset(long_text, 'x', sizeof long_text - 1);
    long_text[sizeof long_text - 1] = '\0';
    assert_int_equal(book_begin(b, KIT_AT, "many pages"), BOOK_OK);
    for (int i = 0; i < 1500; i++) {
        struct book_vessel v;
        char name[20];
        snprintf(name, sizeof name, "V%d", i);
        book_row_init(BOOK_VESSEL, &v);
        v.name = name;
        v.note = long_text;
        assert_int_equal(book_put(b, BOOK_VESSEL, &v, NULL), BOOK_OK);
    }
    assert_int_equal(book_end(b), BOOK_OK);
    const pid_t writer = fork();
    if (writer == 0)
        write_on(&k);
    nanosleep(&(struct timespec){ .tv_nsec = 100000000 }, NULL);
    assert_int_equal(book_backup_to(b, kit_file(&k, "copy")), BOOK_OK);
    assert_int_equal(waitpid(writer, &status, WNOHANG), 0); /* it was not stopped by it */
    kill(writer, SIGKILL);
    waitpid(writer, &status, 0);
    kit_is_sound(kit_file(&k, "copy"));
    assert_true(kit_number(kit_file(&k, "copy"), "SELECT count(*) FROM lot") > 4);
    assert_int_equal(kit_number(kit_file(&k, "copy"), "SELECT count(*) FROM vessel"), 1501);
    done(&k, b);
}

/* ---- bring back ---- */

static void back_into_a_sound_book(void **state)
{
    (void)state;
    struct kit k;
    const char *backup, *aside;
    struct book *b = house(&k), *back, *other;
    int64_t n;

    other = kit_open(&k); /* another program has it open all the time */
    assert_int_equal(book_backup_by_hand(b, KIT_AT, &arena, &backup), BOOK_OK);
    kit_add_lot(b, "L9", "entered later", "");
    assert_int_equal(book_restore(k.book, backup, KIT_AT, &arena, &back, &aside), BOOK_OK);
    assert_string_equal(aside, kit_file(&k, "book.before-restore-2026-03-01T1000"));
    assert_int_equal(kit_number(aside, "SELECT count(*) FROM lot"), 5);
    kit_is_sound(aside);
    assert_int_equal(book_count(other, BOOK_LOT, NULL, &n), BOOK_OK);
    assert_int_equal(n, 4);
    kit_add_lot(other, "L10", "it may write to it, too", "");
    assert_int_equal(book_count(back, BOOK_LOT, NULL, &n), BOOK_OK);
    assert_int_equal(n, 5);
    book_close(other);
    book_close(back);
    kit_is_sound(k.book);
    done(&k, b);
}

static void spoil(const char *path, long at, size_t size)
{
    FILE *f = fopen(path, "r+b");
    assert_non_null(f);
    fseek(f, at, SEEK_SET);
    for (size_t i = 0; i < size; i++)
        fputc(0xa5, f);
    fclose(f);
}

static void in_the_place_of_a_torn_one(void **state)
{
    (void)state;
    static const long AT[] = { 0, 4096, 100 };
    for (size_t i = 0; i < sizeof AT / sizeof *AT; i++) {
        struct kit k;
        const char *backup, *aside;
        struct book *b = house(&k), *back;
        size_t was, is;

        assert_int_equal(book_backup_by_hand(b, KIT_AT, &arena, &backup), BOOK_OK);
        book_close(b);
        spoil(k.book, AT[i], i == 0 ? 16 : 2000);
        char *before = kit_read(k.book, &was);
        if (book_restore(k.book, backup, KIT_AT, &arena, &back, &aside) != BOOK_OK)
            fail_msg("spoilt at %ld: %s", AT[i], book_said(back)->why);
        char *after = kit_read(aside, &is);
        assert_int_equal(was, is);
        assert_memory_equal(before, after, was); /* what there was lies aside, byte by byte */
        kit_add_lot(back, "L9", "and it goes on", "");
        book_close(back);
        kit_is_sound(k.book);
        assert_int_equal(kit_number(k.book, "SELECT count(*) FROM lot"), 5);
        free(before);
        free(after);
        kit_done(&k);
        st_arena_done(&arena);
    }
}

static void a_torn_backup_is_not_taken(void **state)
{
    (void)state;
    struct kit k;
    const char *backup, *aside;
    struct book *b = house(&k), *back;
    size_t was, is;

    assert_int_equal(book_backup_by_hand(b, KIT_AT, &arena, &backup), BOOK_OK);
    book_close(b);
    char *before = kit_read(k.book, &was);
    spoil(backup, 8192, 3000);
    assert_int_equal(book_restore(k.book, backup, KIT_AT, &arena, &back, &aside), BOOK_E_DAMAGED);
    assert_non_null(strstr(book_said(back)->why, ".by-hand.backup"));
    assert_null(aside);
    book_close(back);
    assert_int_equal(book_restore(k.book, kit_file(&k, "none"), KIT_AT, &arena, &back, &aside), BOOK_NONE);
    book_close(back);
    touch(kit_file(&k, "letter"));
    assert_int_equal(book_restore(k.book, kit_file(&k, "letter"), KIT_AT, &arena, &back, &aside), BOOK_E_FOREIGN);
    book_close(back);
    char *after = kit_read(k.book, &is);
    assert_int_equal(was, is);
    assert_memory_equal(before, after, was);
    free(before);
    free(after);
    kit_done(&k);
    st_arena_done(&arena);
}

static void where_there_is_none(void **state)
{
    (void)state;
    struct kit k;
    const char *aside;
    struct book *b = house(&k), *back;

    assert_int_equal(book_backup_to(b, kit_file(&k, "copy")), BOOK_OK);
    book_close(b);
    unlink(k.book);
    assert_int_equal(book_restore(k.book, kit_file(&k, "copy"), KIT_AT, &arena, &back, &aside), BOOK_OK);
    assert_null(aside);
    kit_is_sound(k.book);
    done(&k, back);
}

/* A backup of the first version is brought forward when it is taken. */
static void an_old_backup_comes_forward(void **state)
{
    (void)state;
    struct kit k;
    const char *aside;
    struct book *b = house(&k), *back;

    if (book_restore(k.book, "tests/store/book_v1.stillroom", KIT_AT, &arena, &back, &aside) != BOOK_OK)
        fail_msg("%s", book_said(back)->why);
    book_close(back);
    assert_int_equal(kit_number(k.book, "PRAGMA user_version"), BOOK_VERSION);
    kit_is_sound(k.book);
    done(&k, b);
}

/* ---- look through ---- */

static int findings(struct book *b, const char **all)
{
    int n = -1;
    assert_int_equal(book_check(b, &arena, all, &n), BOOK_OK);
    return n;
}

static void what_is_wrong_is_found(void **state)
{
    (void)state;
    const char *all[BOOK_FINDINGS];
    struct kit k;
    struct book_size size;
    struct book *b = house(&k);

    assert_int_equal(findings(b, all), 0);
    assert_int_equal(book_size(b, &size), BOOK_OK);
    assert_true(size.rows[BOOK_READING] == 3 && size.deeds == HOUSE_DEEDS && size.bytes + size.log_bytes > 100000);
    free(kit_ask(k.book, "UPDATE search SET words = 'else' WHERE rowid = 6 * 1099511627776 + 1"));
    free(kit_ask(k.book, "INSERT INTO search (rowid, title, words) VALUES (6 * 1099511627776 + 99, 'no', 'such')"));
    free(kit_ask(k.book,
                 "INSERT INTO picture (sha256, size, data) VALUES (replace(hex(zeroblob(32)), 'A', 'a'), 1, x'00')"));
    free(kit_ask(k.book, "UPDATE gone SET bottling_id = 77"));
    assert_int_equal(findings(b, all), 4);
    assert_string_equal(all[0], "row 1 of gone names a row of bottling that is not there");
    assert_non_null(strstr(all[1], "in 1 rows"));
    assert_non_null(strstr(all[3], "picture 1"));
    assert_int_equal(book_index_anew(b), BOOK_OK);
    assert_int_equal(findings(b, all), 2);
    done(&k, b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_backup_is_the_book),        cmocka_unit_test(what_is_there_is_not_written_over),
        cmocka_unit_test(the_calendar_makes_them),     cmocka_unit_test(files_of_others_stay),
        cmocka_unit_test(a_folder_of_ones_own),        cmocka_unit_test(others_write_meanwhile),
        cmocka_unit_test(back_into_a_sound_book),      cmocka_unit_test(in_the_place_of_a_torn_one),
        cmocka_unit_test(a_torn_backup_is_not_taken),  cmocka_unit_test(where_there_is_none),
        cmocka_unit_test(an_old_backup_comes_forward), cmocka_unit_test(what_is_wrong_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
