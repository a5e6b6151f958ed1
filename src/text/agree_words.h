#ifndef ST_TEXT_AGREE_WORDS_H
#define ST_TEXT_AGREE_WORDS_H

#include <stddef.h>

#include "model/agree.h"

/* Whether readings and recipe agree, in a cook's words.  Everything goes to buf of size bytes, which always ends in NUL.
 * seen[]: the readings that st_agree was given, in that order. */

enum { ST_AGREE_TEXT = 900 };

/* Keys of documents: "agree", "either", "reading", "recipe", "unclear"; "warm", "one_mark" ...; "used", "other_kind" ... */
const char *st_agree_doubt_code(enum st_agree_doubt d);
const char *st_agree_slip_code(enum st_agree_slip s);
const char *st_agree_use_code(enum st_agree_use u);

/* "hydrometer", "weighed flask", "figure of strength": what stands behind "your". */
const char *st_agree_instrument(enum st_seen what);

/* The verdict: "Your hydrometer and the recipe do not agree: it reads 1.066 ...; the one to doubt is ...". */
void st_agree_verdict_words(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[]);

/* What would explain the reading in doubt: "It would fit a liquid of 33 °C ..."; "" where none is in doubt. */
void st_agree_slip_words(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[]);

/* Reading i: what was foretold of it, what is by all together, or why it is not used. */
void st_agree_reading_words(char *buf, size_t size, const struct st_agreement *a, const struct st_observation seen[],
                            int i);

/* What goes with the figures: how much chance there is in the verdict, errors that readings share, a temperature that nobody
 * told, that figures of all and without one are both given; i from 0; "" behind the last. */
void st_agree_remark(char *buf, size_t size, const struct st_agreement *a, int i);

#endif
