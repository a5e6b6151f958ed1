#ifndef ST_TEXT_CLEARING_WORDS_H
#define ST_TEXT_CLEARING_WORDS_H

#include <stddef.h>

#include "model/clearing.h"
#include "model/clearing_bench.h"

/* Clearing in sentences, for page and document alike.  Everything goes to buf of size bytes, which always ends in NUL.
 */

enum { ST_CLEARING_TEXT = 700 };

const char *st_clearness_word(enum st_clearness c);   /* "clear", "undecided", "cloudy", "not known" */
const char *st_clearness_code(enum st_clearness c);   /* "clear", "undecided", "cloud", "not_known" */
const char *st_place_words(enum st_place_of_drink p); /* "in the fridge, 5 C" */
const char *st_place_code(enum st_place_of_drink p);  /* "fridge" */

/* "3.0 times what stays dissolved, likely between 1.6 and 4.6"; why it is not known. */
void st_clear_index_words(char *buf, size_t size, const struct st_clearing *c, enum st_place_of_drink p);

/* Where the oil comes from: "lemon peel, fresh: about 1.2 g/L, ..."; "" when a line brings none. */
void st_clear_oil_words(char *buf, size_t size, const struct st_oil_source *o);
const char *st_oil_known_code(enum st_oil_known k);

/* What the maker should know of this drink beside the verdicts, one after the other: i from 0; "" behind the last. */
void st_clear_remark(char *buf, size_t size, const struct st_clearing *c, int i);

/* What helps, in order; "" behind the last, and at once when nothing is to be helped. */
void st_clear_remedy(char *buf, size_t size, const struct st_clearing *c, int i);

/* The i-th of what a set of st_cloud holds: "oil", "pulp" ...; NULL behind the last. */
const char *st_cloud_name(unsigned haze, int i);
/* How each of what may cloud this drink is met, i from 0; "" behind the last. */
void st_ways_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agents *all, int i);
/* Why this agent is not for this drink; "" when it acts on what may cloud it. */
void st_agent_no_use_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agent *a);
/* Which are left out of a list for this drink, and why; "" none. */
void st_not_for_this_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agents *all);

/* "9 hours", "2 to 5 days", "about 3 weeks", "it stays". */
void st_settling_words(char *buf, size_t size, const struct st_interval *day);
/* Whether to wait before the sugar goes in, with the figures of this drink, and what can be done once it is in; "" when
 * there is nothing to choose. */
void st_settle_first_words(char *buf, size_t size, const struct st_clearing *c);

/* The test for pectin, and the enzyme on the fruit; i from 0; "" behind the last. */
void st_pectin_words(char *buf, size_t size, const struct st_clearing *c, int i);

/* "15 to 150 mg/L". */
void st_dose_words(char *buf, size_t size, const struct st_agent *a);
/* What the five glasses take, and what the amounts beside them are for. */
void st_bench_words(char *buf, size_t size, const struct st_bench *b);
/* What the dose is good for in a drink of this strength. */
void st_dose_trust_words(char *buf, size_t size, const struct st_agent *a, double strength);
/* What it adds to the label, and who does not drink it: "allergen: egg (EU and US lists); not vegan"; "nothing we know
 * of". */
void st_agent_label_words(char *buf, size_t size, const struct st_agent *a);
/* What a milk wash is: amounts for this drink and how it is done; i from 0; "" behind the last. */
void st_wash_words(char *buf, size_t size, const struct st_clearing *c, const struct st_agent *a, int i);

/* While it stands, i from 0, "" behind the last.  ph: NAN not told.  T: where it is kept, K. */
void st_standing_words(char *buf, size_t size, const struct st_recipe *r, const struct st_clearing *c, double ph,
                       double T, int i);

#endif
