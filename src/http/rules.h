#ifndef ST_HTTP_RULES_H
#define ST_HTTP_RULES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What the values of a request's fields must be.  Each knows nothing but the text it is given. */

/* One of 127.0.0.1:P, localhost:P, [::1]:P, letter by letter.  Only on port 80, which browsers leave out of Host,
 * also the three without a port. */
bool st_is_own_host(const char *host, uint16_t port);

/* http:// before one of the names above: an Origin of ours.  "null" is not. */
bool st_is_own_origin(const char *origin, uint16_t port);

/* What browsers say of requests by our own pages, or typed by the user. */
bool st_is_own_site(const char *sec_fetch_site);

/* application/json, any case, alone or with charset=utf-8 as its only parameter. */
bool st_is_json_type(const char *content_type);

/* A Content-Length: 1 to 18 digits and nothing else. */
bool st_read_length(const char *text, uint64_t *length);

/* A field's name (letters, digits, and the signs of a token) and its value (no control characters but the tab). */
bool st_is_field_name(const char *name, size_t size);
bool st_is_field_value(const char *value, size_t size);

#endif
