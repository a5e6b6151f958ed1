#ifndef ST_CLI_BATCH_WEIGH_H
#define ST_CLI_BATCH_WEIGH_H

#include "api/book_batch_use.h"
#include "cli/batch.h"

/* For batch_weigh*.c only: one weighing, or one addition, on its way into the book. */

struct batch_weighing {
    struct book_batch batch;
    struct book_weighing row, *old; /* old[n_old]: all that were weighed of the batch before */
    int n_old;
    struct book_lot lot;
    bool has_lot, instead, lot_found; /* lot_found: by its name, nobody said which */
    struct st_batch_ask alone;        /* as whoever asks later: by the measures that the recipe itself names */
    enum st_measures own;             /* those */
    char day[11];
    struct st_batch_made planned, before, now; /* large */
    struct st_batch_use use;
    const char *name; /* of what was weighed */
    char planned_words[200];
    char remark[1400];
    const char *part;       /* some of the drink went before; "" */
    struct st_line added;   /* what is not in the recipe, as it was read */
    struct book_batch from; /* what was added is of another batch: so much of it */
    const char *poured;
    bool bottles; /* what was added is bottles of another batch */
};

/* --- batch_weigh.c --- */
/* Words that are an amount alone are kept in measures that say the same without --units. */
void batch_weigh_plain(struct batch *b, struct batch_weighing *k, enum st_measures said);
/* Whether the lot was in the house on that day; what is wrong is said. */
bool batch_weigh_lot_existed(struct batch *b, const struct book_lot *lot, const char *day);

/* --- batch_weigh_more.c --- */
/* STEP "50 g sugar": what is not in the recipe, under the name that its lot says.  An exit code; what is wrong is said. */
int batch_weigh_more(struct batch *b, struct batch_weighing *k);

/* --- batch_weigh_look.c --- */
/* What the maker should look at, as a remark of the weighing. */
void batch_weigh_look(struct batch *b, struct batch_weighing *k);

#endif
