#include "store/kit.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "store/book_inside.h"
#include "store/deeds.h"

/* Several programs with the same book. */

static double seconds(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static void all_end_well(const pid_t *child, int n)
{
    for (int i = 0; i < n; i++) {
        int status = -1;
        waitpid(child[i], &status, 0);
        if (status != 0)
            fail_msg("program %d ended with %d (signal %d)", i, WEXITSTATUS(status), WTERMSIG(status));
    }
}

/* ---- at once ---- */

static _Noreturn void write_some(const struct kit *k, int from, int to)
{
    struct book *b;
    if (book_open(k->book, BOOK_WRITE, &b) != BOOK_OK)
        _exit(1);
    for (int i = from; i < to; i++)
        if (storm_do(b, i) != BOOK_OK)
            _exit(2);
    book_close(b);
    _exit(0);
}

/* What it reads only grows, and in one look a deed is whole. */
static _Noreturn void read_on(const struct kit *k, int until)
{
    struct book *b;
    int64_t last = 0;
    const double began = seconds();

    if (book_open(k->book, BOOK_READ, &b) != BOOK_OK)
        _exit(1);
    while (last < until && seconds() - began < 100.0) {
        int64_t lots = 0, vessels = 0;
        if (book_run(b, "BEGIN", "cannot read") != BOOK_OK || book_count(b, BOOK_LOT, NULL, &lots) != BOOK_OK ||
            book_count(b, BOOK_VESSEL, NULL, &vessels) != BOOK_OK || book_run(b, "COMMIT", "cannot read") != BOOK_OK)
            _exit(2);
        if (lots != vessels || lots < last)
            _exit(3);
        last = lots;
    }
    book_close(b);
    _exit(last == until ? 0 : 4);
}

static void two_write_and_one_reads(void **state)
{
    (void)state;
    enum { EACH = 30 };
    struct kit k;
    pid_t child[3];

    kit_make(&k);
    book_close(kit_open(&k));
    for (int i = 0; i < 3; i++)
        if ((child[i] = fork()) == 0) {
            if (i == 2)
                read_on(&k, 2 * EACH);
            write_some(&k, i * EACH, (i + 1) * EACH);
        }
    all_end_well(child, 3);
    kit_is_sound(k.book);
    assert_int_equal(storm_count(k.book), 2 * EACH);
    kit_done(&k);
}

/* ---- opened at once ---- */

static void open_at_once(const struct kit *k)
{
    enum { PROGRAMS = 5 };
    pid_t child[PROGRAMS];
    int gate[2];
    char c;

    assert_int_equal(pipe(gate), 0);
    for (int i = 0; i < PROGRAMS; i++)
        if ((child[i] = fork()) == 0) {
            struct book *b;
            close(gate[1]);
            if (read(gate[0], &c, 1) != 0) /* until the gate is closed */
                _exit(9);
            const enum book_status s = book_open(k->book, BOOK_WRITE, &b);
            if (s != BOOK_OK) {
                fprintf(stderr, "program %d: %s\n", i, book_said(b)->why);
                _exit(1);
            }
            const bool good = storm_do(b, i) == BOOK_OK;
            book_close(b);
            _exit(good ? 0 : 2);
        }
    close(gate[0]);
    close(gate[1]);
    all_end_well(child, PROGRAMS);
    assert_int_equal(kit_number(k->book, "PRAGMA user_version"), BOOK_VERSION);
    kit_is_sound(k->book);
    for (int i = 0; i < PROGRAMS; i++)
        assert_int_equal(storm_whole(k->book, i), 1);
}

static void a_new_book_is_made_once(void **state)
{
    (void)state;
    for (int i = 0; i < 5; i++) {
        struct kit k;
        kit_make(&k);
        open_at_once(&k);
        kit_done(&k);
    }
}

static void an_old_book_is_brought_forward_once(void **state)
{
    (void)state;
    for (int i = 0; i < 5; i++) {
        struct kit k;
        kit_make(&k);
        kit_copy("tests/store/book_v1.stillroom", k.book);
        open_at_once(&k);
        assert_int_equal(kit_number(kit_file(&k, "book.before-1"), "PRAGMA user_version"), 1);
        kit_done(&k);
    }
}

/* ---- one that stands still ---- */

/* Begins a deed, says so, and stops within it. */
static _Noreturn void stop_within_a_deed(const struct kit *k, int tell)
{
    struct book *b;
    struct book_vessel v;
    book_row_init(BOOK_VESSEL, &v);
    v.name = "half a deed";
    if (book_open(k->book, BOOK_WRITE, &b) != BOOK_OK || book_begin(b, KIT_AT, "half") != BOOK_OK ||
        book_put(b, BOOK_VESSEL, &v, NULL) != BOOK_OK || write(tell, "", 1) != 1)
        _exit(1);
    raise(SIGSTOP);
    _exit(2);
}

static void a_deed_left_open(void **state)
{
    (void)state;
    enum { PATIENCE_MS = 300 };
    struct kit k;
    struct book *b;
    int ends[2], status;
    char c;
    int64_t n = -1;

    kit_make(&k);
    book_close(kit_open(&k));
    assert_int_equal(pipe(ends), 0);
    const pid_t child = fork();
    if (child == 0)
        stop_within_a_deed(&k, ends[1]);
    assert_int_equal(read(ends[0], &c, 1), 1);
    waitpid(child, &status, WUNTRACED);

    assert_int_equal(book_open_patient(k.book, BOOK_WRITE, PATIENCE_MS, &b), BOOK_OK);
    const double began = seconds();
    assert_int_equal(storm_do(b, 0), BOOK_E_BUSY);
    assert_true(seconds() - began > 0.9e-3 * PATIENCE_MS);
    assert_non_null(strstr(book_said(b)->why, "another program"));
    assert_non_null(strstr(book_said(b)->try_, "again"));
    assert_int_equal(book_count(b, BOOK_VESSEL, NULL, &n), BOOK_OK); /* reading goes on, of what was there before */
    assert_int_equal(n, 0);
    kill(child, SIGKILL);
    waitpid(child, &status, 0);
    assert_int_equal(storm_do(b, 0), BOOK_OK);
    assert_int_equal(book_count(b, BOOK_VESSEL, NULL, &n), BOOK_OK);
    assert_int_equal(n, 1); /* the half deed is not there */
    book_close(b);
    close(ends[0]);
    close(ends[1]);
    kit_is_sound(k.book);
    kit_done(&k);
}

/* Who waits, and who gets his turn before the patience ends, does the deed. */
static void a_turn_is_waited_for(void **state)
{
    (void)state;
    struct kit k;
    int ends[2], status;
    char c;

    kit_make(&k);
    book_close(kit_open(&k));
    assert_int_equal(pipe(ends), 0);
    const pid_t child = fork();
    if (child == 0) {
        struct book *b;
        if (book_open(k.book, BOOK_WRITE, &b) != BOOK_OK || book_begin(b, KIT_AT, "slow") != BOOK_OK ||
            write(ends[1], "", 1) != 1)
            _exit(1);
        nanosleep(&(struct timespec){ .tv_nsec = 400000000 }, NULL);
        book_cancel(b);
        book_close(b);
        _exit(0);
    }
    assert_int_equal(read(ends[0], &c, 1), 1);
    struct book *b = kit_open(&k);
    assert_int_equal(storm_do(b, 0), BOOK_OK);
    waitpid(child, &status, 0);
    assert_int_equal(status, 0);
    book_close(b);
    close(ends[0]);
    close(ends[1]);
    kit_done(&k);
}

static void the_usual_patience_is_five_seconds(void **state)
{
    (void)state;
    struct kit k;
    sqlite3_stmt *q = NULL;
    kit_make(&k);
    struct book *b = kit_open(&k);
    assert_int_equal(sqlite3_prepare_v2(b->db, "PRAGMA busy_timeout", -1, &q, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_step(q), SQLITE_ROW);
    assert_int_equal(sqlite3_column_int(q, 0), 5000);
    sqlite3_finalize(q);
    book_close(b);
    kit_done(&k);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_write_and_one_reads),
        cmocka_unit_test(a_new_book_is_made_once),
        cmocka_unit_test(an_old_book_is_brought_forward_once),
        cmocka_unit_test(a_deed_left_open),
        cmocka_unit_test(a_turn_is_waited_for),
        cmocka_unit_test(the_usual_patience_is_five_seconds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
