#ifndef ST_API_BOOK_BOTTLING_CODE_H
#define ST_API_BOOK_BOTTLING_CODE_H

#include "api/book_batch.h"

/* A code that the maker gives a bottling, as it is kept (st_book_code).  It is written on bottles and asked for years later,
 * so it must be this bottling's alone.
 *
 * Given:    said; of: the batch that is bottled
 * Returned: *code, lent by the arena
 * Result:   BOOK_OK; BOOK_NONE and *problem: no code at all, figures alone, a bottling's, a batch's or a lot's that is there
 *           already, or one like those that the program gives (B14, L7, or B14-1 of another batch) */
enum book_status st_bottling_code(const struct st_batch_ask *a, const char *said, const struct book_batch *of,
                                  const char **code, struct st_problem *problem);

#endif
