#include "store/kit.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "share.h"
#include "store/check.h"
#include "store/cutting_vfs.h"
#include "store/deeds.h"
#include "store/search.h"

/* No memory, at one request of SQLite's after the other.  The program ends with one line and code 3, or goes on; what was
 * acknowledged is in the book, the rest whole or not.
 *
 *   store_memory         some of the requests, evenly
 *   store_memory all     all of them, once each as the only one and as the first of all
 *   store_memory all 2/4 every fourth of them from the second: several programs share the work
 *   store_memory N       the request N alone: what an earlier run found */

enum { DEEDS = 14, SOME = ST_SHARE_OF(60, 3) };

static bool all = false;
static int64_t only = 0;
static int part = 1, parts = 1;
static char sum[DEEDS + 1][65];

/* ---- memory that is refused ---- */

static sqlite3_mem_methods below;
static int64_t requests, refused_at;
static bool ever;

static bool refused(void)
{
    requests++;
    return refused_at > 0 && (ever ? requests >= refused_at : requests == refused_at);
}
static void *get(int n)
{
    return refused() ? NULL : below.xMalloc(n);
}
static void *get_more(void *p, int n)
{
    return refused() ? NULL : below.xRealloc(p, n);
}

static void refuse(int64_t at, bool all_later)
{
    sqlite3_mem_methods m;
    sqlite3_shutdown();
    sqlite3_config(SQLITE_CONFIG_GETMALLOC, &below);
    m = below;
    m.xMalloc = get;
    m.xRealloc = get_more;
    sqlite3_config(SQLITE_CONFIG_MALLOC, &m);
    cutting_install(); /* for its syncs, which take no time */
    requests = 0;
    refused_at = at;
    ever = all_later;
}

/* ---- what is done ---- */

/* Deeds, a look and a search; an acknowledged deed is a byte in the pipe.  In a process of its own. */
static _Noreturn void work(const struct kit *k, int pipe_in)
{
    struct st_arena arena = { 0 };
    struct book *b;
    struct book_hit *hits;
    struct book_lot *lots;
    const char *findings[BOOK_FINDINGS];
    int n;
    bool good = book_open(k->book, BOOK_WRITE, &b) == BOOK_OK;

    for (int i = 0; good && i < DEEDS; i++) {
        good = deeds_do(b, i) == BOOK_OK;
        if (good && write(pipe_in, "", 1) != 1)
            _exit(9);
    }
    if (good && book_list(b, BOOK_LOT, NULL, &arena, &lots, &n) == BOOK_OK)
        for (int i = 0; i < n; i++)
            if (!lots[i].name || strcmp(lots[i].name, "walnuts of a deed") != 0)
                _exit(8); /* a text that could not be read is not a text that is not there */
    if (good)
        good = book_search(b, "walnuts", 5, &arena, &hits, &n) == BOOK_OK && n == 5 &&
               strstr(hits[0].snippet, "walnuts") && book_check(b, &arena, findings, &n) == BOOK_OK && n == 0;
    if (!good && book_said(b)->why[0])
        fprintf(stderr, "%s: %s\n", book_said(b)->what, book_said(b)->why); /* a line more than there may be */
    book_close(b);
    st_arena_done(&arena);
    if (write(pipe_in, "r", 1) != 1)
        _exit(9);
    n = (int)requests;
    if (write(pipe_in, &n, sizeof n) != sizeof n)
        _exit(9);
    _exit(good ? 0 : 7);
}

struct ended {
    int code, acknowledged, lines;
    char said[400];
    int64_t requests;
};

/* What came through a pipe until its end. */
static size_t drain(int from, char *to, size_t room)
{
    size_t n = 0;
    for (ssize_t k; (k = read(from, to + n, room - n)) > 0;)
        n += (size_t)k;
    close(from);
    return n;
}

static struct ended run(const struct kit *k, int64_t at, bool all_later)
{
    struct ended e = { .code = -1 };
    int said[2], done[2], status;
    char text[2000], acks[200];

    assert_int_equal(pipe(said) | pipe(done), 0);
    fflush(stdout);
    const pid_t child = fork();
    if (child == 0) {
        dup2(said[1], STDERR_FILENO);
        close(said[0]);
        close(done[0]);
        refuse(at, all_later);
        work(k, done[1]);
    }
    close(said[1]);
    close(done[1]);
    const size_t n = drain(done[0], acks, sizeof acks), m = drain(said[0], text, sizeof text);
    waitpid(child, &status, 0);
    if (WIFEXITED(status))
        e.code = WEXITSTATUS(status);
    snprintf(e.said, sizeof e.said, "%.*s", (int)m, text);
    const char *r = memchr(acks, 'r', n);
    e.acknowledged = (int)(r ? (size_t)(r - acks) : n);
    if (r && n >= (size_t)(r - acks) + 1 + sizeof(int)) {
        int x;
        memcpy(&x, r + 1, sizeof x);
        e.requests = x;
    }
    for (size_t i = 0; i < m; i++)
        e.lines += text[i] == '\n';
    return e;
}

static void remove_files(const struct kit *k)
{
    static const char *const END[] = { "book", "book-wal", "book-shm", "book-journal" };
    for (size_t i = 0; i < sizeof END / sizeof *END; i++)
        unlink(kit_file(k, END[i]));
}

static void is_whole(const struct kit *k, int64_t at, int done)
{
    char is[65];
    book_close(kit_open(k));
    const int there = deeds_count(k->book);
    if (there < done || there > done + 1)
        fail_msg("request %lld: %d acknowledged, %d are there", (long long)at, done, there);
    deeds_sum(k->book, is);
    if (strcmp(is, sum[there]) != 0)
        fail_msg("request %lld: the book is not as after %d deeds", (long long)at, there);
    kit_is_sound(k->book);
}

static void refuse_everywhere(bool all_later)
{
    struct kit k;
    int n = 0, ended = 0;
    kit_make(&k);
    const struct ended whole = run(&k, 0, false);
    assert_int_equal(whole.code, 0);
    assert_int_equal(whole.acknowledged, DEEDS);
    assert_true(whole.requests > 1000);
    const double step = all ? (double)parts : (double)whole.requests / SOME;
    const double last = only ? (double)only : (double)whole.requests;
    for (double x = only ? last : (double)part; x <= last; x += step, n++) {
        remove_files(&k);
        const struct ended e = run(&k, (int64_t)x, all_later);
        if (!(e.code == 3 && e.lines == 1) && !(e.code == 0 && e.lines == 0))
            fail_msg("request %.0f: ended with %d and %d lines: %s", x, e.code, e.lines, e.said);
        ended += e.code == 3;
        is_whole(&k, (int64_t)x, e.acknowledged);
    }
    print_message("%d of %lld requests refused: %d times the program ended\n", n, (long long)whole.requests, ended);
    assert_true(only || ended > n / 4);
    kit_done(&k);
}

static void one_is_refused(void **state)
{
    (void)state;
    refuse_everywhere(false);
}
static void all_are_refused_from_then_on(void **state)
{
    (void)state;
    refuse_everywhere(true);
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
        cmocka_unit_test(one_is_refused),
        cmocka_unit_test(all_are_refused_from_then_on),
    };
    all = argc >= 2 && strcmp(argv[1], "all") == 0;
    if (all && argc == 3) {
        char *end;
        part = (int)strtol(argv[2], &end, 10);
        parts = *end == '/' ? (int)strtol(end + 1, NULL, 10) : 0;
    }
    if (part < 1 || part > parts)
        return 2;
    only = argc == 2 ? strtol(argv[1], NULL, 10) : 0;
    cutting_install();
    return cmocka_run_group_tests(tests, reference, NULL);
}
