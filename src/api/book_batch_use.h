#ifndef ST_API_BOOK_BATCH_USE_H
#define ST_API_BOOK_BATCH_USE_H

#include "api/book_batch.h"

/* What a weighing takes from a lot. */

struct st_batch_use {
    int64_t lot_id;
    double amount;    /* in the lot's dim */
    char remark[700]; /* what the maker should know; "" */
};

/* Given:    c, the sheet; the lot; line of the recipe, or NULL; words, the amount that was weighed (a whole line begins with it)
 * Returned: *out
 * Status:   BOOK_NONE and *problem when the lot is counted in another measure and nobody can turn one into the other, or how strong it is
 *           stands nowhere: neither with the lot, nor in the words, nor on the sheet
 * Notes:
 *   1. Another measure than the lot's, and what is lost by trimming: st_lot_cross.
 *   2. Taking more than is left by the book is remarked on, never refused: the jar is right, and the book was wrong. */
enum book_status st_batch_use_of(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                                 const struct st_line *line, const char *words, enum st_measures measures,
                                 struct st_batch_use *out, struct st_problem *problem);
/* Write it, for a weighing that is in the book; inside a deed. */
enum book_status st_batch_use_put(const struct st_batch_ask *a, const struct st_batch_use *use,
                                  const struct book_weighing *w);
/* Take a weighing away, and what it took from a lot; inside a deed. */
enum book_status st_batch_unweigh(const struct st_batch_ask *a, int64_t weighing);

#endif
