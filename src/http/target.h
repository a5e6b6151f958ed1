#ifndef ST_HTTP_TARGET_H
#define ST_HTTP_TARGET_H

#include <stdbool.h>
#include <stddef.h>

/* The request's target: /path?query. */

/* Only visible ASCII, and / first.  The form with a scheme and the form of one star are not for us. */
bool st_is_target(const char *target);

/* Does this path, as sent, match a route's pattern?  A pattern that ends in "/" and a star takes one more segment of
 * letters, digits and . _ ~ - without a leading dot; *tail is then its start in path, otherwise "". */
bool st_path_matches(const char *pattern, const char *path, const char **tail);

/* Percent signs and plus signs of a query's name or value, decoded.  out has room for size + 1 bytes and ends in NUL.
 * False for a broken sequence or a NUL among them. */
bool st_decode(const char *text, size_t size, char *out);

/* Every parameter of a query can be decoded. */
bool st_is_query(const char *query);

/* The first parameter of this name: its value decoded into out, which has room for strlen(query) + 1 bytes. */
bool st_query_find(const char *query, const char *name, char *out);

#endif
