#include "store/kit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "share.h"
#include "store/book_inside.h"
#include "store/check.h"
#include "store/cutting_vfs.h"
#include "store/deeds.h"

/* A disk that fails at one call after the other, once or ever after, or is full.  What was acknowledged stays, what failed is
 * told, and is whole or not there; where the disk is well again, the same open book goes on.
 *
 *   store_failing         some of the calls, evenly
 *   store_failing all     all of them */

enum { DEEDS = 14, SOME = ST_SHARE_OF(28, 2), LOG_PAGES = 30 };

static bool all = false;
static char sum[DEEDS + 1][65];

/* Does this failure speak?  A status, what, why and what to try. */
static bool speaks(const struct book *b, enum book_status s)
{
    const struct book_said *said = book_said(b);
    return s < 0 && said->what[0] && said->why[0] && said->try_[0];
}

/* Deeds until one fails.  How many were acknowledged; whether the failure was told. */
static int run(const struct kit *k, bool *told)
{
    struct book *b;
    int done = 0;
    enum book_status s = book_open(k->book, BOOK_WRITE, &b);
    if (s == BOOK_OK) {
        sqlite3_wal_autocheckpoint(b->db, LOG_PAGES);
        while (done < DEEDS && (s = deeds_do(b, done)) == BOOK_OK)
            done++;
    }
    *told = s == BOOK_OK || speaks(b, s);
    book_close(b);
    return done;
}

static void remove_files(const struct kit *k)
{
    static const char *const END[] = { "book", "book-wal", "book-shm", "book-journal" };
    for (size_t i = 0; i < sizeof END / sizeof *END; i++)
        unlink(kit_file(k, END[i]));
}

static void is_whole(const struct kit *k, int64_t at, int done)
{
    const char *findings[BOOK_FINDINGS];
    struct st_arena arena = { 0 };
    char is[65];
    int n = -1;
    struct book *b = kit_open(k);

    assert_int_equal(book_check(b, &arena, findings, &n), BOOK_OK);
    if (n > 0)
        fail_msg("call %lld: %s", (long long)at, findings[0]);
    const int there = deeds_count(k->book);
    if (there < done || there > done + 1)
        fail_msg("call %lld: %d acknowledged, %d are there", (long long)at, done, there);
    deeds_sum(k->book, is);
    if (strcmp(is, sum[there]) != 0)
        fail_msg("call %lld: the book is not as after %d deeds", (long long)at, there);
    book_close(b);
    st_arena_done(&arena);
}

static void fail_everywhere(enum cutting how)
{
    struct kit k;
    bool told;
    int n = 0, felt = 0;

    kit_make(&k);
    cutting_begin(how, 0);
    assert_int_equal(run(&k, &told), DEEDS);
    const int64_t calls = cutting_calls();
    const double step = all || calls < SOME ? 1.0 : (double)calls / SOME;
    for (double x = 1.0; x <= (double)calls; x += step, n++) {
        remove_files(&k);
        cutting_begin(how, (int64_t)x);
        const int done = run(&k, &told);
        cutting_end();
        felt += done < DEEDS;
        if (!told)
            fail_msg("call %lld: a failure without words", (long long)x);
        is_whole(&k, (int64_t)x, done);
    }
    print_message("%d of %lld calls failed, %d were felt\n", n, (long long)calls, felt);
    assert_true(felt > n / 4);
    kit_done(&k);
}

static void one_call_fails(void **state)
{
    (void)state;
    fail_everywhere(CUTTING_IO);
}
static void all_calls_fail_from_then_on(void **state)
{
    (void)state;
    fail_everywhere(CUTTING_IO_EVER);
}
static void one_call_finds_no_room(void **state)
{
    (void)state;
    fail_everywhere(CUTTING_FULL);
}
static void there_is_no_room_any_more(void **state)
{
    (void)state;
    fail_everywhere(CUTTING_FULL_EVER);
}

/* ---- the open book goes on ---- */

/* Deeds, also after one that failed; acknowledged[i]: the deed i was. */
static void storm(struct book *b, bool *acknowledged)
{
    for (int i = 0; i < DEEDS; i++) {
        const enum book_status s = storm_do(b, i);
        acknowledged[i] = s == BOOK_OK;
        if (s != BOOK_OK && !speaks(b, s))
            fail_msg("deed %d fails without words", i);
    }
}

static void go_on(enum cutting how)
{
    bool acknowledged[DEEDS];
    int64_t calls = 0;
    int n = 0, failed = 0;
    for (double x = 0.0, step = 1.0; x <= (double)calls; x += step, n++) {
        struct kit k;
        kit_make(&k);
        struct book *b = kit_open(&k);
        sqlite3_wal_autocheckpoint(b->db, 12);
        cutting_begin(how, (int64_t)x);
        storm(b, acknowledged);
        if (x < 0.5) {
            calls = cutting_calls();
            step = all || calls < SOME ? 1.0 : (double)calls / SOME;
        }
        cutting_end();
        book_close(b);
        kit_is_sound(k.book);
        for (int i = 0; i < DEEDS; i++) {
            const int whole = storm_whole(k.book, i);
            failed += !acknowledged[i];
            if (whole < 0 || (acknowledged[i] && whole == 0))
                fail_msg("call %.0f: deed %d was %sacknowledged, and is %s", x, i, acknowledged[i] ? "" : "not ",
                         whole < 0 ? "there in part" : "not there");
        }
        if (x > 0.5 && !acknowledged[DEEDS - 1] && !acknowledged[DEEDS - 2])
            fail_msg("call %.0f: it did not go on", x);
        kit_done(&k);
    }
    print_message("%d runs, %d deeds not acknowledged\n", n, failed);
    assert_true(failed > n / 4);
}

static void an_open_book_goes_on_after_an_error(void **state)
{
    (void)state;
    go_on(CUTTING_IO);
}
static void an_open_book_goes_on_when_there_is_room_again(void **state)
{
    (void)state;
    go_on(CUTTING_FULL);
}

static int reference(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    struct book *b = kit_open(&k);
    for (int i = 0; i <= DEEDS; i++) {
        deeds_sum(k.book, sum[i]);
        if (i < DEEDS && deeds_do(b, i) != BOOK_OK)
            fail_msg("deed %d: %s", i, book_said(b)->why);
    }
    book_close(b);
    kit_done(&k);
    return 0;
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_call_fails),
        cmocka_unit_test(all_calls_fail_from_then_on),
        cmocka_unit_test(one_call_finds_no_room),
        cmocka_unit_test(there_is_no_room_any_more),
        cmocka_unit_test(an_open_book_goes_on_after_an_error),
        cmocka_unit_test(an_open_book_goes_on_when_there_is_room_again),
    };
    all = argc == 2 && strcmp(argv[1], "all") == 0;
    cutting_install();
    return cmocka_run_group_tests(tests, reference, NULL);
}
