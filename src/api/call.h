#ifndef ST_API_CALL_H
#define ST_API_CALL_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#include "model/foresee.h"
#include "model/problem.h"

struct st_api;

/* One request while it is answered: a handler reads `in`, and leaves its document in `out`, or problems. */
struct st_call {
    struct st_api *api;
    json_t *in;      /* the body, an object */
    json_t *out;     /* the answer, NULL until there is one */
    json_t *errors;  /* array, NULL while all is well */
    unsigned status; /* of the first problem: 400 the request, 422 what it says */
};

enum { ST_TEXT_WORD = 400, ST_TEXT_TAKE = 1 << 16, ST_TEXT_RECIPE = 1 << 18, ST_MOST_DRAWS = 100000 };

/* ---- problems; all return false ---- */
bool st_call_refuse(struct st_call *c, unsigned status, const char *field, const char *what, const char *why,
                    const char *try_);
/* 422; file is what the places of p are in: "recipe", "text". */
bool st_call_problem(struct st_call *c, const char *file, const struct st_problem *p);

/* ---- members of an object of the request; a missing one, or null, leaves the value alone ----
 * Each returns false only after a problem was written.  path names the object in problems: "" for the body, "wish.". */

/* Every member is one of known[] (ends in NULL); the near one is offered. */
bool st_call_known(struct st_call *c, const json_t *o, const char *path, const char *const known[]);

/* Text of at most `most` bytes, lent. */
bool st_call_text(struct st_call *c, const json_t *o, const char *path, const char *name, size_t most,
                  const char **text);
bool st_call_number(struct st_call *c, const json_t *o, const char *path, const char *name, double low, double high,
                    double *x);
bool st_call_whole(struct st_call *c, const json_t *o, const char *path, const char *name, int low, int high, int *x);
bool st_call_flag(struct st_call *c, const json_t *o, const char *path, const char *name, bool *x);
/* An array of at most `most`; NULL when missing. */
bool st_call_list(struct st_call *c, const json_t *o, const char *path, const char *name, size_t most, json_t **list);
bool st_call_object(struct st_call *c, const json_t *o, const char *path, const char *name, json_t **object);
bool st_call_measures(struct st_call *c, const char *name, enum st_measures *x);

/* seed and draws. */
bool st_call_options(struct st_call *c, int draws, struct st_options *x);

/* The required text of the body. */
bool st_call_must(struct st_call *c, const char *name, size_t most, const char *example, const char **text);

#endif
