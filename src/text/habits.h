#ifndef ST_TEXT_HABITS_H
#define ST_TEXT_HABITS_H

#include <stddef.h>

#include "model/compound.h"
#include "model/habit.h"
#include "model/problem.h"

/* Reads data/habits.tsv (data/README.md).  NULL and *problem, with line, when it cannot be read.  text is copied; the
 * substances that rows refer to are looked up in `compounds`, which need not outlive it.  Freed with st_habits_free. */
struct st_habits *st_habits_create(const char *text, size_t size, const struct st_compounds *compounds,
                                   struct st_problem *problem);
void st_habits_free(struct st_habits *h);

#endif
