#ifndef TESTS_UNIT_BOOK_KIT_H
#define TESTS_UNIT_BOOK_KIT_H

/* A book of a test's own in a folder that goes again, and a desk on it. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "api/book_desk.h"
#include "text/calendar_day.h"

static char kit_folder[40], kit_path[64];
static struct st_arena kit_arena;
static struct st_desk desk;

static inline void kit_day(const char *day)
{
    static char moment[20], kept[11];
    snprintf(kept, sizeof kept, "%.10s", day);
    snprintf(moment, sizeof moment, "%.10sT12:00", day);
    desk.day = kept;
    desk.moment = moment;
    assert_true(st_day_number(day, &desk.number));
}

static inline int kit_open(void **state)
{
    (void)state;
    snprintf(kit_folder, sizeof kit_folder, "/tmp/st_kit_XXXXXX");
    if (!mkdtemp(kit_folder))
        return -1;
    snprintf(kit_path, sizeof kit_path, "%s/book", kit_folder);
    desk = (struct st_desk){ .arena = &kit_arena };
    if (book_open(kit_path, BOOK_WRITE, &desk.book) != BOOK_OK)
        return -1;
    kit_day("2026-06-25");
    return 0;
}

static inline int kit_close(void **state)
{
    (void)state;
    static const char *const END[] = { "", "-wal", "-shm" };
    book_close(desk.book);
    st_arena_done(&kit_arena);
    for (size_t i = 0; i < sizeof END / sizeof *END; i++) {
        char file[80];
        snprintf(file, sizeof file, "%s%s", kit_path, END[i]);
        unlink(file);
    }
    rmdir(kit_folder);
    return 0;
}

/* What is done must be done; the test fails with the reason where it is not. */
static inline void done(bool good)
{
    if (!good)
        fail_msg("%s: %s", desk.status ? book_said(desk.book)->what : desk.problem.what,
                 desk.status ? book_said(desk.book)->why : desk.problem.why);
}

static inline void refused(bool good, const char *says)
{
    if (good || desk.status != BOOK_OK || !(strstr(desk.problem.what, says) || strstr(desk.problem.why, says)))
        fail_msg("'%s': %d %s: %s", says, (int)desk.status, desk.problem.what, desk.problem.why);
}

static inline int kit_deeds(void)
{
    struct book_deed *all;
    int n = -1;
    assert_int_equal(book_deeds(desk.book, 1000, &kit_arena, &all, &n), BOOK_OK);
    return n;
}

#endif
