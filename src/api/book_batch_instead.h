#ifndef ST_API_BOOK_BATCH_INSTEAD_H
#define ST_API_BOOK_BATCH_INSTEAD_H

#include "api/book_batch.h"

/* A lot of another thing than the line says: bitter almonds in the place of orange peel.  What is in the jar is reckoned and
 * warned of, not what was planned. */

struct st_batch_instead {
    const char *words; /* what is said in the line's place: "50 g bitter almond"; NULL: the line is right, or counts */
    const char *note;  /* what is reckoned nowhere, in words for `unreckoned`; NULL: nothing */
};

/* Whether a lot of that ingredient is what a line says (Note 1). */
bool st_batch_lot_is(const struct st_ingredient *said, const struct st_ingredient *lot);

/* What a weighing speaks of: a line of the recipe, or the words of what was added; false: neither can be read. */
bool st_batch_line_weighed(const struct st_recipe *r, const struct st_catalogue *c, const struct book_weighing *w,
                           struct st_line *out);

/* Whether that line has a strength, and the lot's own is not known: the planned one says nothing of the lot. */
bool st_batch_strength_planned(const struct st_batch_ask *a, const struct book_lot *lot, const struct st_ingredient *in,
                               const struct book_weighing *w, const struct st_line *line);

/* Given:    r, its plan, read with c; w, a weighing of it; lot, which it was taken from, of no other batch
 * Returned: *out, lent by the arena
 * Notes:
 *   1. A part of a whole fruit or egg (its juice, its yolk) is what the line says, and so is an ingredient that the recipe
 *      defines as like the lot's.
 *   2. A spirit or wine has its lot's strength; where nobody wrote it down, what was said of what was added, else the sheet's
 *      range, else none: that of the recipe's line is of another bottle.
 *   3. A lot that is not on the sheet counts as the line says, and so does one whose amount cannot be said of another thing:
 *      both are noted. */
void st_batch_instead_of(const struct st_batch_ask *a, const struct st_recipe *r, const struct st_catalogue *c,
                         const struct book_weighing *w, const struct book_lot *lot, struct st_batch_instead *out);

/* What was written down as taken for a batch, and neither weighed nor added to it (as a book of before may have it), into the
 * text of that batch: one note each. */
enum book_status st_batch_also_took(const struct st_batch_ask *a, int64_t batch, struct st_buf *text);

/* Put notes into a recipe's text, behind those of its `unreckoned:`.  One that is longer than such a one may be ends behind a
 * word, with "...". */
void st_batch_unreckoned_put(const char *text, const char *const note[], int n, struct st_buf *out);

#endif
