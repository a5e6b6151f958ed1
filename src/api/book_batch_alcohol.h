#ifndef ST_API_BOOK_BATCH_ALCOHOL_H
#define ST_API_BOOK_BATCH_ALCOHOL_H

#include "api/book_batch.h"

/* Litres of pure alcohol (at 20 C) for a small licence: what came in, what went out in bottles or was given from a lot, what
 * was lost, by lot and batch; of each batch that can be checked, what is not accounted for.  Not tax advice. */

enum st_alcohol_way {
    ST_ALC_IN,       /* from outside: a lot that was bought, or a spirit in a batch of which no lot is told */
    ST_ALC_MOVED_IN, /* from a lot into a batch, or from a batch into a lot (spent fruit) */
    ST_ALC_MOVED_OUT,
    ST_ALC_OUT,     /* bottled; given or poured from a lot */
    ST_ALC_LOST,    /* spilt, lees, tasted ... ; lots spilt, thrown, tasted, counted short */
    ST_ALC_KEPT,    /* of a batch that is over: foretold to be kept by fruit, peel, lees and air, and not entered */
    ST_ALC_MISSING, /* of a batch that is over: the rest, which nobody accounted for; below 0 more went than came */
    ST_ALC_WAYS
};
enum { ST_ALC_OPENING = 1u << ST_ALC_WAYS, ST_ALC_CLOSING = 2u << ST_ALC_WAYS };

/* A lot's or a batch's account over the days asked for. */
struct st_alcohol_account {
    int64_t id;
    const char *code, *name, *whence;          /* whence: of a lot, where it was bought or which batch it came from */
    double opening, way[ST_ALC_WAYS], closing; /* L */
    /* a batch that stands: what must be in the jar by the last volume of the drink that was read, and its strength, less what
     * went since; NAN no volume was read */
    double found, found_u;
    /* a batch: what fruit, peel, lees and air are foretold to keep, less what of it was entered; NAN not known */
    double kept, kept_u;
    double missing, missing_u; /* a batch that was checked: in, less all that went, was kept and was found */
    int unknown;               /* entries without a strength, which count nothing */
    unsigned unsure;           /* where these stand: 1u << way, ST_ALC_OPENING, ST_ALC_CLOSING */
    char read_on[11];          /* the day of the volume; "" none */
    bool is_lot;
    bool over;    /* the batch or lot is ended by the last day: nothing of it must be left */
    bool checked; /* a batch that is over, or whose volume was read, and all of whose entries are known */
    bool marked;  /* what is missing is not chance: 0 lies outside 19 in 20 */
};

/* One step: from a lot into a batch. */
struct st_alcohol_step {
    const char *lot, *batch, *on_day; /* lot "": no lot is told */
    double litres;                    /* NAN: not known */
};

struct st_alcohol {
    struct st_alcohol_account
        *account; /* lots first, then batches, by their ids; those without any movement are left out */
    int n;
    struct st_alcohol_step *step;
    int n_step;
    /* L, of all together; what moved inside is not in it */
    double opening, in, out, lost, kept, missing, closing;
    double found; /* what must still be there: lots by the book, batches by volume and strength */
    double
        unfound; /* closing of the batches that stand and of which no volume was read: how much is there, nobody knows */
    double gap, gap_u;   /* missing of all batches that were checked */
    int checked, marked; /* batches */
    int unknown;         /* entries without a strength, what moved inside once */
    unsigned unsure;     /* where these stand, as of an account */
    int not_found;       /* batches that stand and of which no volume was read */
    int untold; /* batches that cannot be checked though over or measured: an entry or the recipe is not known */
};

/* Between two days, both included; since NULL: from the first; until NULL: to the last.
 * Notes:
 *   1. Volumes count for 1 %, a strength on a label for 0.3 % vol at 19 in 20, one that was foretold or read for its own
 *      interval: common practice, no source.  What went out of one batch is wrong together, and so is what is foretold of
 *      several: these uncertainties are added up.
 *   2. closing = opening + in - out - lost - kept - missing, for each account with what moved; the sums of all accounts are
 *      the totals.
 *   3. What fruit, peel, lees and air keep is in no entry, and is foretold of the batch as it was weighed; where the drained
 *      solids were weighed, of so much of them.  Spent fruit that became a lot, and lees that were entered, are part of it.
 *      Of a batch that is over, kept and missing are of its last day; one that stands keeps both in its closing.
 *   4. A batch that stands without a volume read, and one of which an entry is not known, is not checked: nothing can be said.
 *   5. A spirit of the recipe that nobody weighed counts as planned, less what lots gave to the batch without a weighing; what
 *      is left of it below 5 % is a measure's error.
 *      What is taken of spent fruit or of another batch comes on top of the plan.
 *   6. What was lost of a step before the drink has the strength of what stands there, when nobody told another.
 *   7. A batch that was over before the first day has an opening of 0 and is left out. */
enum book_status st_batch_alcohol(const struct st_batch_ask *a, const char *since, const char *until,
                                  struct st_alcohol *out);
/* A figure to be told: NAN where nothing but unknown entries stands. */
double st_alcohol_figure(double x, unsigned unsure, unsigned bit);
/* What fruit, peel, lees and air keep of a batch, never below 0; not known where kept is not. */
struct st_interval st_alcohol_kept(const struct st_alcohol_account *x);

#endif
