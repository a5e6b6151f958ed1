#ifndef ST_API_CLEAR_TASK_H
#define ST_API_CLEAR_TASK_H

#include "api/doc_clear.h"
#include "text/steep_books.h"

/* How a drink may be cleared, for command and server alike: what was asked, read and reckoned into what is told. */

/* Limits of what may be asked: of the pH that parts sugar (core/ageing.h) and the places where a bottle is kept. */
#define ST_CLEAR_PH_LOW    1.0
#define ST_CLEAR_PH_HIGH   7.0
#define ST_CLEAR_COLDEST_C (-20.0)
#define ST_CLEAR_WARMEST_C 40.0
#define ST_CLEAR_LEAST_ML  10.0
#define ST_CLEAR_MOST_ML   1e6

struct st_clear_asked {
    const char *agent; /* its name; NULL or "": none */
    double volume_ml;  /* of the batch, measured in a jug; NAN: the recipe's */
    double ph, T_K;    /* NAN not told; where it is kept */
};

enum st_clear_about { ST_CLEAR_ABOUT_RECIPE, ST_CLEAR_ABOUT_AGENT };

struct st_clear_task {
    const struct st_recipe *recipe; /* given; and */
    struct st_watch watch;          /* what cautions are held against; all else is found */
    struct st_agents *agents;
    struct st_clearing clearing;
    struct st_cautions cautions;
    struct st_clear_told told;
    enum st_clear_about about; /* what a problem is of */
};

/* Given:    t->recipe, what was foretold of it, the compounds and the question
 * Returned: t->told, which lends from *t; st_clear_task_done in every case
 * Result:   false and *problem: no such agent, no figures, or a sheet that is not there */
bool st_clear_task_run(struct st_clear_task *t, const struct st_foretold *f, const struct st_compounds *compounds,
                       const struct st_clear_asked *asked, struct st_problem *problem);
void st_clear_task_done(struct st_clear_task *t);

#endif
