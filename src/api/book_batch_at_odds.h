#ifndef ST_API_BOOK_BATCH_AT_ODDS_H
#define ST_API_BOOK_BATCH_AT_ODDS_H

#include "api/book_batch.h"

/* What a bottling says, against what is known of the drink: nothing here stops a bottling.
 *
 * Given:    batch, made of it (told; else nothing is held against anything); strength: as it was told, % vol, NAN not told;
 *           *n remarks there are
 * Returned: remark[], lent by the arena, at most ST_BATCH_ODDS more; *n
 * Notes:
 *   1. Readings that do not agree, with each other or with the recipe (st_batch_agree).
 *   2. A strength outside the 95 % interval of what is known, by more than 95 % of a reading's own error: known by the
 *      readings and the recipe where they agree, by what is left without the one in doubt, else as foretold. */
enum { ST_BATCH_ODDS = 2 };
enum book_status st_batch_at_odds(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_batch_made *made, double strength, const char *remark[], int *n);

#endif
