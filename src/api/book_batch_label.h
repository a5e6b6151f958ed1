#ifndef ST_API_BOOK_BATCH_LABEL_H
#define ST_API_BOOK_BATCH_LABEL_H

#include "api/book_batch.h"
#include "api/book_batch_at_odds.h"
#include "text/label_books.h"
#include "text/watch.h"

/* What is kept with a bottling besides. */
struct st_batch_labelled {
    const char *code, *name, *begun;           /* of the bottling; of the batch; the day the batch was begun */
    double strength;                           /* as told to be measured; NAN: it was not */
    const struct st_batch_strength_read *read; /* by the readings and what went in; is not known: as foretold */
};

/* What the label of a bottling says, as a JSON document to be frozen with it; lent by the arena, "" when it is too long.  Facts are
 * those of doc_label.h but what follows from the rest: headings, and standard drinks of each country.
 *
 * Given: f, of r; what it is held against; books of labels */
const char *st_batch_label(struct st_arena *arena, const struct st_recipe *r, const struct st_foretold *f,
                           const struct st_watch *watch, const struct st_label_books *books,
                           const struct st_batch_labelled *of);

/* The same read back, in lines for a label: its name and what it may be called, strength with its interval, who must know,
 * until when, and what to watch, worst first (what a poured drink brought of its batch among it), then what the recipe says of its
 * own ingredients; of each level what some must know of themselves first (allergies, what acts with medicines, pregnancy), and
 * what only its looks suffer from last.  Nothing is added to what was frozen. */
struct st_batch_label_line {
    const char *what, *text; /* "name", "strength", "allergens", "use by", "caution" */
};
/* Given:    row; name: of its batch, where none was frozen; whole: all cautions, else of those that are neither a limit
 *           passed nor among what some must know of themselves only the first, and how many more
 * Returned: *line, lent by the arena; how many, 0 where nothing was frozen */
int st_batch_label_lines(struct st_arena *arena, const struct book_bottling *row, const char *name, bool whole,
                         struct st_batch_label_line **line);
/* [{"what": "strength", "text": "23.3 % vol, likely between ..."}, ..] */
json_t *st_doc_batch_label_lines(const struct st_batch_label_line line[], int n);

#endif
