#ifndef ST_API_JSON_WRITE_H
#define ST_API_JSON_WRITE_H

#include <stdbool.h>
#include <stddef.h>

#include "util/buf.h"

/* Single values of JSON as text: for documents that are written piece by piece. */

/* In quotes; n bytes of UTF-8 (st_json_is_utf8).  Control characters, quotes and backslashes are escaped, nothing else. */
void st_json_add_text(struct st_buf *out, const char *text, size_t n);
/* The shortest of %.15g, %.16g and %.17g that reads back bit for bit, with a point or an exponent; x is finite. */
void st_json_add_number(struct st_buf *out, double x);
/* Well-formed UTF-8: no surrogates, nothing over U+10FFFF, nothing longer than it need be. */
bool st_json_is_utf8(const char *text, size_t n);

#endif
