#ifndef ST_TESTS_STORE_KIT_H
#define ST_TESTS_STORE_KIT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include "store/book.h"

/* What the tests of the store share.  What cannot be done fails the test. */

static const char KIT_AT[] = "2026-03-01T10:00";

/* A folder of this test's own with the path of a book in it that is not there yet. */
struct kit {
    char folder[40], book[80];
};
void kit_make(struct kit *k);
void kit_done(struct kit *k); /* takes the folder away with all in it */

/* A file in the folder; lent until the fourth call after it. */
const char *kit_file(const struct kit *k, const char *name);

struct book *kit_open(const struct kit *k); /* to write; fails the test when it cannot be */

/* A lot in a deed of its own; its id. */
int64_t kit_add_lot(struct book *b, const char *code, const char *name, const char *words);

/* What statements, with ; between, give of a file, by SQLite alone: values as SQL would write them, "|" between, a line a row.  Caller
 * frees. */
char *kit_ask(const char *path, const char *sql);
/* The first value as a number. */
int64_t kit_number(const char *path, const char *sql);
/* integrity_check, foreign keys, and the index of words against itself and against what was entered. */
void kit_is_sound(const char *path);

void kit_copy(const char *from, const char *to);
/* Whole contents; caller frees. */
char *kit_read(const char *path, size_t *size);

#endif
