#ifndef ST_CLI_CORRECT_H
#define ST_CLI_CORRECT_H

#include "api/correct_task.h"
#include "cli/page.h"

/* --- correct_page.c --- */
void correct_page(const struct cli *c, const struct st_correct_task *t);

/* --- correct_book.c --- */
/* What the book says: the batch of this code, and what may be poured in; with[n]: codes of other batches, which is_batch[n]
 * then tells, and words, which are the caller's; without any with the larder.  An exit code, all told when it is not
 * ST_EXIT_DONE. */
int correct_book(struct cli *c, const char *code, const char *const with[], int n, bool is_batch[],
                 const struct st_catalogue *all, struct st_correct_task *t);

#endif
