#ifndef ST_API_BOOK_BATCH_LASTED_H
#define ST_API_BOOK_BATCH_LASTED_H

#include "api/book_batch.h"

/* The text of a batch with the days that its jars really stood in the place of those that were planned.
 *
 * Given:    batch; made: its text with what was weighed, read
 * Returned: *out, appended: made->text, in which each step that is over and has a `for:` lasts from the day its first jar was
 *           begun to the day its last was ended; as it was where nothing of it is over, or the file is written in a way
 *           that cannot be changed
 * Notes:
 *   1. What stands still is left as planned. A step that began and ended on one day is left too: nobody counted hours.
 */
enum book_status st_batch_lasted(const struct st_batch_ask *a, const struct book_batch *batch,
                                 const struct st_batch_made *made, struct st_buf *out);

/* The same put into the recipe that was read.  *any: something was. */
enum book_status st_batch_put_lasted(const struct st_batch_ask *a, const struct book_batch *batch, struct st_recipe *r,
                                     bool *any);

#endif
