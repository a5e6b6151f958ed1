#ifndef ST_API_BOOK_LIMITS_H
#define ST_API_BOOK_LIMITS_H

#include <jansson.h>
#include <stdbool.h>
#include <stdint.h>

#include "store/pass.h"

/* What the values of a book may be, read from schema/book.schema.json: one place for editors, for the reader of
 * documents, and for whoever asks.  The SQL of the book has the same limits, and the last word (tests/unit/test_book_limits.c
 * holds one against the other). */

struct st_book_limit {
    bool required;
    double low, high; /* of a number */
    bool low_open, high_open;
    int64_t shortest, longest; /* letters of a text */
    const json_t *choice;      /* an array of all that it may be; NULL: anything */
    bool day, moment;          /* "2026-10-04"; that, and a time of day perhaps */
};

struct st_book_limits;
/* NULL: the schema was not built into the program, or lacks something; *why says what. */
struct st_book_limits *st_book_limits_create(const char **why);
void st_book_limits_free(struct st_book_limits *l);

/* Of a column by its place in book_table_info(t)->column; t = BOOK_NTABLE: of book_deed_info. */
const struct st_book_limit *st_book_limit(const struct st_book_limits *l, int t, size_t column);

/* Whether a value fits; else *why is a clause: "-5 is less than 0". */
bool st_book_limit_number(const struct st_book_limit *l, double x, char *why, size_t size);
bool st_book_limit_text(const struct st_book_limit *l, const char *text, char *why, size_t size);

/* The description of table t, BOOK_NTABLE: of the journal. */
const struct book_table_info *st_book_info(int t);
/* book_row_init for the same. */
void st_book_row_init(int t, void *row);

#endif
