#include "api/book_batch_label.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/doc_label.h"
#include "util/memory.h"

enum { MOST_BYTES = 262144 }; /* of the column */

const char *st_batch_label(const struct st_batch_ask *a, const struct st_batch_made *made, const struct st_watch *watch,
                           const struct st_label_books *books, double strength, const char *begun, const char *code)
{
    const struct st_recipe *r = &made->file.recipe;
    struct st_cautions *cautions = x_calloc(1, sizeof *cautions); /* large, all three */
    struct st_ledger *ledger = x_calloc(1, sizeof *ledger);
    struct st_label_facts *facts = x_calloc(1, sizeof *facts);

    st_cautions_collect(r, &made->out, watch, cautions);
    if (st_ledger_make(r, &made->out, watch->books, watch->place->places, &watch->who, r->assay, r->n_assay, ledger) <
        0)
        memset(ledger, 0, sizeof *ledger);
    st_label_told(books, r, &made->out, ledger, watch, cautions, facts);
    json_t *o = json_pack("{s:o, s:o, s:o}", "code", st_doc_text(code), "begun_on", st_doc_text(begun), "label",
                          st_doc_label(facts));
    json_object_set_new(o, "cautions", st_doc_cautions(cautions));
    json_object_set_new(o, "strength_measured_pct_vol", isfinite(strength) ? json_real(strength) : json_null());
    st_doc_figures(o, &made->out);
    char *text = json_dumps(o, JSON_COMPACT | JSON_REAL_PRECISION(12));
    const char *kept = text && strlen(text) <= MOST_BYTES ? st_arena_strdup(a->arena, text) : "";
    free(text);
    json_decref(o);
    free(facts);
    free(ledger);
    free(cautions);
    return kept;
}
