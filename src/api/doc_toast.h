#ifndef ST_API_DOC_TOAST_H
#define ST_API_DOC_TOAST_H

#include "api/doc.h"
#include "model/jar.h"

/* The member `toasting`: an array, one object for each toast step that comes into this step; empty when none does.  A
 * new reference.
 *
 *   {"step", "in": "oven" | "fan oven" | "pan" | null, "at_C": {"value","low","high"} | null, "minutes": the same,
 *    "rests_on": words, "pieces": [{"ingredient", "cut", "half_size_mm", "known": bool, "words",
 *      "inside_C": interval, "flavour_index": interval, "minutes": [..], "inside_over_time_C": [interval ..]  (known)
 *      "cyanide": {"words", "enzyme": "no number for dry heat was found", "lowers_a_bound": false,
 *                  "amygdalin_left": {"low","high","source"} | null} | null}]} */
json_t *st_doc_toasting(const struct st_jar_books *books, const struct st_recipe *r, int step, uint64_t seed);

#endif
