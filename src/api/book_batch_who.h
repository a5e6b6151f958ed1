#ifndef ST_API_BOOK_BATCH_WHO_H
#define ST_API_BOOK_BATCH_WHO_H

#include "api/book_batch_chain.h"

/* If a jar turns out wrong: every batch that something of it came into, and who has bottles of those. */

struct st_batch_holder {
    struct book_gone gone;
    const char *code, *batch, *name; /* of the bottling, of its batch */
    int64_t has;                     /* bottles that did not come back */
};

struct st_batch_who {
    struct st_chain_link *link, *back; /* where it came to, itself first; one step back */
    int n_link, n_back;
    struct st_batch_holder *holder; /* in the order in which to ring */
    int n, at_home;                 /* bottles at home, of all batches it came to */
};

/* Given:    a batch (is_lot false) or a lot by its id
 * Returned: *out, lent by the arena
 * Notes:
 *   1. Not rung yet first; of those who has most, and who got it last: they may not have drunk it. */
enum book_status st_batch_who(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_batch_who *out);

#endif
