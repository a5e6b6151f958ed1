#ifndef ST_API_DOC_CAUTIONS_H
#define ST_API_DOC_CAUTIONS_H

#include "api/doc.h"
#include "text/watch.h"

/* "held_against" and "worst_cases" as members of doc: what the drink may hold at most, line by line, and every limit held
 * against it (docs/api.md).  Nothing without books. */
void st_doc_ledger(json_t *doc, const struct st_recipe *r, const struct st_ledger *l, const struct st_watch *w);

#endif
