#ifndef ST_MODEL_AIM_H
#define ST_MODEL_AIM_H

#include "model/foresee.h"

/* A recipe turned round: which amounts give the bottle that is wished for.  An aim is a recipe, the amounts that may
 * change (dials), the wishes, and the limits that nothing may break.  Pure: no I/O, no clock. */

struct st_rule;
struct st_toxicant;

enum { ST_AIM_WISHES = 8, ST_AIM_GIVEN = 8, ST_AIM_LIMITS = 12, ST_AIM_SOURCES = 6, ST_AIM_STAYS = 4, ST_AIM_STOPS = ST_MAX_DIALS + ST_AIM_LIMITS };

/* What is wanted, in this order, exact amounts (st_aim_solve) and kitchen amounts (st_kitchen_choose) alike:
 *   1. the wishes, each within its tolerance;
 *   2. what nobody asked to change near what the recipe gives as written: strength, sugar, acid and volume, each in
 *      steps of its own (st_aim_stays);
 *   3. amounts near what is written: one that doubles counts as a figure that moves by a step, which is little, since
 *      most amounts move figures by ten to thirty steps as they double.
 * Both 2 and 3 by the root of the sum of squares of all of them together. */

/* The figure low .. high, one end of which may be infinite.  A single one (low = high) counts as met within tolerance
 * either side. */
struct st_wish {
    enum st_figure of;
    double low, high;
    double tolerance; /* > 0: also what a miss of this wish is weighed by against a miss of another */
};

/* Why an amount goes no further. */
enum st_bound {
    ST_BOUND_USUAL, /* a quarter to four times what the recipe has: nobody said more */
    ST_BOUND_ASKED, /* the maker said so */
    ST_BOUND_HAVE,  /* there is no more of it */
    ST_BOUND_NATURE /* no spirit is weaker or stronger than that */
};
struct st_aim_dial {
    struct st_dial dial;
    double low, high; /* as the dial's value: a factor on the amount as written, or % vol; low = high: pinned */
    enum st_bound low_by, high_by;
};

/* What nothing may exceed: at most ST_AIM_GIVEN of the maker and of nature, the rest is for ST_LIMIT_CARRY. */
struct st_aim_limit {
    enum st_limit_of {
        ST_LIMIT_JAR,   /* all that lies in a step together, mL at 20 C: st_jars_at */
        ST_LIMIT_HAVE,  /* one ingredient over several lines: sum of the amounts of the dials in which */
        ST_LIMIT_SUGAR, /* sucrose in the liquid of a step, as a part of what dissolves in it at 20 C: st_jars_at */
        ST_LIMIT_TAKE,  /* what is asked of a step as a part of what it gives, the most of them: st_jars_at */
        ST_LIMIT_CARRY  /* worst case of a toxicant in the drink, as a part of what a rule allows: aim_carry.h */
    } of;
    int step;                    /* ST_LIMIT_JAR, _SUGAR, _TAKE; of the last one that asks */
    unsigned which;              /* ST_LIMIT_HAVE: bit k is dial k */
    int n_source;                /* ST_LIMIT_CARRY */
    double weight[ST_MAX_DIALS]; /* ST_LIMIT_HAVE: base units (g, mL, pieces) a dial of 1 stands for */
    double most;                 /* mL; base units, the amounts without a dial taken off; parts */

    /* ST_LIMIT_CARRY: (rest + sum of part * dial)/(figure per * strength where per_strength) */
    struct st_aim_source {
        int step, line;
        double part; /* of the line as written */
    } source[ST_AIM_SOURCES];
    double rest; /* of the lines that found no room */
    enum st_figure per;
    bool per_strength, as_written; /* as_written: the recipe itself is past the rule; no more than it holds */
    const struct st_toxicant *toxicant;
    const struct st_rule *rule; /* lent by the books */
};

struct st_aim {
    const struct st_recipe *recipe;
    struct st_aim_dial dial[ST_MAX_DIALS];
    struct st_wish wish[ST_AIM_WISHES];
    struct st_aim_limit limit[ST_AIM_LIMITS];
    int n_dial, n_wish, n_limit;
    double pull;      /* weight of staying near the recipe; 0 means 1e-3 (st_aim_solve, Note 2) */
    bool wishes_only; /* what nobody asked to change may go anywhere */
};

/* An aim without dials, wishes, limits. */
void st_aim_init(struct st_aim *a, const struct st_recipe *r);

/* Free a line between a quarter and four times its amount.  False where there is no room or the line has no closed
 * amount; true when it has a dial already. */
bool st_aim_free(struct st_aim *a, int step, int line);
/* Free, or pin (low = high), the strength of the spirit on a line, % vol. */
bool st_aim_free_strength(struct st_aim *a, int step, int line, double low, double high, enum st_bound by);
void st_aim_keep(struct st_aim *a, int step, int line); /* before st_aim_have: limits know dials by number */

/* The usual dials: every measured line of spirit, sugar, syrup and water; with a wish for acid also of acids and
 * juices. Never the fruit.  Returns how many there are now. */
int st_aim_free_usual(struct st_aim *a);

bool st_aim_wish(struct st_aim *a, enum st_figure of, double low, double high, double tolerance);

/* "I have 500 mL of it": the lines of this ingredient together, amounts of the dimension given, base units.
 * False where some line of it is measured otherwise (a weight against a volume), or there is no room. */
bool st_aim_have(struct st_aim *a, const struct st_ingredient *what, enum st_dimension dim, double most);

/* What lies in a step has to fit a vessel of that many mL. */
bool st_aim_jar(struct st_aim *a, int step, double ml);

/* Only what can be made: in no steep, syrup or blend may more sucrose lie in the liquid than ST_AIM_DISSOLVED of what
 * dissolves in it at 20 C (ST_NOTE_CRYSTALLISES; what is left is for rounding to what can be measured), and of no step
 * may more be asked than it gives (ST_NOTE_TAKEN_TOO_MUCH, ST_NOTE_ALREADY_FULL).  What the recipe as written goes past
 * is the maker's own affair and is let pass.  After the dials are named; as far as there is room, the fullest first. */
#define ST_AIM_DISSOLVED 0.94
void st_aim_makeable(struct st_aim *a);

/* What stopped the search. */
struct st_aim_stop {
    int dial;         /* or -1 */
    int limit;        /* or -1 */
    bool upper;       /* of a dial: more would help; else less would */
    enum st_bound by; /* of a dial */
    double at;        /* the bound, as the dial's value, or most of the limit */
    double gain;      /* how much the sum of squares would fall, by the multiplier, if the bound gave way by a tenth
                         (a strength: by 1 % vol); not more than all of it */
};

/* What nobody asked to change, as it is before. */
struct st_stays {
    int n;
    struct st_stay {
        enum st_figure of;
        double at, step;
    } of[ST_AIM_STAYS];
};

struct st_aim_found {
    double value[ST_MAX_DIALS]; /* of each dial */
    double y[ST_NFIG];          /* nominal figures there */
    double miss[ST_AIM_WISHES]; /* by how much each wish is missed, in its unit, below 0: too little; 0: met */
    double score;               /* sum of squares of miss/tolerance */
    bool met;                   /* every wish, and every limit */
    double fill[ST_AIM_LIMITS]; /* what each limit holds */
    struct st_aim_stop stop[ST_AIM_STOPS]; /* only when not met; the most hindering first */
    int n_stop;
    struct st_stays stays; /* st_aim_stays of the recipe as written */
    int evaluations, iterations;
};

/* Solve.
 *
 * Given:
 *   a           at least one dial and one wish
 * Returned:
 *   *out        the amounts that meet all wishes, and of these the ones that change least beside (2 and 3 above);
 *               when none meet them, those that miss them least (squares of misses in tolerances)
 *   *problem    why not, when the status is negative
 * Status:
 *   ST_OK, or the caution of the figures there; ST_E_NOCONV (*out is filled with the best found);
 *   ST_E_REFUSED  the recipe as written cannot be done, a wish is for a figure that this recipe has not (cost without
 *                 prices), or a dial cannot be
 * Notes:
 *   1. st_least_squares on the dials and, for every wish and limit, what it aims at between its ends.  Limits are met
 *      to 1e-6 of themselves: weighed 1,000 times a tolerance, then moved by what is left (multipliers) four times.
 *   2. What shall change little is one more residual each, with a weight of pull: (x - written)/written of every dial,
 *      (y - present)/step of every figure of st_aim_stays.  They shift a wish by about pull^2 times the drift in steps;
 *      where a wish that is met shows more than 0.001 tolerance of it, pull is divided by 10 and it is solved again, at
 *      most twice.
 *   3. ST_LIMIT_SUGAR, ST_LIMIT_TAKE and ST_LIMIT_CARRY join once an answer without them goes past one: they are far from linear, and
 *      most answers are nowhere near.  Sugar is then weighed in grams against what dissolves, and a toxicant against
 *      what the drink may hold, which is nearly linear.
 *   4. A range is aimed at a little inside (a tenth of it, at most a fifth of a tolerance), for what rounding takes.
 *   5. Three starts: as written; half the amounts; all amounts by the volume that is wished for.  The best answer
 *      counts.
 */
enum st_status st_aim_solve(const struct st_aim *a, struct st_aim_found *out, struct st_problem *problem);

/* Ways round what stopped it, each solved again and seen to meet every wish.
 * Given a and what st_aim_solve found (not met).  Returned way[most]; result: how many, most promising first and of
 * different sorts as far as there are. */
struct st_aim_way {
    enum st_way {
        ST_WAY_LOOSEN, /* stop[index] to the value to */
        ST_WAY_FREE,   /* free one more line: dial */
        ST_WAY_YIELD   /* wish[index] to low .. high: the others can be met */
    } way;
    int index;
    struct st_dial dial;
    double to, low, high;
    struct st_aim aim;         /* the aim so changed */
    struct st_aim_found found; /* its answer */
};
int st_aim_ways(const struct st_aim *a, const struct st_aim_found *f, struct st_aim_way way[], int most);

/* ---- what nobody asked to change ---- */

/* Strength, sugar, acid and volume of y[ST_NFIG] (the recipe as written) where they are known and no wish names them, or
 * one that asks for a range in which they lie already:
 * sugar as invert sugar is sugar, and bottles, cost, mass and alcohol in grams tell how large the batch is, as volume
 * does.  A step is the usual tolerance of a wish, 0.5 % vol, 5 g/L of sugar, the larger of 0.3 g/L and 5 % of the acid;
 * but 10 % of the volume, five of them, since how much it makes matters less than what it is.  None with wishes_only.
 */
void st_aim_stays(const struct st_aim *a, const double y[], struct st_stays *out);
/* How far y[ST_NFIG] is from them, in steps, the root of the sum of squares; at x[i*stride] for figure i, so that a
 * column of many points will do.
 */
double st_stays_drift(const struct st_stays *s, const double x[], size_t stride);
/* A wish for it says how large the batch is. */
bool st_wish_sizes_batch(enum st_figure f);

/* ---- what was found, held against a fresh plan ---- */

/* The recipe with the dials of an aim at value[n_dial]: lines and strengths replaced, everything else lent from the
 * recipe, which must outlive it.  NULL: memory ran out.  Free with st_aim_recipe_free. */
struct st_recipe *st_aim_recipe(const struct st_aim *a, const double value[]);
void st_aim_recipe_free(struct st_recipe *r);

/* Share of the draws of a foretold bottle inside each wish, and inside all of them; NAN without draws. */
struct st_aim_odds {
    double each[ST_AIM_WISHES], all;
};
void st_aim_odds(const struct st_aim *a, const struct st_foretold *f, struct st_aim_odds *odds);

/* By how much x misses a wish (below 0: too little), 0 when met. */
double st_wish_miss(const struct st_wish *w, double x);

/* What limits hold, ST_LIMIT_HAVE apart:
 *   ST_LIMIT_JAR    everything that lies in the step together, liquid and pieces, mL at 20 C, when it is mixed and the
 *                   pores are full (as it is filled it stands up to 3 % higher, from memory): the volume that
 *                   ST_NOTE_OVERFULL tells of, nominal
 *   ST_LIMIT_SUGAR  grams of sucrose divided by the grams that its water and ethanol dissolve at 20 C
 *                   (st_sucrose_solubility); 0 where that is not known, as ST_NOTE_CRYSTALLISES has it
 *   ST_LIMIT_TAKE   the most that is asked of something, divided by what there is; only of what dials change
 *   ST_LIMIT_CARRY  what its sources bring into the drink, divided by its figure; 1 is what may be
 *
 * Given:    p, which must outlive it; limit[n], n <= ST_AIM_LIMITS; factor[n_dial] of the plan's dials, NULL: as
 * written Returned: fill[n], that of ST_LIMIT_HAVE untouched; all untouched with ST_E_DOMAIN, where one is not known
 * One thread at a time; st_jars_create returns NULL when memory ran out. */
struct st_jars;
struct st_jars *st_jars_create(const struct st_plan *p, const struct st_aim_limit limit[], int n);
void st_jars_free(struct st_jars *j);
enum st_status st_jars_at(struct st_jars *j, const double factor[], double fill[]);
/* What the last st_jars_at divided by for limit i, g, or the drink of ST_LIMIT_CARRY; 1 for all others. */
double st_jars_room(const struct st_jars *j, int i);
/* With the factors of the last st_jars_at: no step is asked for more than it gives, and nothing that is filled up is
 * over full before (ST_NOTE_TAKEN_TOO_MUCH, ST_NOTE_ALREADY_FULL).  What the recipe as written asks too much of is the
 * maker's own affair and is let pass. */
bool st_jars_can_be_done(const struct st_jars *j);

#endif
