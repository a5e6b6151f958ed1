#ifndef ST_TEXT_LEDGER_WORDS_H
#define ST_TEXT_LEDGER_WORDS_H

#include "caution_list.h"
#include "watch.h"

/* The ledger in sentences.  Every text goes to buf of size bytes, always ends in NUL, and comes back. */

/* One figure of a toxicant, two significant digits and never rounded below what it is: "41", "0.034", "1 200". */
const char *st_bound_words(double x, char *buf, size_t size);

/* A test told: "at most 41 mg/kg, over 35 mg/kg: Reg. (EC) 1334/2008, Annex III Part B (EU and UK, 2008)". */
const char *st_test_words(const struct st_test *t, const struct st_drinker *who, char *buf, size_t size);

/* What the test's unit is called: "mg/kg", "mg per kg of body weight". */
const char *st_limit_words(enum st_rule_unit u);

/* True when a limit in force or a reference value of a health body is passed, or may be: the program then ends with 1. */
bool st_test_counts(const struct st_test *t);
bool st_ledger_passes(const struct st_ledger *l);

/* True unless all that brings it is without a figure: its sums then say nothing. */
bool st_entry_is_known(const struct st_ledger_entry *e);

/* The worst test that law (health = false) or a health body asks; NULL: none. */
const struct st_test *st_entry_worst(const struct st_ledger_entry *e, bool health);

/* Why there is more in a kilogram of the drink than in one of what brings it: all of it in little liquid; "" where there is
 * not. */
const char *st_entry_dense_words(const struct st_ledger_entry *e, char *buf, size_t size);

/* "at most 2.1 g of cherry stones a litre stays within all of them; a litre of this may hold all of 2.4 g", the one rounded down,
 * the other up; "" when nothing binds or it is not known. */
const char *st_most_words(const struct st_recipe *r, const struct st_ledger_entry *e, char *buf, size_t size);

/* One caution for each entry, at the line of its main carrier: what the drink may hold at most, and the worse of both
 * kinds of test.  Level over when one counts, caution when something is not assessed or an older benchmark is passed,
 * else note. */
void st_cautions_of_ledger(const struct st_recipe *r, const struct st_ledger *l, const struct st_watch *w,
                           struct st_cautions *out);

/* Whether the ledger has what this line brings by a caution of this code; and whether it reckons it with figures: it then need
 * not be called unassessed. */
bool st_ledger_names(const struct st_ledger *l, int step, int line, const char *flag);
bool st_ledger_tells(const struct st_ledger *l, int step, int line, const char *flag);

#endif
