#ifndef ST_TEXT_WARM_PATH_H
#define ST_TEXT_WARM_PATH_H

#include <stddef.h>

#include "model/recipe.h"

/* How warm a jar stands, in a maker's words: "30 °C", "30 °C for 3 days, then 12 °C", "in the fridge", "at 20 C for a
 * week, then in the freezer".  A fridge is 4 °C and a freezer -18 °C (common practice, no source). */

/* True when a text says more than one figure can: a time, a second warmth, a fridge or a freezer. */
bool st_is_warm_path(const char *text, size_t size);

/* True when it is such words, or one temperature: "30 °C", "at 35 C". */
bool st_is_warmth(const char *text, size_t size);

/* Read it.
 *
 * Given:    text, of size bytes, need not end in NUL
 * Returned: part[0 .. n-1], each but the last with its time, the last with one or 0; untouched when the result is -1
 * Result:   n; -1 and *problem, whose at.column is 1-based within text
 * Notes:
 *   1. -20 to 60 °C: outside nobody knows how fast anything comes out, and spirit must not be heated.
 *   2. One figure each: a path is as told, and is reckoned with within a degree. */
int st_warm_path_read(const char *text, size_t size, struct st_warm_part part[ST_WARM_PARTS],
                      struct st_problem *problem);

/* "30 °C for 3 days, then 12 °C" */
void st_warm_path_words(char *buf, size_t size, const struct st_warm_part part[], int n);

#endif
