#ifndef ST_TEXT_RESCUE_WEIGH_H
#define ST_TEXT_RESCUE_WEIGH_H

#include "model/foresee.h"
#include "rescue.h"

/* What a recipe says to the questions of data/rescue.tsv: its strength, and whether milk, egg, garlic or fresh herbs are
 * in it.  It answers for the worst that is likely; what nobody can read off a recipe stays open. */

enum st_answer { ST_ANSWER_OPEN, ST_ANSWER_NO, ST_ANSWER_YES };
const char *st_answer_name(enum st_answer a); /* "open", "no", "yes" */

struct st_rescue_weighed {
    enum st_rescue_verdict verdict;
    int decided_by; /* index of the question whose yes is the worst; -1 none: the row's own verdict */
    const struct st_ingredient *stopped; /* what must not go into a drink at all: bin, whatever was asked; or NULL */
    struct {
        enum st_answer answer;
        char because[160]; /* "likely from 14.2 % vol on"; "" when open */
    } ask[ST_RESCUE_ASKS];
};

/* Given: a row; r and f, a recipe and what was foretold of it, both NULL when there is none (all stays open).
 * Returned: *out. */
void st_rescue_weigh(const struct st_rescue_row *row, const struct st_recipe *r, const struct st_foretold *f,
                     struct st_rescue_weighed *out);

#endif
