#ifndef ST_TEXT_LEARNT_WORDS_H
#define ST_TEXT_LEARNT_WORDS_H

#include <stddef.h>

#include "model/learn.h"

/* What was learnt of an ingredient, in a maker's words.  All to buf of size bytes, which ends in NUL. */

/* "rate", "partition", "washed", "content", "kept": the keys of documents. */
const char *st_theta_key(enum st_theta t);

/* "it gives 2.1 times as fast as the sheet has it, likely between 1.2 and 3.6 times"; "" when nothing was learnt of it.
 */
void st_learnt_theta_words(char *buf, size_t size, const struct st_learnt_thing *l, enum st_theta t);

/* "how fast it gives and how much of it is washed off at once cannot be told apart by these readings"; "" otherwise. */
void st_learnt_twin_words(char *buf, size_t size, const struct st_learnt_thing *l);

/* What to do next: a reading that is odd, points that are wanting; "". */
void st_learnt_advice(char *buf, size_t size, const struct st_learnt *l);

#endif
