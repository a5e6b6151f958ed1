#ifndef ST_API_BOOK_BATCH_HOLDS_H
#define ST_API_BOOK_BATCH_HOLDS_H

#include "api/book_batch.h"

/* What a lot that was made of a batch may hold of each toxicant, at most, as keys of a recipe's `ingredients:` row.
 *
 * Given:    lot; code of its batch; made: of it, told; steep: the id of the step whose drained solids the lot is, NULL: the
 *           lot is of its drink
 * Returned: *out, appended: ", made_of: [...], holds: [...]", or nothing where nothing in it is known to hold any
 * Notes:
 *   1. The worst case of the ledger (model/ledger.h): all of what went into the batch may be in the drink, and all of it in
 *      the drained solids too. Of a drink so much by weight as was poured of the least that there can be; of solids by
 *      weight of the lot or of what was drained, whichever is less. The whole lot holds no more than went into the batch, but for
 *      solids of which more is written than drained: then a gram counts as one of what drained, and the whole for more than
 *      there was (300 g of 190 for 1.6 times), so that what is taken of it by weight is never too little.
 *   2. What the batch was itself poured from goes along, through as many batches as st_batch_own looks back.
 *   3. A plant that a rule speaks of stays that plant (made_of). The genus stays only where nothing else in it brings that
 *      toxicant: else the stricter rule holds.
 */
void st_batch_holds(const struct book_lot *lot, const char *code, const struct st_batch_made *made, const char *steep,
                    struct st_buf *out);

#endif
