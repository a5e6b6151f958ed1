#ifndef ST_TEXT_ALLERGEN_HEARD_H
#define ST_TEXT_ALLERGEN_HEARD_H

#include "allergen_said.h"

/* Allergens that the name of a thing says: "crab shell bitters", "soy washed whisky", "eggnog". */

/* Given:    name, as its maker calls it; c, the sheet
 * Returned: out[max], each code once, the scope always that of what may be there; how many
 * Notes:
 *   1. Only what a list of law has; what the sheet knows of its own names is st_held_names.
 *   2. What another word makes another thing is not heard: a crab apple, an oyster mushroom, cream of tartar, a name of the
 *      sheet of two or three words; nor what the name says is not in it ("soya-free", "no egg").
 *   3. A name never says what is not in it: nothing heard is no finding. */
int st_allergen_heard(const char *name, const struct st_catalogue *c, struct st_allergen_said out[], int max);

#endif
