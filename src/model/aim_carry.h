#ifndef ST_MODEL_AIM_CARRY_H
#define ST_MODEL_AIM_CARRY_H

#include "model/aim.h"
#include "model/ledger.h"

/* What rules let a drink hold, as limits of an aim (ST_LIMIT_CARRY).  A worst case rests on the low ends of what is
 * foretold, which no descent can draw at every step; so what was found is foretold and held against the rules, and where
 * it passes one, the aim is given a limit that is exact there, and solved again. */

/* A test that a drink passes, or may pass, of a rule in force that is no declaration. */
bool st_carry_counts(const struct st_test *t);

/* The draws themselves leave the low end of a volume open by less than this: what the recipe as written passes already
 * counts as no worse up to so much more. */
#define ST_CARRY_SAME 1.01

/* The most that the test may find: its limit; or what the recipe as written holds, where that is past it already.
 * written: its ledger, or NULL: it passes nothing. */
double st_carry_allowed(const struct st_toxicant *x, const struct st_test *t, const struct st_ledger *written,
                        bool *as_written);
/* True when some test finds more than it may. */
bool st_carry_is_worse(const struct st_ledger *made, const struct st_ledger *written);

/* Give the aim limits for what passes.
 *
 * Given:    a; value[n_dial] of its dials in the recipe that f foretells and `made` is the ledger of; written, the ledger
 *           of the recipe as written, or NULL; round, 0 at first: each leaves a little more for rounding to what can be
 *           measured
 * Returned: how many limits were added or moved; 0: nothing passes more than it may, or there is no room
 * Notes:
 *   1. One limit for each toxicant and what it is reckoned on (mass or volume of the drink, and for each % vol): the
 *      strictest.
 *   2. Lines share what they bring as in the ledger; what a dial does to shares and low ends shows the next time. */
int st_aim_carry(struct st_aim *a, const double value[], const struct st_foretold *f, const struct st_ledger *made,
                 const struct st_ledger *written, int round);

#endif
