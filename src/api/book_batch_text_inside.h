#ifndef ST_API_BOOK_BATCH_TEXT_INSIDE_H
#define ST_API_BOOK_BATCH_TEXT_INSIDE_H

#include "api/book_batch.h"
#include "api/book_batch_own.h"

/* A batch's text with what was weighed in it, between book_batch_text.c (amounts into lines) and book_batch_others.c (lots
 * that are something else than the line says). */

/* What came into a drink after parts of it had left: book_batch_rest.h. */
struct st_batch_rests {
    struct st_batch_cut *cut;
    int n;
    int64_t *added; /* [n_added] weighings of line 0 that came into a rest, and of which cut, from 0 */
    int *cut_of, n_added;
    int64_t *left; /* [n_left] what left before the last cut */
    enum book_table *left_of;
    int n_left;
};

struct st_batch_work {
    const struct st_batch_ask *a;
    const struct book_weighing *w;
    int n;
    struct st_buf text;
    struct st_catalogue *catalogue; /* of the recipe that is looked at, with its own ingredients */
    int edit_step, edit_line;       /* where putting amounts goes on */
    int open_step,
        open_line; /* where open ones are gone on with: what was said anew may still be open ("half of jar") */
    struct st_batch_rests rests;
    struct st_problem *problem;
};

/* What comes of such lots, as lines of their own. */
struct st_batch_others {
    struct st_batch_own *own;
    struct book_weighing *w; /* all weighings, those of such lots in the words of their own ingredient */
    bool *is_own;            /* [n] */
    const char **note;       /* what is reckoned of none of them */
    int n_own, n, n_note;
    const char *lost;        /* code of a batch that was poured in and cannot be reckoned; NULL */
    struct book_lot *unsaid; /* a lot of which nobody knows how strong it is, not even roughly; NULL */
};

/* own: those of other batches with their own figures, else as what the lines say. */
struct st_batch_others st_batch_others_of(const struct st_batch_ask *a, const char *text,
                                          const struct book_weighing w[], int n, bool own);

/* -1, *problem: what was poured in from a batch of this code cannot be reckoned. */
int st_batch_others_refuse(const char *code, struct st_problem *problem);

/* Define them, then say lines anew; what is left of them is a line more each.  0 done, -1. */
int st_batch_others_put(struct st_batch_work *k, struct st_batch_others *x);

#endif
