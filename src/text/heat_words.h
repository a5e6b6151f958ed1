#ifndef ST_TEXT_HEAT_WORDS_H
#define ST_TEXT_HEAT_WORDS_H

#include <stdbool.h>

/* What the maker's own words say of heat.  Whole words, capitals or not; a word that takes it back shortly before ("never
 * boil", "away from any flame", "off the heat") counts. */

/* Something is heated or lit: simmer, boil, flame, hob, oven, set alight ... */
bool st_says_fire(const char *words);

/* Something is hot as it is poured: hot, boiling, scalding, steaming, or "at once" where `fresh` (it was boiled just before). */
bool st_says_hot(const char *words, bool fresh);

#endif
