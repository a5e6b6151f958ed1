#ifndef ST_STORE_SEARCH_H
#define ST_STORE_SEARCH_H

#include "store/book.h"

struct book_hit {
    enum book_table table; /* lot, recipe, try, batch, reading, bottling, gone, reference or photo */
    int64_t id;
    const char *name;    /* what people call it: "L4 cloves", "Walnut, try 2", "B14 Walnut: sg" */
    const char *snippet; /* words around what was found, in one line; "..." where it was cut */
};

/* Find rows by words.
 *
 * Given:    words as somebody types them: every one must be there, whole or as the beginning of a longer word (a single
 *           letter: whole); capitals and marks on letters do not matter, no sign has a meaning; the first 16 words count
 *           most: hits wanted, at least 1
 * Returned: *hits[*n], the fittest first; strings and the list lent by arena
 * Notes:
 *   1. Fitting is BM25 with a find in a title counted four times (common practice, no source).
 *   2. Of more than 2,000 finds only 2,000 are ranked: references, recipes, tries, lots, batches, bottlings, where bottles
 *      went, readings, photos, in this order and of each the newest.
 *   3. Words without a letter or figure find nothing. */
enum book_status book_search(struct book *b, const char *words, int most, struct st_arena *arena,
                             struct book_hit **hits, int *n);
/* The same for who looks the rows up: name and snippet are NULL, which is quicker. */
enum book_status book_search_rows(struct book *b, const char *words, int most, struct st_arena *arena,
                                  struct book_hit **hits, int *n);

#endif
