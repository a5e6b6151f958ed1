#ifndef ST_API_BOOK_ROW_IN_H
#define ST_API_BOOK_ROW_IN_H

#include <jansson.h>

#include "api/book_limits.h"
#include "model/problem.h"
#include "util/arena.h"

/* A row of a book from an object of JSON: every member is a column of its table, and within its limits. */

enum { ST_ROW_PROBLEMS = 20 };

struct st_row_problems {
    int n; /* all of them; only the first ST_ROW_PROBLEMS are kept */
    struct st_problem problem[ST_ROW_PROBLEMS];
};
/* where: "tables/lot/3/amount" */
__attribute__((format(printf, 6, 7))) void st_row_problem(struct st_row_problems *all, const struct st_place *at,
                                                          const char *where, const char *said, const char *try_,
                                                          const char *why, ...);

/* Given:    t as st_book_info has it; from; where it stands: "tables/lot/3" and at
 * Returned: row, texts lent by `from` and arena; what is not in `from` is as book_row_init has it
 * Result:   false: at least one problem was added, and row is not to be used */
bool st_row_in(const struct st_book_limits *l, int t, const json_t *from, const char *where, const struct st_place *at,
               struct st_arena *arena, void *row, struct st_row_problems *all);

#endif
