#ifndef ST_API_BOOK_BATCH_REST_H
#define ST_API_BOOK_BATCH_REST_H

#include "api/book_batch_since.h"
#include "api/book_batch_text_inside.h"

/* What came into a drink after parts of it had left came into the rest of it.
 *
 * Which came first: the earlier day; on the same day what was entered first, by the journal; where the journal does not know
 * (an imported book) one measured, drew off, added, and then poured, lost and bottled. */

/* Something was added when parts of the drink had left it: the rest of then goes on, in a step of its own. */
struct st_batch_cut {
    enum st_do kind; /* steep where it was added to a steep, else blend */
    double ml, g;    /* what had left since the cut before, as measured by volume and by weight */
    double rest_ml,
        rest_sd;    /* what there was then, by the last volume read in between less what left since; NAN: not read */
    double read_ml; /* that volume, and its day */
    const char *read_on;
    bool lies; /* what lay in the steep before may lie in it yet: no straining was told before any of that left */
};

/* Given:    text, the batch's own; past: all that went and came, its weighings those that are to be looked at
 * Returned: *out, lent by the arena
 * Notes:
 *   1. Bottles, lots and losses of the drink leave it; what evaporated does not (it takes more of the spirit than of the rest),
 *      and what was lost of a step before the drink does not.
 *   2. What is added to a step before the drink (a steep) comes into the rest where something had been bottled, poured or drawn
 *      off: then there was a drink already; else it came into that step.
 *   3. What lees and filter took counts beyond what is foretold (st_batch_find_beyond); of a volume that was read before, whole.
 *   4. Nothing is there with a->whole_drink.
 *   5. Strained is what was told so: the jar of that step, or of a later one that strains, is over (`batch strain`).  On a day of which the
 *      journal does not know the order, what left did so before the straining, and what was added came after it. */
enum book_status st_batch_rests_of(const struct st_batch_ask *a, const char *text, const struct st_batch_past *past,
                                   struct st_batch_rests *out);

/* The cut that a weighing came into; -1: none. */
int st_batch_cut_of(const struct st_batch_rests *r, int64_t weighing);
/* Whether that row is what left before the last cut: what is foretold is without it. */
bool st_batch_left_before(const struct st_batch_rests *r, enum book_table t, int64_t id);

/* Put the steps of a cut behind those of the text: what had left, and the rest.
 *
 * Returned: *step: id of that of the rest, for what was added; lent by the arena
 * Result:   0; -1 *problem
 * Notes:
 *   1. By the recipe less may have been there than left: then a fiftieth of the drink counts as the rest, since there was one.
 *   2. Where pieces lie in it yet (cut->lies) they go along into the rest, which is a steep then: they may give to it all that
 *      they ever held.  What had left is foretold as strained off them.
 *   3. Where more was read than all that is foretold, a text has no more to take: all of it is the rest then, and that is told among
 *      what is not reckoned. */
int st_batch_rest_put(struct st_batch_work *k, const struct st_batch_cut *cut, const char **step);

/* Whether x came later than the other, in the order above. */
enum book_status st_batch_later(const struct st_batch_ask *a, const struct st_batch_moment *x,
                                const struct st_batch_moment *than, bool *later);

/* Of weighings those that came until a->until: what was added later was not in it yet.  *w is lent by the arena then. */
enum book_status st_batch_until(const struct st_batch_ask *a, const struct book_weighing **w, int *n);

/* Strength of the drink of a batch at a moment, where something was added to it later; *q not known: nothing was, or it is not
 * foretold. */
enum book_status st_batch_strength_then(const struct st_batch_ask *a, const struct book_batch *batch,
                                        const struct st_batch_moment *then, struct st_interval *q);

/* After something is told to have left: where something was added to the rest later, the figures that are kept of the batch are
 * written anew; inside a deed. */
enum book_status st_batch_foreseen_again(const struct st_batch_ask *a, const struct book_batch *batch,
                                         const char *program);

/* That nothing takes from what had left is as it should be: take what a reader (file) and a plan (f) note of that from their
 * notes. */
void st_batch_rest_quiet(struct st_recipe_file *file, struct st_foretold *f);

/* A step that was put so: the rest; what had left. */
bool st_batch_is_rest(const struct st_step *s);
bool st_batch_is_off(const struct st_step *s);

#endif
