#ifndef ST_API_JSON_ROWS_H
#define ST_API_JSON_ROWS_H

#include <jansson.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "model/problem.h"
#include "util/buf.h"

/* Reading a large JSON document piece by piece: braces, brackets and names one after another, and whole only what is a
 * row, an object of plain values.  A row is read by jansson (duplicate members, numbers too large, invalid UTF-8 and NUL
 * are refused), so that a document takes no more memory than its largest row, whatever it holds. */

struct st_json_in {
    FILE *file;
    struct st_place at;    /* of the next byte; line 0 before the first */
    struct st_place began; /* where the value read last begins */
    int64_t bytes;         /* read so far */
    int next;              /* looked at and not yet taken; -2: none */
    struct st_buf text;    /* of the value */
    bool failed;           /* then *problem says why, and nothing more is read */
    struct st_problem *problem;
};

enum {
    ST_JSON_NAME = 120,      /* bytes of a name, at most */
    ST_JSON_MEMBERS = 200,   /* of a row */
    ST_JSON_ROW = 512 << 20, /* bytes of a row */
};
#define ST_JSON_BYTES ((int64_t)16 << 30) /* of a document */

/* problem: what the first failure is written to */
void st_json_begin(struct st_json_in *in, FILE *file, struct st_problem *problem);
void st_json_done(struct st_json_in *in);

/* The next byte that is no white space, not taken; EOF at the end. */
int st_json_peek(struct st_json_in *in);
/* Take this byte, the next that is no white space; fails when it is another. */
bool st_json_take(struct st_json_in *in, char c);
/* Within { } or [ ]: whether another member or item follows; takes the comma, or the end c.  *first: set to true before
 * the first call. */
bool st_json_more(struct st_json_in *in, char end, bool *first);
/* A name and its colon. */
bool st_json_name(struct st_json_in *in, char name[ST_JSON_NAME + 1]);
/* A plain value, or when `row` an object of plain values; a new reference, NULL after a failure. */
json_t *st_json_value(struct st_json_in *in, bool row);
/* Nothing follows. */
bool st_json_end(struct st_json_in *in);

/* Fail, about the value read last or, at_next, about the next byte. */
bool st_json_fail(struct st_json_in *in, bool at_next, const char *what, const char *why, const char *try_);

#endif
