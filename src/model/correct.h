#ifndef ST_MODEL_CORRECT_H
#define ST_MODEL_CORRECT_H

#include "model/clearing.h"
#include "model/kitchen.h"

/* A batch that was measured, put right: what to pour in (and draw off first) so that it comes into its target with a
 * certainty that is asked for.  Readings are uncertain, labels and measures too, and all of that counts.
 * Pure: no I/O, no clock. */

enum { ST_CORRECT_THINGS = 8, ST_CORRECT_NEEDS = 4 };

enum st_correct_figure { ST_CORRECT_STRENGTH, ST_CORRECT_SUGAR, ST_CORRECT_ACID, ST_CORRECT_VOLUME, ST_CORRECT_NFIG };

/* ---- what is in the jar, and what may go in ---- */

/* A liquid by its figures, at 20 C; u: standard uncertainty. */
struct st_correct_liquid {
    double strength, strength_u; /* % vol */
    double sugar, sugar_u;       /* g/L, as sucrose */
    double acid, acid_u;         /* g/L, as citric */
    double correlation;          /* of strength and sugar, -1 .. 1 */
    bool acid_known;             /* false: acid is 0 in all that follows, and tells only what is added */
};

struct st_correct_batch {
    double ml, ml_u;
    struct st_correct_liquid is;
    struct st_oil_part oil[ST_MAX_OILS]; /* of the batch as it stands, g/L */
    int n_oil;
    bool foretold;  /* nothing of it was read: figures and doubts are those of the recipe */
    bool oil_known; /* the oils are all it has; false: what oil it holds is not known */
    bool no_oil;    /* nothing that went into it has any (st_clearing_without_oil) */
};

enum st_correct_kind {
    ST_ADD_SPIRIT,
    ST_ADD_WATER,
    ST_ADD_SUGAR, /* dry */
    ST_ADD_SYRUP,
    ST_ADD_ACID, /* dry */
    ST_ADD_JUICE,
    ST_ADD_POUR,  /* the same fruit's second pour */
    ST_ADD_BATCH, /* another batch, blended in */
    ST_ADD_OTHER
};

enum { ST_CORRECT_DEVIATIONS = 3 };

/* One unit of it is 1 mL of what is poured, 1 g of what is weighed. */
struct st_correct_thing {
    char name[80];
    enum st_correct_kind kind;
    bool by_weight;
    double g[ST_NCOMP];                            /* in a unit */
    double wrong[ST_CORRECT_DEVIATIONS][ST_NCOMP]; /* how g may be wrong: independent, one standard deviation each */
    double have;                                   /* units there are; infinite: as much as one likes */
    double cost;                                   /* of a unit; NAN not known */
    const struct st_line *line; /* how a kitchen measures it, "100 mL vodka 40 %"; NULL: a jug or a scale; lent */
};

/* Fill g and wrong of a poured liquid known by its figures.  ST_E_DOMAIN: so much of all does not fit into a litre. */
enum st_status st_correct_poured(const struct st_correct_liquid *l, struct st_correct_thing *t);
/* Of something dry: all of a gram is component c. */
void st_correct_dry(enum st_component c, struct st_correct_thing *t);

/* ---- what is wished ---- */

struct st_correct_ask {
    struct st_correct_batch batch;
    struct st_correct_thing thing[ST_CORRECT_THINGS];
    int n_thing;
    struct st_correct_wish {
        bool asked;
        double low, high; /* low < high; one end may be infinite */
    } wish[ST_CORRECT_NFIG];
    double certainty;                 /* that all of them are met at once, 0.5 .. 0.999 */
    bool hold;                        /* what nobody asked for stays near, and no certainty is bought (Notes 6 to 8) */
    double jar_ml;                    /* what stands in it while it is poured, too; 0: any */
    double draw_most_ml;              /* so much of the mixed liquid may be drawn off before */
    double digit_g;                   /* of the scale; 0: 1 g */
    const struct st_kitchen *kitchen; /* NULL: exact amounts alone */
    uint64_t seed;
    int draws; /* 0: 4000 */
};

/* ---- what is found ---- */

/* One way to do it, foretold. */
struct st_correct_made {
    double amount[ST_CORRECT_THINGS]; /* units */
    double draw_ml;
    struct st_interval fig[ST_CORRECT_NFIG]; /* 95 %, by draws */
    double each[ST_CORRECT_NFIG], all;       /* share of the draws inside each wish, and all; 1 where none is asked */
    bool met;                                /* all >= certainty, it dissolves, it fits */
    double stands_ml, stands_high_ml;        /* in the jar when all is poured and nothing has mixed; its 97.5 % point */
    double g;                                /* poured in */
    double cost;                             /* NAN not known */
    double w[ST_NCOMP];                      /* mass fractions of the middle */
    double sugar_full;                       /* sucrose in it as a part of what dissolves at 20 C; 0 not known */
    struct st_clear_verdict clear;           /* of the oils that are known; index.known false: none are */
};

enum st_correct_by {
    ST_BY_LEAST,    /* the least that is moved, in grams, poured in or drawn off */
    ST_BY_HELD,     /* of an ask that holds: with what nobody asked for kept as it is, where the least moves it */
    ST_BY_SPIRIT,   /* the least spirit */
    ST_BY_COST,     /* the cheapest, of what has a price */
    ST_BY_NO_WATER, /* the least, without water */
    ST_BY_NO_DRAW,  /* the least, with nothing drawn off */
    ST_BY_BLEND,    /* the least, of other batches alone */
    ST_CORRECT_NBY
};

enum st_correct_none {
    ST_NONE_HERE,        /* there is one */
    ST_NONE_LESS,        /* there is one, less sure than was asked: the surest that is honest (Note 8) */
    ST_NONE_REACHED,     /* none meets the target */
    ST_NONE_SAME,        /* the same as `same` */
    ST_NONE_NOT_APPLIES, /* nothing has a price, there is no other batch, no water, nothing to draw off */
};

struct st_correct_option {
    enum st_correct_none none; /* to be shown: HERE and LESS (st_correct_shown) */
    enum st_correct_by same;
    struct st_correct_made made;
    bool has_kitchen;
    struct st_correct_made kitchen;                 /* as measured: amount[] is of item[] */
    struct st_kitchen_item item[ST_CORRECT_THINGS]; /* ST_TOOL_NONE: none of it */
    int order[ST_CORRECT_THINGS], n_order;          /* what is poured, the least first */
};

static inline bool st_correct_shown(const struct st_correct_option *o)
{
    return o->none == ST_NONE_HERE || o->none == ST_NONE_LESS;
}

/* What would make it reachable. */
enum st_correct_need_of {
    ST_NEED_MORE, /* more of thing[index]: `amount` units in all */
    ST_NEED_DRAW, /* amount mL drawn off first */
    ST_NEED_JAR,  /* a jar that holds amount mL */
    ST_NEED_SPIRIT /* a spirit of `strength` % vol, amount mL of it */,
    ST_NEED_WATER, /* amount mL */
    ST_NEED_SUGAR, /* amount g */
    ST_NEED_ACID   /* amount g */
};
struct st_correct_need {
    enum st_correct_need_of of;
    int index;
    double amount, strength;
    double draw_ml;                 /* that has to be drawn off besides */
    double with[ST_CORRECT_THINGS]; /* units of the ask's things that go in with it; of index, `amount` */
    double digit_g;                 /* only on a scale as fine as that; 0: on the one at hand */
    bool sharp;                     /* only if the readings are better, too */
};

/* What the doubt of the nearest figures comes from. */
enum st_doubt_of { ST_DOUBT_STRENGTH, ST_DOUBT_SUGAR, ST_DOUBT_ACID, ST_DOUBT_VOLUME, ST_DOUBT_ADDED, ST_NDOUBT };

struct st_correct_found {
    struct st_correct_made before; /* nothing done; all: how sure it is there already */
    struct st_correct_option option[ST_CORRECT_NBY];
    bool met;                         /* some option meets it all, or it is near enough */
    bool enough;                      /* it is near enough as it stands (Note 9): the least is to do nothing */
    struct st_correct_option nearest; /* the surest there is; when not met */
    bool by_reading; /* not met, but with the readings exactly so it would be: they are too rough for this certainty */
    double share[ST_NDOUBT]; /* of the variance of the wish that is missed most, of `nearest`, or of the least; sum 1 */
    enum st_correct_figure about; /* that wish */
    double
        needs_u; /* by_reading: with the largest doubt at this standard uncertainty it would be met; 0: not by it alone
                     */
    struct st_correct_need need[ST_CORRECT_NEEDS];
    int n_need;
    int evaluations;
};

/* Put it right.
 *
 * Given:
 *   ask
 * Returned:
 *   *out
 * Status:
 *   the worst of the mixtures; ST_E_DOMAIN  a number that has no meaning (*problem), *out untouched
 * Notes:
 *   1. Masses are added, and volumes follow by st_density_mixture: what shrinks on mixing is in it.
 *   2. For a search, figures are linearised in what is uncertain, so that the certainty is that of a normal law in a
 *      box (Genz' transformation over fixed points: smooth).  The set of amounts that reach a certainty is then nearly
 *      convex, and the least of a linear cost in it is found by cutting planes (st_linear_program).  What is told is by
 *      draws of everything, not linearised, and where these say less than was asked the search is sent on.
 *   3. Amounts are taken as weighed on a scale of digit_g, so the error of an exact amount is that of two readings.
 *      Kitchen amounts have the errors of their tools, one factor for all uses of a tool.
 *   4. An uncertain reading cannot be made good by adding: where the readings are rougher than the target is wide,
 *      nothing reaches the certainty, and `nearest` is the surest there is (to half a hundredth).
 *   5. Draw off first, then add: so the least is thrown away.
 *   6. With hold, every way begins with its plain addition: the least that brings the middle of the figures inside, further by what
 *      their doubt asks for, but no further than the middle of what is wished.  A thing is the dearer in it the more it
 *      moves what nobody asked for.
 *   7. What nobody asked for, strength, sugar, and acid that is known, has a step, that of a figure which is wished for
 *      without a tolerance: 0.5 % vol, 5 g/L, 0.3 g/L or a twentieth (st_aim_stays has the same).  It stays within a step of
 *      where it is and of where the least puts it.  Where the plain addition moves it by more than a step, and keeping it
 *      as it is (within a fifth of one) moves hardly more, by a twentieth, and by less than a hundredth of the batch for
 *      each step beyond the first, the least keeps it; else the least is the plain addition, and ST_BY_HELD stands
 *      beside it.
 *   8. Certainty is not bought: no way moves more than a tenth more than its plain addition (and two thousandths of the
 *      batch), nor draws off where that comes inside without.  Pouring in thins the doubt of a reading as it thins the
 *      drink; a larger batch is no better known, only another drink.  What the reading cannot give is told: the surest
 *      within that (ST_NONE_LESS, of the least and of the one with the rest held), by_reading and needs_u.
 *   9. With hold, what was put right is not put right again: where all middles are inside already, by at most a tenth less surely than the
 *      least would make it, and the least moves no more than five thousandths of the batch or what the scale can tell,
 *      nothing is to be done.  Amounts are poured as they are written, in whole grams and mL, from a jug and of
 *      a label; what that took from the certainty is no reason to pour again.
 * Source:
 *   own; [genz1992] for the box; label errors as st_gauge has them.  Checks: tests/unit/test_correct.c (published
 *   corrections OP016 .. OP028 among them)
 */
enum st_status st_correct(const struct st_correct_ask *ask, struct st_correct_found *out, struct st_problem *problem);

/* What a figure that nobody asked for may move by before it is told (Note 7). */
double st_correct_step(const struct st_correct_ask *ask, enum st_correct_figure f);

/* Foretell given amounts, by draws: amount[n_thing], in units, weighed exactly as digit_g has it. */
enum st_status st_correct_foretell(const struct st_correct_ask *ask, const double amount[], double draw_ml,
                                   struct st_correct_made *out);

/* The two amounts that bring strength and sugar to exactly these, with readings as they stand; below 0: so much would
 * have to be taken out, which nobody can.
 * Returned: amount[2], *ml of all of it.  Status: ST_E_NOCONV no such pair */
enum st_status st_correct_pair(const struct st_correct_batch *b, const struct st_correct_thing *first,
                               const struct st_correct_thing *second, double strength, double sugar, double amount[2],
                               double *ml);

#endif
