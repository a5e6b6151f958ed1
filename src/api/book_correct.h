#ifndef ST_API_BOOK_CORRECT_H
#define ST_API_BOOK_CORRECT_H

#include "api/book_batch.h"
#include "api/correct_task.h"

/* A batch of the notebook put right: what is in the jar by its readings, what may be poured in by the larder. */

/* One sentence more of what was taken for granted; one too many is left out. */
__attribute__((format(printf, 2, 3))) void st_correct_assume(struct st_correct_task *t, const char *format, ...);

/* What is in the jar now, into task->title and ask.batch, with its doubts in task->assumed.
 *
 * Notes:
 *   1. Strength, sugar, acid and volume are those of recipe and readings brought together (st_batch_agree); where a reading
 *      is an outlier, without it, where it is merely unlikely, with it (st_agree_straggles), and so it is told; where nothing was read, as foretold, which is wide.
 *      What was read before something was added counts through it (book_batch_agree_before.h), so that a correction that was poured and written down
 *      is what was promised.
 *   2. The volume is what was read last less what went since (st_batch_left), when that was read; else as in 1, less what
 *      is in bottles or lost.
 *   3. Where readings contradict each other, or one the recipe, and nobody can tell which is wrong, task->unsure says so:
 *      no figure is to be built on.  Where nothing stands but what is not the drink yet (fruit in it, a blend to come),
 *      task->not_yet says so: the figures are those that the recipe will give.
 *   4. The jar that it stands in is ask.jar_ml where its volume is known. */
enum book_status st_correct_book_batch(const struct st_batch_ask *a, const char *code, struct st_correct_task *task,
                                       struct st_problem *problem);

/* What the larder has of spirit without a taste or a name of its own, and of no batch, sugar, syrup and acid, with how much there is and what it cost;
 * water from the tap besides.  *n: how many things of the larder.  task->reckoned and left_out say what, and why not. */
enum book_status st_correct_book_larder(const struct st_batch_ask *a, const struct st_catalogue *c, const char *today,
                                        struct st_correct_task *task, int *n, struct st_problem *problem);

/* Another batch, "B9", that may be poured in on that day: by its readings, as much as there is of it.
 *
 * Notes:
 *   1. Refused, in the words of `batch pour`, where what stands is not the drink yet: what steeps is another liquid than
 *      the figures are of.  So is a batch that is over, or of which nothing is left.
 *   2. Where the steep was due and nobody wrote more down, or a blend is to come, it is offered, and task->assumed tells. */
enum book_status st_correct_book_blend(const struct st_batch_ask *a, const char *code, const char *day,
                                       struct st_correct_task *task, struct st_problem *problem);

/* A lot of the larder named outright, "L7" or by a name of its own ("wormwood tincture"), as much as there is of it: by its
 * own figures, under its own name, with its cautions in task->warned.  *is: whether it is one; a plain name ("vodka 40 %")
 * is none.  Refused where it is used up, or its strength is not known.
 *
 * Notes:
 *   1. Sugar and acid that nobody wrote of it are those of its batch as foretold on the day it was taken, or of the sheet where
 *      it is plain, a wine, a syrup or a juice, each as wide as it is there; task->assumed says so.
 *   2. Of a tincture, and of what has a name of its own, nobody knows them: its sugar is anything from none to what may be in it
 *      (st_lot_sweetest), no acid is counted, and task->assumed says so.
 *   3. A syrup or a juice of which no strength was written has none. */
enum book_status st_correct_book_lot(const struct st_batch_ask *a, const struct st_catalogue *c, const char *said,
                                     const char *today, struct st_correct_task *task, bool *is,
                                     struct st_problem *problem);

#endif
