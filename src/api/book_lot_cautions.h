#ifndef ST_API_BOOK_LOT_CAUTIONS_H
#define ST_API_BOOK_LOT_CAUTIONS_H

#include "api/book_larder.h"

/* What the ingredient sheet warns of in a lot, the same by whichever way it comes in. */

/* The k-th (from 0) of the flags of an ingredient, gravest first; NULL: there are no more. */
const struct st_flag *st_flag_worst(const struct st_ingredient *in, int k);

/* Whether it must not go into a drink, by its name or by what it is treated like: then *problem says why. */
bool st_lot_stopped(const struct st_catalogue *c, const struct book_lot *l, struct st_problem *problem);

/* All allergens become one remark, and the two gravest of what the sheet warns of one each: of `said` (what its own name is, or NULL) and of what it is
 * treated like; with a word on where the rest is, and on the day of what spoils soon. */
void st_lot_warn(const struct st_catalogue *c, const struct st_ingredient *said, const struct book_lot *l,
                 struct st_lot_told *t);

#endif
