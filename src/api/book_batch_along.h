#ifndef ST_API_BOOK_BATCH_ALONG_H
#define ST_API_BOOK_BATCH_ALONG_H

#include "api/book_batch.h"

/* What goes along in words where a batch is poured, or its fruit put, into another: keys of a recipe's `ingredients:` row.
 *
 * Given:    r, of the batch; f, foretold of it; its code; drained: the step whose solids it is, -1 of its drink; like: what its solids are like ("");
 *           first: one more row of `brings`, before them ("")
 * Returned: *b, appended: ", allergens: [...], brings: [...]", or nothing where there is nothing to tell
 * Notes:
 *   1. Every caution of level caution and above comes with its level, its words and its source, and names its batch
 *      (text/caution_brought.h); of notes the first few, the rest are counted.
 *   2. Of solids only what the steps up to theirs tell; what the sheet says of such fruit itself is not said twice.
 *   3. Allergens are those of all that went into the batch, the surest of each sort. */
void st_batch_along(const struct st_recipe *r, const struct st_foretold *f, const char *batch, int drained,
                    const char *like, const char *first, struct st_buf *b);

#endif
