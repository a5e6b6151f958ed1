#ifndef ST_CLI_RECIPE_H
#define ST_CLI_RECIPE_H

#include "api/doc_recipe.h"
#include "cli/book.h"

/* What the files of the command `recipe` share. */

struct st_how recipe_how(const struct cli *c);
/* A figure of a try as one says it. */
void recipe_figure(char *buf, size_t size, const struct st_try *t, enum st_figure which);

/* --- recipe_keep.c --- */
int recipe_keep(struct cli *c);
int recipe_rename(struct cli *c);
int recipe_text(struct cli *c);
int recipe_said(struct cli *c);

/* --- recipe_page.c --- */
int recipe_all(struct cli *c);
int recipe_find(struct cli *c);
int recipe_show(struct cli *c);

/* --- recipe_history.c --- */
int recipe_history(struct cli *c);
int recipe_difference(struct cli *c);

#endif
