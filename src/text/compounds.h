#ifndef ST_TEXT_COMPOUNDS_H
#define ST_TEXT_COMPOUNDS_H

#include <stddef.h>

#include "model/compound.h"
#include "model/problem.h"

/* Reads data/markers.tsv (data/README.md).  NULL and *problem, with line, when it cannot be read: a column or field it
 * does not know, a figure that is none, a name that stands twice.  text is copied.  Freed with st_compounds_free. */
struct st_compounds *st_compounds_create(const char *text, size_t size, struct st_problem *problem);
void st_compounds_free(struct st_compounds *c);

#endif
