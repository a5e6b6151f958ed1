#ifndef ST_TEXT_YAML_TAKE_H
#define ST_TEXT_YAML_TAKE_H

#include "yaml_field.h"

/* Lines that take from an earlier step: "all of jar", "300 mL of syrup", "half of jar", "25 % of jar", "fruit of jar",
 * "200 g of the drained fruit from jar", "the rest of jar", or the step's name alone.  A share is told as an amount of
 * dimension PIECE: 0.5 of the whole. */
enum st_take {
    ST_TAKE_NO,      /* the line is no such thing: an ingredient */
    ST_TAKE_DONE,    /* *out is filled */
    ST_TAKE_UNKNOWN, /* it reads like one, but no step has that name; nothing is told yet */
    ST_TAKE_TOLD     /* it is one, and wrong: a problem was told */
};

/* Given: the text of a line in step number `step`; all steps of r->recipe have id and kind.
 * Returned: *out on ST_TAKE_DONE; at, text and price are the caller's. */
enum st_take st_take_read(struct st_reader *r, const struct st_yaml *v, int step, struct st_line *out);

/* Take all that is left of a step. */
void st_take_all_of(struct st_line *out, int step);

/* Index of the step with this name, -1 when there is none.  Letter case does not count, and blank, - and _ are alike.
 */
int st_step_named(const struct st_recipe *recipe, const char *name, size_t size);

/* "did you mean `jar`?", or the names of the steps before `step`. */
const char *st_step_hint(struct st_reader *r, int step, const char *name, size_t size);

/* Tell that no step has the name which the line takes from. */
void st_take_unknown(struct st_reader *r, const struct st_yaml *v, int step);

#endif
