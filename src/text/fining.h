#ifndef ST_TEXT_FINING_H
#define ST_TEXT_FINING_H

#include <stddef.h>

#include "model/clearing_bench.h"
#include "model/problem.h"

/* Reads data/fining.tsv (data/README.md).  NULL and *problem, with its line, when it cannot be read: another heading,
 * too few or too many fields, a figure that is none, a role it does not know, a key that stands twice.  text is copied.
 * Freed with st_fining_free. */
struct st_agents *st_fining_create(const char *text, size_t size, struct st_problem *problem);
void st_fining_free(struct st_agents *all);

#endif
