#ifndef ST_API_BOOK_LOT_CALLED_H
#define ST_API_BOOK_LOT_CALLED_H

#include "api/book_batch.h"

/* Lots by the name that their maker gave them. */

/* Whether what was said behind an amount is the lot: nothing, "of L6", or its own name, with its strength or code behind it or
 * without.  *bare: nothing of it was said. */
bool st_lot_said(const struct book_lot *lot, const char *said, bool *bare);

/* The one lot that is not used up and bears that name ("20 mL Hausbrand").
 *
 * Given:    words, an amount and a name
 * Returned: *lot; *n, how many bear it; codes, the first of them in words ("L1, L4"), lent by the arena */
enum book_status st_lot_called(const struct st_batch_ask *a, const char *words, struct book_lot *lot, int *n,
                               const char **codes);

#endif
