#ifndef ST_API_STEEP_TASK_H
#define ST_API_STEEP_TASK_H

#include "api/doc.h"
#include "model/jar.h"
#include "model/learn.h"
#include "text/seen_yaml.h"
#include "text/steep_books.h"
#include "text/what_if.h"

/* One jar over time, as the recipe has it and, when something was asked, otherwise: all that was asked together is one
 * making.  Times and shares are the jar's own, since it was filled (struct st_jar_options, own_clock). */

enum { ST_STEEP_IFS = 8, ST_STEEP_SEEN = 16, ST_STEEP_GRID = 120 };

struct st_steep_task {
    /* given */
    const struct st_recipe *recipe;
    const struct st_steep_books *books;
    struct st_watch watch; /* what cautions are held against; without books: no worst case is reckoned */
    const char *jar_name;  /* id of the step; NULL or "": the one that steeps, the last of several */
    const char *what_if[ST_STEEP_IFS];
    int n_what_if;
    double
        until_s; /* > 0: told as far as this, since the jar was filled, and no further; else twice the planned time */
    uint64_t seed;
    int draws;
    const struct st_seen_file *seen[ST_STEEP_SEEN]; /* what was seen of makings of this jar, one file each */
    int n_seen;

    /* found */
    int step;
    struct st_jar *jar;
    struct st_jar_told told;
    bool has_other; /* what_if was given: */
    struct st_jar other;
    struct st_jar_told other_told;
    struct st_what_said understood[ST_STEEP_IFS];
    struct st_learnt learnt;    /* of seen */
    bool has_learnt;            /* told is with it; */
    struct st_jar_told before;  /* ... this is without */
    int asked;                  /* which what_if a problem is about; -1 */
    double time[ST_STEEP_GRID]; /* the times asked for, s since the jar was filled */
    int n_time;
};

/* Run both.  False and *problem (of the recipe: with its place; of a what_if: asked tells which).
 * st_steep_task_done in every case. */
bool st_steep_task_run(struct st_steep_task *t, struct st_problem *problem);
void st_steep_task_done(struct st_steep_task *t);

/* ---- steep_learn.c ---- */
/* Learn from what was seen, and give it to the jar.  False and *problem, which is of seen[t->asked]. */
bool st_steep_learn(struct st_steep_task *t, struct st_problem *problem);
json_t *st_doc_learnt(const struct st_steep_task *t);

/* The step that jar_name means; -1 and *problem, which lists the jars there are. */
int st_steep_step(const struct st_recipe *r, const char *jar_name, struct st_problem *problem);

/* ---- steep_cautions.c ---- */
/* What to watch in this jar and what feeds it: of the recipe as it is, or, when jar is one made otherwise, of the recipe with
 * its strengths, temperatures and amounts, and with stones opened where a cut opens them (crushed, ground, chopped).  Worst
 * first. */
void st_steep_cautions(const struct st_recipe *r, const struct st_jar *jar, const struct st_watch *w,
                       struct st_cautions *out);
/* Those of `list` that `known` does not hold (of the same kind at the same line, as grave) stay in it. */
void st_steep_new_cautions(struct st_cautions *list, const struct st_cautions *known);

/* The document while something of the recipe must not go into a drink, or nothing is steeped: no curves. */
json_t *st_doc_steep_nothing(const struct st_recipe *r, const struct st_cautions *cautions);

/* The document (docs/api.md).  begun: day of the calendar on which the jar that is told was filled, or NULL. */
json_t *st_doc_steep(const struct st_steep_task *t, const struct st_cautions *cautions, const long *begun);

#endif
