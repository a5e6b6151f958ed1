#ifndef ST_API_DOC_GAUGE_H
#define ST_API_DOC_GAUGE_H

#include "api/doc.h"
#include "core/gauge.h"

/* What was measured and what is known. */
struct st_gauge_given {
    bool sg, brix, boiled, strength, sugar, flask;
    bool all_T, sg_T, brix_T, boiled_T; /* temperatures that were said */
};
/* That 20 C is taken since no temperature was said for a reading, in words; "". */
const char *st_gauge_assumed(const struct st_gauge_given *g);

/* The mode that these readings make; false and *problem when they are too few, too many, or make none.
 * sign: what stands before the name of a reading, "--" on a command line, "" in a request. */
bool st_gauge_choose(const struct st_gauge_given *g, const char *sign, enum st_gauge_mode *mode,
                     struct st_problem *problem);

/* What a caution says of a liquid of this strength and sugar. */
void st_gauge_cautions(const struct st_gauge_out *out, struct st_cautions *list);

/* The document of an answer. */
json_t *st_doc_gauge(enum st_gauge_mode mode, const struct st_gauge_out *out, enum st_status s,
                     const struct st_cautions *cautions);

/* Readings that no liquid of alcohol, sugar and water gives: why, and what to try. */
void st_gauge_impossible(const struct st_gauge_out *out, enum st_status s, const char *sign,
                         struct st_problem *problem);
/* No figure: strength and sugar are null, and the status is "refused". */
json_t *st_doc_gauge_refused(const struct st_problem *problem);

#endif
