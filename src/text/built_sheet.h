#ifndef ST_TEXT_BUILT_SHEET_H
#define ST_TEXT_BUILT_SHEET_H

#include "model/problem.h"
#include "util/embedded.h"

/* A sheet that is built into the program ("data/rules.tsv").  NULL and *problem when it is not. */
const struct st_embedded *st_built_sheet(const char *name, struct st_problem *problem);

#endif
