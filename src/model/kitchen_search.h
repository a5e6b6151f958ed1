#ifndef ST_MODEL_KITCHEN_SEARCH_H
#define ST_MODEL_KITCHEN_SEARCH_H

#include "kitchen_inside.h"

/* What only kitchen_search.c and kitchen_polish.c share. */

enum { LEAF = 24, BATCH = 512, MOST_POP = 24, MOST_POLISH = 6 };

struct search {
    const struct st_kitchen_ask *ask;
    const struct st_aim *aim;
    int n_dial;
    enum st_figure figure[ST_KITCHEN_FIGURES]; /* of the wishes and of what nobody asked to change, none twice */
    double per[ST_KITCHEN_FIGURES];            /* what a unit of it weighs, in tolerances */
    int n_figure;
    struct st_plan *plan;
    struct st_plan_room *room;
    struct st_enclosure *bound;
    struct st_jars *jars;
    struct st_hold *hold; /* NULL: nothing to hold */
    int n_polish;
    double weight[ST_MAX_DIALS]; /* how far a unit of the dial moves a figure at most, in tolerances */
    double written[ST_MAX_DIALS];
    struct st_boxes open;
    struct st_kitchen_point *point; /* n_point <= keep, kept as a heap with the worst on top, but for the last sort */
    int n_point;
    double within, best; /* best: the least far */
    double beat;         /* known from near by: nothing above is wanted */
    double closed;       /* least bound of what was dropped and is not in point[] */
    long nodes, evaluations;
    bool failed, cut;
    double *factor, *y; /* BATCH points */
};

/* Points of many boxes, reckoned at once. */
struct batch {
    size_t n;
    struct {
        struct st_box *box;
        int figure;
        bool high;
    } corner[BATCH]; /* box NULL: a point of a leaf */
    unsigned short at[BATCH][ST_MAX_DIALS];
    struct st_interval_of y[2 * MOST_POP][ST_KITCHEN_FIGURES]; /* of each box being bounded */
    struct st_box box[2 * MOST_POP];
    int n_box;
};

void st_search_flush(struct search *s, struct batch *q);
/* All points of a box. */
void st_search_enumerate(struct search *s, const struct st_box *b, struct batch *q);

/* One end of a box along dial k. */
static inline double st_search_end(const struct search *s, const struct st_box *b, int k, bool high)
{
    return s->ask->grid[k].item[high ? b->last[k] : b->first[k]].factor;
}

/* Room for a point of a box among those to be reckoned.  Not across a flush: a box must be bounded whole. */
unsigned short *st_search_point(struct batch *q, struct st_box *b, int figure, bool high);

/* ---- kitchen_promise.c ---- */
/* Points that bound a box, put among those to be reckoned; then, when they are, its bound. */
void st_search_begin_bound(struct search *s, struct st_box *b, struct batch *q);
double st_search_bound(const struct search *s, const struct st_box *b, const struct st_interval_of y[]);

/* ---- kitchen_polish.c ---- */
void st_search_try_near(struct search *s, struct batch *q);
void st_search_polish(struct search *s, struct batch *q);

#endif
