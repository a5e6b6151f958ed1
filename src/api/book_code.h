#ifndef ST_API_BOOK_CODE_H
#define ST_API_BOOK_CODE_H

#include "model/problem.h"
#include "util/arena.h"

#include <stdbool.h>

/* Short words of the maker's own that the book keeps: codes of lots and batches, and the money of a price. */

/* A code as it is kept: in capitals, so that "l7" and "L7" are one.
 * Result: lent by the arena; NULL and *problem: it is empty, longer than 24 letters, or holds what cannot be typed again as
 *         one word (a blank, a line break, a quote, a sign that is no letter of any script, "-" in front) */
const char *st_book_code(struct st_arena *arena, const char *said, struct st_problem *problem);

/* Three capital letters, as banks write money: "eur" is "EUR".  NULL and *problem when it is none. */
const char *st_book_currency(struct st_arena *arena, const char *said, struct st_problem *problem);

#endif
