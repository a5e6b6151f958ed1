#ifndef ST_TEXT_ADVICE_H
#define ST_TEXT_ADVICE_H

#include <stdbool.h>
#include <stddef.h>

#include "cautions.h"
#include "model/foresee.h"

/* What a maker is told beside the figures of a foretold bottle, as sentences. */

/* The one thing that would make the figures surer: as it is done in a recipe file, or on a page where there is none. */
void st_tip_words(const struct st_recipe *r, const struct st_foretold *f, char *buf, size_t size);
void st_tip_page_words(const struct st_recipe *r, const struct st_foretold *f, char *buf, size_t size);

/* One note of the plan; true when it is a question to the maker (an open amount). */
bool st_note_words(const struct st_recipe *r, const struct st_note *n, char *buf, size_t size);
bool st_note_is_caution(const struct st_note *n); /* told as a caution already */
/* How many notes say that an amount could not be had as written. */
int st_note_limits(const struct st_foretold *f);

/* The source as it is shown: a key in brackets, else the words for "no source".  Returns buf. */
const char *st_caution_source(const struct st_caution *c, char *buf, size_t size);
bool st_cautions_stop(const struct st_cautions *c); /* one of them says stop */

/* The recipe's own wish, each figure "strength 24 to 28 % vol: met (18 of 20 makings)", parted by "; ".
 * Result: how many are missed; "" and 0 without a wish. */
int st_wish_words(const struct st_recipe *r, const struct st_foretold *f, char *buf, size_t size);

/* Whether any line has a price: without one the cost is not known, and not nothing. */
bool st_recipe_is_priced(const struct st_recipe *r);

/* Whether a followed compound is shown as a flavour; poisons are not. */
bool st_marker_is_flavour(const char *name);

#endif
