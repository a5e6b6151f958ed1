#ifndef ST_API_BOOK_LOT_OF_H
#define ST_API_BOOK_LOT_OF_H

#include "api/book_batch.h"
#include "api/book_larder.h"
#include "text/allergen_said.h"

/* What house stock was made of: a tincture of a lot of walnuts and one of vodka.  Nothing is taken from those by that: what was
 * taken is told with larder took. */

/* Write it, inside a deed, and tell the maker what follows (Note 1).
 *
 * Given:    lot, which is in the book; code[n] of the lots it was made of
 * Returned: *t, its remarks
 * Result:   false and the desk's problem: no such lot, one that came later, or one that is itself made of this
 * Notes:
 *   1. What of it was not assessed; allergens that come along; of which lots nothing was taken since; and where they cannot come along, why. */
bool st_lot_of_put(struct st_desk *d, const struct st_catalogue *c, const struct book_lot *lot,
                   const char *const code[], int n, struct st_lot_told *t);

/* Lots that it was made of, or (into) that were made of it; lent by the arena. */
bool st_lot_of(struct st_desk *d, int64_t lot, bool into, struct book_lot **of, int *n);

enum { ST_LOT_OF = 64, ST_LOT_HEARD = 24 };

/* Of what it was made of, what was itself not assessed: no sheet knows it, nobody told what went into it, or something went into
 * its batch that was not. */
struct st_lot_untold {
    const char *lot; /* "L1 Nachbars Schnaps", or "L3 of B1" */
    const char *why; /* "was not assessed: no sheet knows it", or what is noted of its batch */
};

/* What it was made of as ingredients, each once, through as many lots and batches as st_batch_own looks back. */
struct st_lot_goods {
    const struct st_ingredient *in[ST_LOT_OF]; /* of c, or defined in the recipe of a batch that a lot is of */
    int n;
    struct st_allergen_said heard[ST_LOT_HEARD]; /* allergens that a name of them says (st_allergen_heard) */
    int n_heard;
    struct st_lot_untold untold[ST_LOT_OF]; /* lent by the arena, each once */
    int n_untold;
    bool unknown; /* its own name is not known to the sheet, or a batch cannot be read, or there is no room */
    struct st_batch_made *made[ST_LOT_OF]; /* lend some of them */
    int n_made, n_lot;                     /* n_lot: lots that it was made of by the book, one step */
    int64_t of;                            /* the lot asked about */
};
enum book_status st_lot_goods(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                              struct st_lot_goods *out);
/* The untold in words for `unreckoned`, "L1 Nachbars Schnaps, by L6: was not assessed: ..."; none where it was made of no lots. */
enum book_status st_lot_untold_notes(const struct st_batch_ask *a, const struct st_catalogue *c,
                                     const struct book_lot *lot, const char ***note, int *n);
/* Allergens that its name says, beside those that are there. */
void st_lot_goods_hear(const struct st_catalogue *c, const char *name, struct st_lot_goods *x);
void st_lot_goods_done(struct st_lot_goods *x);

/* Whether it is told what it was made of. */
bool st_lot_has_of(struct book *book, int64_t lot);

#endif
