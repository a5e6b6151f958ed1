#ifndef ST_API_BOOK_BATCH_DID_H
#define ST_API_BOOK_BATCH_DID_H

#include "api/book_batch.h"
#include "text/take.h"

/* What a maker tells of a batch in own words ("what I did last month"), with what was answered since.
 *
 * Given:    said, the text; answers: lines "ID=VALUE", those of other lines are passed over (they may stand in a note)
 * Returned: *out, lent by *catalogue; st_take_done and st_catalogue_free in every case (*catalogue may be NULL)
 * Result:   as st_take_text. */
int st_batch_did(const struct st_batch_ask *a, const char *said, const char *answers, struct st_catalogue **catalogue,
                 struct st_take *out, struct st_problem *problem);
/* Does an amount of a batch's words wait to be read (text/take_await.h), so that no figure of it stands?  *why says which. */
bool st_batch_did_waits(const struct st_batch_ask *a, const struct book_batch *batch, struct st_problem *why);
/* Questions that are still open. */
int st_batch_open(const struct st_take *t);

#endif
