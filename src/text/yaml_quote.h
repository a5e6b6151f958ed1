#ifndef ST_TEXT_YAML_QUOTE_H
#define ST_TEXT_YAML_QUOTE_H

#include <stddef.h>

#include "util/arena.h"

/* What stands between two single quotes, as YAML 1.2 reads it: '' is one quote; a line break with the blanks around it
 * is one blank, n of them are n - 1 line breaks.
 * Given: raw of size bytes, without the outer quotes.  Returned: a copy in the arena, its length in *length. */
const char *st_yaml_unquote(struct st_arena *arena, const char *raw, size_t size, size_t *length);

#endif
