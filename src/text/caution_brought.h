#ifndef ST_TEXT_CAUTION_BROUGHT_H
#define ST_TEXT_CAUTION_BROUGHT_H

#include "cautions.h"
#include "model/ledger.h"

/* What of a batch's cautions goes along where it is poured, or its fruit put, into another (model/ingredient.h, st_brought). */

/* Whether it does: not what ends with the making (fire, hot glass), nor what is reckoned or told anew of the drink that it goes
 * into (worst cases, its strength, allergens, alcohol, what was not assessed). */
bool st_caution_goes_along(const struct st_caution *c);

/* Whether it ends with the making: fire where spirit is poured or warmed, hot glass. */
bool st_caution_ends_with_making(const struct st_caution *c);

/* As it is told there: buf (of size bytes) says what and names its batch, "egg yolk of B1: salmonella".
 * r, whose caution it is.  One that the batch was itself brought stays as it was. */
const char *st_caution_of_batch(const struct st_caution *c, const struct st_recipe *r, const char *batch, char *buf,
                                size_t size);

/* Its reason without what is said of a worst case here: that is said of the drink that it goes into. */
#define ST_CAUTION_NO_WORST "; worst case not assessed"

/* All that an ingredient brings, at its line. ledger may be NULL. */
void st_caution_brought(struct st_cautions *out, const struct st_recipe *r, const struct st_ledger *ledger, int step,
                        int line);

/* Codes of poisons of which a worst case must be reckoned before anyone can judge the dose. */
bool st_caution_is_toxicant(const char *code);

#endif
