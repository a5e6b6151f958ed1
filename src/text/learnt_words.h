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

/* A reading as one says it: "300 g", "1.045 (20/20 °C)", "7 of 10". */
void st_seen_value_words(char *buf, size_t size, enum st_seen what, double x);

/* "weight of the drained solids of 300 g (read likely between 288 and 312 g) on day 9 does not go with the others ...". */
void st_seen_odd_words(char *buf, size_t size, const struct st_observation *o, const struct st_learnt_reading *r);

/* What the scale of reading i of seen[n] makes of it, told once for each scale: of the whole jar while others of its kind
 * name an ingredient; the only one on its scale; "" otherwise. */
void st_seen_scale_words(char *buf, size_t size, const struct st_observation seen[], int n, int i);

/* What is to be told of reading i of seen[n], of which r was learnt: that it is odd, that nothing is learnt from it, or
 * what its scale makes of it; "" otherwise. */
void st_seen_reading_words(char *buf, size_t size, const struct st_observation seen[], int n, int i,
                           const struct st_learnt_reading *r);

/* What to do next: that nothing of it shows, which points are missing, early or late; "". */
void st_learnt_advice(char *buf, size_t size, const struct st_learnt *l);

#endif
