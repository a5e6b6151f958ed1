#ifndef ST_API_DOC_CAUTIONS_H
#define ST_API_DOC_CAUTIONS_H

#include "api/doc.h"
#include "text/label_told.h"
#include "text/watch.h"

/* "held_against" and "worst_cases" as members of doc: what the drink may hold at most, line by line, and every limit held
 * against it (docs/api.md).  Nothing without books. */
void st_doc_ledger(json_t *doc, const struct st_recipe *r, const struct st_ledger *l, const struct st_watch *w);

/* All of `stillroom cautions`: what was found of a recipe. */
struct st_watched {
    const struct st_recipe *recipe;
    const struct st_cautions *list;
    const struct st_ledger *ledger;
    const struct st_watch *watch;
    const char *because; /* why nothing could be foretold, else "" */
    const struct st_label_facts *facts;
    const char *asked; /* by a guest, or NULL */
    const struct st_guest_answer *answer;
    int n_answer;
    bool answers_cut;
};

/* The document of `stillroom cautions --json`. */
json_t *st_doc_watched(const struct st_watched *w);

#endif
