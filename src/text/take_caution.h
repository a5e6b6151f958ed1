#ifndef ST_TEXT_TAKE_CAUTION_H
#define ST_TEXT_TAKE_CAUTION_H

#include "cautions.h"
#include "take.h"

/* The cautions of what a text names and the reckoning leaves out: they hang on the name, whatever the amount. */

/* Is this row of an ingredient in no step of the recipe? */
bool st_take_row_is_out(const struct st_take *t, int row);

/* Does this row tell what no step can say, and is told beside the figures ("pour away half of it")? */
bool st_take_is_unreckoned(const struct st_take *t, int row);

/* Cautions and allergens of such a row, worst first; and that a sentence which came into no step warms what holds
 * spirit
 * ("put the jar in a low oven"): a deed that is not reckoned with is done all the same.  step is -1, line is the line
 * of the text.  Returned: how many. */
int st_take_row_cautions(const struct st_take *t, int row, struct st_cautions *out);

/* What must not go into a drink and is in no step, or NULL: then the figures are no drink's, and no recipe is given. */
const struct st_ingredient *st_take_stop_out(const struct st_take *t);

/* The first thing in the text that must not go into a drink, in a step or not, or NULL. */
const struct st_ingredient *st_take_stop(const struct st_take *t);

/* All that the text names, in a step or not, and must not go into a drink: each once, as the cautions that say so.
 * Returned: how many things. */
int st_take_stops(const struct st_take *t, struct st_cautions *out);

/* "almond (nuts), egg": what is named, has an allergen and is in no step.  Returned: how many. */
int st_take_allergens_out(const struct st_take *t, char *buf, size_t size);

#endif
