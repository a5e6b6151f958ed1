#ifndef ST_MODEL_KITCHEN_H
#define ST_MODEL_KITCHEN_H

#include "model/aim.h"

/* Amounts that a kitchen can measure: of all makings from the fillings of the tools at hand, those that meet the wishes
 * of an aim best, proven, and of these the surest.  Pure: no I/O, no clock. */

/* ---- the kitchen ---- */

enum { ST_KITCHEN_SIZES = 8 };

struct st_kitchen {
    enum st_measures measures; /* whose cups and spoons */
    bool cups, tablespoons, teaspoons, jug, scale, pieces, dropper;
    double jug_step_ml, jug_most_ml; /* marks: every step; from the 20th every 2.5, from the 50th every 5 of them */
    double scale_step_g, scale_most_g;
    double jigger_ml[ST_KITCHEN_SIZES];
    double bottle_ml[ST_KITCHEN_SIZES]; /* spirits as sold */
    int n_jigger, n_bottle;
    struct st_tools tools; /* own tolerances and the scale's digit; they go before the recipe's */
};

/* The usual one: cups and their parts, spoons, a jug, a scale of 5 g, bottles as sold, no jigger, no dropper. */
void st_kitchen_usual(struct st_kitchen *k, enum st_measures m);

/* ---- what can be measured of one line ---- */

struct st_kitchen_item {
    double factor; /* of the line as written; of a strength dial: % vol */
    double amount; /* base units of dim */
    enum st_dimension dim;
    enum st_tool tool; /* ST_TOOL_NONE: as written, nothing is measured anew */
    const struct st_unit *unit;
    double written, fills; /* in the unit: 1.25 cups, two fillings */
    double size;           /* of one bottle or jigger, mL; else 0 */
    double fuss;           /* 0 a whole measure; the higher the odder */
};
enum { ST_KITCHEN_GRID = 400 };
struct st_kitchen_grid {
    int n;
    struct st_kitchen_item item[ST_KITCHEN_GRID]; /* rising, no factor twice */
};

/* Which tools a grid may use: bit 1u << enum st_tool. */
#define ST_KITCHEN_ALL 0xFFFFFFFFu
enum st_kitchen_grain {
    ST_GRAIN_FINE,
    ST_GRAIN_ROUND /* whole and half cups, jug by 50 mL, scale by 25 g ... */,
    ST_GRAIN_WHOLE /* spirits by the bottle, fruit by the piece, the rest fine */
};

/* The grid of dial k of an aim between its bounds; empty: nothing in this kitchen measures it there.
 * Notes:
 *   1. Spirits: bottles, jug, jigger, cups and spoons; liquids jug, cups and spoons; solids scale, cups and spoons
 * where the weight of a cup is known; what is counted in pieces, whole pieces.  A pinned dial has one item: as written.
 *   2. A line weighed as bought, told hot, heaped or as a range keeps its dimension.
 *   3. Where two tools measure the same amount within 0.5 %, one stands: the scale before cups and spoons, else the
 * one with the fewest fillings, and of these the one with the least fuss.
 */
void st_kitchen_grid(const struct st_aim *a, int k, const struct st_kitchen *kitchen, unsigned tools,
                     enum st_kitchen_grain grain, struct st_kitchen_grid *out);

/* The same amount on a scale of step_g; false where the line cannot be weighed, or is nothing then. */
bool st_kitchen_weighed(const struct st_aim *a, int k, double factor, double step_g, struct st_kitchen_item *out);

/* The recipe with item[n_dial] in place of its amounts: tool, fillings and unit too, and the kitchen's tolerances.
 * NULL: memory ran out.  Free with st_aim_recipe_free. */
struct st_recipe *st_kitchen_recipe(const struct st_aim *a, const struct st_kitchen *kitchen,
                                    const struct st_kitchen_item item[]);

/* ---- score ---- */

/* How far x is from a wish, in tolerances: |x - wish|/tolerance of a single figure; of a range 1 at its ends, and
 * inside less by the distance to the nearer end, down to 0.  At most 1: met.  Rising outside, so it can be bounded. */
double st_kitchen_miss(const struct st_wish *w, double x);
/* The same, the least it can be for x in low .. high. */
double st_kitchen_miss_least(const struct st_wish *w, double low, double high);

/* How far amounts are from what is wanted (aim.h), in tolerances:
 *   within all wishes   the greatest miss + aside/4
 *   else                1000 + the greatest miss + aside/400
 * with aside the root of the sum of squares of (y - present)/step of what nobody asked to change (st_aim_stays) and of
 * (x - written)/written of the dials, as in st_aim_solve: a step of an unasked figure weighs a quarter of what a
 * tolerance of a wish weighs inside it, and none is so far that a wish would be missed for it.  Rising in miss and
 * aside, so it can be bounded. */
#define ST_KITCHEN_MISSED 1000.0
double st_kitchen_far(double miss, double aside);

/* ---- enclosures ----
 *
 * Figures over a box of dials, by the plan's sharp tape in interval arithmetic, rounded outward.
 *
 * Why it holds:
 *   1. Sums, products, quotients, minima and maxima: interval arithmetic.
 *   2. Density: V(m) = mass/density is homogeneous of degree 1 in the masses m, and its partial volumes dV/dm_i lie
 * within positive limits (kitchen_mixture.c, table PARTIAL; scanned in the tests), so V rises in every mass and lies
 * between its values at the low and the high corner.
 *   3. X/V with X = sum c_i m_i, c_i >= 0: its derivative to m_i has the sign of c_i V - X v_i; where the intervals of
 *      these tell the sign, the corner is known; elsewhere the m_i of X and of V are taken apart.
 *   4. Derivatives to the dials run along (forward mode).  Where one keeps its sign over a box the figure is monotone
 * in that dial there, and in every box inside: its extremes are then two points of the tape itself.  Along the other
 * dials a figure is at least its value at their low end plus the least slope times the way, where that is negative.
 */
struct st_interval_of {
    double low, high;
};
struct st_enclosure;
struct st_enclosure *st_enclosure_create(const struct st_plan *p, const enum st_figure figure[],
                                         int n_figure); /* NULL: no memory */
void st_enclosure_free(struct st_enclosure *b);
/* Enclosure of each figure over low[n_dial] .. high[n_dial]; unbounded where there is none. */
void st_enclosure_run(struct st_enclosure *b, const double low[], const double high[], struct st_interval_of y[]);
/* Enclosure of the slope of each figure along each dial k of `ask` (bit 1u << k) anywhere in the box; the others'
 * untouched. */
void st_enclosure_slopes(struct st_enclosure *b, const double low[], const double high[], unsigned ask,
                         struct st_interval_of slope[][ST_MAX_DIALS]);

/* ---- search ---- */

enum { ST_KITCHEN_KEEP = 160, ST_KITCHEN_FIGURES = ST_AIM_WISHES + ST_AIM_STAYS };

struct st_kitchen_ask {
    const struct st_aim *aim;
    const struct st_kitchen_grid *grid; /* [n_dial] */
    const struct st_stays *stays;       /* what nobody asked to change; NULL: the wishes alone, and no change counts */
    int keep;                           /* how many points are wanted */
    bool only_within;                   /* nothing that misses a wish is wanted */
    bool count;                         /* find how many are within all tolerances, too: slower */
    double gap; /* the best need be proven only so far, in tolerances, after exact_nodes boxes; usually 0 */
    long exact_nodes, deep_nodes; /* so many boxes are opened deep first, to have something to beat */
    long most_nodes;              /* of boxes; 0: 1,000,000 */
    const double *near;           /* [n_dial], may be NULL: where to look first */
};
struct st_kitchen_point {
    unsigned short at[ST_MAX_DIALS]; /* item of each grid */
    double score;                    /* the greatest miss of a wish */
    double far;                      /* st_kitchen_far */
    double y[ST_NFIG];
};
struct st_kitchen_result {
    struct st_kitchen_point
        *point; /* [n_point], best first: all within every tolerance up to keep; else the best alone */
    int n_point;
    double within; /* how many are within all; at least so many unless counted */
    bool counted;
    double points; /* in the grid */
    long nodes, evaluations;
    double bound; /* nothing is less far than this that is not in point[] */
    bool proven;  /* the first is the best there is, but for less than the gap: bound tells */
};

/* Branch and bound, best bound first.
 * Status: ST_OK; ST_E_NOCONV memory or nodes ran out, *out holds the best found; ST_E_REFUSED the aim cannot be
 * planned, or a grid is empty (*problem), *out is empty then.  st_kitchen_result_done in every case. */
enum st_status st_kitchen_search(const struct st_kitchen_ask *ask, struct st_kitchen_result *out,
                                 struct st_problem *problem);
void st_kitchen_result_done(struct st_kitchen_result *r);

/* ---- the surest ---- */

/* One way to measure it all. */
struct st_making {
    struct st_kitchen_item item[ST_MAX_DIALS];
    double score; /* the greatest miss of a wish */
    double drift; /* of what nobody asked to change: st_stays_drift */
    double y[ST_NFIG];
    double linear; /* probability inside all wishes by linearised variance; NAN not reckoned */
    double joint;  /* by draws */
    double each[ST_AIM_WISHES];
    int tools; /* how many different tools it takes */
    double fuss;
    bool met;
};

enum st_alternative { ST_ALT_FEWER, ST_ALT_WEIGH, ST_ALT_ROUND, ST_ALT_WHOLE, ST_NALT };
/* Why there is none of a kind. */
enum st_why_none {
    ST_WHY_NOT_INSIDE,    /* none was found inside all wishes */
    ST_WHY_SAME,          /* the same amounts as one above */
    ST_WHY_ALREADY,       /* one tool, weighed, or as round, already */
    ST_WHY_NOT_SURER,     /* weighing none makes it surer by a hundredth */
    ST_WHY_LIMIT,         /* what was found would pass a limit of what the drink may hold */
    ST_WHY_NOTHING_WHOLE, /* no spirit in bottles nor fruit in pieces among what may change */
};
struct st_kitchen_choice {
    struct st_stays stays; /* what nobody asked to change */
    struct st_making best;
    struct st_making second;  /* the least far, for comparison */
    struct st_making rounded; /* each amount by itself to the nearest that can be measured */
    struct st_making other[ST_NALT];
    bool has[ST_NALT];
    enum st_why_none why[ST_NALT];   /* where there is none */
    int weighed;                     /* ST_ALT_WEIGH: which dial */
    bool volume_let_go[ST_NALT];     /* this one could be had only with the wish for volume let go */
    struct st_kitchen_result search; /* of the best; its points */
    int n_ranked, n_drawn;
};

/* The surest way to measure the amounts of an aim in a kitchen, and what stands beside it.
 *
 * Given:    a; kitchen; value[n_dial] the exact amounts (st_aim_solve); o: seed and draws
 * Returned: *out; st_kitchen_choice_done afterwards in every case
 * Status:   ST_OK: none is less far by an eighth of a tolerance; ST_E_NOCONV that is not proven; ST_E_REFUSED with
 * *problem Notes:
 *   1. The points within all wishes, at most 160 of the least far that were met (st_kitchen_far), are ranked by
 * linearised variance; the 16 best of them by 1,000 draws, with the errors of their own tools; what is told, by all
 * draws.  The same seed draws the same errors for all.
 *   2. Ranked, here and against the alternatives, by the share of makings inside the wishes less 0.05 for each
 * tolerance of drift: one making in twenty is given for a tolerance that unasked figures come nearer.
 *   3. None within: the one that misses least.
 *   4. A budget in boxes (10,000; of each search beside it 1,500; with more than six amounts
 * fewer, by the square of their number), not in time: where it ends the search, search.bound tells
 * how much better something else could be.
 *   5. Where no size of the batch is wished for, it is kept between 0.8 and 1.25 of what value[] makes.
 */
enum st_status st_kitchen_choose(const struct st_aim *a, const struct st_kitchen *kitchen, const double value[],
                                 const struct st_options *o, struct st_kitchen_choice *out, struct st_problem *problem);
void st_kitchen_choice_done(struct st_kitchen_choice *c);

#endif
