#ifndef ST_STORE_STAND_H
#define ST_STORE_STAND_H

#include "store/book_inside.h"

/* What stands on a deed.  A changeset may well be taken back that later deeds were done on the strength of: a batch whose steeping
 * is "not done" and that is bottled all the same.  So a deed is looked at by what it touched: the batches, lots and bottlings
 * of its rows.  Two batches in one vessel, one of them long over, do not stand on each other. */

/* The later deeds that stand on one, and those that stand on them in turn.
 *
 * Given:
 *   d              the deed that is to be taken back
 *   changes, size  its changeset
 *   again          d is itself a taking back: what it took back is to be done again
 *   arena          lends what is returned
 * Returned:
 *   *deed[*n]      newest first: in this order they can be taken back
 * Notes:
 *   1. Only deeds count that are in force: not taken back, or taken back and done again.  Such a one counts as done when it
 *      first was.
 *   2. On a reading, a photo and what is computed nothing stands: they can be taken back at any time.  A later reading stands on
 *      what was done to its batch or its lot.
 *   3. Two drawings from a lot do not stand on each other, nor do two gifts from a bottling, unless one is done again: the bottles
 *      may have gone to others meanwhile.  What was counted stands on the drawings before it. */
enum book_status book_standing(struct book *b, const struct book_deed *d, const void *changes, size_t size, bool again,
                               struct st_arena *arena, struct book_deed **deed, int *n);

#endif
