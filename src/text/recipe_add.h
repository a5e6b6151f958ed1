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

/* Steps more behind the last one: `- blend: NAME` with the lines in its `add:`.
 *
 * Given:    r, read from text; step[n], n > 0: kind; name, which no step of r has; line[n_line], n_line > 0
 * Result:   0 done; -1 *problem: the steps' list is not found where it should end. */
struct st_new_step {
    enum st_do kind;
    const char *name;
    const char *const *line;
    int n_line;
};
int st_recipe_add_steps(const char *text, size_t size, const struct st_recipe *r, const struct st_new_step step[],
                        int n, struct st_buf *out, struct st_problem *problem);

#endif
