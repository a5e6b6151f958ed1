#ifndef ST_API_BOOK_BATCH_ALCOHOL_H
#define ST_API_BOOK_BATCH_ALCOHOL_H

#include "api/book_batch.h"
#include "api/book_export.h"

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
    ST_ALC_WAYS,
    ST_ALC_OPENING = ST_ALC_WAYS,
    ST_ALC_CLOSING,
    ST_ALC_MOVED,   /* moved in less moved out; 0 of all together */
    ST_ALC_FOUND,   /* what must still be there (Note 8) */
    ST_ALC_UNFOUND, /* closing of batches that stand and of which no volume was read: how much is there, nobody knows */
    ST_ALC_SUMS
};

/* Sums over the days asked for, L. */
struct st_alcohol_sums {
    double l[ST_ALC_SUMS]; /* FOUND of a batch of which no volume was read: NAN */
    double u[ST_ALC_SUMS]; /* standard uncertainty (Note 9) */
    unsigned unsure;       /* where entries without a strength stand, which count nothing: 1u << way */
};

/* A lot's or a batch's account over the days asked for. */
struct st_alcohol_account {
    int64_t id;
    const char *code, *name, *whence; /* whence: of a lot, where it was bought or which batch it came from */
    struct st_alcohol_sums sum;
    /* a batch: what fruit, peel, lees and air are foretold to keep, less what of it was entered; NAN not known */
    double kept, kept_u;
    double missing, missing_u; /* a batch that was checked: in, less all that went, was kept and was found */
    int unknown;               /* entries without a strength */
    char read_on[11];          /* the day of the volume that was read; "" none */
    bool is_lot;
    bool over;    /* the batch or lot is ended by the last day: nothing of it must be left */
    bool checked; /* a batch that is over, or whose volume was read, and all of whose entries are known */
    bool marked;  /* what is missing is not chance: 0 lies outside 19 in 20 */
    bool below;   /* it closes below 0, and that is not chance: more went out of it than the book says came in */
};

/* One step: from a lot into a batch. */
struct st_alcohol_step {
    const char *lot, *batch, *on_day; /* lot "": no lot is told */
    double litres, u;                 /* NAN: not known */
    bool by_line;                     /* a line of the batch names the lot, and nobody weighed it of that lot */
};

struct st_alcohol {
    struct st_alcohol_account
        *account; /* lots first, then batches, by their ids; those without any movement are left out */
    int n;
    struct st_alcohol_step *step;
    int n_step;
    struct st_alcohol_sums sum; /* of all together */
    double gap, gap_u;          /* missing of all batches that were checked */
    int checked, marked;        /* batches */
    bool below;                 /* all together close below 0 */
    int n_below;                /* accounts that do */
    int unknown;                /* entries without a strength, what moved inside once */
    int not_found;              /* batches that stand and of which no volume was read */
    int untold; /* batches that cannot be checked though over or measured: an entry or the recipe is not known */
};

/* Between two days, both included; since NULL: from the first; until NULL: to the last.
 * Notes:
 *   1. Volumes count for 1 %, a strength on a label for 0.3 % vol at 19 in 20: common practice, no source.  One that was foretold
 *      or read counts for its own interval, one that nobody wrote for the interval of its ingredient's sheet.
 *   2. closing = opening + in - out - lost - kept - missing, for each account with what moved; the sums of all accounts are
 *      the totals.
 *   3. What fruit, peel, lees and air keep is in no entry, and is foretold of the batch as it was weighed; where the drained
 *      solids were weighed, of so much of them.  Spent fruit that became a lot, and lees that were entered, are part of it;
 *      what lies in the drink still (spent fruit in a blend) keeps what it brought.
 *      Of a batch that is over, kept and missing are of its last day; one that stands keeps both in its closing.
 *   4. A batch that stands without a volume read, and one of which an entry is not known, is not checked: nothing can be said.
 *   5. A spirit of the recipe that nobody weighed counts as planned, less what lots gave to the batch without a weighing; what
 *      is left of it below 5 % is a measure's error.
 *      What is taken of spent fruit or of another batch comes on top of the plan.  What a line takes of a lot that it names
 *      ("100 mL poured L2", as a batch begun as another says again) and nobody weighed of a lot comes from that lot, which may
 *      close below 0 then: its batch or another gave it, and nothing was bought.
 *   6. What was lost of a step before the drink has the strength of what stands there, when nobody told another.
 *   7. A batch that was over before the first day has an opening of 0 and is left out.
 *   8. Of a lot what it closes with by the book; of a batch that stands the last volume read of its drink at its strength, less
 *      what went out of it since.
 *   9. Where a sum's doubt comes from is kept apart, and what has the same cause is added with its sign before it is squared, so
 *      that a lot's strength, wrong in three batches, is wrong three times, and what moved inside cancels.  Causes: the strength
 *      of a lot; its amount; the measure by which things were taken of it; the share of liquor in spent fruit; the strength that
 *      was read of a batch; the measure of what went out of a batch; a volume that was read; a spirit of no lot, by its strength;
 *      and, of all batches together, what is foretold of strengths, and what is foretold to be kept.  They count as independent
 *      of each other: that who foretells too strong a drink foretells too little kept is left out.  One measure or hydrometer
 *      that is wrong in the whole house in the same way is not known to be, and is in no interval.
 *   10. tick, where it is not NULL, is called with arg after each batch: how many of them are reckoned. */
enum book_status st_batch_alcohol(const struct st_batch_ask *a, const char *since, const char *until,
                                  st_book_tick *tick, void *arg, struct st_alcohol *out);
/* A sum to be told, at 19 in 20; not known where nothing but unknown entries stands.  What can only come or go is never below 0;
 * where unsure says so, more than high is possible. */
struct st_interval st_alcohol_told_sum(const struct st_alcohol_sums *x, enum st_alcohol_way w);
/* What fruit, peel, lees and air keep of a batch, never below 0; not known where kept is not. */
struct st_interval st_alcohol_kept(const struct st_alcohol_account *x);

#endif
