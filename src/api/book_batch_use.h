#ifndef ST_API_BOOK_BATCH_USE_H
#define ST_API_BOOK_BATCH_USE_H

#include "api/book_batch.h"

/* What a weighing takes from a lot. */

struct st_batch_use {
    int64_t lot_id;
    double amount;    /* in the lot's dim */
    char remark[1000]; /* what the maker should know; "" */
};

/* Given:    c, the sheet; the lot; line of the recipe, or NULL; words, the amount that was weighed (a whole line begins with it);
 *           back, what weighings that this one is instead of had taken from the lot, in its dim
 * Returned: *out
 * Status:   BOOK_NONE, too, where the line is what another step makes ("all of base"): no lot is that; BOOK_NONE and *problem when the lot is counted in another measure and nobody can turn one into the other, or how strong it is
 *           stands nowhere: neither with the lot, nor in the words, nor on the sheet
 * Notes:
 *   1. Another measure than the lot's, and what is lost by trimming: st_lot_cross.
 *   2. Taking more than is left by the book is remarked on, never refused: the jar is right, and the book was wrong. */
enum book_status st_batch_use_of(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                                 const struct st_line *line, const char *words, enum st_measures measures, double back,
                                 struct st_batch_use *out, struct st_problem *problem);
/* What this weighing took from that lot; 0 where it took of another or of none. */
enum book_status st_batch_use_taken(const struct st_batch_ask *a, int64_t weighing, int64_t lot, double *amount);
/* Write it, for a weighing that is in the book; inside a deed. */
enum book_status st_batch_use_put(const struct st_batch_ask *a, const struct st_batch_use *use,
                                  const struct book_weighing *w);
/* Take a weighing away, and what it took from a lot; inside a deed. */
enum book_status st_batch_unweigh(const struct st_batch_ask *a, int64_t weighing);

#endif
