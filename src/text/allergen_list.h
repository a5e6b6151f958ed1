#ifndef ST_TEXT_ALLERGEN_LIST_H
#define ST_TEXT_ALLERGEN_LIST_H

#include <stddef.h>

#include "model/allergens_in.h"
#include "model/problem.h"

/* Reads data/allergens.tsv (data/README.md).  NULL and *problem, with its line, when it cannot be read.  text is copied.
 * Freed with st_allergen_list_free. */
struct st_allergen_lists *st_allergen_list_create(const char *text, size_t size, struct st_problem *problem);
void st_allergen_list_free(struct st_allergen_lists *all);

#endif
