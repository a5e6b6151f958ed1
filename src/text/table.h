#ifndef ST_TEXT_TABLE_H
#define ST_TEXT_TABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "model/problem.h"

/* Tables for machines and people: lines of fields parted by one tab, the first line that is no remark (#) names the
 * columns.  Reading is in place: texts handed out are lent from the buffer, which must stay. */

enum { ST_TABLE_COLUMNS = 32, ST_TABLE_LINE_LIMIT = 4000, ST_TABLE_ROWS = 2000 };

struct st_table {
    char *next;
    int line, n_column;
    int known[ST_TABLE_COLUMNS]; /* which of the caller's columns each is */
    const char *name;            /* of the sheet, for messages */
};

/* Begin, and read the names of the columns.
 * Given: text that ends in NUL, writable; column[n]: those that there must be, each once.
 * Result: 0; -1 with *problem: a column that is missing, unknown or twice, a line too long, a control character. */
int st_table_open(struct st_table *t, const char *name, char *text, const char *const column[], int n,
                  struct st_problem *problem);

/* The next row: field[n] by the caller's columns, "" for an empty one, blanks around it taken off.
 * Result: 1 a row, 0 the end, -1 with *problem: another number of fields than columns. */
int st_table_next(struct st_table *t, const char *field[], struct st_problem *problem);

/* Fill *problem for the line read last; result -1. */
__attribute__((format(printf, 4, 5))) int st_table_problem(const struct st_table *t, struct st_problem *problem,
                                                           const char *attempt, const char *why, ...);

/* A plain number of the whole field, at least `least` and at most `most`: 0, or -1 with *problem. */
int st_table_number(const struct st_table *t, const char *field, const char *what, double least, double most,
                    double *out, struct st_problem *problem);

#endif
