#ifndef ST_TEXT_SLIP_H
#define ST_TEXT_SLIP_H

#include <stdbool.h>

#include "model/ingredient.h"

/* Is one of the names of this ingredient only a slip of the pen away from the word: one letter in five wrong, the first
 * one right, at least five letters long. */
bool st_is_slip_of(const char *word, const struct st_ingredient *in);

/* May one of its names be offered for the word (st_near_enough)? */
bool st_is_near_to(const char *word, const struct st_ingredient *in);

#endif
