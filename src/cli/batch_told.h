#ifndef ST_CLI_BATCH_TOLD_H
#define ST_CLI_BATCH_TOLD_H

#include "cli/batch.h"
#include "text/take.h"

/* What a maker told of a batch, line by line: what each was read as, and on which day it was done. */

enum batch_deed_told {
    BATCH_TOLD_NOTHING,
    BATCH_TOLD_BOTTLED, /* kept by no words: a bottling has a size, and a label of its own */
    BATCH_TOLD_GOODS,
    BATCH_TOLD_STRAIN,
    BATCH_TOLD_FILTER,
    BATCH_TOLD_RACK
};

struct batch_told_row {
    int line;
    const char *words, *read; /* read: "read as: 600 g damsons"; "" a remark */
    char day[11];             /* "" not told */
    bool about;               /* "last month" */
    enum batch_deed_told deed;
    int step;             /* of goods: in the recipe, -1 in none */
    struct st_line goods; /* its line as it was read; text is copied, what is lent by no one: compare by slug */
    const char *slug;     /* "" none */
    bool is_name;         /* the title: "Bitter of mine" */
    double came_ml;       /* 0 none */
    int bottles;          /* of a bottling, 0 not told */
    double size_ml;       /* of each, 0 not told */
};

struct batch_told {
    struct batch_told_row *row;
    int n;
    char begun_on[11]; /* the first day that is told; "" none */
    bool about, late;  /* late: what went in stands before it, without a day */
    int left_out;      /* things that were not understood, or of which no amount is known */
};

/* file: for messages, "standard input" of "-".  on: the day of --on, NULL not said.  An exit code; a day that is none, is
 * still to come, or may be two is told with its place. */
int batch_told_read(struct batch *b, const char *file, const char *said, const char *on, const struct st_take *t,
                    struct batch_told *out);
/* The first "in October" of the words, where it opens no sentence, and its bytes; NULL none. */
const char *batch_told_month(const char *said, size_t *n);
/* "Damson in gin": the name of a batch whose words give none. */
const char *batch_told_name(struct batch *b, const struct st_take *t);

void batch_told_print(struct batch *b, const struct batch_told *t);
/* "3 bottles on 6 November are not in the book yet", with the command for it; code: of the batch. */
void batch_told_bottled(struct batch *b, const struct batch_told *t, const char *code);
json_t *batch_told_json(struct batch *b, const struct batch_told *t, const char *code);
/* "sugar  nothing of it in what was read": not 0 where something is not known. */
void batch_told_foretold(struct batch *b, const struct batch_told *t, const struct st_foretold *f);

/* --- batch_told_amiss.c --- */
/* "smells funny, fizzes": the command that tells what it is and what to do. */
void batch_told_amiss(struct batch *b, const struct batch_told *t);
json_t *batch_told_amiss_json(struct batch *b, const struct batch_told *t);

/* --- batch_told_keep.c --- */
/* Into the book, inside the deed that began the batch: what was added on a later day as weighings, strainings, and what came
 * off as readings.  r: the recipe of it, NULL where there is none. */
enum book_status batch_told_keep(struct batch *b, const struct book_batch *row, const struct st_recipe *r,
                                 const struct batch_told *t);

#endif
