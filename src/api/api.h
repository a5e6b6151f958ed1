#ifndef ST_API_API_H
#define ST_API_API_H

#include <stdbool.h>
#include <stddef.h>

#include "http/http.h"
#include "model/problem.h"

/* What `serve` answers (docs/api.md): one function a route, from JSON to JSON. */

struct st_api;

/* The ingredients read once, nothing kept yet.  NULL and *problem when the program was built without its data. */
struct st_api *st_api_create(struct st_problem *problem);
void st_api_free(struct st_api *a);

/* Ends in { NULL, NULL, NULL }; the server's arg is the struct st_api. */
extern const struct st_route st_api_routes[];

/* The same without a server.
 *
 * Given:
 *   path          "/api/foresee" ...
 *   body, size    need not end in NUL
 * Returned:
 *   *answer       JSON, ends in NUL; the caller frees it
 *   the status    200, 400, 404 or 422
 */
unsigned st_api_post(struct st_api *a, const char *path, const char *body, size_t size, char **answer, size_t *length);
unsigned st_api_ingredients(struct st_api *a, const char *like, char **answer, size_t *length);
unsigned st_api_places(struct st_api *a, char **answer, size_t *length);
unsigned st_api_source(struct st_api *a, const char *key, char **answer, size_t *length);

#endif
