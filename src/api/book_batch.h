#ifndef ST_API_BOOK_BATCH_H
#define ST_API_BOOK_BATCH_H

#include <jansson.h>

#include "core/instruments.h"
#include "model/foresee.h"
#include "model/observation.h"
#include "store/book.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"

/* Batches: what was really made.  Nothing is printed; what is changed is changed inside a deed of the caller.
 * A function that gives a book_status has *problem filled (its `what` not empty) where the maker can put it right, and
 * leaves it alone where the store itself failed (book_said tells). */

/* What is asked with, the same for every call. */
struct st_batch_moment;
struct st_batch_ask {
    struct book *book;
    struct st_arena *arena;                  /* lends all texts */
    struct st_catalogue *(*catalogue)(void); /* a new one, NULL after a message; st_catalogue_free */
    enum st_measures measures;               /* where a recipe does not say */
    uint64_t seed;
    int draws;
    bool
        by_drained; /* drained solids that were weighed stand in the place of the liquor that they are foretold to keep, wherever
                      * a batch is foretold as really made, and so do the days that its steps lasted; what is held against that
                      * (agrees, learn) is foretold without */
    struct st_catalogue *
        *spare;       /* NULL; else where one that no recipe changed waits for the next: reading the sheet anew
                                  * costs more than a small recipe.  The caller frees what is left in it. */
    int deep;         /* 0; of a batch that another is made of, how far back it lies */
    bool whole_drink; /* as if nothing had left a drink before something was added to it: for a recipe to make again */
    const struct st_batch_moment *until; /* NULL: now; what was added later than that is not in it yet */
};

/* When a row of the book came: on that day, and among the rows of that day as it was entered. */
struct st_batch_moment {
    enum book_table table;
    int64_t id;
    const char *day;
    bool drawn; /* a loss that was drawn off */
};

/* ---- book_batch.c: which ---- */

/* Fill *p as "WHAT: WHY; TRY"; -1. */
__attribute__((format(printf, 4, 5))) int st_batch_refuse(struct st_problem *p, const char *why, const char *try_,
                                                          const char *what, ...);

/* The batch of this code ("B14", "b14"), of a bottling of it ("B14-1", or what stands on the bottle), or, where only one has it, of this name; BOOK_NONE and *problem. */
enum book_status st_batch_find(const struct st_batch_ask *a, const char *said, struct book_batch *out,
                               struct st_problem *problem);
/* The code of the next one: "B15". */
enum book_status st_batch_next_code(const struct st_batch_ask *a, char code[40]);
/* The lot of this code; BOOK_NONE and *problem. */
enum book_status st_batch_lot(const struct st_batch_ask *a, const char *said, struct book_lot *out,
                              struct st_problem *problem);
/* The lot's strength, % vol: the last own measurement of it that nobody doubts, else what the bottle says; NAN. */
enum book_status st_batch_lot_strength(const struct st_batch_ask *a, const struct book_lot *lot, double *pct_vol);
/* What is left of it by the book, in its dim. */
enum book_status st_batch_lot_left(const struct st_batch_ask *a, const struct book_lot *lot, double *left);

/* A step of a recipe by its id or its number from 1; -1 and *problem, which names those there are. */
int st_batch_step(const struct st_recipe *r, const char *said, struct st_problem *problem);
/* A line by its number in its step, or the name of what it is, by the names the catalogue knows.  *step -1: look in all
 * steps, and it is set.  -1 and *problem when there is none, or several. */
int st_batch_line(const struct st_recipe *r, const struct st_catalogue *c, int *step, const char *said,
                  struct st_problem *problem);

/* ---- book_batch_made.c: what is really in the jar ---- */

struct st_batch_made {
    struct st_buf text; /* the recipe with what was weighed in it */
    struct st_catalogue *catalogue;
    struct st_catalogue **spare; /* of the ask */
    struct st_recipe_file file;
    bool whole; /* file holds a recipe that can be foretold */
    bool told;
    bool lost_in;              /* what was lost of a jar before the drink is in the figures (book_batch_lost.h) */
    struct st_foretold out;    /* when told */
    struct st_problem problem; /* why it is not whole, or not told */
};

/* The text of a batch with its weighings in place of planned amounts.
 *
 * Given:    the recipe's text; w[n], any order: several of one line add up, line 0 is a line more in its step
 * Returned: *out, appended
 * Status:   0; -1 *problem: which weighing cannot be put in, and why
 * Notes:
 *   1. One weighing of a line stands there in the maker's own words, so that the figures are exactly those of a recipe
 *      so written.  Several are added in grams, mL or pieces; of different kinds they are refused.
 *   2. A spirit has the strength of its lot (st_batch_lot_strength), of several lots that of their mixture by volume.
 *   3. What is of a lot of another batch is an ingredient of its own, defined in the text (book_batch_own.h); where the
 *      batch tells nothing, it counts as what the line says; of words that only name the batch ("300 mL of B1") that is
 *      refused.
 *   4. What was added (line 0) after parts of the drink had left it comes into the rest of then: a step more behind the last
 *      one (book_batch_rest.h). */
int st_batch_text(const struct st_batch_ask *a, const char *text, const struct book_weighing w[], int n,
                  struct st_buf *out, struct st_problem *problem);

/* Read text and foretell it; tell false: only read.  st_batch_made_done in every case.  False: made->problem. */
bool st_batch_made_of(const struct st_batch_ask *a, const char *text, bool tell, struct st_batch_made *made);
/* Of a batch in the book: with its weighings (really), or as planned.  Really and told: less what
 * was lost of a jar before the drink.  Really, and a->by_drained: a steep whose drained
 * solids were weighed (the last such reading that nobody doubts; of a recipe that has no weight of its own) keeps what they
 * weigh, unless that cannot be. */
enum book_status st_batch_made(const struct st_batch_ask *a, const struct book_batch *batch, bool really, bool tell,
                               struct st_batch_made *made);
/* The same of a text that is to be the batch's: with a->by_drained its drained solids count as in st_batch_made. */
enum book_status st_batch_made_so(const struct st_batch_ask *a, const struct book_batch *batch, const char *text,
                                  struct st_batch_made *made);
/* No figures of it after all, and why: something of it waits to be read. */
void st_batch_made_waits(struct st_batch_made *made, const struct st_problem *why);
void st_batch_made_done(struct st_batch_made *made);

/* Put the drained solids that were weighed of the batch into its recipe, as st_step.drained_read.  *any: there are such, and
 * they can be; else r is as it was. */
enum book_status st_batch_put_drained(const struct st_batch_ask *a, const struct book_batch *batch, struct st_recipe *r,
                                      bool *any);

/* Write the figures to the table of what was foreseen, in the place of those that were there; inside a deed. */
enum book_status st_batch_keep_foreseen(const struct st_batch_ask *a, int64_t batch, const struct st_foretold *f,
                                        const char *program);

/* ---- book_batch_jars.c: what stands, and what comes then ---- */

/* A step that something stands for, or waits for: all but toast, syrup and blend. */
bool st_batch_step_stands(const struct st_step *s);
/* "steeping", "resting", "waiting to be filtered". */
const char *st_batch_doing(const struct st_step *s);
/* Steps whose jars can be begun once those of ended[n_step] are done and none in begun[n_step] is begun again: every jar
 * they take from, also through syrups and blends, is ended.  How many of step[], in the recipe's order. */
int st_batch_jars_next(const struct st_recipe *r, const bool ended[], const bool begun[], int step[]);
/* When a jar begun on that day is due: the earliest of its time; *last the latest.  False: no time was given (a filter:
 * the same day). */
bool st_batch_due(const struct st_step *s, long begun, long *due, long *last);

/* A syrup or blend that the book does not know to be made: book_batch_before.h. */
struct st_batch_chore {
    const char *step, *what, *lines; /* "syrup", "syrup", "130 g sugar; 120 mL water" */
    bool own;                        /* something goes into it that no other step gave */
};
struct st_batch_todo {
    struct st_batch_chore *first, *unsure; /* what goes in first; what may have gone in */
    int n_first, n_unsure;
    const char *waits, *then; /* "waiting for its syrup", "make the syrup and mix it in"; NULL: for nothing */
};

struct st_batch_jar {
    struct book_jar row;
    const char *code, *name;   /* of its batch */
    const char *vessel;        /* name; "" not told */
    struct st_batch_todo todo; /* nothing, until st_batch_jars_todo fills it */
};
/* The jars that stand, of all batches or one (BOOK_NO: all): overdue and soonest first, those without a day last; with
 * ended_too in the order in which they were begun. */
enum book_status st_batch_jars(const struct st_batch_ask *a, int64_t batch, bool ended_too, struct st_batch_jar **jar,
                               int *n);
/* Batches that are not over, and of which none of these jars (all that stand) is. */
enum book_status st_batch_idle(const struct st_batch_ask *a, const struct st_batch_jar j[], int n,
                               struct book_batch **out, int *m);
/* What is to be done with a jar of that doing: "strain it". */
const char *st_batch_then(const char *doing);
/* Which steps of the recipe (the first ST_BATCH_STEPS) have or had a jar; one that stands rules over one that is over. */
enum { ST_BATCH_STEPS = 200 };
void st_batch_jars_mark(const struct st_recipe *r, const struct st_batch_jar j[], int n, bool ended[], bool begun[]);
/* A vessel by its name, made when there is none; its volume is read from the name ("3 L jar"). */
enum book_status st_batch_vessel(const struct st_batch_ask *a, const char *name, int64_t *id);

/* ---- book_batch_read.c: readings ---- */

/* Kinds of reading beside those of observation.h. */
#define ST_READ_WARMTH "temperature_c" /* of the liquid */
#define ST_READ_VOLUME "volume_ml"     /* of what is there */
#define ST_READ_SWEET  "sweetness"     /* by tongue: -1 not enough, 0 enough, 1 too much; so the next two */
#define ST_READ_SOUR   "sourness"
#define ST_READ_BITTER "bitterness"

/* Read "sg=1.043@22C", "flask=103.2g/100mL", "volume=1.2L+-20mL" into *out (kind, value, sd, temperature_c, words); -1
 * *problem.  A temperature above 40 without its unit is asked for: it may be Fahrenheit. */
int st_batch_reading(const char *said, struct book_reading *out, struct st_problem *problem);
/* A hydrometer that is marked otherwise: what one marked for 20/20 C shows instead stands in the row, the words stay as said. */
int st_batch_reading_scale(struct book_reading *r, enum st_hydrometer scale, struct st_problem *problem);
/* "hydrometer 1.043 at 22 °C", "weight of the drained solids 412 g". */
void st_batch_reading_words(char *buf, size_t size, const struct book_reading *r);
/* The reading as the record that is learnt from, since a jar that was begun on that day; false: nothing is learnt from its
 * kind.  What a flask holds is read from the words. */
bool st_batch_seen(const struct book_reading *r, long begun, struct st_observation *out);

/* ---- book_batch_fill.c: what there is, and what went ---- */

struct st_batch_left {
    double foretold_ml, low_ml, high_ml;  /* of the drink; NAN not known */
    bool measured;                        /* that is the last volume read, of the drink as it is now */
    double lost_ml, bottled_ml, spare_ml; /* after that was read, else all; spare: foretold less both, never below 0 */
    int bottles, at_home;                 /* ever filled; of these not given away */
};
/* made: told, or nothing is known of it.  A volume that was read while the fruit lay in it, or before something was added
 * (st_batch_outdated), is not that of the drink.  What came first, the volume or the loss: book_batch_since.h.  With a->until as it was
 * then. */
enum book_status st_batch_left(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *made, struct st_batch_left *out);
/* That more went of a batch than there was by the book, in a sentence lent by the arena: a volume that a pour stood on was taken
 * back or is doubted, or an amount is wrong; "" where that is not so. */
const char *st_batch_too_much(const struct st_batch_ask *a, const struct book_batch *batch,
                              const struct st_batch_left *left);
/* Bottles of a bottling that are not given away (or came back). */
enum book_status st_batch_at_home(const struct st_batch_ask *a, const struct book_bottling *b, int *n);

#endif
