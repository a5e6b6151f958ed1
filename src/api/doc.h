#ifndef ST_API_DOC_H
#define ST_API_DOC_H

#include <jansson.h>
#include <stdbool.h>
#include <stdint.h>

#include "text/advice.h"
#include "text/cautions.h"
#include "text/recipe_yaml.h"

/* The JSON documents that the commands print with --json and the server answers with.  Nothing is printed here; every
 * function returns a new reference. */

/* A foretold bottle, with all that is told about it. */
struct st_bottle {
    const struct st_recipe_file *file; /* NULL: the recipe came from no file */
    const struct st_recipe *recipe;
    const struct st_foretold *out;
    const struct st_cautions *cautions;
    uint64_t seed;
    int draws;
    enum st_measures units;
};

/* A string; never NULL for text that is cut off inside a letter. */
json_t *st_doc_text(const char *text);

/* {"value": x, "low": a, "high": b, "status": "ok"}; null when not known. */
json_t *st_doc_interval(const struct st_interval *x);
/* All figures of a foretold bottle as members of obj, under their JSON names. */
void st_doc_figures(json_t *obj, const struct st_foretold *f);
json_t *st_doc_cautions(const struct st_cautions *list);
/* The keys in brackets of a text, "[oiml1975], [sps4]", as an array. */
json_t *st_doc_sources(const char *text);

json_t *st_doc_foresee(const struct st_bottle *p);

#endif
