#ifndef ST_TEXT_CORRECT_THING_H
#define ST_TEXT_CORRECT_THING_H

#include "model/correct.h"
#include "text/ingredients.h"

/* What may be poured into a batch, as a maker names it. */

struct st_correct_named {
    char text[200], said[200]; /* said: "100 mL vodka 40 %", which the line lends from */
    struct st_line line;
    struct st_correct_thing thing; /* thing.line is set by whoever knows where this struct stays */
    bool has_line;
    bool measured; /* its figures came without a doubt of their own, and one was taken */
};

/* Read one.
 *
 * Given:    text such as "vodka 40 %", "water", "sugar", "syrup 65 %" (of sugar by weight), "sugar syrup 2:1", "citric acid",
 *           "lemon juice", and, for what only figures tell, "second pour 22 % 60 g/L", "batch of May 30+-0.5 % 250+-5
 *           g/L 4 g/L acid"; a price behind it, "at 18 per L"
 * Returned: *out, without a limit (have is infinite)
 * Result:   false and *problem; *out untouched
 * Notes:
 *   1. What stands behind +- holds 19 of 20.  Without: a label's 0.3 % vol and 1 % of the sugar; a pour or a batch 0.5 %
 *      vol and 4 % of the sugar (from memory: what two readings give at best), and `measured` says so.
 *   2. Sugar in a syrup by parts 1 % (of the weight of both, from memory).
 */
bool st_correct_thing_read(const char *text, const struct st_catalogue *c, struct st_correct_named *out,
                           struct st_problem *problem);

/* "300 mL vodka", "vodka 300 mL": which of thing[n], and how much in its units (mL or g).
 * Result: its number, -1 and *problem. */
int st_correct_have_read(const char *text, const struct st_correct_thing thing[], int n, double *units,
                         struct st_problem *problem);

/* "24", "24+-0.3", "24 +/- 0.3", "24±0.3": value, and half of what holds 19 of 20; -1 when not said.
 * Returned: where it ends; NULL: no number. */
const char *st_doubtful_number(const char *text, double *value, double *half);

#endif
