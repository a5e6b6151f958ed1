#ifndef ST_MODEL_LEDGER_H
#define ST_MODEL_LEDGER_H

#include "model/assay.h"
#include "model/foresee.h"
#include "model/rule.h"

/* The ledger of what must be watched: how much of each toxicant the drink may hold at most, and each limit held against it.
 *
 * Worst case, always: mass of the ingredient (high end) x ceiling content (total, bound forms included), everything
 * transferred, nothing lost to heat, time, straining, fining or evaporation.  No step lowers what a gram of source carries;
 * only more liquid makes it thinner.  A maker's own assay (a value with laboratory and date) may take a ceiling's place;
 * words like sweet, roasted, strained, aged may not. */

/* Upper bound of the share of what line (step, line) carries that can be in the drink (the last step).
 *
 * Given:    r; f foretold of r (its balances tell how much each step gave), or NULL: then every partial take counts as all
 * Returned: 0 .. 1; 0 only when the drink takes nothing that met the line
 * Notes:
 *   1. A steep gives everything to its liquor AND may keep everything in its spent solids: a second pour on them starts again.
 *   2. What comes together by several ways adds up, and never to more than 1.
 *   3. Part of a liquor without pieces carries that part (its high end: the most taken of the least that there can be); of a
 *      jar with pieces in it, or where the part is not known, the whole. */
double st_ledger_share(const struct st_recipe *r, const struct st_foretold *f, int step, int line);

enum { ST_MAX_SOURCES = 24, ST_MAX_TOXICANTS = 24, ST_MAX_TESTS = 24 };

/* One line of the recipe that may bring a toxicant. */
struct st_carrier {
    int step, line;
    const struct st_content *content; /* the row taken; NULL: flagged, but no row at all */
    const struct st_assay *assay;     /* takes the ceiling's place, or NULL */
    double source_g, source_high_g;   /* as weighed in (net), and the high end */
    double share;                     /* st_ledger_share */
    double mg, high_mg; /* in the drink at most: with the amount as written, with its high end; NAN unknown */
};

enum st_verdict {
    ST_WITHIN,       /* the high end does not pass the limit */
    ST_PASSES,       /* even the amounts as written pass it */
    ST_MAY_PASS,     /* only the high end passes it */
    ST_NOT_ASSESSED, /* no ceiling published, or the drink's mass is not known: never within */
    ST_NVERDICT
};

struct st_test {
    const struct st_rule *rule;
    double is, high, limit; /* in the rule's unit (per serving and body weight where it says so) */
    enum st_verdict verdict;
};

/* What the drink holds at most of one toxicant, all its carriers together. */
struct st_ledger_entry {
    const struct st_toxicant *toxicant;
    struct st_carrier carrier[ST_MAX_SOURCES];
    int n_carrier;
    double mg_l, high_mg_l, mg_kg, high_mg_kg, serving_mg, high_serving_mg; /* NAN: not known */
    struct st_test test[ST_MAX_TESTS];                                      /* worst first */
    int n_test;
    enum st_verdict verdict; /* of the worst test; ST_NOT_ASSESSED when any carrier is unknown and nothing passes */
    double most_g_l;         /* grams a litre of the main carrier at which the strictest test binds; NAN none */
};

struct st_ledger {
    struct st_ledger_entry entry[ST_MAX_TOXICANTS]; /* worst first */
    int n_entry;
    bool cut; /* there was more than fits: told, never silently */
};

struct st_drinker {
    double serving_ml;     /* 40 */
    double body_weight_kg; /* 60 */
};

/* Given:    the books (rule.h), the place (a bit set of places: the strictest of them), assays[n]
 * Returned: *out
 * Status:   ST_OK; ST_E_DOMAIN a serving or body weight that is not > 0 */
enum st_status st_ledger_make(const struct st_recipe *r, const struct st_foretold *f, const struct st_rule_books *books,
                              unsigned places, const struct st_drinker *who, const struct st_assay *assay, int n_assay,
                              struct st_ledger *out);

#endif
