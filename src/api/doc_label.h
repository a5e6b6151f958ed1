#ifndef ST_API_DOC_LABEL_H
#define ST_API_DOC_LABEL_H

#include "api/doc.h"
#include "text/label_told.h"

/* "label": what a label would tell, each fact with its rule and source (docs/api.md). */
json_t *st_doc_label(const struct st_label_facts *facts);

/* "guest": what was asked, word by word, and what is in this bottle.  cut: there were more words than are answered. */
json_t *st_doc_guest(const char *asked, const struct st_guest_answer answer[], int n, bool cut);

#endif
