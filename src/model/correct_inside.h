#ifndef ST_MODEL_CORRECT_INSIDE_H
#define ST_MODEL_CORRECT_INSIDE_H

#include "correct.h"

/* For the files correct*.c of model only. */

enum {
    ST_CORRECT_VARIABLES = ST_CORRECT_THINGS + 1, /* and what is drawn off, the last */
    /* volume, liquid, draw; of each thing its measure and its liquid; tools */
    ST_CORRECT_INPUTS = 2 + ST_CORRECT_DEVIATIONS + ST_CORRECT_THINGS * (1 + ST_CORRECT_DEVIATIONS) + ST_NTOOL
};

/* Volume of a gram of dry sugar or acid before it is dissolved: crystals of about 1.55 g/mL, from memory. */
#define ST_CORRECT_DRY_ML 0.64

/* How an amount is measured: standard deviations. */
struct st_correct_measure {
    double own;   /* of this filling, units */
    double scale; /* of the tool, a part: the same for all its uses */
    enum st_tool tool;
};

/* Amounts with how they are measured. */
struct st_correct_point {
    double x[ST_CORRECT_THINGS], draw_ml;
    struct st_correct_measure with[ST_CORRECT_THINGS], draw_with;
};

/* The plain addition of an ask that holds (correct.h, Notes 6 to 8). */
struct st_correct_plain {
    bool known, reaches; /* reckoned; the middle comes inside at all */
    bool moves;          /* it moves something that nobody asked for by more than a step */
    bool holds;          /* the rest can be held where it is */
    bool held;           /* the least does so; false: it is the plain addition */
    double x[ST_CORRECT_VARIABLES], held_x[ST_CORRECT_VARIABLES];
    double y[ST_CORRECT_NFIG];         /* where x puts the middle */
    double cost[ST_CORRECT_VARIABLES]; /* what drifts is dearer */
};

/* What is reckoned once for an ask. */
struct st_correct_base {
    const struct st_correct_ask *ask;
    double c[ST_NCOMP];                            /* grams in a mL of the batch */
    double wrong[ST_CORRECT_DEVIATIONS][ST_NCOMP]; /* as of a thing */
    double ml_of[ST_CORRECT_THINGS];               /* a unit by itself */
    double g_of[ST_CORRECT_THINGS];
    double batch_g_ml;
    struct st_correct_plain plain[2]; /* of an ask that holds: with nothing drawn off, and with */
    int evaluations;
};

/* ---- correct_liquid.c ---- */
/* ST_E_DOMAIN and *what: a name of what has no meaning. */
enum st_status st_correct_begin(const struct st_correct_ask *ask, struct st_correct_base *b, const char **what);
/* Strength, sugar, acid and volume of masses m[ST_NCOMP] in g: y[ST_CORRECT_NFIG]; of n at once: m[c*stride + i],
 * y[f*stride + i]. */
enum st_status st_correct_figures(size_t n, size_t stride, const double m[], double y[]);
void st_correct_masses(const struct st_correct_base *b, const double x[], double draw_ml, double m[ST_NCOMP]);
/* As weighed exactly, what is drawn off by a jug. */
void st_correct_weighed(const struct st_correct_base *b, const double x[], double draw_ml, struct st_correct_point *p);
struct st_correct_measure st_correct_by_jug(double ml);

/* ---- correct_odds.c ---- */
/* Figures and what each input does to them, one standard deviation each, linearised. */
struct st_correct_linear {
    double y[ST_CORRECT_NFIG], by[ST_CORRECT_INPUTS][ST_CORRECT_NFIG];
    double sd[ST_CORRECT_NFIG];
};
enum st_status st_correct_linearise(struct st_correct_base *b, const struct st_correct_point *p,
                                    struct st_correct_linear *l);
/* Of a figure, with the little that is always in doubt. */
double st_correct_sd(const struct st_correct_linear *l, int f);
/* The deviate of the probability that all wishes are met, at most 8; far out (ST_CORRECT_FAR), of the end that is
 * missed most by itself. */
#define ST_CORRECT_FAR   (-5.0)
#define ST_CORRECT_FAR_P 2.866515718791939e-07 /* P(Z <= -5) */
double st_correct_deviate(const struct st_correct_ask *ask, const struct st_correct_linear *l);
/* Probability that a normal law lies in a box: n <= 4, S row-major. */
double st_normal_box(int n, const double mean[], const double S[], const double low[], const double high[]);
double st_normal_probability(double z);

/* ---- correct_draw.c ---- */
struct st_correct_draws; /* random numbers and batches, drawn once */
struct st_correct_draws *st_correct_draws_create(const struct st_correct_base *b); /* NULL: memory ran out */
void st_correct_draws_free(struct st_correct_draws *d);
/* All of *out but cost of what has none. */
enum st_status st_correct_draw(struct st_correct_draws *d, const struct st_correct_point *p,
                               struct st_correct_made *out);

/* ---- correct_solve.c ---- */
struct st_correct_search {
    struct st_correct_base *base;
    double cost[ST_CORRECT_VARIABLES];                  /* of a unit, a mL drawn off: all above 0 */
    double most[ST_CORRECT_VARIABLES];                  /* 0: not to be used */
    double z;                                           /* the deviate to be reached */
    double low[ST_CORRECT_NFIG], high[ST_CORRECT_NFIG]; /* where the middle has to lie; infinite: anywhere */
    double moved_most_g;                                /* poured in and drawn off; infinite: any */
    bool middle; /* the middle alone: wishes, certainty and doubts count for nothing */
};
/* ST_OK; ST_E_REFUSED nothing reaches it. */
enum st_status st_correct_cheapest(const struct st_correct_search *s, double x[ST_CORRECT_VARIABLES]);
/* The largest deviate that can be reached, up to s->z, to 0.01 (below -8: to a tenth of it). */
double st_correct_reach(const struct st_correct_search *s);
/* Costs and limits of one way; false where it does not apply. */
bool st_correct_way(struct st_correct_base *b, enum st_correct_by by, struct st_correct_search *s);

/* ---- correct_plain.c ---- */
/* The search of a way; of an ask that holds within what is honest.  draw: the way may draw off.
 * ST_NONE_HERE; ST_NONE_NOT_APPLIES; ST_NONE_REACHED not even the middle comes inside. */
enum st_correct_none st_correct_honest(struct st_correct_base *b, enum st_correct_by by, bool draw,
                                       struct st_correct_search *s);
/* The same of the least where nothing comes inside: as near as the middle can come. */
void st_correct_near(struct st_correct_base *b, bool draw, struct st_correct_search *s);
/* Whether the least reaches z, and how. */
bool st_correct_meets(const struct st_correct_ask *ask, double z, double x[ST_CORRECT_VARIABLES]);

/* ---- correct_need.c ---- */
void st_correct_needs(const struct st_correct_base *b, double z, struct st_correct_found *out);

/* ---- correct_kitchen.c ---- */
/* The amounts of o->made as a kitchen measures them: item[], kitchen, has_kitchen. */
void st_correct_kitchen(struct st_correct_base *b, struct st_correct_draws *d, const struct st_correct_search *s,
                        struct st_correct_option *o);

#endif
