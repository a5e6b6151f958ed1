#include "store/kit.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "store/book_inside.h"
#include "store/check.h"
#include "store/cutting_vfs.h"
#include "store/deeds.h"

/* The power is cut at one call after the other, of a row of deeds, the making of the file and its closing among them.  What
 * was acknowledged is there afterwards, the deed that was on its way is whole or not there, and the book is sound and
 * goes on.
 *
 *   store_power             some of the cuts, evenly
 *   store_power all SEEDS   all of them, each with so many ways in which the disk may have kept what was not synced */

enum {
    DEEDS = 26,
    SOME = 60,
    LOG_PAGES = 30 /* so that the log is folded in now and then, as it is after many deeds */
};

static int seeds = 1;
static bool all = false;
static bool careless = false;       /* a book that does not sync */
static char sum[2 * DEEDS + 1][65]; /* of the book after so many deeds */

/* Open, do deeds from the number the journal stands at, close.  How many were acknowledged in all. */
static int run(const struct kit *k, int from, int to)
{
    struct book *b;
    int done = from;
    if (book_open(k->book, BOOK_WRITE, &b) == BOOK_OK) {
        sqlite3_wal_autocheckpoint(b->db, LOG_PAGES);
        if (careless)
            sqlite3_exec(b->db, "PRAGMA synchronous = OFF", NULL, NULL, NULL);
        while (done < to && deeds_do(b, done) == BOOK_OK)
            done++;
    }
    book_close(b);
    return done;
}

static void remove_files(const struct kit *k)
{
    static const char *const END[] = { "book", "book-wal", "book-shm", "book-journal" };
    for (size_t i = 0; i < sizeof END / sizeof *END; i++)
        unlink(kit_file(k, END[i]));
}

static char wrong[400]; /* what was */

__attribute__((format(printf, 1, 2))) static bool is_wrong(const char *format, ...)
{
    va_list ap;
    va_start(ap, format);
    vsnprintf(wrong, sizeof wrong, format, ap);
    va_end(ap);
    return false;
}

/* Is all that was acknowledged there, and nothing by half?  `there` deeds are. */
static bool is_whole(struct book *b, int done, int *there)
{
    char is[65];
    const char *findings[BOOK_FINDINGS];
    struct st_arena arena = { 0 };
    int n = -1;
    bool good = book_check(b, &arena, findings, &n) == BOOK_OK;

    if (n > 0)
        good = is_wrong("%s", findings[0]);
    st_arena_done(&arena);
    if (!good)
        return false;
    *there = deeds_count(book_path(b));
    if (*there < done || *there > done + 1)
        return is_wrong("%d acknowledged, %d are there", done, *there);
    deeds_sum(book_path(b), is);
    return strcmp(is, sum[*there]) == 0 || is_wrong("the book is not as after %d deeds", *there);
}

/* The book that the disk kept: opens, is whole, and goes on. */
static bool survived(const struct kit *k, int done, int to)
{
    struct book *b;
    int there = 0;
    bool good = true;

    unlink(kit_file(k, "book-shm")); /* it was in memory alone */
    if (book_open(k->book, BOOK_WRITE, &b) != BOOK_OK)
        good = is_wrong("%s", book_said(b)->why);
    good = good && is_whole(b, done, &there);
    if (good && there < to && deeds_do(b, there) != BOOK_OK)
        good = is_wrong("it does not go on: %s", book_said(b)->why);
    book_close(b);
    return good;
}

/* base: the file to begin with; NULL: none.  How many cuts went wrong. */
static int cut_everywhere(const char *base, int from, int to, int some)
{
    struct kit k;
    kit_make(&k);
    if (base)
        kit_copy(base, k.book);
    cutting_begin(CUTTING_POWER, 0);
    assert_int_equal(run(&k, from, to), to);
    const int64_t calls = cutting_calls();
    const double step = all || calls <= some ? 1.0 : (double)calls / some;
    int cuts = 0, ill = 0;

    for (double x = 1.0; x <= (double)calls; x += step)
        for (int seed = 0; seed < seeds; seed++, cuts++) {
            const int64_t at = (int64_t)x;
            remove_files(&k);
            if (base)
                kit_copy(base, k.book);
            cutting_begin(CUTTING_POWER, at);
            const int done = run(&k, from, to);
            assert_true(cutting_happened());
            cutting_settle((uint64_t)(at * 1000 + seed));
            cutting_end();
            if (!survived(&k, done, to) && ill++ == 0)
                print_message("cut at call %lld, seed %d: %s\n", (long long)at, seed, wrong);
        }
    print_message("%d cuts at %d of %lld calls, %d of them to the harm of the book\n", cuts, cuts / seeds,
                  (long long)calls, ill);
    kit_done(&k);
    return ill;
}

static void from_nothing(void **state)
{
    (void)state;
    assert_int_equal(cut_everywhere(NULL, 0, 4, SOME), 0);
}

static void in_a_book_that_is_there(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    assert_int_equal(run(&k, 0, 2), 2);
    assert_int_equal(cut_everywhere(k.book, 2, DEEDS, SOME), 0);
    kit_done(&k);
}

/* The same with syncing off: this test must be able to find a loss. */
static void a_book_that_does_not_sync_is_found_out(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    assert_int_equal(run(&k, 0, 2), 2);
    careless = true;
    assert_true(cut_everywhere(k.book, 2, 8, 15) > 0);
    careless = false;
    kit_done(&k);
}

/* Each book of the row, once without a cut. */
static int reference(void **state)
{
    (void)state;
    struct kit k;
    kit_make(&k);
    struct book *b = kit_open(&k);
    for (int i = 0; i <= DEEDS; i++) {
        deeds_sum(k.book, sum[i]);
        assert_int_equal(deeds_count(k.book), i);
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
        cmocka_unit_test(from_nothing),
        cmocka_unit_test(in_a_book_that_is_there),
        cmocka_unit_test(a_book_that_does_not_sync_is_found_out),
    };
    if (argc == 3 && strcmp(argv[1], "all") == 0) {
        all = true;
        seeds = (int)strtol(argv[2], NULL, 10);
    }
    cutting_install();
    return cmocka_run_group_tests(tests, reference, NULL);
}
