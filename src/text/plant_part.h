#ifndef ST_TEXT_PLANT_PART_H
#define ST_TEXT_PLANT_PART_H

#include <stdbool.h>
#include <stddef.h>

#include "model/ingredient.h"

/* A plant's parts in names: what is known of a fruit says nothing about its leaves. */

/* Whether an entry may stand for the part of a plant that this word of n bytes names ("leaves", "bark", "bulb"): one of
 * its names says so, a piece of it is called so, or what it is (a herb, a root, a seed) is that part.  True of words
 * that name no part. */
bool st_stands_for_part(const struct st_ingredient *in, const char *word, size_t n);

/* Whether a word names a part of a plant at all. */
bool st_is_plant_part(const char *word, size_t n);

/* The first word of a name that does, its length in *n; NULL none. */
const char *st_part_in(const char *name, size_t size, size_t *n);

#endif
