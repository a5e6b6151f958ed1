#ifndef ST_CLI_BATCH_LACKS_H
#define ST_CLI_BATCH_LACKS_H

#include "api/book_batch_lacks.h"
#include "cli/batch.h"

/* Labels that were kept and are wrong by what is known now. */

/* As whoever asks at this terminal; false after a message. */
bool batch_lacks_ask(const struct cli *c, struct st_batch_lacks_ask *how);
/* Those of a batch. */
const struct st_batch_lacks *batch_lacks(struct batch *b, const struct book_batch *row);
/* Those of bottles that were filled since that came in, of its batch and of whatever was poured from there. */
const struct st_batch_lacks *batch_lacks_since(struct batch *b, const struct book_weighing *came);
/* Nothing where there are none. */
void batch_lacks_print(struct batch *b, const struct st_batch_lacks *x);

#endif
