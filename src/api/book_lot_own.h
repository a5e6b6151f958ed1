#ifndef ST_API_BOOK_LOT_OWN_H
#define ST_API_BOOK_LOT_OWN_H

#include "api/book_batch_own.h"

/* A lot that was bought or made, of no batch of the book, by its own figures: what was written of it, what was measured. */

struct st_lot_figures {
    struct st_interval strength, sugar, acid; /* % vol, g/L, g/L; known false: nobody wrote or measured it */
    bool by_label;                            /* the strength is what stands on it, as good as a label is */
    bool by_sheet;                            /* the strength is the sheet's own range: nobody wrote it */
    bool by_brix, by_sg; /* of a juice or a syrup: all that is dissolved in it was measured, its sugar follows */
    double read, read_sd, read_T; /* that reading; K */
    const char *
        odds; /* "brix 12 ... and sugar 300 g/L ... do not agree: ..."; NULL: what is known of its sugar goes together */
};

/* Given:    in, what it is on the sheet, or NULL
 * Returned: *out
 * Notes:
 *   1. What was measured last and nobody doubts goes before what is written.  Sugar is what was measured as such, then what is
 *      written, then what hydrometer and refractometer, or one of them and the strength (the sheet's of such a thing where
 *      nobody told it), give of what has alcohol, less what else the sheet has dissolved in it.
 *   2. As sure as was said; else as instruments usually are (st_seen_usual_sd), a label's strength within 0.3 % vol
 *      [eu_1169_2011], sugar and acid that are only written within 4 % (from memory: what two readings give at best).
 *   3. Its sugar by each way that it is known (measured or written; by the last Brix and sg, and by the ones read before where
 *      these are another by more than chance) goes together, or what counts is a range over all of them, and odds tells it.
 *      Where the last two of a kind agree, what was read before them counts no more. */
enum book_status st_lot_figures(const struct st_batch_ask *a, const struct book_lot *lot,
                                const struct st_ingredient *in, struct st_lot_figures *out);

/* The strength in the row is the sheet's range, filled in where nobody wrote one.  A sharp figure (of a book of before) and one
 * that stands in the words of the lot are written. */
bool st_lot_strength_of_sheet(const struct book_lot *lot, const struct st_ingredient *in);

/* Nobody wrote or measured how strong it is, though it has a strength: a spirit, a wine.  What a recipe plans says nothing of
 * it; the sheet's range counts where it has one, else it is asked for. */
bool st_lot_strength_unsaid(const struct st_batch_ask *a, const struct book_lot *lot, const struct st_ingredient *in);

/* -1, *problem: how strong that lot is stands nowhere, and how to tell it. */
int st_lot_strength_refuse(const struct st_batch_ask *a, const struct book_lot *lot, struct st_problem *problem);

/* Sugar, g/L, of a juice or syrup by x->read alone (Note 1 of st_lot_own); false: none gives it. */
bool st_lot_sugar_by_reading(const struct st_ingredient *in, const struct st_lot_figures *x, struct st_interval *g_l);

/* A wine, liqueur, juice or syrup with figures of its own, or a strong one of a strength that nobody wrote, as an ingredient: like
 * what it is, with its own figures in the place of the sheet's.
 *
 * Given:    lot, of no batch and no tincture (book_lot_tincture.h); c, the sheet; planned: its line has a strength that is not
 *           the lot's
 * Returned: *out, lent by the arena; known false where it has no figures of its own and its name says no more than
 *           the sheet, or they do not go together
 * Notes:
 *   1. Of a juice or syrup that was measured, what is dissolved is as of the sheet, thicker or thinner, and of that the sugar is
 *      as unsure as that may be otherwise: a third of what is no sugar (from memory: apple juice of 117 g/L dissolved has 18 to
 *      29 g/L that is no sugar), and at least as if all that it has more, or less, were sugar.
 *   2. Its water and its density follow.
 *   3. What its name says besides comes along (st_lot_put_held), also where it has no figures of its own. */
enum book_status st_lot_own(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                            bool planned, struct st_batch_own *out);

#endif
