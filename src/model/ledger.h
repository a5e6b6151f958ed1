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
 *   3. Part of a liquor without pieces, and of what came into it as a liquid, carries that part (its high end: the most taken of the least that there can be); of a
 *      jar with pieces in it, or where the part is not known, the whole, since the pieces may hold all of it and all of them
 *      may be taken.  Of one thing toasted alone, a part by weight is that part, were it the driest of it.
 *   4. "The least that there can be" is of ranges that hold 19 cases of 20, all at their worse end at once
 *      (ledger_gives.c). */
double st_ledger_share(const struct st_recipe *r, const struct st_foretold *f, int step, int line);

enum { ST_MAX_SOURCES = 24, ST_MAX_TOXICANTS = 32, ST_MAX_TESTS = 24, ST_MAX_SOLD = 4, ST_MAX_PLANTS = 24 };

/* One line of the recipe that may bring a toxicant. */
struct st_carrier {
    int step, line;
    const struct st_content *content; /* the row taken; NULL: flagged, but no row at all */
    const struct st_assay *assay;     /* takes the ceiling's place, or NULL */
    double source_g,
        source_high_g;            /* as it goes in, with stones or peel where it was weighed or counted with them, since
                                     * these may hold it too; and the high end.  NAN: its weight is not known */
    double share;                 /* st_ledger_share */
    bool shut;                    /* stones or pips that nothing opens: mg is what they would give opened */
    double mg, high_mg;           /* in the drink at most: with the amount as written, with its high end; NAN unknown */
    double high_mg_l, high_mg_kg; /* in a litre and a kilogram of it (Note 9 of st_ledger_make); NAN unknown */
};

enum st_verdict {
    ST_WITHIN,    /* the high end does not pass the limit */
    ST_PASSES,    /* even the amounts as written pass it */
    ST_MAY_PASS,  /* only the high end passes it */
    ST_IF_OPENED, /* only what stones or pips that stay shut hold takes it past: nobody knows what these give */
    ST_NOT_ASSESSED, /* no ceiling published, or the drink's mass is not known, or no rule to hold it against: never within */
    ST_NVERDICT
};

/* A rule that speaks of this drink, held against it.  Of a rule with `at_least` (a declaration, or a condition) the verdict
 * says whether that much is there: ST_PASSES is then no fault, only something to write or to heed. */
struct st_test {
    const struct st_rule *rule;
    double is, high,
        limit; /* in the rule's unit (per serving and body weight where it says so); NAN for ST_RULE_PRESENT */
    enum st_verdict verdict;
    bool maybe; /* not known whether the rule speaks of this drink (its strength, whether it is bitter): taken as if */
    bool part; /* only of the carriers that the rule speaks of: those that are no Artemisia, in a drink that has some */
};

/* A rule for the ingredient as sold, beside what such an ingredient may hold.  ST_PASSES: even the least that was found, or
 * the maker's assay, is above it; ST_MAY_PASS: the ceiling is.  Says nothing of the drink and is in no verdict of it. */
struct st_sold {
    const struct st_rule *rule;
    int carrier; /* index */
    double is;   /* mg/kg: assay, else ceiling; NAN */
    enum st_verdict verdict;
};

/* What the drink holds at most of one toxicant, all its carriers together. */
struct st_ledger_entry {
    const struct st_toxicant *toxicant;
    struct st_carrier carrier[ST_MAX_SOURCES]; /* what brings most first, what nobody knows last */
    int n_carrier, n_more;                     /* n_more: found no room here; they are in every sum all the same */
    int n_shut;                   /* carriers with stones that stay shut: in the sums below as if they were opened */
    int n_unknown;                /* carriers without a figure: the sums below are then of the others only */
    double mg, high_mg;           /* in the whole drink, at most */
    double shut_mg, shut_high_mg; /* of these, in stones that stay shut */
    double mg_l, high_mg_l, mg_kg, high_mg_kg, serving_mg,
        high_serving_mg;               /* NAN: the drink's volume or mass unknown */
    double shut_high_mg_kg;            /* of high_mg_kg, in stones that stay shut */
    struct st_test test[ST_MAX_TESTS]; /* worst first; declarations last */
    int n_test;
    struct st_sold sold[ST_MAX_SOLD];
    int n_sold;
    enum st_verdict verdict;   /* of the worst test of a rule in force; ST_NOT_ASSESSED when any carrier is unknown and
                                * nothing passes, or when no rule in force holds for it */
    enum st_verdict benchmark; /* the same of rules that are not in force (repealed, proposed): told, never as law */
    double most_g_l,
        is_g_l; /* grams of carrier[0] of which a litre of the drink may hold all until the strictest test of a rule
                              * in force binds, with the others as they are (their high end): 0 when these alone reach it; NAN:
                              * none, or not known.  And of how many it may hold all now: the tool's error is in it, and how
                              * little there may be; of what was thinned, or went in part, only what is there */
    const struct st_rule *binds; /* that rule, or NULL */
    bool cut;                    /* tests, carriers or rules as sold did not all fit: the worst were kept */
};

/* A rule about a plant as such, where no entry tells of it: it names no toxicant, or none that the books give this plant. */
struct st_plant_rule {
    const struct st_rule *rule;
    int step, line;
};

struct st_ledger {
    struct st_ledger_entry entry[ST_MAX_TOXICANTS]; /* worst first */
    int n_entry;
    struct st_plant_rule plant[ST_MAX_PLANTS]; /* in the recipe's order */
    int n_plant;
    enum st_verdict verdict; /* the worst of all entries, those that found no room too, and of plants that are barred;
                              * ST_WITHIN of an empty ledger: nothing in it is known to hold a toxicant */
    bool cut;                /* there was more than fits: told, never silently, and never ST_WITHIN */
};

struct st_drinker {
    double serving_ml;     /* 40 */
    double body_weight_kg; /* 60 */
};

/* True when a is worse than b: passes, may pass, not assessed, within. */
bool st_verdict_is_worse(enum st_verdict a, enum st_verdict b);

/* The ledger of a recipe.
 *
 * Given:    r; f foretold of r, or NULL (nothing per litre or kilogram is then known); the books (rule.h); the places, a bit
 *           set: rules of all of them are held against the drink; assay[n]: one with a value that is no number >= 0 is not used
 * Returned: *out, about 90 KB: not for a small stack
 * Status:   ST_OK; ST_E_DOMAIN a serving or body weight that is not > 0
 * Notes:
 *   1. Lines whose share is 0 are not in this drink, and not in the ledger.
 *   2. An ingredient carries a toxicant when the books have a row for it or when a caution of it points there; then without a
 *      row it is unknown.
 *   3. Scopes that hang on strength hold wherever the foretold interval reaches; unknown strength: both sides, so the
 *      stricter rules.  Nobody knows whether a drink is bitter: both rules are held against it, `maybe`.
 *   4. Of rules per % vol and per alcohol the high end takes the low end of the strength.
 *   5. A rule with plants is held against the drink only where one of these carries that toxicant.
 *   6. A serving is never more than all there is. What is in a kilogram of the drink may be more than in a kilogram of the
 *      plant: little liquid may be left, and all that the plant holds is reckoned to be in it.
 *   7. Of drained solids that only a reading tells of (st_step.drained_read) the ledger is made with the reading and without, and
 *      each entry is the worse of both: the verdict first, then mg/kg.
 *   8. Rules for ingredients as sold, for base spirits, for what is added as a pure substance, for other foods test no drink.
 *   9. Whatever leaves a liquor that no pieces lie in takes its part along: a gram of what is left holds what a gram held before,
 *      however unsure it is how much is left.  So a kilogram of the drink may hold less than high_mg over the least drink. */
enum st_status st_ledger_make(const struct st_recipe *r, const struct st_foretold *f, const struct st_rule_books *books,
                              unsigned places, const struct st_drinker *who, const struct st_assay *assay, int n_assay,
                              struct st_ledger *out);

#endif
