#ifndef ST_TEXT_TAKE_PER_H
#define ST_TEXT_TAKE_PER_H

#include "take_whole.h"

/* "250 g sugar per litre of liquid", "for every pint you get, stir in ...": an amount that goes by how much the jar
 * gives. */

/* The sentence with blanks where it says what its amounts go by, so that all the rest keeps its place; *per tells how
 * much of what, *at where it stood.  The sentence itself, and per->ml.known false, when it says no such thing. */
const char *st_take_per_said(struct st_taking *t, const char *sentence, struct st_take_per *per, size_t *at);

/* Is the item that was read in such a sentence one of those amounts?  item[0..n) are all of them. */
bool st_take_per_is_of(const char *sentence, size_t at, const struct st_take_item item[], int n, int i);

/* Multiply by what the jar gives, as a range, and ask.  The recipe must be placed and linked.  True: a line is another
 * now, and the recipe is to be read again. */
bool st_take_per_multiply(struct st_taking *t);

/* How much a recipe makes, mL, with its likely range; false: it cannot be foretold. */
bool st_take_volume_of(const struct st_recipe *r, struct st_range *ml);

/* --- take_yield.c --- */
/* "Makes about 1.2 litres" is told beside what is reckoned. */
void st_take_yield(struct st_taking *t, const struct st_recipe *r);

/* --- take_begun.c --- */
/* "Begun about 20 August" is told: the jar stands already. */
void st_take_begun(struct st_taking *t);

#endif
