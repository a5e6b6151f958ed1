#ifndef ST_TEXT_TAKE_NAMED_H
#define ST_TEXT_TAKE_NAMED_H

#include "take_whole.h"

/* Every ingredient that is named in the text, as whole words, and came into no row gets one, unread: nothing is lost in
 * silence, and what must not go into a drink is told whatever its amount, even in a title.  Not told: what is kept out
 * ("no sugar"), the names of people and places.  To be called when the rows are there and before they are reckoned
 * with. */
void st_take_named(struct st_taking *t);

#endif
