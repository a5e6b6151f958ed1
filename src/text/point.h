#ifndef ST_TEXT_POINT_H
#define ST_TEXT_POINT_H

#include <stdbool.h>
#include <stddef.h>

#include "model/problem.h"

/* "1.000 g": a point before three digits may part thousands, or be a decimal sign.  The other figures of the same recipe
 * tell, and where none does it is asked. */

/* What was seen among the figures; zero at first. */
struct st_marks {
    bool comma, point; /* a comma, a point that can only be a decimal sign: "40,5", "0,25", "0,500"; "40.5", "0.500" */
    bool any; /* ask of "1.234 g" too: no program wrote it.  Else of what ends in 0 alone, as programs write none */
};

void st_marks_see(struct st_marks *m, const char *text, size_t size);

/* The first figure of the text that asks: "1.000" (one to three digits, of which the first is no 0, one point, just three
 * digits) where there is a decimal comma somewhere; and where neither mark was seen, "1.000 g" or mL.  False: there is none. */
bool st_point_question(const char *text, size_t size, struct st_marks m, struct st_problem *problem);

#endif
