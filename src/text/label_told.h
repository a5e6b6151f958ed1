#ifndef ST_TEXT_LABEL_TOLD_H
#define ST_TEXT_LABEL_TOLD_H

#include "cautions.h"
#include "label_books.h"
#include "label_words.h"

/* All that a label would tell of a recipe, in the order of label_words.h, its usual cautions last (code "usual").
 *
 * Given:    b; r; f foretold of r, or NULL (its figures are then told as not known); l its ledger, or NULL (how much quinine,
 *           caffeine, liquorice is then not known); w, with its place; c its cautions, collected
 * Returned: *out, about 95 KB: not for a small stack
 * Notes:
 *   1. While a caution says stop there is one fact, of code "stop": no drink, so no name and no label. */
void st_label_told(const struct st_label_books *b, const struct st_recipe *r, const struct st_foretold *f,
                   const struct st_ledger *l, const struct st_watch *w, const struct st_cautions *c,
                   struct st_label_facts *out);

/* What a fact is headed with among others of its code: "What it may be called"; "" a code without one. */
const char *st_label_heading(const char *code);

/* Its rule and source as told behind it: "Regulation (EU) 2019/787, Art. 2 (2019) [eu_2019_787]", "[cfr27_5] (unverified
 * figure)", "(unverified, from memory)"; "" when it has none. */
const char *st_label_source(const struct st_label_fact *f, char *buf, size_t size);

/* "in it", "may be in it", "not listed", "unknown", "asked back". */
const char *st_guest_is_words(enum st_guest_is is);

#endif
