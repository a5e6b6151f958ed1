#ifndef ST_TEXT_TRY_MATCH_H
#define ST_TEXT_TRY_MATCH_H

#include "model/recipe.h"

/* Which step and which line of one recipe are those of another, whatever they are called and wherever they stand now.
 * Side 0 is the one recipe, side 1 the other; turned round, the same are matched. */
struct st_try_match {
    const struct st_recipe *recipe[2];
    int n_line[2];
    int *step_of[2];  /* [n_step]: its step in the other recipe, -1 none */
    int *first[2];    /* [n_step]: number of the first line of each step, all lines of the recipe counted on */
    int *home[2];     /* [n_line]: the step of a line so numbered */
    int *line_of[2];  /* [n_line]: its line in the other recipe, so numbered; -1 none */
    bool *instead[2]; /* [n_line]: another thing that took its place */
    bool order;       /* matched steps stand in another order */
};

/* Match.
 *
 * Given:    a, b
 * Returned: *m, to be freed with st_try_match_done
 * Notes:
 *   1. Steps are those with the same name, and those of one kind that share ingredients or have none; best first.
 *   2. Lines of matched steps are those of one ingredient, or that take the same of the same step, the nearest amounts
 *      first; then lines of one ingredient in any steps (moved); then, in matched steps, one spirit for another, one
 *      sugar for another, one fruit for another (instead). */
void st_try_match(const struct st_recipe *a, const struct st_recipe *b, struct st_try_match *m);
void st_try_match_done(struct st_try_match *m);

/* The line so numbered. */
const struct st_line *st_try_line(const struct st_try_match *m, int side, int number);

#endif
