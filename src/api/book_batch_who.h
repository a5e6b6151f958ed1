#ifndef ST_API_BOOK_BATCH_WHO_H
#define ST_API_BOOK_BATCH_WHO_H

#include "api/book_batch_chain.h"

/* If a jar turns out wrong: every batch that something of it came into, and who has bottles of those. */

struct st_batch_holder {
    struct book_gone gone;
    const char *code, *batch, *name; /* of the bottling, of its batch */
    int64_t has;                     /* bottles that did not come back; 0: all did, and may have been drunk of */
};

/* Part of a lot or a batch that somebody had as it is: spent fruit or a tincture that was given, a glass that was poured or
 * tasted, what was drawn off.  Whom it went to stands in the note, as it was written. */
struct st_batch_given {
    int64_t id;
    bool of_lot;
    const char *code, *name;         /* of the lot, or the batch */
    const char *why, *on_day, *note; /* "given", "poured", "tasted", "drawn"; note "" where nobody wrote one */
};

/* Bottles at home. */
struct st_batch_home {
    const char *code;
    int n, back; /* back: brought back, perhaps without what was in them; no more than n */
};

struct st_batch_who {
    struct st_chain_link *link, *back; /* where it came to, itself first; one step back */
    int n_link, n_back;
    struct st_batch_holder *holder; /* in the order in which to ring */
    int n, at_home;                 /* bottles at home, of all batches it came to */
    struct st_batch_home *home;
    int n_home;
    struct st_batch_given *given; /* of every lot and batch it came to, the last day first */
    int n_given;
    const char **before; /* codes of bottlings and lots that left a batch before it came in: they have nothing of it */
    int n_before;
    struct st_chain_unclear *unclear; /* lines that may mean one of these lots, or another of its name */
    int n_unclear;
};

/* Given:    a batch (is_lot false) or a lot by its id
 * Returned: *out, lent by the arena
 * Notes:
 *   1. Not rung yet first; of those who has most, and who got it last: they may not have drunk it; last who brought all
 *      back, since they may have drunk of it.
 *   2. What was given of a lot or batch has no person, only a note: it is told whole, and --told can't mark it.
 *   3. What left a batch before it came in (st_batch_chain, note 3) is in `before` alone. */
enum book_status st_batch_who(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_batch_who *out);

#endif
