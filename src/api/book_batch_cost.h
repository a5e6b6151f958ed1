#ifndef ST_API_BOOK_BATCH_COST_H
#define ST_API_BOOK_BATCH_COST_H

#include <jansson.h>

#include "api/book_batch.h"
#include "model/reach.h"

/* One filling of bottles, and what one of them costs. */
struct st_batch_cost_filled {
    const char *code;
    double bottle_ml;
    struct st_range bottle;
};

/* What a batch really cost: the price of each lot, by the share of it that went in. */
struct st_batch_cost {
    struct st_range batch, bottle, pour; /* known: of each; bottle: of the first filling */
    struct st_range left; /* of what is still there, all of it; of a batch that is over what nothing bears */
    struct st_batch_cost_filled *filled; /* in the order of days */
    int n_filled;
    double at_least;      /* of the lots of known cost; NAN where they are in several currencies */
    const char *currency; /* "" where there is none, or several */
    double bottle_ml;     /* of the first filling, else what the recipe says; 0: neither */
    double serving_ml;
    double filled_ml, poured_ml; /* bottled ever; taken off as a lot, or drawn */
    struct st_range left_ml;     /* still there; 0 of a batch that is over */
    const char *unpriced_code;   /* the last batch of which a lot went in whose cost is not known, or "" */
    char unpriced_why[240];      /* why it is not: "of 1 line no lot is told (line 2 of jar: 200 g sugar)" */
    bool bottled;                /* something was */
    bool mixed;                  /* several currencies, or prices with one and without: no sum of them is told */
    bool bare;                   /* a price has no currency */
    int n_used;                  /* lots that went in */
    int n_unpriced; /* of these, without a price: bought, or made ahead; drained fruit costs nothing more */
    int n_unknown;  /* of these, from a batch whose cost is not known */
    int n_no_lot;   /* lines of the recipe, water aside, of which no lot is told */
    char no_lot[120]; /* the first of these: "line 2 of jar: 200 g sugar" */
    int n_part;     /* weighings without a lot on a line that has one, and additions without one, water aside */
    char part[120]; /* the first of these: "350 mL of line 1 of drink" */
};

/* Given:    planned, the batch by its own text, whose lines the weighings count by
 *           m, the batch as it was really made (whole, and told where bottle and pour of an unbottled batch are wanted);
 *           serving_ml > 0, else the recipe's
 * Returned: *out; strings lent
 * Notes:
 *   1. A bottle costs its share of what was in the drink when it was filled, by what was there then (st_batch_left), as wide as
 *      that is: what is added or lost later is borne by what was there then.  So with what is poured or drawn off.  A pour is of
 *      what is there, else of what left last.  Of a batch that is over, what the book has left nobody has: it is borne by what
 *      left since the last addition; left is what then nothing bears.
 *   2. What was taken counts as it was weighed: no interval of its own.
 *   3. A lot that was made of another batch and has no price of its own costs its share of what went into that batch until it was
 *      poured off (line 0 of later days is not in it), by Note 1; bottles that were poured back cost what they did. */
enum book_status st_batch_cost(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *planned, const struct st_batch_made *m, double serving_ml,
                               struct st_batch_cost *out);

/* "16.60 EUR the batch, 5.53 EUR a bottle of 350 mL, 0.63 EUR a pour of 40 mL", or why that is not known. */
void st_batch_cost_words(const struct st_batch_cost *c, char *buf, size_t size);

json_t *st_doc_batch_cost(const struct st_batch_cost *c);

#endif
