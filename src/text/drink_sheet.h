#ifndef ST_TEXT_DRINK_SHEET_H
#define ST_TEXT_DRINK_SHEET_H

#include <stddef.h>

#include "model/label_facts.h"
#include "model/problem.h"

/* Reads data/drinks.tsv (data/README.md).  NULL and *problem, with its line, when it cannot be read.  text is copied.
 * Freed with st_drink_sheet_free. */
struct st_drink_rows *st_drink_sheet_create(const char *text, size_t size, struct st_problem *problem);
void st_drink_sheet_free(struct st_drink_rows *all);

#endif
