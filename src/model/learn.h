#ifndef ST_MODEL_LEARN_H
#define ST_MODEL_LEARN_H

#include "model/jar.h"
#include "model/observation.h"

/* What a maker's own readings and tastings say about the ingredients: theta (habit.h) of each, from a prior to what was
 * learnt, with covariance; over several makings of it.
 *
 * Only how fast and how much comes out is learnt.  Nothing here lowers a worst case of what is unwholesome: those are
 * reckoned from what the ingredient holds at most, and take no theta. */

enum { ST_LEARN_BATCHES = 32, ST_LEARN_THINGS = 32 /* ingredients over all batches */ };

/* One making: a jar as it was made, and what was seen of it. */
struct st_learn_batch {
    const struct st_jar *jar;
    const struct st_observation *seen;
    const int *piece; /* [n_seen] which piece of the jar each speaks of; -1 the whole jar */
    int n_seen;
};

/* How much was learnt of one theta: by the ratio of its standard deviations, after over before. */
enum st_learnt_grade {
    ST_LEARNT_NOTHING, /* above 0.95 */
    ST_LEARNT_LITTLE,  /* above 0.6 */
    ST_LEARNT_MUCH
};

struct st_learnt_thing {
    const char *slug, *name; /* lent by the jars */
    /* of the ingredient; between: standard deviation from making to making, which comes to it for a new one */
    double prior_sd[ST_NTHETA], mean[ST_NTHETA], cov[ST_NTHETA * ST_NTHETA], between[ST_NTHETA];
    enum st_learnt_grade grade[ST_NTHETA];
    /* Two that these readings cannot tell apart: correlation beyond 0.9 as if all makings had been one, both with a
     * grade; n_twin of them. */
    int twin[ST_NTHETA][2], n_twin;
    bool far[ST_NTHETA]; /* more than 3 prior standard deviations away: geometry or ratio is wrong, ask */
    int batches;         /* in which it was seen */
};

/* What one reading says: foretold before and after, in its own unit (NAN where there is no such figure, as of a taste).
 */
struct st_learnt_reading {
    bool used; /* false: nothing in the jar that it could speak of, or a kind nothing is learnt from */
    double before, after;
    double sd;  /* as it was used */
    double off; /* (seen - after)/sd */
    bool odd;   /* |off| > 3: doubtful, and counted for less */
};

struct st_learnt {
    struct st_learnt_thing thing[ST_LEARN_THINGS];
    int n_thing;
    struct st_learnt_reading *reading[ST_LEARN_BATCHES]; /* [n_seen] of each batch; freed by st_learnt_done */
    int n_batch;
    int n_used;
    double effective;  /* the least effective number of samples of a batch; 0: the bell at a lowest point was taken */
    bool early_wanted; /* no thing has two early points (before most of it is out) and a late one: D and content cannot
                        * be told apart */
    /* early_wanted: the first thing that lacks such points (lent by its jar), and how many of either it has */
    const char *wanted_of;
    int wanted_early, wanted_late;
};

/* Learn.
 *
 * Given:    batch[n], 1 <= n <= ST_LEARN_BATCHES
 * Returned: *out; st_learnt_done frees what it holds
 * Status:   ST_OK; ST_E_REFUSED no reading says anything (out->n_used is 0; *out may be looked at); ST_E_DOMAIN a jar
 *           cannot be run or a reading is outside what can be; ST_E_NOCONV the search did not come to rest (*out is of
 *           the best found)
 * Notes:
 *   1. Maximum a posteriori, by st_least_squares in units of the prior: sum of rho((y - h)/s) + sum (theta/sd)^2.
 *      rho is that of Student's t with 5 degrees of freedom, so one wild reading counts for little (measured readings
 *      only).  Weights, volumes, hydrometer, refractometer, strength, sugar, acid: normal; colour: lognormal with a
 *      free scale of its own for each batch and ingredient; marks: b0 + b1 ln c, b0 and b1 free for each taster, batch
 *      and ingredient about 5 (2.8) and 2 (1); taste: probit on ln(c/c_like) with c_like free, cut points -0.35 and
 *      +0.35, sd 0.5.
 *   2. Mean and covariance: of samples, weighed by the likelihood, free scales integrated out (learn_sample.c; the same
 *      readings always get the same ones); where they tell too little, the lowest point and the inverse of the second
 *      derivatives there.
 *   3. The sheet's spread is that of one lot: it is parted into that of the ingredient and that from batch to batch
 *      (st_learn_between).  Several batches: each has its own theta about the ingredient's; each batch's information is
 *      taken by itself and put together.  What a new batch will do has the part from batch to batch again, so that
 *      nothing learnt leaves the sheet's spread as it was.
 *   4. No reading widens what was known: a posterior wider than the prior in some direction counts as the prior there.
 *   5. Constants of likelihoods and the 0.3: from memory (infusion practice), wide on purpose.
 * Source:
 *   [gelman2013] for the form; checks: tests/unit/test_learn.c (closed one-parameter case, and coverage on jars of
 *   another, finer model with noise and outliers). */
enum st_status st_learn(const struct st_learn_batch batch[], int n, struct st_learnt *out);
void st_learnt_done(struct st_learnt *l);

/* Give a jar what was learnt: theta.known of each piece of whose ingredient something was learnt, its covariance with
 * the batch-to-batch part.  How many pieces. */
int st_learnt_apply(const struct st_learnt *l, struct st_jar *jar);

/* ln of 1 standard deviation from batch to batch, of a theta whose spread over all lots is sd: 0.3, but no more than
 * 0.6 of sd, as in the content (0.5).  The ingredient's own is what is left: st_learn_own. */
double st_learn_between(double sd);
double st_learn_own(double sd);

#endif
