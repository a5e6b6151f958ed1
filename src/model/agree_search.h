#ifndef ST_MODEL_AGREE_SEARCH_H
#define ST_MODEL_AGREE_SEARCH_H

#include <math.h>

#include "agree_inside.h"

/* For agree*.c only: one drink with its readings, as it is gone through. */

static const double AGREE_NORMAL_975 = 1.959963984540054;
static const struct st_interval AGREE_NOT_KNOWN = { .value = (double)NAN, .low = (double)NAN, .high = (double)NAN };

enum { AGREE_M_MOST = ST_AGREE_MOST + ST_AGREE_NFIG };

/* Room for one search; static sizes, since both are small. */
struct agree_room {
    double work[4 * AGREE_N * AGREE_N + AGREE_M_MOST * AGREE_N + 2 * (AGREE_N + AGREE_M_MOST) +
                (AGREE_N + AGREE_M_MOST) * AGREE_N + 4 * AGREE_N * AGREE_N + 6 * AGREE_N];
};

/* What is gone through. */
struct agree_search {
    struct agree_drink drink;
    const int *of;                    /* [ST_NSEEN] readings of each kind that come along */
    int at[ST_AGREE_MOST];            /* which of the caller's readings the i-th used is */
    double sd_before[ST_AGREE_NFIG];  /* of each figure, as the recipe has it */
    double fig_before[ST_AGREE_NFIG]; /* at the means */
    struct agree_room room;
};

/* With aside: one reading, none, or all of them. */
enum { AGREE_WITH_ALL = -1, AGREE_WITH_NONE = -2 };

/* --- agree.c --- */
/* What the readings that are left make of the drink, from x0 with P; C: covariance after, or NULL.  Values as
 * st_reconcile_readings. */
enum st_status st_agree_fit(struct agree_search *s, const double P[], int aside, struct st_reconciled *out, double C[]);
/* The figures as they are after fit_, each from before[] on. */
void st_agree_tell_figures(const struct agree_search *s, const struct st_reconciled *fit_,
                           const struct st_interval before[], struct st_interval out[]);

/* --- agree_take.c --- */
/* Readings into s->drink, with what each counts with, and into out->reading.  ST_E_DOMAIN as st_agree. */
enum st_status st_agree_take_in(struct agree_search *s, const struct st_observation seen[], int n,
                                const struct st_agree_drained *drained, struct st_agreement *out);

/* --- agree_alone.c --- */
/* measured, p_alone, no_liquid: of the readings without the recipe. */
void st_agree_tell_alone(struct agree_search *s, struct st_agreement *out);

/* --- agree_doubt.c --- */
/* They do not agree: doubt, suspect, rival, slip and the figures without it. */
void st_agree_doubt(struct agree_search *s, const struct st_reconciled *all, struct st_agreement *out);

/* What a reading may show: never less than nothing. */
static inline struct st_interval st_agree_may_show(double value, double u)
{
    return (struct st_interval){ .value = fmax(value, 0.0),
                                 .low = fmax(value - AGREE_NORMAL_975 * u, 0.0),
                                 .high = fmax(value + AGREE_NORMAL_975 * u, 0.0),
                                 .known = true };
}

#endif
