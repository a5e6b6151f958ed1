#ifndef ST_TEXT_POINT_H
#define ST_TEXT_POINT_H

#include <stdbool.h>
#include <stddef.h>

#include "model/problem.h"

/* "1.000 g" beside "40,5 %": where a comma is the decimal sign, a point before three digits may part thousands. */

/* True when a comma in this text can only be a decimal sign: "40,5", "0,25", "0,500". */
bool st_has_decimal_comma(const char *text, size_t size);

/* The first "1.000" of the text (one to three digits, of which the first is no 0, one point, just three digits), as a
 * question; the caller knows that there is a decimal comma somewhere.  False: there is none. */
bool st_point_question(const char *text, size_t size, struct st_problem *problem);

#endif
