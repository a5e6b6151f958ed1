#ifndef ST_API_BOOK_BATCH_POUR_H
#define ST_API_BOOK_BATCH_POUR_H

#include "api/book_batch.h"

/* Part of a drink into another batch: it becomes a lot of its batch, which the other uses. */

struct st_batch_pour {
    struct book_lot lot; /* with its code; not in the book yet */
    double spare_ml;     /* what there was of it; NAN not known */
    bool read;           /* by readings and recipe together; else as foretold */
};

/* Given:    from; made: of it, really, told; ml; day
 * Returned: *out; *problem when it cannot be poured: it steeps still, or there is not so much
 * Notes:
 *   1. Strength, sugar and acid are those of readings and recipe together, where readings agree; else as foretold. */
enum book_status st_batch_pour_of(const struct st_batch_ask *a, const struct book_batch *from,
                                  const struct st_batch_made *made, double ml, const char *day,
                                  struct st_batch_pour *out, struct st_problem *problem);
/* Such a lot of ml, whether there is so much or not; spare_ml is for the caller. */
enum book_status st_batch_pour_row(const struct st_batch_ask *a, const struct book_batch *from,
                                   const struct st_batch_made *made, double ml, const char *day,
                                   struct st_batch_pour *out);
/* Write the lot, and what was drawn off its batch; inside a deed.  lot.id is set. */
enum book_status st_batch_pour_put(const struct st_batch_ask *a, struct st_batch_pour *pour);
/* The note of what was drawn off for a lot: "poured off as L7"; whoever adds up losses and lots counts one of both. */
const char *st_batch_pour_note(const struct st_batch_ask *a, const char *lot_code);
/* Whether that loss is what was drawn off for that lot. */
bool st_batch_pour_lost(const struct st_batch_ask *a, const struct book_lot *lot, const struct book_loss *loss);

/* Refuse what could not be reckoned any more: from holds some of into already (a ring), or batches poured into batches would
 * lie more than ST_BATCH_DEEP back, for into or for any that holds some of it.  BOOK_NONE and *problem. */
enum book_status st_batch_pour_may(const struct st_batch_ask *a, const struct book_batch *from,
                                   const struct book_batch *into, struct st_problem *problem);
/* The same of a lot that was poured off a batch; any other lot may come. */
enum book_status st_batch_pour_lot(const struct st_batch_ask *a, const struct book_lot *lot,
                                   const struct book_batch *into, struct st_problem *problem);

/* ---- what there is to pour or bottle ---- */

/* Why the finished drink of a batch is not there yet on that day: "its \"jar\" steeps until 4 October by the recipe"; NULL
 * when it is, no jar stands, or the steep is due: then nobody wrote the straining down. */
enum book_status st_batch_not_yet(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_batch_made *made, const char *day, const char **why);
/* Why there was no finished drink on that day, which lies behind: the batch was begun, or a step before the drink was ended, only
 * after it: "its \"jar\" steeped until 20 September by the book"; NULL when none was. */
enum book_status st_batch_too_early(const struct st_batch_ask *a, const struct book_batch *batch,
                                    const struct st_batch_made *made, const char *day, const char **why);
/* The most that can be left of it by book and reading; NAN not known. */
double st_batch_most_left(const struct st_batch_left *left);

#endif
