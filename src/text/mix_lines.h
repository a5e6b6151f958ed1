#ifndef ST_TEXT_MIX_LINES_H
#define ST_TEXT_MIX_LINES_H

#include "model/foresee.h"
#include "text/ingredients.h"
#include "util/buf.h"

/* Lines that are put together without a recipe: a blend; or a steep and, for what is filled up to a mark, a blend after
 * it.  Fruit and spice among them are taken as steeped until they have given all they can, and strained off. */
struct st_mix {
    struct st_recipe recipe; /* of the two steps */
    struct st_step step[2];
    struct st_line *all, *first, *last;
    int n, n_solid, n_fill;
    bool filled_last; /* one line is filled up to a mark, in a step of its own: recipe.step[1] */
    char solids[200]; /* their names */
};

/* Read n lines, n >= 1; call st_mix_done whatever the result.
 * Returned: *out; problem[n_problem] with the number of the line in at.line, at most max.  Result: how many problems;
 * when a line names what must not go into a drink, of that alone: no question is asked beside it.
 */
int st_mix_read(const char *const text[], int n, enum st_measures measures, const struct st_catalogue *c,
                struct st_mix *out, struct st_problem problem[], int max);
void st_mix_done(struct st_mix *m);

/* What there is to say beside the notes of the plan; each "" where there is nothing. */
struct st_mix_remarks {
    char solids[300], before[200], filled[160];
};
void st_mix_remark(const struct st_mix *m, const struct st_foretold *f, struct st_mix_remarks *out);

/* Before it is filled up, a mixture may well hold more sugar than dissolves: such notes are taken out. */
void st_mix_forget_crystals(const struct st_mix *m, struct st_foretold *f);

/* Sugar with nothing to dissolve it is no liquid: true and *problem. */
bool st_mix_is_dry(const struct st_foretold *f, struct st_problem *problem);

/* The same as a recipe file. */
void st_mix_yaml(const struct st_mix *m, struct st_buf *out);

#endif
