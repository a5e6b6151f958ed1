#ifndef ST_API_DOC_CLEAR_H
#define ST_API_DOC_CLEAR_H

#include "api/doc.h"
#include "text/clearing_words.h"

enum { ST_BENCH_STOCK_PCT = 1 };

/* All that is told of how a drink may be cleared. */
struct st_clear_told {
    const struct st_recipe *recipe;
    const struct st_cautions *cautions;
    const struct st_clearing *clearing;
    const struct st_agents *agents;
    const struct st_agent *agent; /* the one asked for; NULL: none */
    struct st_interval batch_ml;  /* what is to be cleared: the recipe's, or as told */
    double ph;                    /* NAN not told */
    double T_K;                   /* where it is kept */
};

/* The agent asked for, as it would be tried in this batch. */
struct st_clear_trial {
    bool is_laid_out;  /* glasses are; otherwise */
    char because[200]; /* ... why not; "" where glasses are not its way */
    struct st_bench bench;
    struct st_interval loss_ml,
        after_ml; /* with the lees, of what the glasses leave; what is left then.  Or not known */
};
void st_clear_trial(const struct st_clear_told *t, struct st_clear_trial *trial);

json_t *st_doc_clear(const struct st_clear_told *t);

#endif
