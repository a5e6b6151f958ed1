#ifndef ST_API_BOOK_BATCH_AGREE_BEFORE_H
#define ST_API_BOOK_BATCH_AGREE_BEFORE_H

#include "api/book_batch_agree.h"
#include "api/book_batch_since.h"
#include "model/agree_on.h"

/* What was read of the finished drink before something was added to it goes on to hold, through what was added (agree_on.h). */

/* A reading of then. */
struct st_batch_earlier {
    const struct book_reading *row;
    struct st_observation seen;
    int at;         /* of out->old */
    int since;      /* how many things were added after it */
    bool of_recipe; /* and something of the recipe was poured in: then it was not the finished drink */
};

/* The drink at one of those moments: nothing was added between its readings. */
struct st_batch_then {
    struct st_batch_made *made;
    struct st_observation seen[ST_AGREE_MOST];
    int at[ST_AGREE_MOST], n; /* of out->old */
};
struct st_batch_thens {
    struct st_batch_then *of[ST_AGREE_MOST];
    int n;
};

/* What was read of the drinks that it was.
 *
 * Given:    e[n] by their moment, the oldest first; made: of now, told
 * Returned: *then, for st_batch_thens_done in every case; of out->old[] why each that is not in it is not used
 * Notes:
 *   1. Readings between the same additions are of one drink: the batch as it was at the last of them (st_batch_ask.until), its own
 *      losses and bottles added back to volumes and weights as of a drink of now.
 *   2. Where parts of the drink had left before the next thing was added, and a volume was read then, the rest is reckoned from it
 *      (book_batch_rest.h): it is used there, and not here too. */
enum book_status st_batch_thens_of(const struct st_batch_ask *a, const struct book_batch *batch,
                                   const struct st_batch_made *made, const struct st_batch_earlier e[], int n,
                                   struct st_batch_agree *out, struct st_batch_thens *then);
void st_batch_thens_done(struct st_batch_thens *then);

/* Hold all of it against what is foretold, without the drained solids that were weighed: what was read before, then what was read of
 * now, into out->out; of out->old[] which go on. */
enum st_status st_batch_agree_hold(const struct st_batch_ask *a, const struct st_batch_thens *then,
                                   const struct st_batch_made *made, struct st_batch_agree *out);

/* A volume, or a weight, of what was left when it was read is one of all of it less what had gone: that is added back. */
enum book_status st_batch_agree_back(const struct st_batch_ask *a, const struct st_batch_past *past,
                                     const struct st_batch_made *made, const struct book_reading *row,
                                     struct st_observation *o, double *back_ml);

/* Why a reading of before does not go on; "" it does. */
const char *st_batch_old_why(enum st_batch_old_use use);

#endif
