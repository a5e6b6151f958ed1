#ifndef ST_TEXT_STOPS_H
#define ST_TEXT_STOPS_H

#include "model/foresee.h"

#include "ingredients.h"

/* What must not go into a drink is told before anything else that is wrong with it, and nobody is told how to weigh it.
 */

/* What a text names and must not go into a drink, or NULL; names do not cross commas and "and". */
const struct st_ingredient *st_stop_named(const struct st_catalogue *c, const char *text, size_t size);

/* The problem that says so of an ingredient, or of what a text names (text of size bytes); false when nothing is
 * stopped and *problem stays. */
bool st_stop_problem(const struct st_ingredient *in, struct st_problem *problem);
bool st_stop_in_text(const struct st_catalogue *c, const char *text, size_t size, struct st_problem *problem);

/* The first ingredient of a recipe that must not go into a drink, or NULL.  While there is one, everywhere: no recipe
 * is handed out to be kept, no amounts are proposed, there is no tip and no bottle; figures are told behind the stop,
 * and only so that the maker sees what was read.  st_cautions_stop says the same of the recipe's cautions. */
const struct st_ingredient *st_recipe_stop(const struct st_recipe *r);

/* As st_plan_problems: those of stopped lines first, each once; of these lines nothing else is told. */
int st_stop_plan_problems(const struct st_recipe *r, struct st_problem problem[], int max);

#endif
