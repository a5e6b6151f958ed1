#ifndef ST_MODEL_LEARN_INSIDE_H
#define ST_MODEL_LEARN_INSIDE_H

#include "core/least_squares.h"
#include "learn.h"

/* For the files of learn_*.c only.  One batch:
 *
 *   latent   each reading's one number that theta decides: a figure in its own unit, or ln c
 *   eta      how the reading lies to it: (seen - foretold)/sd, or ln(c/c_like)
 *   x        what is searched for: thetas that matter, in units of their prior, then free scales, in units of theirs */

enum { ST_LEARN_STARTS = 3, ST_LEARN_FREE_MOST = 14, ST_LEARN_TIMES = ST_SEEN_MOST };

/* Free scales of readings that have the same taster, ingredient and kind: one, or of marks two (b0, b1). */
struct st_learn_scale {
    enum st_seen what;
    int piece;
    const char *by;
    int at;          /* first of its places among the free scales */
    double ln_c_end; /* marks and tastes: ln c at its last reading, before anything was learnt */
    double mean;     /* colour: ln of seen/foretold, on average, before */
};

struct st_learn_one {
    const struct st_learn_batch *batch;
    int n_seen;
    double *time; /* [n_time] rising */
    int n_time;
    bool *used, *late; /* [n_seen]; late: most of it was out then, in the first set of the last run */
    int *scale;        /* [n_seen] which, -1 none */
    struct st_learn_scale scales[ST_LEARN_FREE_MOST];
    int n_scale, n_free;        /* n_free: places of free scales in x */
    double (*prior)[ST_NTHETA]; /* [n_piece] standard deviation, batch to batch part included */
    struct {
        int piece;
        enum st_theta theta;
    } active[ST_LS_MAX];
    int n_active;
    enum st_status status; /* of the last run that failed */
    double x[ST_LS_MAX];   /* the lowest point */
    double other[ST_LEARN_STARTS][ST_LS_MAX];
    int n_other;                                   /* other low points */
    double effective;                              /* effective number of samples; 0: none were taken */
    double *latent0, *latent;                      /* [n_seen] before, and at x */
    double P[ST_LS_MAX * ST_LS_MAX], h[ST_LS_MAX]; /* information on the active thetas, natural form */
};

/* ---- learn_foretell.c ---- */
/* Which readings can be used, their times and scales.  False: no memory. */
bool st_learn_prepare(struct st_learn_one *o);
/* Latents of n sets theta[n][n_piece][ST_NTHETA]: latent[n][n_seen], NAN where a reading is not used. */
enum st_status st_learn_latents(struct st_learn_one *o, int n, const double theta[], double latent[]);

/* ---- learn_fit.c ---- */
/* eta and the residual whose half square is the negative log likelihood; curvature: its second derivative by eta, not
 * below 0; slope: d eta/d latent.  free_[n_free]: free scales, in their own units; dfree[2]: d eta by the reading's. */
struct st_learn_eta {
    double eta, residual, dresidual /* by eta */, curvature, slope, dfree[2], sd;
};
void st_learn_eta(const struct st_learn_one *o, int seen, double latent, const double free_[],
                  struct st_learn_eta *out);
/* Free scales in their own units: x_free[n_free] in standard deviations of theirs. */
void st_learn_free(const struct st_learn_one *o, const double x_free[], double free_[]);
double st_learn_width(const struct st_learn_scale *s, int place); /* that standard deviation; of marks place 0 or 1 */
double st_learn_least_slope(void);                                /* of marks, in place 1 */
/* Prior standard deviation of active theta k; the thetas [n_piece][ST_NTHETA] of an x. */
double st_learn_prior(const struct st_learn_one *o, int k);
void st_learn_theta(const struct st_learn_one *o, const double x[], double theta[]);

/* ---- learn_marginal.c ---- */
/* Negative log likelihood of latents, the free scales integrated out, up to a constant; INFINITY where it is not to be
 * had. */
double st_learn_marginal(const struct st_learn_one *o, const double latent[]);

/* ---- learn_sample.c ---- */
/* P and h by samples, from P and h by the curvature at the lowest point.  False, and P and h as they were, when the
 * samples are too few to tell. */
bool st_learn_sample(struct st_learn_one *o);

/* ---- learn_matrix.c ---- */
/* Cholesky in place (lower; the rest is left), half and whole of the solution with such a factor, any size. */
bool st_learn_factor(int n, double *A);
void st_learn_forward(int n, const double *L, double *b);
void st_learn_solve(int n, const double *L, double *b);
/* No principal value of the symmetric S[n*n], n <= ST_LS_MAX, above `most`. */
void st_learn_bound(int n, double S[], double most);

/* ---- learn_fit.c ---- */
/* The lowest point, and the information there. */
enum st_status st_learn_fit(struct st_learn_one *o);

#endif
