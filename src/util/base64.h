#ifndef ST_UTIL_BASE64_H
#define ST_UTIL_BASE64_H

#include <stdbool.h>
#include <stddef.h>

#include "buf.h"

/* Bytes as letters: RFC 4648 section 4, with its padding, in one line. */
void st_base64_add(struct st_buf *out, const void *bytes, size_t n);

/* The bytes of n letters, appended to out.  False for a letter that is none of the 64, a length that is no multiple of
 * four, padding elsewhere than at the end, and bits left over that are not 0: each run of bytes has one spelling. */
bool st_base64_read(struct st_buf *out, const char *letters, size_t n);

#endif
