#ifndef ST_TEXT_TAKE_NAMES_H
#define ST_TEXT_TAKE_NAMES_H

#include "ingredients.h"

/* take_poured.c: the longest name that begins at byte i, to *end: "sloe gin" is no gin; NULL none. */
const struct st_ingredient *st_take_name_at(const struct st_catalogue *c, const char *text, size_t i, size_t *end);

#endif
