#ifndef ST_TEXT_TRY_INSIDE_H
#define ST_TEXT_TRY_INSIDE_H

#include "try_changes.h"
#include "try_match.h"

/* For the files try_*.c of text only. */

/* Two figures that are one but for rounding; both not a number counts. */
bool st_try_near(double x, double y);
/* The price of what is on a line follows its amount: both lines have one, in the same measure. */
bool st_try_price_follows(const struct st_line *x, const struct st_line *y);
/* The line of a change in the recipe of that side; NULL none. */
const struct st_line *st_try_line_of(const struct st_try_changes *c, const struct st_try_change *x, int side);
const struct st_step *st_try_step_of(const struct st_try_changes *c, const struct st_try_change *x, int side);
/* try_words.c: fill x->text. */
void st_try_say(const struct st_try_changes *c, struct st_try_change *x);

#endif
