#ifndef ST_API_DOC_BATCH_WHO_H
#define ST_API_DOC_BATCH_WHO_H

#include "api/book_batch_who.h"
#include "api/doc.h"

/* Who to ring, as JSON (docs/notebook.md).  about: what was asked for, "B14" or "L7 (vodka)". */
json_t *st_doc_batch_who(const struct st_batch_ask *a, const char *about, const struct st_batch_who *x);

#endif
