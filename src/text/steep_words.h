#ifndef ST_TEXT_STEEP_WORDS_H
#define ST_TEXT_STEEP_WORDS_H

#include <stddef.h>

#include "model/jar.h"

/* What a jar does over time, in a maker's words.  begun: day of the calendar it was begun on (calendar_day.h), or NULL.
 * Everything goes to buf of size bytes, which always ends in NUL. */

/* A moment: "6 hours", "day 3", with begun "Thursday 3 December" (day 3 would be that).  up: rounded up, else down. */
void st_moment_words(char *buf, size_t size, double s, bool up, const long *begun);

/* Whose and what: "cloves, eugenol", "dried apricot, juice"; of a family its name. */
void st_curve_name(char *buf, size_t size, const struct st_jar *j, const struct st_jar_curve *c);

/* "mostly out by day 3, likely between day 1 and day 9", "not mostly out by day 40: 60 % has come, likely between 30
 * and 85 %". told: the run that c is of. */
void st_curve_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                    const long *begun);

/* What comes late, without scolding: "12 % by day 7, likely between 3 and 30 %; 25 % by day 14: it grows the longer it
 * stays". */
void st_late_words(char *buf, size_t size, const struct st_jar_told *told, const struct st_jar_curve *c,
                   const long *begun);

/* The whole in one sentence: when all that is followed is mostly out, and what the rest of the time buys. */
void st_steep_tip(char *buf, size_t size, const struct st_jar *j, const struct st_jar_told *told, const long *begun);

/* A share of what will come, as per cent: "98 %, likely between 95 and 100". */
void st_share_words(char *buf, size_t size, const struct st_interval *x);

#endif
