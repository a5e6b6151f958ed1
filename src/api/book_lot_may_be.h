#ifndef ST_API_BOOK_LOT_MAY_BE_H
#define ST_API_BOOK_LOT_MAY_BE_H

#include "api/book_larder.h"

/* Figures that no such thing can have are refused where they are entered.
 *
 * Given:    in, what it is on the sheet, or NULL; row[n]: what was read now, not in the book yet; sugar, g/L, written now
 * Returned: false: desk's problem says what it is and why
 * Notes:
 *   1. Never more sugar than dissolves in a liquid of its strength, as gauge.h bars it, five points above; of a thing that
 *      is thicker by its sheet (honey, glucose syrup), as thick as that and a twentieth more.
 *   2. In a wine whose sugar the sheet knows at most WINE_MOST, or a quarter more than the sheet. */
bool st_lot_readings_may_be(struct st_desk *d, const struct st_ingredient *in, const struct st_lot *l,
                            const struct book_reading row[], int n);
bool st_lot_sugar_may_be(struct st_desk *d, const struct st_ingredient *in, const struct book_lot *l, double sugar);

#endif
