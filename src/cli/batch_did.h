#ifndef ST_CLI_BATCH_DID_H
#define ST_CLI_BATCH_DID_H

#include "cli/batch_told.h"

/* A batch told in the maker's own words: what was understood, and what is still open.  Its answers stand in the batch's
 * note, a line "ID=VALUE" each, so that they can be read there and travel with it. */

/* The --answer options of the command line as such lines; "" none, NULL after a message. */
const char *batch_did_answers(struct batch *b);
/* Read the file (or "-") of what was done into row: said, text ('' when nothing can be foretold), name, note; and line by
 * line into *told.  on: the day of --on, NULL not said. */
int batch_did_read(struct batch *b, const char *file, const char *answers, const char *on, struct book_batch *row,
                   struct batch_told *told);
/* The questions still open. */
void batch_did_print(struct batch *b, const struct book_batch *row);
json_t *batch_did_json(struct batch *b, const struct book_batch *row);
/* How many; 0 of a batch that was not told so. */
int batch_did_open(struct batch *b, const struct book_batch *row);
/* What is known of the words it was told in, if it was, for the figures that are told next. */
void batch_did_heard(struct batch *b, const struct book_batch *row);

#endif
