#ifndef ST_TEXT_RECIPE_KIND_H
#define ST_TEXT_RECIPE_KIND_H

#include <stdbool.h>

/* Whether a text is a recipe file (docs/recipe-file.md), not free words: behind blank lines and comments it begins with its
 * version, or a line of it is "steps:" and another "- steep:". */
bool st_is_recipe_file(const char *text);

#endif
