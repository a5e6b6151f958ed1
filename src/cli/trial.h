#ifndef ST_CLI_TRIAL_H
#define ST_CLI_TRIAL_H

#include "cli/page.h"
#include "core/density_mixture.h"
#include "core/strength.h"
#include "model/trial.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"

/* What only trial.c and trial_out.c share. */
struct trial_options {
    const char *said[ST_TRIAL_ADDS][4]; /* add, from, to, drops-50 */
    int n_add, glasses, pick;
    enum st_trial_with with;
    double glass_ml, batch_ml, drunk_ml, strength, sugar;
};
struct trial {
    char title[200], name[ST_TRIAL_ADDS][80];
    bool weighed[ST_TRIAL_ADDS];
    struct st_trial trial;
    struct st_trial_glass glass[ST_TRIAL_GLASSES];
    struct st_interval strength, sugar; /* of the batch as foretold, with its own doubt; unknown when by_figures */
    bool by_figures; /* the batch is known by strength and sugar alone: what is added to its acid is told, not all */
    int pick;        /* from 1; 0: not yet */
    double drunk_ml;
    struct st_trial_rest rest;
};

void trial_page(const struct trial *t);
json_t *trial_json(const struct trial *t);

#endif
