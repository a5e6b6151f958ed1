#ifndef ST_API_CORRECT_TASK_H
#define ST_API_CORRECT_TASK_H

#include "api/doc.h"
#include "core/gauge.h"
#include "model/correct.h"
#include "text/correct_thing.h"

/* A measured batch put right, from what was said to what is told.  Who has figures already (a batch of the notebook, lots
 * of the larder) sets title and ask.batch, hands things over by st_correct_task_thing, and goes on as everybody. */

enum { ST_CORRECT_ASSUMED = 8, ST_CORRECT_WARNED = 32 };

/* A caution of what may be poured in. */
struct st_correct_warned {
    char what[200], because[400], source[60];
};

struct st_correct_task {
    /* given */
    char title[120]; /* "B14, sloe"; "" */
    struct st_correct_ask ask;
    bool by_kitchen; /* amounts that a kitchen can measure, too */
    struct st_kitchen kitchen;
    bool of_book;   /* ask.batch is a batch of the notebook */
    bool draw_said; /* ask.draw_most_ml was said; else with a jar up to a third of the batch, without one nothing */

    /* found on the way */
    struct st_correct_named named[ST_CORRECT_THINGS]; /* of ask.thing[i], where it was read from words */
    char assumed[ST_CORRECT_ASSUMED][240];            /* what was taken for granted, in sentences */
    int n_assumed;
    struct st_correct_warned warned[ST_CORRECT_WARNED]; /* of what may be poured in; cautions have them too */
    int n_warned;
    bool held;          /* nobody asked for another strength, and in the least it stays within a step */
    char unsure[640];   /* why nothing can be said with any certainty; "" it can: with it nothing is reckoned */
    char not_yet[420];  /* what stands is not the drink yet; "" it is */
    char reckoned[400]; /* of the larder: what may be poured in; "" it was not asked */
    char left_out[500]; /* and what not, with why */
    char currency[13];  /* of what it costs; "" not known */
    char step[80];      /* of the batch's recipe, that an addition is written down for; "" none */
    char line[ST_CORRECT_THINGS][80]; /* of ask.thing[i]: what a line of a recipe calls it; "" its name */
    char lot[ST_CORRECT_THINGS][40];  /* of ask.thing[i]: code; "" none, or several */

    /* found */
    struct st_correct_found found;
    struct st_cautions cautions;
    enum st_status status;
};

void st_correct_task_init(struct st_correct_task *t, enum st_measures measures);

/* What is in the jar, by instruments: strength, sugar and how they go together, the systematic part as rectangular. */
void st_correct_task_gauged(struct st_correct_task *t, const struct st_gauge_out *g);
/* By a figure as said: "24", "24+-0.3", "1.2L", "1200+-10 mL".  Without a doubt of its own one is taken, and told:
 * 0.5 % vol, 5 g/L of sugar, 5 % of the acid (from memory), a jug's 5 % of the volume.  False and *problem. */
bool st_correct_task_now(struct st_correct_task *t, enum st_correct_figure of, const char *said,
                         struct st_problem *problem);

/* "26", "25..27", "25-27", "at least 22", "at most 300", "26+-0.3"; volumes with their unit.  A single figure is met
 * within 0.5 % vol, 5 g/L of sugar, 5 % of the acid (at least 0.3 g/L), 2 % of the volume. */
bool st_correct_task_wish(struct st_correct_task *t, enum st_correct_figure of, const char *said,
                          struct st_problem *problem);

/* One more thing that may be poured in, in words, or as it is known.  False and *problem; without room too. */
bool st_correct_task_with(struct st_correct_task *t, const char *said, const struct st_catalogue *c,
                          struct st_problem *problem);
bool st_correct_task_thing(struct st_correct_task *t, const struct st_correct_thing *thing, struct st_problem *problem);
/* "vodka 300 mL": there is no more of it. */
bool st_correct_task_have(struct st_correct_task *t, const char *said, struct st_problem *problem);

/* Put it right.  When nothing may be poured in by what was said, water, sugar and vodka of 40 % are taken, and told.
 * False and *problem. */
bool st_correct_task_run(struct st_correct_task *t, const struct st_catalogue *c, struct st_problem *problem);

/* The code of the batch, of its title "B14, sloe"; "" it is none of the notebook. */
void st_correct_task_code(const struct st_correct_task *t, char code[40]);

/* --- doc_correct.c --- */
json_t *st_doc_correct(const struct st_correct_task *t);

#endif
