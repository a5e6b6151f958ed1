#ifndef ST_MODEL_KITCHEN_INSIDE_H
#define ST_MODEL_KITCHEN_INSIDE_H

#include "kitchen.h"

/* For the files kitchen_*.c of model only. */

/* ---- kitchen_kept.c ---- */
/* Within all tolerances, as st_wish_miss judges: a hair beyond counts. */
#define ST_KITCHEN_WITHIN (1.0 + 1e-6)

/* Keep the least far: at most `keep` that are within, or else one alone.  point[keep]. */
void st_points_keep(struct st_kitchen_point point[], int *n, int keep, const struct st_kitchen_point *p);

struct st_box {
    double bound;
    unsigned short depth; /* how often it was halved */
    bool done;            /* all of it can be done, so nobody need ask again */
    unsigned short first[ST_MAX_DIALS], last[ST_MAX_DIALS];
    unsigned rises[ST_KITCHEN_FIGURES], falls[ST_KITCHEN_FIGURES]; /* of each figure */
    float loose[ST_MAX_DIALS]; /* by how many tolerances the slopes along a dial leave a figure open */
};

struct st_boxes {
    bool by_bound; /* else, of bounds that are nearly the same, the deeper box goes first: points are found early */
    struct st_box *box;
    long n, cap;
};
void st_boxes_by_bound(struct st_boxes *q);                     /* from now on */
bool st_boxes_push(struct st_boxes *q, const struct st_box *b); /* false: memory ran out */
struct st_box st_boxes_pop(struct st_boxes *q);                 /* q->n > 0 */

/* ---- kitchen_hold.c ----
 * What can be done, over whole boxes: enclosures of what jars hold and of what is taken out of a step. */
struct st_hold;
struct st_hold *st_hold_create(const struct st_jars *j); /* NULL: nothing to hold, or no memory */
void st_hold_free(struct st_hold *h);
/* True: no amounts between low[] and high[] can be done, or every one holds more than most[] in some jar. */
bool st_hold_never(struct st_hold *h, const double low[], const double high[], const double most[]);
/* True: all of the box that was asked about last can be done. */
bool st_hold_always(const struct st_hold *h, const double most[]);

/* ---- kitchen_rank.c ---- */
void st_making_tools(const struct st_aim *a, struct st_making *m);        /* counts tools and fuss */
double st_making_linear(const struct st_aim *a, const struct st_plan *p); /* NAN: memory ran out */
/* With draw: probabilities, figures, score, drift, met of m->item; without: linear alone. */
enum st_status st_making_draw(const struct st_aim *a, const struct st_stays *stays, const struct st_kitchen *kitchen,
                              const struct st_options *o, bool draw, struct st_making *m);
/* What makings are ranked by (st_kitchen_choose, Note 2). */
double st_making_worth(const struct st_making *m);
/* The best by that of the points of a search, at most `draw` of them drawn for. */
enum st_status st_kitchen_rank(const struct st_aim *a, const struct st_stays *stays, const struct st_kitchen *kitchen,
                               const struct st_kitchen_grid grid[], const struct st_kitchen_result *r, int draw,
                               const struct st_options *o, struct st_making *best, int *drawn);

#endif
