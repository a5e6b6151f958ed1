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
    struct st_batch_moment
        since; /* of a batch: when it came in first; day NULL: from the beginning, as far as is known */
};

/* Given:    a batch (is_lot false) or a lot by its id
 * Returned: *link[*n], lent by the arena: link[0] is what was asked for, then by how many steps they are away
 * Notes:
 *   1. Each batch and lot stands there once, by its shortest way; a ring (a lot of B1 in B2, one of B2 in B1) ends.
 *   2. A lot is used by a batch that a use of it names, or a weighing, or a line of its text: by its code ("poured L2"), or by a
 *      name that no other has (book_batch_named.h).
 *   3. A lot that left a batch before it came in has nothing of it, and is not followed: only what was added (a weighing of line 0)
 *      has a day on which it came in, a line of the recipe is there from the beginning. */
enum book_status st_batch_chain(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                int *n);
/* The same of what came into a batch at that moment. */
enum book_status st_batch_chain_since(const struct st_batch_ask *a, int64_t batch, const struct st_batch_moment *since,
                                      struct st_chain_link **link, int *n);
/* The same without note 3: whatever a lot or batch is joined with, at any time. */
enum book_status st_batch_chain_ever(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                     int *n);
/* Whether what left the batch of that link at that moment has nothing of it: it came in later. */
enum book_status st_batch_chain_before(const struct st_batch_ask *a, const struct st_chain_link *batch,
                                       const struct st_batch_moment *left, bool *is);
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
