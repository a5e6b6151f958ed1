#ifndef ST_API_BOOK_BATCH_AGREE_H
#define ST_API_BOOK_BATCH_AGREE_H

#include "api/book_batch.h"
#include "api/doc.h"
#include "model/agree.h"
#include "model/learn.h"

/* ---- does my reading agree? ---- */

/* Whether what stands in that step is the finished drink already: from there to the bottle nothing is added, and the fruit is
 * out. "" is. */
bool st_batch_of_drink(const struct st_recipe *r, const char *step);

/* What becomes of a reading of the drink before something was added to it. */
enum st_batch_old_use {
    ST_OLD_GOES_ON,      /* it counts through what was added (book_batch_agree_before.h) */
    ST_OLD_NOT_DRINK,    /* something of the recipe came in later: it was not the finished drink */
    ST_OLD_DISAGREES,    /* it is in doubt, or nobody knows which of those of its day is */
    ST_OLD_SAYS_NOTHING, /* of strength, sugar, acid and volume */
    ST_OLD_IN_REST,      /* a volume: the rest of then is reckoned from it already */
    ST_OLD_NOT_FORETOLD  /* the batch as it was then cannot be foretold */
};

struct st_batch_agree {
    struct st_agreement out;
    struct st_observation seen[ST_AGREE_MOST];
    int64_t id[ST_AGREE_MOST];     /* of the readings, in the order of seen */
    double back_ml[ST_AGREE_MOST]; /* what was lost and bottled before a volume or weight was read, added back to it */
    int n, in_jar,
        aside; /* in_jar: readings with the fruit in it, or before the recipe's own additions; aside: doubted */
    int twice; /* the same value of the same moment entered again: counted once */
    int over;  /* older ones than the newest ST_AGREE_MOST */
    struct st_batch_old {
        int64_t id;     /* of the reading */
        char words[80]; /* "hydrometer 1.043 at 22 °C" */
        char what[120]; /* what was added after it was read */
        char day[11];   /* when */
        enum st_seen kind;
        enum st_batch_old_use use;
    } old[ST_AGREE_MOST]; /* of the drink as it was before (st_batch_outdated), the newest */
    int n_old, n_on;      /* n_on: of these how many count through what was added since */
    struct st_batch_chore
        *unsure; /* syrups and blends that nobody wrote down: the figures take them as gone in as planned */
    int n_unsure;
    char again[200]; /* what went in twice, with the same amount: "120 mL of water, of syrup"; "" nothing did */
    bool again_line; /* that is a line of the recipe: weighed with --instead it counts once */
};

/* Hold all readings of the finished drink that nobody doubts, and the drained solids, against what is foretold of the batch
 * as it was weighed.  A reading of before something was added (book_batch_since.h) counts through what was added
 * (book_batch_agree_before.h), where it agrees with the recipe and those of its day; a volume or a weight is held against all
 * that was made: what went before it was read is added back.
 *
 * Given:    made: of the batch, really, told; what it has of drained solids that were read is left out
 * Returned: *out; *problem when the maker can do something (no readings, too many, nothing foretold) */
enum book_status st_batch_agree(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *made, struct st_batch_agree *out,
                                struct st_problem *problem);
json_t *st_doc_batch_agree(const char *code, const struct st_batch_agree *x);

/* ---- what readings teach ---- */

enum {
    ST_BATCH_SEEN = 200, /* readings of one batch that are learnt from */
    ST_BATCH_TEACH = 12  /* batches, where others are looked for: the newest tell most of the next */
};

struct st_batch_lesson {
    struct book_batch row;
    struct st_batch_made *made; /* really; st_batch_lessons_done */
    struct st_jar *jar;
    const char *step;
    struct st_observation *seen;
    int *piece, n;
};

struct st_batch_lessons {
    struct st_batch_lesson of[ST_LEARN_BATCHES];
    int n;
    struct st_learnt learnt;
    bool has_learnt;
    int others; /* batches that were added since they hold the same things */
    bool more;  /* there may be more such, older ones */
};

/* Learn from the readings of these batches; of one alone: and of all others that have readings and hold one of its ingredients.
 *
 * Given:    batch[n]; step, of the first: id, NULL for its last jar (the others: the same id, else their last)
 * Returned: *out, for st_batch_lessons_done in every case; *problem when nothing can be learnt */
enum book_status st_batch_learn(const struct st_batch_ask *a, const struct st_jar_books *books,
                                const struct book_batch batch[], int n, const char *step, struct st_batch_lessons *out,
                                struct st_problem *problem);
void st_batch_lessons_done(struct st_batch_lessons *x);
json_t *st_doc_batch_learnt(const struct st_batch_lessons *x);

#endif
