#ifndef ST_TEXT_QUANTITY_READ_H
#define ST_TEXT_QUANTITY_READ_H

#include "model/amount.h"
#include "quantity_unit.h"

/* What st_quantity_parse does, for readers that know more about what they want. */

enum st_got {
    ST_GOT_AMOUNT = 0,
    ST_GOT_QUESTION = 1, /* *problem asks; *out holds one of the meanings, only to see what it is about */
    ST_GOT_NONE = -1,    /* no quantity here; *problem says so */
    ST_GOT_NONSENSE = -2 /* begins like one, but is none; *problem says why */
};

/* Amounts with a figure: "1 1/2 cups", "1-2 weeks", "a pinch", "about 12 oz".
 * s stands after it unless the result is negative. *ounce (may be NULL) is set true when an ounce was read, else kept.
 */
enum st_got st_closed_read(struct st_scan *s, const struct st_ask *ask, struct st_amount *out, bool *ounce,
                           struct st_problem *problem);

/* Amounts without one: "to taste", "until covered", "to the shoulder of a 2 L jar", "some"; and "to 1000 mL". */
enum st_got st_open_read(struct st_scan *s, const struct st_ask *ask, struct st_amount *out,
                         struct st_problem *problem);

/* Either, the open ones first. */
enum st_got st_quantity_read(struct st_scan *s, const struct st_ask *ask, struct st_amount *out, bool *ounce,
                             struct st_problem *problem);

/* Words for things that hold goods but are no measure: "tin", "jar", "packet". */
bool st_scan_container(struct st_scan *s);

/* How often a tool of this kind is filled for so many of its units: 2 for 1 1/2 cups (a cup and a half cup). */
double st_fills_of(enum st_tool tool, double written, double base);

/* The most that is read, in base units: 1e6 (a tonne, a cubic metre, a million pieces), 100 years, 1300 K, 100 % vol.
 */
double st_quantity_limit(enum st_dimension dim);

#endif
