#ifndef ST_API_DOC_RECIPE_H
#define ST_API_DOC_RECIPE_H

#include "api/book_recipe.h"
#include "api/doc.h"

/* Recipes of the book as JSON (docs/notebook.md). */
json_t *st_doc_kept_recipe(const struct st_kept_recipe *r);
/* text: with the recipe file and what was said. */
json_t *st_doc_try(const struct st_try *t, bool text);
json_t *st_doc_keep_told(const struct st_keep_told *t);
/* {"changes": [...], "together": [...]}; null when one of them could not be read. */
json_t *st_doc_compared(const struct st_compared *c);

#endif
