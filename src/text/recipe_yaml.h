#ifndef ST_TEXT_RECIPE_YAML_H
#define ST_TEXT_RECIPE_YAML_H

#include "model/recipe.h"
#include "text/ingredients.h"

enum { ST_MAX_PROBLEMS = 20 };

/* A recipe and all that it lends, plus what went wrong while reading. */
struct st_recipe_file {
    struct st_recipe recipe;
    struct st_problem problem[ST_MAX_PROBLEMS];
    int n_problem;
    struct st_problem note[ST_MAX_PROBLEMS]; /* worth knowing, stops nothing: "nothing takes from this step" */
    int n_note;
    void *memory; /* arena */
};

/* Read a recipe file (YAML 1.2; docs/recipe-file.md, schema/recipe.schema.json).
 * Given: file (name for messages), text of size bytes (limits: 1 MiB, depth 12, 200 steps, 1000 lines; anchors, aliases, tags refused;
 *   unknown keys refused with a near hint), catalogue (gets the recipe's own ingredient definitions added).
 * Returned: *out; call st_recipe_done whatever the result.
 * Result: 0 read; 1 questions only; -1 errors (as many as can be found in one go, each with its place). */
int st_recipe_read(const char *file, const char *text, size_t size, struct st_catalogue *c, struct st_recipe_file *out);
/* The same; silent: whose cups and ounces are meant where the recipe itself does not say, NONE to ask. */
int st_recipe_read_as(const char *file, const char *text, size_t size, struct st_catalogue *c, enum st_measures silent,
                      struct st_recipe_file *out);
void st_recipe_done(struct st_recipe_file *f);

#endif
