#ifndef ST_API_DOC_LARDER_H
#define ST_API_DOC_LARDER_H

#include "api/book_larder.h"
#include "api/doc.h"

/* The larder as JSON (docs/notebook.md). */
json_t *st_doc_lot(const struct st_lot *l);
json_t *st_doc_vessel(const struct book_vessel *v, const char *stands_in);
json_t *st_doc_larder(const struct st_larder *l);
/* What was done: {"done": words or null when it was so already, "lot": ..., "remarks": [...]} */
json_t *st_doc_lot_told(const struct st_lot_told *t);

/* A number, null where it is not known; a text, null where there is none. */
json_t *st_doc_number(double x);
json_t *st_doc_known(const char *text);

#endif
