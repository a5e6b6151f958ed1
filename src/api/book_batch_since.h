#ifndef ST_API_BOOK_BATCH_SINCE_H
#define ST_API_BOOK_BATCH_SINCE_H

#include "api/book_batch.h"

/* What went out of a batch and came into it before and after something was read of it.
 *
 * Which came first: the earlier day; on the same day what was entered first, by the journal; where the journal does not know
 * (an imported book) what was read, since one measures, then pours. */

struct st_batch_rests;
/* What of a loss is beyond what the recipe foretells. */
struct st_batch_beyond {
    int64_t loss;
    double ml;
};
struct st_batch_past {
    const struct book_weighing *weighed;
    struct book_loss *loss;
    struct book_bottling *filled;
    struct book_lot *drawn; /* lots that were taken off the drink, and are no loss in the book */
    int n_weighed, n_loss, n_filled, n_drawn;
    const struct st_batch_rests
        *rests; /* what of it left before something was added (book_batch_rest.h); NULL: not looked for */
    struct st_batch_beyond *beyond; /* [n_beyond] of losses by lees and filter; NULL: not looked for */
    int n_beyond;
};
/* What of the drink's lees and of its filter is lost beyond what racking, fining and filtering take by the recipe: what is
 * foretold is without that already.  text, the batch's own: where it is not read or foretold all of it is. */
void st_batch_find_beyond(const struct st_batch_ask *a, const char *text, struct st_batch_past *past);
/* mL (or g) of a loss that are not in what is foretold. */
double st_batch_beyond_ml(const struct st_batch_past *past, const struct book_loss *l);
/* Rows only, of all days; rests and beyond are NULL. */
enum book_status st_batch_past_rows(const struct st_batch_ask *a, int64_t batch, struct st_batch_past *out);
/* With a->until what had come and left by then: not the row of that moment itself, nor what was drawn off for that lot. */
enum book_status st_batch_past(const struct st_batch_ask *a, const struct book_batch *batch, struct st_batch_past *out);

/* mL lost (or taken off as a lot) and bottled, but for what left before something was added, which is not in what is foretold
 * either: later than r was read, or (later false) not later; r NULL: all.  What lees and filter took counts beyond what is foretold,
 * but after a reading (later) whole.  Of what was weighed only, g counts as
 * mL: a liqueur is near 1 g/mL. */
enum book_status st_batch_went(const struct st_batch_ask *a, const struct st_batch_past *past,
                               const struct book_reading *r, bool later, double *lost_ml, double *bottled_ml);

/* What makes a reading of the drink one of another drink than that of now; NULL: nothing does.
 * Notes:
 *   1. That is what was added beside the recipe (line 0) after it was read, and what of the recipe was poured on a later day
 *      into a step that is no steep (and no toast): a syrup, a blend.
 *   2. What of a steep was weighed later only tells late how much went in at the beginning: it makes no reading old. */
enum book_status st_batch_outdated(const struct st_batch_ask *a, const struct st_batch_past *past,
                                   const struct st_recipe *recipe, const struct book_reading *r,
                                   const struct book_weighing **by);

/* So many things were added beside the recipe (line 0) later than r was read; *of_recipe: something of the recipe was poured later too
 * (Note 1 above). */
enum book_status st_batch_added_since(const struct st_batch_ask *a, const struct st_batch_past *past,
                                      const struct st_recipe *recipe, const struct book_reading *r, int *added,
                                      bool *of_recipe);

#endif
