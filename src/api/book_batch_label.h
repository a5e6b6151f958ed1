#ifndef ST_API_BOOK_BATCH_LABEL_H
#define ST_API_BOOK_BATCH_LABEL_H

#include "api/book_batch.h"
#include "text/label_books.h"
#include "text/watch.h"

/* What the label of a bottling says, as a JSON document to be frozen with it; lent by the arena, "" when it is too long.
 *
 * Given: made, told; what it is held against; books of labels; strength as measured, NAN: as foretold; day the batch was
 *        begun; code of the bottling */
const char *st_batch_label(const struct st_batch_ask *a, const struct st_batch_made *made, const struct st_watch *watch,
                           const struct st_label_books *books, double strength, const char *begun, const char *code);

#endif
