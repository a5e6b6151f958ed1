#ifndef ST_API_BOOK_LOT_TINCTURE_H
#define ST_API_BOOK_LOT_TINCTURE_H

#include "api/book_batch_own.h"

/* A lot that is liquid and has a strength, of a thing that is no spirit: a house tincture of hazelnuts. */

/* Whether it is such: no lot of a batch, counted in mL, its strength known, and treated like what is neither spirit nor wine, or
 * like nothing that the sheet knows; or one of which is told what it was made of (book_lot_of.h); or like a spirit, where its
 * name says another thing too ("walnut tincture" as vodka), or nothing that is known and is not just what a bottle is called
 * (st_lot_is_called_so), or sugar or acid was written of it. */
bool st_lot_is_tincture(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot);

/* Known as a spirit with a name of its own, which says what may be in it and never all of it. */
bool st_lot_is_untold(const struct st_catalogue *c, const struct book_lot *lot);

/* What its name says beside what it is treated like ("hazelnut syrup", as simple syrup): allergens, cautions and poisons of an
 * unknown amount, as keys of a definition.  Whether there is any. */
bool st_lot_put_held(struct st_buf *b, const struct st_catalogue *c, const struct book_lot *lot,
                     const struct st_ingredient *in);

/* The most sugar that may be in what nobody told it of, g/L: as much as the sweetest class of liqueurs has, or as dissolves in
 * what is so strong (% vol). */
double st_lot_sweetest(double strength);

/* The same as an ingredient of its own.
 *
 * Given:    lot, such a one; c, the sheet
 * Returned: *out, lent by the arena; known false where its figures do not go together
 * Notes:
 *   1. Its strength, sugar and acid are those written or measured of the lot (book_lot_own.h).  Sugar that nobody wrote is not
 *      known: anything from none to st_lot_sweetest, said as a caution that it brings.  Acid that nobody wrote counts as none.
 *   2. Allergens and cautions of what it is treated like, and of what stands in its name, come along; how much it holds of any
 *      poison is not known.
 *      So do those of the lots it was made of, and of the batches that these are of.
 *   3. Allergens that its name says in any other words come along as what may be there (text/allergen_heard.h).
 *   4. What is treated like nothing that is known is noted as not assessed; so is what is treated like a spirit, has a name of
 *      its own, and of which nobody told what it was made of: what its name says never is all.  What was made of lots is assessed as far
 *      as those are; those that are not are told by st_lot_untold_notes. */
enum book_status st_lot_tincture(const struct st_batch_ask *a, const struct st_catalogue *c, const struct book_lot *lot,
                                 struct st_batch_own *out);

#endif
