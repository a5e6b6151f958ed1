#ifndef TEST_HTTP_ROUTES_H
#define TEST_HTTP_ROUTES_H

#include <stdatomic.h>

#include "http/http.h"

/* Routes and files of the server under test. */
extern const struct st_route test_routes[];
extern const struct st_asset test_assets[];
extern atomic_int test_writes; /* how often a POST was let through */

#endif
