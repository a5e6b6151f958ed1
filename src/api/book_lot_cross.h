#ifndef ST_API_BOOK_LOT_CROSS_H
#define ST_API_BOOK_LOT_CROSS_H

#include "store/tables.h"
#include "text/line.h"

/* An amount as somebody says it, in the measure that a lot is counted in: cups of sugar against grams of it. */

/* "g", "mL" or "pieces", as in a row of a lot. */
const char *st_lot_dim(enum st_dimension d);

/* Given:    the sheet; the lot; its strength, % vol (NAN: not known); line that it is used for, or NULL; x, weighed, measured or
 *           counted
 * Returned: *out, in the lot's measure
 * Result:   false: nobody has weighed a cup or a piece of it; *out is then untouched
 * Notes:
 *   1. g and mL by density at 20 C of a spirit of that strength, else by the cups and spoons of the sheet; pieces by the
 *      piece of the line's ingredient (juice of a lemon), else of the lot's.
 *   2. A lot weighed as bought gives more than what is used trimmed: by its own trimmed share, else the sheet's. A weight
 *      without a line is taken as the lot lies there. */
bool st_lot_cross(const struct st_catalogue *c, const struct book_lot *lot, double strength, const struct st_line *line,
                  const struct st_amount *x, double *out);

#endif
