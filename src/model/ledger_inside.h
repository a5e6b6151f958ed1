#ifndef ST_MODEL_LEDGER_INSIDE_H
#define ST_MODEL_LEDGER_INSIDE_H

#include "ledger.h"

/* What only ledger.c and ledger_*.c share. */

enum { ST_LEDGER_STEPS = 64, ST_LEDGER_LINES = 256 }; /* beyond, every take counts as all */

/* ---- ledger_grams.c ---- */

/* Grams of a line with an ingredient: as it goes into the drink by foresee's rules (trimmed), the tool's error in low and
 * high.  Not known: no weight of a cup or piece, an open amount without f, "to so much". */
struct st_range st_ledger_grams(const struct st_recipe *r, const struct st_foretold *f, int step, int line);

/* The same for what it may carry: with all that was weighed or counted.  "To so much" is all of that much. */
struct st_range st_ledger_carried(const struct st_recipe *r, const struct st_foretold *f, int step, int line);

/* An amount as measured, in its base unit: what was written, and how far off the tool may be. */
struct st_range st_ledger_measured(const struct st_recipe *r, const struct st_amount *a);

/* What 1 g of it is made of, and how much of that may be something else; false: not known. */
bool st_ledger_composition(const struct st_ingredient *in, struct st_range part[ST_NCOMP], double *swap);

/* mL that a gram of one thing instead of another may change a volume by: sugar 0.6 mL/g, ethanol in water up to 1.28 (partial
 * molar volume near 58 mL/mol). */
#define ST_SWAP_ML_G 0.68
#define ST_MOST_ML_G 1.28

/* ---- ledger_gives.c: what a step gives, at least and at most ---- */

/* Nominal grams and mL of a step's liquor (with the pieces that lie in it) and of its spent solids, as foretold, and how far
 * these may be off. */
struct st_gives {
    bool known;
    bool pieces;  /* in the liquor */
    double dry_g; /* of one thing toasted alone: what would be left of it without any water; 0 of all else */
    double g, less_g, more_g;
    double ml, less_ml, more_ml;
    double spent_g, spent_less_g, spent_more_g;
    double keeps, keeps_low, keeps_high; /* g of liquor that the pieces keep, in the liquor or strained off */
    double swap_g;                       /* of it may be of another component: sugar for water, water for ethanol */
    double solid_most_g;                 /* pieces that lie in the liquor, at most */
    double liquid_g,
        least_g; /* without them: as foretold, and at least (where part of it is taken by the draws of it, else by
                                * less_g); 0 not known */
};

/* What a take is of what the step gave: by weight. */
struct st_taken {
    double share, low, high;
};

/* What a take of liquor is of the liquid that it goes into, by weight: as foretold, and at most; INFINITY: not known.  Of what
 * a gram of that liquor holds a gram of the new liquid holds this part, however little there is of both. */
struct st_thinned {
    double value, high;
};

/* Every step's gifts and every take's part.  take[] in the order of the recipe's lines. */
struct st_flows {
    struct st_gives gives[ST_LEDGER_STEPS];
    struct st_taken take[ST_LEDGER_LINES];
    struct st_taken whole[ST_LEDGER_STEPS]; /* of the step before, by a step that names none */
    double carries[ST_LEDGER_LINES]; /* the most that a take may carry of what is in the step's liquor or solids */
    double carries_whole[ST_LEDGER_STEPS];
    struct st_thinned thins[ST_LEDGER_LINES], thins_whole[ST_LEDGER_STEPS];
    bool fits; /* false: use 1 for every take */
};

void st_flows_find(const struct st_recipe *r, const struct st_foretold *f, struct st_flows *out);

/* True when a step takes the step before without a line that says so. */
bool st_flows_takes_before(const struct st_recipe *r, int step);

/* The least liquid of step, of the draws that f has; 0: it cannot be foretold. */
double st_flows_least(const struct st_recipe *r, const struct st_foretold *f, int step);

/* ---- ledger_share.c ---- */

/* What of a line can be in the drink: the share of all that it carries, and that share in a gram of the drink as foretold and at
 * most (1/g; INFINITY: nothing bounds it but share and how much drink there is). */
struct st_spread {
    double share, per_g, high_per_g;
    bool
        solid; /* it may be in pieces that lie in the liquor: these may stay when the liquor is poured off, and go with it */
};
struct st_spread st_flows_spread(const struct st_recipe *r, const struct st_flows *w, int step, int line);

/* ---- ledger_judge.c ---- */

/* What rules ask of the drink as a whole. */
struct st_drink_facts {
    struct st_interval strength; /* % vol */
    double per_l, high_per_l;    /* 1/L of the drink: as foretold, and of the least there can be; NAN not known */
    double per_kg, high_per_kg;  /* 1/kg */
    double kg_l;                 /* density, its low end; NAN */
    double g_ml, high_g_ml;      /* density as foretold, and its high end; INFINITY not known */
    double serving_l, body_kg;
    bool artemisia, mint;
};

/* mg: in the whole drink; kg, l: in a kilogram and in a litre. */
struct st_held {
    double mg, high_mg, kg, high_kg, l, high_l;
};

/* A sum over carriers: what is known of it, and how many are not. */
struct st_ledger_sum {
    struct st_held all, shut; /* shut: of all, in stones that stay shut */
    int n, n_unknown;
};

/* Adds to the entry its tests, rules as sold, verdicts and most_g_l.  all: of its carriers; others: of those that are no
 * Artemisia. */
void st_ledger_judge(const struct st_recipe *r, const struct st_rule_books *books, unsigned places,
                     const struct st_drink_facts *drink, const struct st_ledger_sum *all,
                     const struct st_ledger_sum *others, struct st_ledger_entry *e);

/* True when the rule speaks of such a drink; *maybe when nobody knows.  Scopes of a plant genus look at the whole drink. */
bool st_rule_speaks(const struct st_rule *rule, const struct st_drink_facts *drink, bool *maybe);

/* By the botanical name. */
bool st_is_artemisia(const struct st_ingredient *in);
bool st_is_mint(const struct st_ingredient *in);

/* Among the plants of a rule, by its slug, by what it is like, or by what went into it. */
bool st_rule_names(const struct st_rule *rule, const struct st_ingredient *in);

/* mg of a serving: never more than all there is. */
double st_serving_mg(double mg, double mg_l, double serving_l);

/* The figure taken of a carrier, mg/kg; NAN: none. */
double st_carrier_mg_kg(const struct st_carrier *c);

/* How bad: the worse, the more; past that by how far. */
double st_entry_ratio(const struct st_ledger_entry *e);

#endif
