#ifndef ST_API_BOOK_BATCH_LACKS_H
#define ST_API_BOOK_BATCH_LACKS_H

#include "api/book_batch_chain.h"
#include "text/label_books.h"
#include "text/watch.h"

/* What the label of a bottling, as it was kept on its day, does not say of what is known now: something is told later to have gone
 * in before, or a lot is something else than was thought.  The label stays as it is. */

struct st_batch_lack {
    const char *code, *batch; /* of the bottling, of its batch */
    const char *allergens;    /* "egg, hazelnut"; "" none */
    const char *cautions;     /* "egg yolk: raw egg; and 2 more"; "" none */
    double said;              /* % vol that stands there */
    struct st_interval
        now; /* as foretold now of that day; known where it lies outside the interval that stands there */
};

enum { ST_BATCH_LACKS = 24 }; /* bottlings that are looked at */
struct st_batch_lacks {
    struct st_batch_lack item[ST_BATCH_LACKS];
    int n, looked, more; /* more: bottlings that were not looked at */
};

/* What the drink is held against, as of whoever asks. */
struct st_batch_lacks_ask {
    struct st_watch (*watch)(const void *with, const struct st_recipe *r);
    const void *with;
    const struct st_label_books *books;
};

/* The bottlings of a batch (since: of what came in at that moment; day NULL: from the beginning) that are not without it.
 *
 * Returned: *out, added to; texts lent by the arena
 * Notes:
 *   1. A caution is there when one of its code is, of a worst case one of that substance: words may change with the program.  Notes
 *      are not looked at.
 *   2. What was measured of the bottles stays right, whatever is foretold.
 *   3. Where nothing is foretold of the batch nothing can be held against its labels. */
enum book_status st_batch_lacks(const struct st_batch_ask *a, const struct st_batch_lacks_ask *how,
                                const struct st_chain_link *batch, struct st_batch_lacks *out);

/* Of all links of a chain, newest bottling first within each. */
enum book_status st_batch_lacks_of(const struct st_batch_ask *a, const struct st_batch_lacks_ask *how,
                                   const struct st_chain_link link[], int n, struct st_batch_lacks *out);

/* "The label of B1-1 (who has it: stillroom batch who B1), kept as of its day, lacks for allergens egg" */
const char *st_batch_lack_words(const struct st_batch_ask *a, const struct st_batch_lack *x);
/* That there were more bottlings than are looked at; "" there were not. */
const char *st_batch_lacks_more(const struct st_batch_ask *a, const struct st_batch_lacks *x);
json_t *st_doc_batch_lacks(const struct st_batch_lacks *x);

#endif
