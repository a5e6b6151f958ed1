#ifndef ST_TEXT_SAID_OF_H
#define ST_TEXT_SAID_OF_H

#include "model/recipe.h"

/* Phrases that a maker's words ask for, as heat_words.h lists them ("|distil|a still|"); not where one of the four words
 * before takes them back ("never distil it"). */

/* Where the first phrase of the list stands in the words, or NULL; *n is its length.  words may be NULL. */
const char *st_said_of(const char *words, const char *list, size_t *n);

/* The same in the step's words and on its lines. */
const char *st_step_says(const struct st_step *s, const char *list, size_t *n);

#endif
