#ifndef ST_MODEL_AGREE_INSIDE_H
#define ST_MODEL_AGREE_INSIDE_H

#include "agree_on.h"
#include "core/drink_reading.h"
#include "core/reconcile.h"

/* For agree*.c only. */

/* The unknowns: grams in the drink, then the errors that readings share. */
enum {
    AGREE_ETHANOL,
    AGREE_SUGAR,
    AGREE_ACID,
    AGREE_OTHER,
    AGREE_WATER,
    AGREE_DRAINED,                                /* of each steep that is strained */
    AGREE_RULE = AGREE_DRAINED + ST_AGREE_STEEPS, /* density as it is, over what the rule says, less 1 */
    AGREE_OPTICS,                                 /* Brix read, less what the rule says */
    AGREE_N
};

struct agree_reading {
    enum st_seen what;
    double T, flask_ml;
    double y, u;
    int steep; /* which is strained, of ST_SEEN_DRAINED_G; -1: nobody said */
};

struct agree_drink {
    double x0[AGREE_N], P[AGREE_N * AGREE_N];
    double share[ST_NCOMP]; /* of its unknown: sugars among themselves, other matter among itself */
    int n_drained;          /* steeps whose drained solids are foretold */
    struct agree_reading reading[ST_AGREE_MOST + ST_AGREE_NFIG]; /* those used, then the figures */
    int n;                                                       /* readings used */
};

/* x0, P and shares from the draws.  ST_E_REFUSED, ST_E_DOMAIN as st_agree. */
enum st_status st_agree_before(struct agree_drink *d, const struct st_foretold *told,
                               const struct st_agree_drained *drained);

/* The unknowns in draw i. */
void st_agree_drawn(const struct st_foretold *told, const struct st_agree_drained *drained, int i, double x[AGREE_N]);

/* Grams of each component at x. */
void st_agree_masses(const struct agree_drink *d, const double x[], double m[ST_NCOMP]);

/* What reading r shows at x; negative where nothing foretells it. */
enum st_status st_agree_shown(const struct agree_drink *d, const double x[], const struct agree_reading *r, double *y);

/* Drinks that came of each other, together: x[n][AGREE_N], P in blocks of AGREE_N. */
struct agree_joint {
    int n;
    double *x, *P; /* owned */
};
bool st_agree_joint_begin(struct agree_joint *t, int n); /* false: no memory; done in every case */
void st_agree_joint_done(struct agree_joint *t);
double *st_agree_joint_block(struct agree_joint *t, int j, int k);
/* As the draws have them; d[n]: of st_agree_before. */
void st_agree_joint_draws(struct agree_joint *t, const struct st_agree_part part[], const struct agree_drink d[]);
/* Drink k is now known to be x1, C1: so all later ones (agree_on.h).  ST_E_NOCONV no memory. */
enum st_status st_agree_joint_learn(struct agree_joint *t, int k, const double x1[], const double C1[]);

/* How many times its own error one of m readings of a kind counts with, where k of that kind come along. */
double st_agree_as_one_of(int k, int m);

/* Whether what is read hangs on the temperature of the liquid. */
bool st_agree_is_warm(enum st_seen what);

/* The first slip that explains reading r, with the unknowns as the others have them: at x; fitted_u: how sure that is. */
enum st_agree_slip st_agree_slip_of(const struct agree_drink *d, const double x[], const struct agree_reading *r,
                                    double fitted_u, double *value);

#endif
