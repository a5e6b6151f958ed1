#ifndef ST_API_BOOK_BATCH_BEFORE_H
#define ST_API_BOOK_BATCH_BEFORE_H

#include "api/book_batch.h"

/* What must be mixed into a jar before it is what its step says: syrups and blends stand nowhere, so the book knows that
 * they were made only where something of them was weighed. */

enum { ST_BATCH_BEFORE = 24 };

struct st_batch_before {
    int first[ST_BATCH_BEFORE], n_first;   /* steps of the recipe that go into this jar first, in its order */
    int unsure[ST_BATCH_BEFORE], n_unsure; /* into a jar that it came from, with something of their own:
                                            * nobody wrote down that they did */
};

/* Given:    r; w[n] all weighings of the batch; jar: id of the step that stands, "" all of the drink
 * Returned: *out
 * Notes:
 *   1. A syrup or blend counts as made once anything was weighed or added in it, or the line that takes it was weighed, or
 *      what it went into counts as made by a line of its own.  A blend with nothing to weigh in it counts as made with
 *      what goes into it.
 *   2. A steep is where it ends: what lies in it went in at its beginning. */
void st_batch_before(const struct st_recipe *r, const struct book_weighing w[], int n, const char *jar,
                     struct st_batch_before *out);

/* The same of a batch, in words that the arena lends; what was told in the maker's own words was done, and nothing is left. */
enum book_status st_batch_todo_of(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct st_recipe *r, const char *jar, struct st_batch_todo *out);

/* Fill todo of jars that stand; a batch whose recipe cannot be read has nothing to do. */
enum book_status st_batch_jars_todo(const struct st_batch_ask *a, struct st_batch_jar jar[], int n);

/* [{"step": "syrup", "do": "syrup", "lines": "130 g sugar; 120 mL water"}, ..] */
json_t *st_doc_batch_chores(const struct st_batch_chore x[], int n);

#endif
