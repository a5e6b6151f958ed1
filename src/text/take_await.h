#ifndef ST_TEXT_TAKE_AWAIT_H
#define ST_TEXT_TAKE_AWAIT_H

#include "take.h"

/* The first row whose weight or volume is told and was not read, where it may bring water or sugar into the drink: "1 kg Kirschen".
 * While it waits no figure of the whole is given: without it they would be those of another drink.  NULL: none.
 *
 * Not awaited: what is told to be left out or taken away again; a spice, by its kind or by how little of it there is (less
 * than one part in a hundred of what was read: it moves no figure by more than its interval); pieces, whose weight nobody
 * tells: what was read is foretold, and said to be a part. */
const struct st_take_read_as *st_take_awaited(const struct st_take *t);

/* Can it be foretold, and does nothing wait? */
bool st_take_may_be_foretold(const struct st_take *t);

/* Says so: which line, why, and what to do.  False, and *p untouched: nothing is awaited. */
bool st_take_await_problem(const struct st_take *t, struct st_problem *p);

#endif
