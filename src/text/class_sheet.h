#ifndef ST_TEXT_CLASS_SHEET_H
#define ST_TEXT_CLASS_SHEET_H

#include <stddef.h>

#include "model/drink_class.h"
#include "model/problem.h"

/* Reads data/classes.tsv (data/README.md).  NULL and *problem, with its line, when it cannot be read: a place, a need or a
 * figure it does not know, no mark or source, a key that stands twice.  text is copied.  Freed with st_class_sheet_free. */
struct st_classes *st_class_sheet_create(const char *text, size_t size, struct st_problem *problem);
void st_class_sheet_free(struct st_classes *all);

/* Places of one field, such as "eu,uk": bits of ST_PLACE_*, 0 for a word that is none. */
unsigned st_sheet_places(const char *field);

#endif
