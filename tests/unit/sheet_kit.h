#ifndef TESTS_UNIT_SHEET_KIT_H
#define TESTS_UNIT_SHEET_KIT_H

/* Sheets of written words and what they come to (tests/data/quantity/): one row a line, fields parted by |, # a
 * remark. */

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "util/buf.h"
#include "util/file.h"

static const char *const SHEET_MEASURES[] = { "none", "us", "metric", "imperial" };

static int index_of(const char *word, const char *const list[], int n)
{
    for (int i = 0; i < n; i++)
        if (strcmp(word, list[i]) == 0)
            return i;
    return -1;
}

/* The fields of a line, cut in place; how many there are, at most `most`. */
static int sheet_split(char *line, char *field[], int most)
{
    int n = 0;
    while (n < most) {
        field[n++] = line;
        char *bar = strchr(line, '|');
        if (!bar)
            break;
        *bar = '\0';
        line = bar + 1;
    }
    return n;
}

/* Every row is asked; more than `least` of them must be there, and all right. */
static void sheet_check(const char *name, bool (*row_is_right)(char *line, int number), int least)
{
    struct st_buf b = { 0 };
    int bad = 0, rows = 0, number = 0;

    assert_int_equal(st_file_read(name, 1 << 20, &b), 0);
    for (char *line = b.text; line;) {
        char *end = strchr(line, '\n');
        if (end)
            *end = '\0';
        number++;
        if (*line && *line != '#') {
            rows++;
            bad += !row_is_right(line, number);
        }
        line = end ? end + 1 : NULL;
    }
    st_buf_done(&b);
    assert_true(rows > least);
    assert_int_equal(bad, 0);
}

#endif
