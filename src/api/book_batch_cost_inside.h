#ifndef ST_API_BOOK_BATCH_COST_INSIDE_H
#define ST_API_BOOK_BATCH_COST_INSIDE_H

#include "api/book_batch_cost.h"

/* For the files book_batch_cost*.c only. */

/* ---- book_batch_cost_in.c: what went in ---- */

/* What a lot cost, all of it; not known: no price. */
struct st_cost_price {
    struct st_range all;
    const char *currency;
    const char *code; /* of a batch whose cost is not known, and so not the lot's; NULL */
    char why[240];
};

/* What a batch took of lots, each with its price. */
struct st_cost_use {
    struct book_lot_use use;
    struct book_lot lot;
    struct st_cost_price price;
};
struct st_cost_uses {
    struct st_cost_use *x;
    int n;
};

/* Of a batch, with a->until what was in it then; lent by the arena. */
enum book_status st_cost_uses(const struct st_batch_ask *a, const struct book_batch *batch, struct st_cost_uses *out);
/* What is in it, with a->until then: sum, and what of it is not known; uses of that moment or of a later one.  batch.known says
 * whether all of it is. */
enum book_status st_cost_in(const struct st_batch_ask *a, const struct book_batch *batch,
                            const struct st_batch_made *planned, const struct st_cost_uses *uses,
                            struct st_batch_cost *out);

/* ---- book_batch_cost_pool.c: who bears it ---- */

/* Money in mL of the drink, reckoned three times: as it is by the middle of all; with the dearest lots and the least drink; with the
 * cheapest and the most. */
enum { ST_COST_WAYS = 3 };
struct st_cost_off {
    struct st_batch_moment at;
    const char *code; /* of bottles; else "" */
    double ml, bottle_ml;
    double per_ml[ST_COST_WAYS];
    int n_in; /* weighings that were in then */
    bool known;
};
struct st_cost_pool {
    bool known;
    double per_ml[ST_COST_WAYS]; /* of what is there; where nothing is, of what left last */
    double money[ST_COST_WAYS];  /* in what is there */
    struct st_cost_off *off;     /* what left, in the order of days */
    int n_off;
};

/* Given:    m, the batch as really made, until a->until; uses of a; in, what st_cost_in gives of a
 * Returned: *out, lent by the arena; *left_ml, what is there
 * Notes:
 *   1. What leaves takes its share of the money that is in the drink then: its mL by the mL that are there just before.  What is lost
 *      leaves its money to what is there, and what is added brings its own to that.
 *   2. Of a batch that is over nothing is there, and what was left by the book has nobody: what left since the last addition bears it,
 *      where anything did. */
enum book_status st_cost_pool(const struct st_batch_ask *a, const struct book_batch *batch,
                              const struct st_batch_made *planned, const struct st_batch_made *m,
                              const struct st_cost_uses *uses, const struct st_batch_cost *in, struct st_cost_pool *out,
                              struct st_range *left_ml);
/* The money of so many mL by that pool. */
struct st_range st_cost_of_ml(const double per_ml[ST_COST_WAYS], bool known, double ml);

/* ---- book_batch_cost.c ---- */

/* Of a lot that was made of another batch: its share of that. */
enum book_status st_cost_of_batch(const struct st_batch_ask *a, const struct book_lot *lot, struct st_cost_price *out);

#endif
