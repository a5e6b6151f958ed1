#include "store/kit.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "store/book_inside.h"
#include "store/deeds.h"

/* A program that writes one deed after the other is killed (SIGKILL) at moments of no choice, again and again, on the same
 * book.  It says through a pipe what was acknowledged.
 *
 *   store_storm          so many kills as fit a quick test
 *   store_storm N        N kills */

enum { KILLS = 60, LOG_PAGES = 100, LONGEST_MS = 120 };

static int kills = KILLS;

static _Noreturn void write_deeds(const struct kit *k, int from, int pipe_in)
{
    struct book *b;
    if (book_open(k->book, BOOK_WRITE, &b) != BOOK_OK)
        _exit(1);
    sqlite3_wal_autocheckpoint(b->db, LOG_PAGES);
    for (int i = from;; i++) {
        if (storm_do(b, i) != BOOK_OK)
            _exit(2);
        if (write(pipe_in, &i, sizeof i) != sizeof i)
            _exit(3);
    }
}

static void wait_some(uint64_t *random)
{
    *random = *random * 6364136223846793005u + 1442695040888963407u;
    const uint64_t us = (*random >> 33) % (1000u * LONGEST_MS);
    nanosleep(&(struct timespec){ .tv_nsec = (long)us * 1000 }, NULL);
}

/* The number of the last deed that was acknowledged; `last` when there was none. */
static int last_acknowledged(int pipe_out, int last)
{
    int i;
    for (ssize_t n; (n = read(pipe_out, &i, sizeof i)) != 0;)
        if (n == (ssize_t)sizeof i)
            last = i;
        else if (n < 0 && errno != EINTR)
            fail_msg("the pipe: %s", strerror(errno));
    return last;
}

static void kill_and_look(void **state)
{
    (void)state;
    struct kit k;
    uint64_t random = (uint64_t)getpid();
    int there = 0, in_part = 0;

    kit_make(&k);
    book_close(kit_open(&k));
    for (int i = 0; i < kills; i++) {
        int ends[2], status;
        assert_int_equal(pipe(ends), 0);
        const pid_t child = fork();
        if (child == 0) {
            close(ends[0]);
            write_deeds(&k, there, ends[1]);
        }
        close(ends[1]);
        wait_some(&random);
        kill(child, SIGKILL);
        waitpid(child, &status, 0);
        if (!WIFSIGNALED(status))
            fail_msg("kill %d: the writer had ended by itself: %d", i, status);
        const int acknowledged = last_acknowledged(ends[0], there - 1) + 1;
        close(ends[0]);
        const int is = storm_count(k.book);
        if (is < acknowledged || is > acknowledged + 1)
            fail_msg("kill %d: %d deeds were acknowledged, %d are there", i, acknowledged, is);
        in_part += is > acknowledged;
        there = is;
        if (i % 10 == 9)
            kit_is_sound(k.book);
    }
    kit_is_sound(k.book);
    print_message("%d kills, %d deeds, all of them there; %d were on the disk before they could be acknowledged\n",
                  kills, there, in_part);
    assert_true(there > kills / 4); /* else there was no storm */
    kit_done(&k);
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(kill_and_look) };
    if (argc == 2)
        kills = (int)strtol(argv[1], NULL, 10);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
