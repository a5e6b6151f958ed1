#ifndef ST_CORE_RECONCILE_RULE_H
#define ST_CORE_RECONCILE_RULE_H

#include "reconcile.h"

/* For reconcile*.c only: the rule of doubt of reconcile.h. */
struct st_doubt {
    double p; /* of the whole */
    bool agree;
    int suspect;
};

/* standard[n]: NAN where a figure is not to be judged.  df 0: nothing to doubt. */
enum st_status st_reconcile_judge(double chi2, int df, int n, const double standard[], struct st_doubt *out);

/* Every one of x[n] a number that can be used. */
bool st_reconcile_finite(const double x[], int n);

#endif
