#ifndef ST_MODEL_JAR_H
#define ST_MODEL_JAR_H

#include "core/bath.h"
#include "model/compound.h"
#include "model/foresee.h"
#include "model/habit.h"

/* A jar over time: what comes out of each ingredient, when, at which strength and warmth, and how sure that is.
 *
 * A jar is a row of stages.  In each, pieces lie in one well mixed liquid; at its end they are strained off, or the
 * next stage goes on with both.  So one thing put in late is a piece of a later stage, one strained out early is a
 * piece that does not lie in the next, sugar first and spirit later are two stages of which the second has the pour,
 * spent fruit steeped again is a stage that takes the piece but not the liquor.  A stage that pours liquor into a later
 * one may be another jar: stages are in an order in which each takes only from earlier ones, and the last is the jar.
 *
 * struct st_jar is plain: copy it, change the copy, run both; the recipe is not touched.  The same seed gives both the
 * same draws, so that their difference is that of the change. */

enum {
    ST_JAR_PIECES = ST_BATH_PIECES,
    ST_JAR_POURS = 32,
    ST_JAR_STAGES = 16,
    ST_JAR_TAKES = 8, /* of one stage */
    ST_JAR_HEATS = 16,
    ST_JAR_TIMES = 400, /* most times asked for */
    ST_JAR_DRAWS = 4000
};

/* What goes in, grams of each component; where it comes from a recipe, drawn together with foresee's figures. */
struct st_jar_goods {
    double g[ST_NCOMP];   /* the middle */
    double times;         /* without a recipe: x/: one standard deviation of the whole amount; 0 and 1 sharp */
    int column[ST_NCOMP]; /* of the source; -1: none, use g */
};

/* What was learnt of a piece (learn.h): a normal distribution of theta in the place of the prior. */
struct st_theta_known {
    bool known; /* false: the prior */
    double mean[ST_NTHETA], cov[ST_NTHETA * ST_NTHETA];
};

struct st_jar_marker {
    const struct st_compound *what;
    struct st_range mg_g; /* as the sheet has it; mg/L are told only where a content is known (oil_content.h) */
};

struct st_jar_piece {
    const char *name;                 /* lent */
    const struct st_ingredient *what; /* NULL for a piece made by hand */
    enum st_kind kind;                /* whose habits it has: turn fresh into frozen fruit here */
    enum st_cut cut;
    bool cut_said;              /* false: nobody said how it is cut; taken as bought */
    double size_mm;             /* half thickness or radius, when it is known better than by its cut; 0 */
    struct st_jar_goods goods;  /* net, as it goes in */
    double factor;              /* of the amount, for what-ifs; 1 */
    struct st_range retention;  /* g of liquor kept by 1 g weighed in; known */
    double lies[ST_JAR_STAGES]; /* share of it that lies in each stage; 0 not there, 1 all of it */
    struct st_theta_known theta;
    struct st_jar_marker marker[ST_MAX_FLAGS];
    int n_marker;
    int step, line; /* of the recipe; -1 */
};

struct st_jar_pour {
    const char *name;
    const struct st_ingredient *what; /* NULL: by hand */
    struct st_jar_goods goods;
    double factor;           /* of the amount; 1 */
    double strength_pct_vol; /* NAN: as it is; else the same volume of a spirit of this strength (only where it is
                              * ethanol and water: st_jar_pour_is_spirit) */
    int stage, step, line;
};

/* Liquor of an earlier stage, all of it or a share. */
struct st_jar_take {
    int from;
    double share;
    int column; /* of the source: the share; -1 */
};

struct st_jar_heat {
    double t_s, T_K; /* since the stage began; linear between, level before the first and after the last; two at one
                      * time: at once from the one to the other */
};

struct st_jar_stage {
    const char *id;
    int step;                   /* of the recipe; -1 */
    double time_s;              /* how long; the last stage may run on (until_s) */
    double time_low, time_high; /* as written, s */
    bool time_said;             /* false: nobody said how long; 30 days are taken */
    struct st_range temperature_K;
    bool temperature_said; /* false: 20 C, 16..24 */
    struct st_jar_heat heat[ST_JAR_HEATS];
    int n_heat;  /* 0: temperature_K throughout */
    bool steeps; /* false: a blend, a rest, a racking between two jars: nothing is exchanged, time passes */
    bool strain; /* at the end; false: the next stage that takes it goes on with what lies in it */
    bool press;
    struct st_range press_share;      /* known, when press */
    struct st_range drained_solids_g; /* known: weighed by the maker, instead of the retentions */
    bool still;   /* never shaken or turned: the liquid at the pieces is renewed slowly (Biot 2 to 10, from memory) */
    double keeps; /* share of the liquid that is not lost at the end (film, filter, lees) */
    struct st_jar_take take[ST_JAR_TAKES];
    int n_take;
};

struct st_jar_source; /* draws of a recipe's amounts */

struct st_jar {
    struct st_jar_piece piece[ST_JAR_PIECES];
    struct st_jar_pour pour[ST_JAR_POURS];
    struct st_jar_stage stage[ST_JAR_STAGES];
    int n_piece, n_pour, n_stage;
    const struct st_habits *habits;
    const struct st_compounds *compounds;
    const struct st_jar_source *source; /* lent; NULL: made by hand */
};

/* ---- making ---- */

/* How a line of a recipe is cut: reads its words and those of its step (text/cut_words.h has one).  *said false: nobody
 * said, and the answer is whole. */
typedef enum st_cut st_cut_reader(const struct st_recipe *r, int step, int line, bool *said);

struct st_jar_books {
    const struct st_habits *habits;
    const struct st_compounds *compounds;
    st_cut_reader *cut; /* NULL: everything as bought */
};

/* True where something is steeped: a steep, or a syrup with pieces in it. */
bool st_jar_is_at(const struct st_recipe *r, int step);

/* The jar of one step, with the stages that led to it.
 *
 * Given:    books and r, which must outlive the jar; step, where st_jar_is_at
 * Returned: the jar, freed with st_jar_free; copies of *jar may be used until then.  NULL and *problem when the recipe
 *           cannot be reckoned (as st_plan_create), has too many pieces or stages, or the step is no jar
 * Notes:
 *   1. Amounts are those of foresee, draw by draw of the same seed.
 *   2. What a step that is no jar gave (a toast, a syrup) goes in as it then is: water that toasting drove off is gone.
 *      Of toasted things each stays itself.
 *   3. Liquor that goes on through a blend, a rest or a racking is followed with its nominal losses.  A syrup boiled
 *      down with liquor of a jar in it is refused.
 *   4. The strength and sugar of the liquid, when the exchange is complete, are those that foresee tells of the liquid
 *      in that step with `exchanged: 100 %`, within 0.005 % vol and 0.02 g/L over all examples
 *      (tests/unit/test_jar_recipe.c): in both, ethanol that evaporates is taken off pieces and liquid alike.
 *   5. Poisons among the markers are left out (struct st_compound, flavour). */
struct st_jar *st_jar_of_recipe(const struct st_jar_books *books, const struct st_recipe *r, int step,
                                struct st_problem *problem);
void st_jar_free(struct st_jar *j);

/* A jar made by hand: empty, one stage of `time_s` at 20 C, strained. */
void st_jar_begin(struct st_jar *j, const struct st_jar_books *books, double time_s);
/* An ingredient, g net, as bought, in stage; the next piece, or NULL when there is no room, or what it is made of is
 * not known (st_ingredient_parts). */
struct st_jar_piece *st_jar_add(struct st_jar *j, const struct st_ingredient *what, double g, int stage);
/* mL of a spirit of % vol; the next pour, or NULL. */
struct st_jar_pour *st_jar_pour_spirit(struct st_jar *j, double ml, double pct_vol, int stage);

/* ---- changing ---- */

/* Parts a stage in two after t_s, pieces and liquid staying together: the way to put something in late (a pour or a
 * piece of stage + 1) or to take it out early (lies[stage + 1] = 0).  Stages behind it move up by one.  False when
 * there is no room or 0 < t_s < time_s is not so. */
bool st_jar_split(struct st_jar *j, int stage, double t_s);

/* The stage stands as warm as part[0 .. n-1] say, one after another; the stage begins from_s after the first of them
 * did.  n 0: temperature_K stays what it is.  ST_WARM_PARTS at most. */
void st_jar_warm(struct st_jar_stage *g, const struct st_warm_part part[], int n, double from_s);

/* Ethanol and water only, so that strength_pct_vol means something. */
bool st_jar_pour_is_spirit(const struct st_jar_pour *p);

/* Fruit that can be had fresh or frozen: kind may be turned. */
bool st_jar_may_be_frozen(const struct st_jar_piece *p);

/* The stage in which a stage's jar was filled: the first of those that are parts of one step.  A jar made by hand is one
 * jar throughout. */
int st_jar_filled_at(const struct st_jar *j, int stage);

/* The habit of a piece for a sort of substance, as the run uses it. */
enum st_status st_jar_habit(const struct st_jar *j, int piece, enum st_of of, struct st_habit *out);

/* ---- running ---- */

struct st_jar_options {
    uint64_t seed;
    int draws; /* 0: only the middle, every uncertain number at its middle; else 95 % intervals, ST_JAR_DRAWS at most */
    double until_s;     /* from the beginning; the last stage runs on to it.  0 or less than the plan: the plan's end */
    const double *time; /* [n_time] more times to tell, s from the beginning, rising; NULL */
    int n_time;
    int shells;       /* 0: ST_BATH_SHELLS_USUAL */
    double tolerance; /* of st_bath_run; 0: 1e-5, errors of about 1e-4 of what will come */
    bool keep;        /* keep the draws (raw) */
    bool coarse;      /* half of the program's own times, beside those asked for: fast, shares to about 0.002 */
    bool own_clock;   /* tell of the last jar alone, since it was filled (Note 7); time and until_s stay from the
                       * beginning */
    double look_s;    /* with own_clock: how far is told, since it was filled; nothing behind it is.  0: to until_s */
};

/* One thing over the times, or at one. */
struct st_jar_series {
    struct st_interval *at; /* value: of the middle; low, high: 95 % of the draws (without draws: the value) */
    double *raw;            /* [n * draws]: time i of draw k at i * draws + k; NULL unless kept */
};

struct st_jar_curve {
    int piece;                      /* -1 in a curve of a family */
    const struct st_compound *what; /* NULL: what has no compound ("aroma", "juice", or a late thing) */
    const char *name;               /* of the compound, or words */
    const char *family;             /* curves of one family are added up in family[] */
    enum st_of of;
    bool late;                  /* comes late and grows when it is left too long */
    bool known;                 /* mg/L is told: a content is known (of every member, in a family) */
    struct st_jar_series share; /* of what would come in the end if the liquid could hold it, 0 .. 1: an oil that does
                                 * not dissolve stays far from 1.  Of a colour: what is left of it, faded taken off */
    struct st_jar_series given; /* the same, faded or not: never falls.  Lent from share where nothing fades */
    struct st_jar_series faded; /* of given, what has faded, entered in the books step by step: given = share + faded in
                                 * every draw, to 1e-9.  Only where it fades */
    struct st_jar_series mg_l;  /* at and raw NULL unless known; in the liquid of the jar at that time */
    struct st_jar_series
        here;   /* what of it is in a mL of the jar's liquid, as a share of what the piece brought: compares
                                 * one time with another where no content is known.  Only when draws are kept */
    bool fades; /* red of fruit: share, mg_l and here fall again */
    struct st_interval fade_s; /* fades: in how long half of it goes, at the warmth of this jar */
    struct st_interval
        most_s; /* when 90 % of what will come is out, from the beginning; INFINITY: not by the last time */
    struct st_interval comes; /* share of all that is in it that would come in the end if the liquid could hold it (of a
                               * family: the mean) */
    struct st_interval at_plan, at_last; /* share at the plan's end or, when that lies behind it, at the last time;
                                          * and at the last time */
    struct st_interval at_look;          /* share at look_s */
    struct st_interval half_s;           /* when half of what will come is out, as most_s */
    struct st_interval
        before;  /* with own_clock: share of all that ever comes that was out before this jar was filled */
    bool lies;   /* it lies in the last jar; false: an earlier one had it, and its liquor alone came here */
    double full; /* > 0: the liquid is full of it while there is more in the piece (ratio of what would come to what it
                  * holds, the middle, where it last lies); 0 */
};

/* The end of one stage. */
struct st_jar_end {
    int stage;
    double start_s, end_s;                                     /* on the axis of times */
    struct st_jar_series liquor_g, liquor_ml, strength, sugar; /* strained off; n = 1 */
    struct st_jar_series solids_g;                             /* drained solids with what they keep; n = 1 */
};

struct st_jar_told {
    int n_time, draws, n_curve, n_family, n_end;
    double *t_s;     /* [n_time] from the beginning; starts with 0; where a stage ends and the next begins, twice */
    int *stage;      /* [n_time] whose liquid it is: the way through the stages that takes longest */
    double plan_s;   /* when the last stage ends as planned */
    double look_s;   /* how far it is worth a picture: the plan's end, or as far as was asked for */
    double filled_s; /* when the last jar was filled, from the beginning; with own_clock t_s, plan_s, look_s, most_s and
                      * half_s count from then */
    struct st_jar_series strength, sugar, acid,
        volume_ml; /* % vol, g/L, g/L (as citric acid), mL: of the liquid outside the pieces */
    struct st_jar_series
        undissolved_g; /* of its sucrose, what the liquid cannot hold dissolved as strong and warm as it
                                         * is; the figures above take it as dissolved */
    struct st_jar_curve *curve, *family;
    struct st_jar_end *end; /* of each stage that steeps */
    double closure;         /* the worst |in - out|/in of any substance, draw and stage, and of colours |given - left -
                             * faded|; 1e-9 at most */
    void *room;             /* all of it */
};

/* Run.
 *
 * Given:    j, o
 * Returned: *out; caller calls st_jar_told_done.  Empty when the status is negative
 * Status:   ST_OK or positive: ST_ESTIMATED nearly always, as the habits are from memory.  ST_E_DOMAIN: something in j
 *           or o is outside its limits, or a stage has no liquid; ST_E_NOCONV: no memory, or the bath did not come to an end
 * Notes:
 *   1. Water, ethanol, sugars, acid and the rest of what dissolves go first, all of one piece at one pace, so that the
 *      pieces stay as heavy as they are; they set the strength.  Then each substance of each piece, at that strength.
 *   2. The piece of the bath is the liquor that lies in it: its own juice or, when that is more, what it keeps
 *      (retention); dry things have drawn in the difference at once.  K is meant so: 1 when only that liquor holds the
 *      substance.
 *   3. D: the row's at 20 C, times the ratio of diffusivities in water of this substance to that of the row, times
 *      viscosity at the row's strength over that at the strength of all mixed (both at 20 C), times Arrhenius.  What
 *      viscosity does with warmth is in the activation energy and nowhere else.
 *   4. Oils: K falls with strength, and the liquid holds no more than it dissolves, of the oil there is (its content, or
 *      that of the whole oil, or a wide guess by kind: oil_content.h).  Several pieces with one oil share that in
 *      proportion to what they bring.  Bitter, astringent and coloured things: the share that comes at all follows the
 *      hump.  K, what dissolves, hump and viscosity are taken at the strength of the stage when all is mixed: the liquid
 *      in and about the pieces is nearer to that than to the spirit poured, and so nothing that makes the mixing faster
 *      can make less come.
 *   5. Each substance is followed from each piece by itself, the other pieces taking some up: what a piece has given
 *      never falls, and does not depend on what the others hold.
 *   6. Draws: amounts (as foresee), D, K, w, content, retention (theta), size, skin, activation energy, temperature,
 *      strength effects, evaporation (0.1 to 0.5 % of the ethanol in a month, from memory).
 *   7. own_clock: fruit steeped a second time has a clock and shares of its own.  The jar is the last stage with those
 *      that st_jar_split parted from it (st_jar_filled_at); share is then of what comes in this jar, 0 when it is
 *      filled and 1 in the end, `before` what earlier jars had of all that comes.  Where a jar before it left nothing
 *      (less than 1e-9 of it), share is 1 from the beginning.
 *   8. Red of fruit (anthocyanins) fades from when its piece goes in, in pieces and liquid alike: half in 3 months at 20 C,
 *      x/: 2, Ea 58.6 kJ/mol (st_fading_rate; in the dark).  So what is left is what came out times one share.  The rest
 *      has an entry for every step of time: of what was out, what faded in the step, and of what came out in it, what had
 *      faded by then, in the piece too; closure holds for what is left and these together.  With own_clock, share is of
 *      what was not faded when the jar was filled, and the entries begin then. */
enum st_status st_jar_run(const struct st_jar *j, const struct st_jar_options *o, struct st_jar_told *out);

/* The same for given theta[n][n_piece][ST_NTHETA], all else at its middle: raw is kept, of n draws, and the intervals
 * are the first set.  Sets go side by side, so that a few cost as much as one.  o->draws, seed and keep are not read.
 */
enum st_status st_jar_run_thetas(const struct st_jar *j, const struct st_jar_options *o, int n, const double theta[],
                                 struct st_jar_told *out);
void st_jar_told_done(struct st_jar_told *t);

#endif
