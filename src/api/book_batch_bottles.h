#ifndef ST_API_BOOK_BATCH_BOTTLES_H
#define ST_API_BOOK_BATCH_BOTTLES_H

#include "api/book_batch_pour.h"

/* Bottles that are opened and poured into another batch: "2 bottles of B1-1". */

/* Whether words say so, of a bottling that is in the book.
 * Returned: *of, lent by the arena; *count, 1 and up */
enum book_status st_batch_bottles_said(const struct st_batch_ask *a, const char *words, bool *is,
                                       struct book_bottling *of, int64_t *count);

/* What they hold, as a lot of their batch: what the batch was when they were filled, of the strength that was written of them.
 *
 * Given:    from, made: the batch, really, as it was then (st_batch_bottles_moment), told
 * Returned: *out; BOOK_NONE and *problem: not so many are at home, or they were filled only later than day
 * Notes:
 *   1. Nothing is drawn off the batch by that: they had left it when they were filled. */
enum book_status st_batch_bottles_pour(const struct st_batch_ask *a, const struct book_batch *from,
                                       const struct st_batch_made *made, const struct book_bottling *of, int64_t count,
                                       const char *day, struct st_batch_pour *out, struct st_problem *problem);
/* Write the lot, and that the bottles are gone; inside a deed.  lot.id is set. */
enum book_status st_batch_bottles_put(const struct st_batch_ask *a, struct st_batch_pour *pour,
                                      const struct book_bottling *of, int64_t count, const struct book_batch *into);

/* When what is in them was as it is. */
struct st_batch_moment st_batch_bottles_moment(const struct book_bottling *of);

/* The bottles that a lot was: *is, *of, *gone; of any other lot *is is false.  of, gone: NULL, not asked. */
enum book_status st_batch_lot_bottles(const struct st_batch_ask *a, const struct book_lot *lot, bool *is,
                                      struct book_bottling *of, struct book_gone *gone);
/* The moment up to which its batch counts for a lot; its day is NULL where nobody knows. */
enum book_status st_batch_lot_moment(const struct st_batch_ask *a, const struct book_lot *lot,
                                     struct st_batch_moment *then);
/* How many of them were poured into batches. */
enum book_status st_batch_bottles_back(const struct st_batch_ask *a, const struct book_bottling *of, int64_t *n);

#endif
