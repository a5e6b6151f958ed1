#ifndef ST_TEXT_SEEN_YAML_H
#define ST_TEXT_SEEN_YAML_H

#include "model/observation.h"
#include "recipe_yaml.h"

/* A file of readings: what was seen of one making of a jar, day by day (docs/seen-file.md). */

struct st_seen_file {
    struct st_observation *seen; /* [n], in the file's order; lent by file.memory */
    int n;
    struct st_recipe_file file; /* problems and notes; st_seen_done frees all */
};

/* Read a file of readings (YAML 1.2, the limits of st_recipe_read).
 *
 * Given:
 *   name          of the file, for messages
 *   text, size    the file
 * Returned:
 *   *out          records and problems; st_seen_done(out) afterwards in every case
 * Result: 0 read; -1 errors, each with its place, as many as can be found in one go.
 * Notes:
 *   1. One entry may hold several readings of the same moment: each is a record of its own.
 *   2. When: `day: 3` (the jar was begun on day 0), `hour: 12`, or `on: 2026-10-04` with `begun: 2026-10-01` at the
 * top.
 */
int st_seen_read(const char *name, const char *text, size_t size, struct st_seen_file *out);
void st_seen_done(struct st_seen_file *f);

#endif
