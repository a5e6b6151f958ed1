#ifndef ST_API_BOOK_BATCH_LOST_H
#define ST_API_BOOK_BATCH_LOST_H

#include "api/book_batch_since.h"

/* What was lost of a jar before the drink: what stays there is as strong as it was, and less of it goes on. */

/* Put the losses of a batch into its recipe, as st_step.loss_ml of the steps that they are of.
 *
 * Returned: *any: there are such, and they are in; else r is as it was
 * Notes:
 *   1. Of a step before the drink what was spilt, tasted, drawn off, thrown or lost otherwise.  What lees, a filter and the air took is
 *      what recipe and habits foretell already.
 *   2. It counts as lost when the step is over, with the liquid as it is then.  A volume counts for 1 % (common practice, no source);
 *      a weight is turned into a volume by the liquid's foretold density.
 *   3. All but a fiftieth of what a step gives at most: where more was lost than that, a fiftieth counts as left.  Where a recipe
 *      gives no drink then, none of them is put in.  In both cases, and where more than nine tenths are lost, st_recipe.unreckoned
 *      says that no figure is sure.
 *   4. With a->until what was lost by then: of a pour what is left later says nothing. */
enum book_status st_batch_put_lost(const struct st_batch_ask *a, const struct book_batch *batch,
                                   struct st_recipe_file *file, bool *any);
/* Take those losses out of *past: they are in the figures of a batch of which st_batch_made.lost_in is true. */
void st_batch_lost_out(const struct st_recipe *r, struct st_batch_past *past);

#endif
