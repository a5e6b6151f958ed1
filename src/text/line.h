#ifndef ST_TEXT_LINE_H
#define ST_TEXT_LINE_H

#include "model/recipe.h"
#include "text/ingredients.h"

/* Read one ingredient line: AMOUNT [of] NAME [STRENGTH] [, notes]; "water to 1000 mL"; "sugar to taste"; "vodka 40 % until covered";
 * "500 g cherries as bought"; "zest of 2 lemons"; "700 mL spirit 40 %"; "1 L 80 proof vodka"; "3 cups damsons, about 450 g";
 * a price in brackets "(4.50)" is not read here.
 *
 * Given: text (NUL-terminated UTF-8), measures, catalogue.
 * Returned: *out with text, what, amount, strength, gross; from_step = -1; out->text lent from text.
 * Result: 0 read; 1 question (problem->is_question); -1 error: unknown ingredient (names the near ones and the offer
 *   "treat it like ..."), no amount, amount twice in conflict, spirit without a strength ...; *out untouched then. */
int st_line_parse(const char *text, enum st_measures measures, const struct st_catalogue *c, struct st_line *out,
                  struct st_problem *problem);

#endif
