#ifndef ST_TEXT_RECIPE_ADD_H
#define ST_TEXT_RECIPE_ADD_H

#include "model/recipe.h"
#include "util/buf.h"

/* Say a line of a recipe file anew, or put one more into a step: every other byte stays as the maker wrote it.  The
 * caller reads the result again: what it reads is what counts. */

/* Given:    text of size bytes; line, of the recipe that was read from it; words, the line's instead
 * Returned: *out, the new text appended; *problem when the result is not 0
 * Result:   0 done; -1 the line is folded, or written with escapes. */
int st_recipe_reword(const char *text, size_t size, const struct st_line *line, const char *words, struct st_buf *out,
                     struct st_problem *problem);

/* The same for a line more behind the last one of a step; in a step that lists nothing (a rest that goes on with the
 * step before it) a list is begun, which takes all of what the step took. */
int st_recipe_add_line(const char *text, size_t size, const struct st_recipe *r, int step, const char *words,
                       struct st_buf *out, struct st_problem *problem);

#endif
