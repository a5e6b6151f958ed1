#ifndef ST_API_BOOK_BATCH_BEHIND_H
#define ST_API_BOOK_BATCH_BEHIND_H

#include "api/book_batch_since.h"

/* A line of the recipe that is weighed when part of the drink is gone: what is weighed in the place of a planned line counts as
 * in the drink from the beginning, so it would be spread over bottles that never had it. */

/* What of the drink was gone on that day, and so lacks what is weighed into that step then.
 *
 * Given:    recipe, of the batch; step, where the line stands; day of the weighing
 * Returned: *what, in words ("2 x 300 mL bottled on 2026-09-04"), lent by the arena; NULL: nothing, or the step is a steep or a
 *           toast (what is weighed of it later tells late what went in at the beginning)
 * Notes:
 *   1. Bottles, lots of the drink, and what was spilt, thrown or drawn off of it; not what was tasted, nor what lees, a filter
 *      and the air took.
 *   2. What left on the day itself counts as gone: it is in the book already. */
enum book_status st_batch_gone_before(const struct st_batch_ask *a, const struct book_batch *batch,
                                      const struct st_recipe *recipe, const char *step, const char *day,
                                      const char **what);

#endif
