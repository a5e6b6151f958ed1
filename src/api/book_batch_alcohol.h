#ifndef ST_API_BOOK_BATCH_ALCOHOL_H
#define ST_API_BOOK_BATCH_ALCOHOL_H

#include "api/book_batch.h"

/* Litres of pure alcohol (at 20 C) for a small licence: what came in, what went out in bottles or was given from a lot, what
 * was lost, by lot and batch; the book's closing held against what must still be there.  Not tax advice. */

enum st_alcohol_way {
    ST_ALC_IN,       /* from outside: a lot that was bought, or a spirit in a batch of which no lot is told */
    ST_ALC_MOVED_IN, /* from a lot into a batch, or from a batch into a lot (spent fruit) */
    ST_ALC_MOVED_OUT,
    ST_ALC_OUT,  /* bottled; given or poured from a lot */
    ST_ALC_LOST, /* spilt, lees, tasted ... ; lots spilt, thrown, tasted, counted short */
    ST_ALC_KEPT, /* of a batch that is over: what was in no bottle and no entry; fruit, lees and air kept it */
    ST_ALC_WAYS
};

/* A lot's or a batch's account over the days asked for. */
struct st_alcohol_account {
    bool is_lot;
    int64_t id;
    const char *code, *name, *whence;          /* whence: of a lot, where it was bought or which batch it came from */
    double opening, way[ST_ALC_WAYS], closing; /* L */
    bool over; /* the batch or lot is ended by the last day: nothing of it must be left */
    /* a batch: what must be in the jar by the last volume of the drink that was read, and its strength, less what went since;
     * NAN no volume was read */
    double found, found_u;
    bool measured;
    char read_on[11]; /* the day of that volume; "" none */
    int unknown;      /* entries without a strength, which count nothing */
};

/* One step: from a lot into a batch. */
struct st_alcohol_step {
    const char *lot, *batch, *on_day; /* lot "": no lot is told */
    double litres;
};

struct st_alcohol {
    struct st_alcohol_account
        *account; /* lots first, then batches, by their ids; those without any movement are left out */
    int n;
    struct st_alcohol_step *step;
    int n_step;
    double opening, in, out, lost, kept, closing; /* L, of all together; what moved inside is not in it */
    double u;                                     /* standard uncertainty of the closing by the book */
    double found, found_u; /* what must still be there: lots by the book, batches by volume and strength */
    double unfound; /* closing of the batches of which no volume was read: nobody knows how much of it is there */
    int unknown, not_found; /* entries without a strength; batches of which no volume was read */
};

/* Between two days, both included; since NULL: from the first; until NULL: to the last.
 * Notes:
 *   1. Volumes count for 1 %, a strength on a label for 0.3 % vol at 19 in 20, one that was foretold or read for its own interval:
 *      common practice, no source.
 *   2. closing = opening + in - out - lost - kept, for each account with what moved; the sums of all accounts are the totals.
 *   3. What fruit, lees and air keep is in no entry.  Of a batch that is over all of the rest is that, on its last day; of one
 *      that stands it is the difference of closing and found.
 *      Uncertainties of what is foretold of several batches are added up: the same fruit keeps too much in all of them.
 *   4. A spirit of the recipe that nobody weighed counts as planned, less what lots gave to the batch without a weighing; what
 *      is left of it below 5 % is a measure's error.
 *      What is taken of spent fruit or of another batch comes on top of the plan.
 *   5. A batch that was over before the first day has an opening of 0 and is left out. */
enum book_status st_batch_alcohol(const struct st_batch_ask *a, const char *since, const char *until,
                                  struct st_alcohol *out);
/* L that are neither in a bottle, nor lost, nor found, of lots and of batches of which a volume is known. */
double st_alcohol_gap(const struct st_alcohol *x);

#endif
