#ifndef ST_API_BOOK_BATCH_LATE_H
#define ST_API_BOOK_BATCH_LATE_H

#include "api/book_batch.h"

/* What somebody who fills bottles should look at first: nothing here stops a bottling. */

enum { ST_BATCH_REMARKS = 12 };

/* Given:    batch, made of it; day of the bottling
 * Returned: remark[ST_BATCH_REMARKS], lent by the arena; *n
 * Notes:
 *   1. A jar that by the book still steeps; a steep that lay longer than the longest its recipe tells, by more than
 *      ST_BATCH_LATE_DAYS (common practice, no source).
 *   2. What was past its use-by day when it went in, spent fruit among it; spent fruit without such a day that was kept
 *      for more than a fortnight before it went in (common practice, no source).
 *   3. Syrups and blends that nobody wrote down (book_batch_before.h). */
enum { ST_BATCH_LATE_DAYS = 7, ST_BATCH_SPENT_DAYS = 14 };
enum book_status st_batch_late(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *made, const char *day, const char *remark[], int *n);

#endif
