#ifndef ST_API_DOC_BATCH_ALCOHOL_H
#define ST_API_DOC_BATCH_ALCOHOL_H

#include "api/book_batch_alcohol.h"
#include "api/doc.h"

extern const char ST_ALCOHOL_NOT_ADVICE[];
/* Why an account closes below 0. */
extern const char ST_ALCOHOL_BELOW[];

/* Litres of pure alcohol as JSON (docs/notebook.md).  since "": from the first day. */
json_t *st_doc_batch_alcohol(const struct st_alcohol *x, const char *since, const char *until);

#endif
