#ifndef ST_API_BOOK_BATCH_AT_ODDS_H
#define ST_API_BOOK_BATCH_AT_ODDS_H

#include "api/book_batch.h"

/* The strength of a drink by its readings, those of before something was added too (book_batch_agree_before.h), and what went in. */
struct st_batch_strength_read {
    struct st_interval
        is; /* known: something was read that bears on it, none of it after the day that is asked of, and all of it
                            * holds (st_agree_holds) */
    const char *by; /* "strength 30 of 2026-08-10; hydrometer 1.02"; lent by the arena */
};

/* What a bottling says, against what is known of the drink: nothing here stops a bottling.
 *
 * Given:    batch, made of it (told; else nothing is held against anything); strength: as it was told, % vol, NAN not told;
 *           *n remarks there are
 * Returned: remark[], lent by the arena, at most ST_BATCH_ODDS more; *n; *read
 * Notes:
 *   1. Readings that do not agree, with each other or with the recipe (st_batch_agree); of merely unlikely ones it is said that
 *      they are used.
 *   2. A strength outside the 95 % interval of what is known, by more than 95 % of a reading's own error: known by the
 *      readings and the recipe where these hold (st_agree_holds), by what is left without the one in doubt, else as foretold. */
enum { ST_BATCH_ODDS = 2 };
enum book_status st_batch_at_odds(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_batch_made *made, double strength, const char *remark[], int *n,
                                  struct st_batch_strength_read *read);

#endif
