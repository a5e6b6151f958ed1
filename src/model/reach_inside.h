#ifndef ST_MODEL_REACH_INSIDE_H
#define ST_MODEL_REACH_INSIDE_H

#include "reach.h"

/* For reach.c and reach_fit.c alone. */

/* A lot that may serve a line. */
struct st_fit {
    int holding, rank;   /* rank: 0 the same, 1 of the same strength, 2 stronger, 3 weaker */
    struct st_range per; /* units of the lot for one unit of the line */
    bool crossed, other_strength, part;
    bool unwritten; /* the recipe wants a strength, and nobody wrote that of the lot */
    double strength;
    double water_ml; /* for one unit of the line */
    const struct st_holding *of;
};

/* The lots for a line, first to be used first, in fit[n]; x gets n_past, n_weak, n_unlike and strength. */
int st_reach_fits(const struct st_line *l, struct st_reach_line *x, const struct st_holding held[], int n, long today,
                  struct st_fit fit[]);

#endif
