#ifndef ST_API_BOOK_BATCH_FILL_H
#define ST_API_BOOK_BATCH_FILL_H

#include "api/book_batch.h"

/* ---- spent fruit ---- */

struct st_batch_spent {
    const char *name, *slug; /* "spent damson"; slug of the heaviest thing that lay in it */
    double drained_g;        /* with the liquor it keeps */
    bool weighed;            /* drained_g is the maker's own reading; else foreseen */
    double liquor_g;         /* liquor it keeps, as foreseen */
    double strength_pct_vol; /* of that liquor */
    const char *step;        /* id of the steep */
};
/* Of a steep (its id or number; NULL: the last one); *problem when there is none.  made: told. */
enum book_status st_batch_spent(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *made, const char *step, struct st_batch_spent *out,
                                struct st_problem *problem);
/* Of a lot of spent fruit that is kept already: of the step that its words tell (st_batch_spent_words).  Where they tell none, of
 * those steeps in which such fruit lies, else of all, the one whose liquor is nearest to the lot's strength as it was written;
 * where no strength is written, the last. */
enum book_status st_batch_spent_lot(const struct st_batch_ask *a, const struct book_batch *batch,
                                    const struct st_batch_made *made, const struct book_lot *lot,
                                    struct st_batch_spent *out, struct st_problem *problem);
/* What a lot's words say of its steep. */
const char *st_batch_spent_words(struct st_arena *arena, const char *step);
/* g of what was strained off that step, as the maker weighed it last and does not doubt; NAN. */
enum book_status st_batch_drained(const struct st_batch_ask *a, const struct book_batch *batch, const char *step,
                                  double *g);
enum book_status st_batch_next_lot(const struct st_batch_ask *a, char code[40]);

#endif
