#ifndef ST_TEXT_HELD_H
#define ST_TEXT_HELD_H

#include <stdbool.h>
#include <stddef.h>

#include "ingredients.h"

/* What a name says beside what it is called: "dried yew", "flowers of oleander", "Taxus baccata, cut" all say yew. */

enum { ST_HELD = 8 };

/* The known ingredients whose names, or botanical names, stand in this one as whole words, one behind the other in any
 * order; words of preparation ("ground", "fresh") between them do not matter.  A longer name hides those inside it: "sea
 * buckthorn jam" holds sea buckthorn, not buckthorn.
 * Given: name of size bytes.  Returned: how many were put into held[], those that must not go into a drink first.
 * Notes: a name whose own wording is unfortunate ("spindle" for a tool) is held against it: the worse reading is told. */
int st_held_names(const struct st_catalogue *c, const char *name, size_t size, const struct st_ingredient *held[ST_HELD]);

/* The one rule of what stops: a flag that says barred, poisonous, denatured ... */
bool st_flag_stops(const struct st_flag *f);
/* ... and whether an ingredient carries one. */
bool st_ingredient_is_stopped(const struct st_ingredient *in);

/* The first of the held ones that must not go into a drink, or NULL. */
const struct st_ingredient *st_held_stop(const struct st_catalogue *c, const char *name, size_t size);

/* How much a flag weighs, 0 and up: degree by degree, a stop above all.  For keeping the worst. */
int st_flag_weight(const struct st_flag *f);

#endif
