#ifndef ST_TEXT_AMOUNT_FINE_H
#define ST_TEXT_AMOUNT_FINE_H

#include "model/amount.h"

/* An amount that was worked out, as a maker can measure it, in the unit of the line it changes.
 *
 * Given:
 *   as         the amount as written: its unit and tool
 *   value      the new amount in base units (g, mL, pieces)
 *   measures   of the recipe
 * Returned:
 *   buf        what st_quantity_parse reads back
 * Notes:
 *   1. Weights and metric volumes: to 1 g or mL, below 20 to 0.1, below 2 to 0.01; in the unit written where that is
 * metric, else (ounces, pounds, fluid ounces) in it too, to about a thousandth.
 *   2. Cups and spoons as st_quantity_print has them, within 1 % or an eighth of a teaspoon; pieces to a quarter.
 */
void st_amount_fine(const struct st_amount *as, double value, enum st_measures measures, char *buf, size_t size);

#endif
