#ifndef ST_API_BOOK_BATCH_BRACES_H
#define ST_API_BOOK_BATCH_BRACES_H

#include "util/buf.h"

/* Recipe texts that are one map in braces, as JSON is: something more put into them, every other byte as the maker wrote it. */

/* The first byte behind the brace that opens the text (comments and "---" may stand before it); NULL: it is written in rows. */
const char *st_batch_braces(const char *text);

/* The first byte of the value of a key of that map, and *end, where the value ends; NULL: it has no such key. */
const char *st_batch_braces_value(const char *inside, const char *key, const char **end);

/* Put more ("a: 1, b: 2", without a comma behind it) into text at a place behind '{' or '['. */
void st_batch_braces_put(const char *text, const char *at, const char *more, struct st_buf *out);

#endif
