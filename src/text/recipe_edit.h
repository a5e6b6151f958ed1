#ifndef ST_TEXT_RECIPE_EDIT_H
#define ST_TEXT_RECIPE_EDIT_H

#include "model/recipe.h"
#include "util/buf.h"

/* Change amounts in the text of a recipe file in place: every other byte, comments and layout included, stays as the
 * maker wrote it. */

struct st_edit {
    const struct st_step *step; /* with vessel, time: of the recipe that was read from this text */
    const char *vessel;         /* what stands behind its `vessel:` instead, "3 L"; nothing happens where it has none */
    const char *time;           /* the same behind its `for:`, "36 days" */
    const struct st_line *line; /* the same for a line; NULL: only the step changes */
    const char *amount;         /* what stands there instead, "650 mL"; NULL: as it is */
    double price;    /* > 0: what that amount costs, where it is measured otherwise than before and a pack's price
                                   cannot follow; stands in the place of the price, if there is one */
    double strength; /* of the spirit, % vol, > 0; 0: as it is */
};

/* Given:
 *   text, size   the file as it was read
 *   measures     of the recipe
 *   edit[n]      at most one for a line
 * Returned:
 *   *out         the new text, appended; as it was when the result is not 0
 *   *problem     which line could not be changed, and why
 * Result: 0 done, -1 not.
 * Notes:
 *   1. A line that is folded over several rows, or holds an escape ("\u00b0"), is not changed: the program would have
 * to rewrite what it does not see.
 *   2. A price of the line as a whole becomes the price of a pack ("19.90 for 700 mL"), so that it follows the amount;
 *      `trimmed: 600 g` becomes the share it was.
 *   3. The caller reads the result again: what it reads is what counts.
 */
int st_recipe_edit(const char *text, size_t size, enum st_measures measures, const struct st_edit edit[], int n,
                   struct st_buf *out, struct st_problem *problem);

#endif
