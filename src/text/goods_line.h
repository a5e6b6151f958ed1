#ifndef ST_TEXT_GOODS_LINE_H
#define ST_TEXT_GOODS_LINE_H

#include "text/line.h"

/* Something owned, said as in a recipe: "500 g green walnuts", "300 mL orange tincture 55 %".  Unlike a recipe's line its
 * name need not be known: what is made at home has names of its own. */

enum { ST_GOODS_NAME = 200 };

struct st_goods_line {
    char name[ST_GOODS_NAME + 1];     /* the maker's own, without amount and strength */
    const struct st_ingredient *what; /* NULL: not on the ingredient sheet */
    struct st_amount amount;          /* of mass, volume or pieces */
    struct st_range strength;         /* known when the line says it */
    bool gross, weighing_said;        /* whether the line says how it was weighed */
    bool drained;                     /* st_line_is_drained */
    struct st_problem doubt;          /* what the reader of recipes would have said of it; what is "" when nothing */
};

/* Given:    text, measures, catalogue
 * Returned: *out
 * Result:   0 read; 1 a question about the amount; -1 *problem: no amount, no name, an amount without an end ("some"), or
 *           what must not go into a drink */
int st_goods_line_read(const char *text, enum st_measures measures, const struct st_catalogue *c,
                       struct st_goods_line *out, struct st_problem *problem);

/* True when the figure that text begins with may be a thousand times as much: "1.000 mL", "1,250 g".  *problem asks, and tells
 * both ways to write it.  False also where there is no amount. */
bool st_amount_asks(const char *text, enum st_measures measures, struct st_problem *problem);

/* Read an amount alone, "120 g", all of the text. Result as above. */
int st_goods_amount(const char *text, enum st_measures measures, struct st_amount *out, struct st_problem *problem);

#endif
