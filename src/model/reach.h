#ifndef ST_MODEL_REACH_H
#define ST_MODEL_REACH_H

#include "model/foresee.h"

/* What is within reach for a recipe: its lines held against the lots that the maker owns, and what that costs.  Plain
 * structs in and out; nothing is used up. */

enum st_weighed { ST_WEIGHED_TRIMMED, ST_WEIGHED_GROSS, ST_WEIGHED_UNSAID };

/* One lot, or house stock.  Texts are lent. */
struct st_holding {
    long long id;     /* whatever the caller finds it by; the last tie is broken by it */
    const char *slug; /* of the ingredient sheet; "" or NULL: found by its name */
    const char *name; /* as the maker calls it */
    enum st_kind kind;
    enum st_dimension dim; /* of left and bought: mass (g), volume (mL) or pieces */
    double left;
    struct st_range strength; /* % vol, as on the bottle or measured, with what it may be off; not known: the sheet's */
    enum st_weighed weighed;  /* of a mass */
    struct st_range trimmed_share; /* of this lot, where it is known; else the sheet's */
    double potency; /* against what recipes mean: 0.8 is weaker, more of it is used; <= 0 or NAN: not known, as 1 */
    bool has_use_by;
    long use_by; /* day since 1970-01-01 */
    bool opened;
    double price, bought; /* price of so much of it; NAN: not known */
    const char *currency;
    const char *whole;       /* key of the whole fruit where slug does not say which part it is; "" or NULL: none */
    const char *parts;       /* keys of what is cut of it, blanks between: "egg_white egg_yolk"; "" or NULL: nothing */
    struct st_range piece_g; /* of a mass with parts: grams of one piece as it lies there */
};

/* Strengths that are the same for a recipe, % vol: common practice, no source. */
#define ST_REACH_SAME_STRENGTH 1.0

/* A spirit weaker by no more than this stands in as it is, and is told, % vol: policy, no source. */
#define ST_REACH_NEAR_STRENGTH 10.0

enum st_reach_state {
    ST_REACH_ENOUGH,
    ST_REACH_MAYBE,          /* in the middle, but not at the worse end of what it may take */
    ST_REACH_OTHER_STRENGTH, /* enough, but some of it is weaker or stronger than the recipe says */
    ST_REACH_SHORT,          /* some, not enough */
    ST_REACH_NONE,           /* not there */
    ST_REACH_UNTOLD,         /* how much is needed, or how lot and line compare, cannot be told */
    ST_REACH_TAP,            /* water */
    ST_NREACH
};

/* So much of a lot for a line. */
struct st_reach_use {
    int line;               /* index in st_reach.line */
    int holding;            /* index in what was given */
    struct st_range amount; /* in the lot's measure: g, mL, pieces */
    struct st_range share;  /* of the line */
    struct st_range anew;   /* of amount: what no line before has cut: juice and peel of a lemon count it once */
    bool part;              /* it is cut of the lot, a whole fruit or egg */
    bool other_strength;
    double strength; /* of the lot, % vol, where other_strength */
    double water_ml; /* other_strength, of a spirit: water to add, at 20 C, for the strength of the recipe; below 0: so
                       * much more water comes along than the recipe means.  NAN: not known (it holds sugar) */
    bool crossed;    /* line and lot are measured differently: amount is as sure as the weights in the sheet */
    double price;    /* of anew.value; NAN not known */
};

struct st_reach_line {
    int step, line;
    enum st_reach_state state;
    enum st_dimension dim;   /* of need and missing */
    struct st_range need;    /* as the recipe measures it; not known: an amount nobody can tell beforehand */
    struct st_range missing; /* of need; 0 when there is enough */
    double strength;         /* that the recipe wants, % vol; NAN none */
    bool watery;             /* a weaker spirit stands in no further: the recipe has no more water that could be left out */
    bool net;                /* of a mass: need is trimmed (an open amount as foretold) whatever the line says */
    int n_past;              /* lots passed over, since their day is over */
    int n_weak;              /* lots of it passed over, since nobody wrote how strong they are */
    int n_unlike;            /* lots that could not be compared: nobody has weighed a piece or a cup of it */
    int first_use, n_use;    /* in st_reach.use */
};

/* known: of each, false says "not known". */
struct st_reach_cost {
    struct st_range batch, bottle, pour;
    double at_least;      /* of the lots with a price; NAN when they are in several currencies */
    int n_unpriced;       /* uses of lots without a price */
    int n_uncovered;      /* lines that the lots do not cover */
    const char *currency; /* "" when there is none, or several */
    bool mixed;           /* several currencies */
};

struct st_reach {
    struct st_reach_line *line;
    int n_line;
    struct st_reach_use *use;
    int n_use;
    struct st_reach_cost cost;
};

/* Hold a recipe against what is there.
 *
 * Given:
 *   r          the recipe
 *   f          foretold of r, or NULL: then open amounts, bottle and pour are not known
 *   held[n]    lots, left >= 0
 *   today      day since 1970-01-01: what is past its use-by day before it is not used
 * Returned:
 *   *out       to be freed with st_reach_done; a line for each line with an ingredient, in the recipe's order
 * Result:
 *   false: no memory, or n < 0
 * Notes:
 *   1. First to expire first; then what is opened, then what is not counted in pieces, then what there is least of.  A lot used by one line is less for the
 *      next.  Low and high of an amount are 19 cases of 20 of what it may take, all at their end at once.
 *   2. A plain spirit may be any plain spirit (line_goods.h); one with a taste is only itself.  Within 1 % vol it is the
 *      same.  Another strength is used last, so much of it that the ethanol is the same, and one weaker by more than
 *      ST_REACH_NEAR_STRENGTH only as far as the recipe's own water can be left out for what comes along with it; of a drink that nobody wrote the strength of
 *      nothing is used.
 *   3. Grams, millilitres and pieces are crossed by the figures of the recipe's ingredient; weight as bought and trimmed by
 *      the line's or the lot's own share, else the sheet's.  Of a whole fruit or egg (parts) each line takes what
 *      it needs of each piece: what is left of it serves another part, and no longer as a whole.
 *   4. Cost of a bottle and a pour: the batch's, by volume; ends are set against each other, so the interval is wide. */
bool st_reach_find(const struct st_recipe *r, const struct st_foretold *f, const struct st_holding held[], int n,
                   long today, struct st_reach *out);
void st_reach_done(struct st_reach *x);

const char *st_reach_state_name(enum st_reach_state s); /* "enough"; for documents */

/* Net grams of one unit (g, mL, piece) of a line, or of a lot of that ingredient; not known: nobody has weighed it.
 * net: the unit is trimmed grams whatever the line says. */
struct st_range st_reach_unit_of_line(const struct st_line *l, bool net);
struct st_range st_reach_unit_of_lot(const struct st_holding *h, const struct st_ingredient *what);

/* What a bar keeps of a pour. */
struct st_margin {
    double net;             /* of the price, after tax */
    struct st_range margin; /* net less cost */
    struct st_range share;  /* margin over net, 0..1, negative at a loss */
};

/* Given: cost of a pour (known), its price >= 0, tax_share 0..1 of that price (0: none).
 * Result: false when something is not known or out of its limits; *out is then untouched. */
bool st_margin_of_pour(const struct st_range *cost, double price, double tax_share, struct st_margin *out);

#endif
