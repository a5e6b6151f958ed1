#ifndef ST_API_BOOK_BATCH_CHAIN_H
#define ST_API_BOOK_BATCH_CHAIN_H

#include "api/book_batch.h"

/* Where something of a lot or a batch came to: from a batch to every lot that was made of it, from a lot to every batch that
 * used it, and on. */

struct st_chain_link {
    bool is_lot;
    int64_t id;
    const char *code, *name;
    int from; /* the link it came by; -1: what was asked for */
};

/* Given:    a batch (is_lot false) or a lot by its id
 * Returned: *link[*n], lent by the arena: link[0] is what was asked for, then by how many steps they are away
 * Notes:
 *   1. Each batch and lot stands there once, by its shortest way; a ring (a lot of B1 in B2, one of B2 in B1) ends.
 *   2. A lot is used by a batch that a use of it names, or a weighing, or a line of its text: by its code ("poured L2"), or by a
 *      name that no other has (book_batch_named.h). */
enum book_status st_batch_chain(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                int *n);
/* One step back: of a batch the lots it used, of a lot the batch it is of or the lots it was made of; those that house stock was
 * made of stand beside it, from the first on; from is 0 for all. */
enum book_status st_batch_chain_back(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                     int *n);
/* A line that names what several lots are called. */
struct st_chain_unclear {
    const char *batch, *line, *lots; /* "L7, L9" */
};
/* Those that may mean a lot of link[n], or stand in link[0]: they were not followed. */
enum book_status st_batch_chain_unclear(const struct st_batch_ask *a, const struct st_chain_link link[], int n,
                                        struct st_chain_unclear **unclear, int *n_unclear);
/* "by L3 spent damson in B2, by L5 plum in B9": how link[at] was reached; "" of what was asked for. */
const char *st_batch_chain_way(const struct st_batch_ask *a, const struct st_chain_link link[], int at);

#endif
