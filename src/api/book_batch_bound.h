#ifndef ST_API_BOOK_BATCH_BOUND_H
#define ST_API_BOOK_BATCH_BOUND_H

#include "api/book_batch.h"

/* What cannot be of a batch, whatever was done to it: more drained than went in, stronger than everything in it.  Such a figure
 * is a slip, and worth more as a question than in the book. */

/* The strongest thing that was poured in, % vol; NAN where no strength is known. */
double st_batch_strongest(const struct st_recipe *r);

/* Grams that came into a step, by name; of a name that it has not, or none, into the fullest one.  NAN: nothing was foretold. */
double st_batch_in_g(const struct st_batch_made *made, const char *step);

/* Whether n readings can be of that step.
 *
 * Given:    made, read and foretold: else everything can be
 * Returned: false after *problem
 * Notes:
 *   1. Drained solids, and what was strained off, weigh no more than 1.1 times what went in: kitchen scales and weights told
 *      by eye are less far out (common practice, no source).
 *   2. The volume of what was strained off is held against the same weight, of the lightest liquid there is (ethanol, 0.789 g/mL at 20 C [oiml1975]).
 *      The volume of the drink is not: what agrees with it says `agrees`.
 *   3. A strength is no more than that of the strongest thing that was poured in. */
bool st_batch_can_be(const struct st_batch_made *made, const char *step, const struct book_reading r[], int n,
                     struct st_problem *problem);
/* The same for grams of drained fruit that are kept. */
bool st_batch_can_be_drained(const struct st_batch_made *made, const char *step, double g, struct st_problem *problem);

#endif
