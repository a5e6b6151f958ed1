#ifndef ST_TEXT_FIGURE_WORDS_H
#define ST_TEXT_FIGURE_WORDS_H

#include <stddef.h>

#include "model/foresee.h"

/* Figures as one says them.  Everything goes to buf of size bytes, which always ends in NUL. */

/* A figure to so many figures, never with an exponent: "20000", "0.0012", "1.5". */
void st_plain_figure(char *buf, size_t size, double x, int figures);

/* By the rule of the house: the half width is rounded to one figure (two if it starts with 1), the value to the same
 * place, the ends outward: "23.4 % vol, likely between 21.4 and 25.5". */
void st_figure_words(char *buf, size_t size, const struct st_interval *x, const char *unit);

/* The same of what somebody told: none of it is not exactly none.  heard: whether anything that was told is in no figure. */
enum st_heard { ST_HEARD_FILE, ST_HEARD_ALL, ST_HEARD_PART }; /* a recipe file says what there is; words do not */
void st_heard_words(char *buf, size_t size, const struct st_interval *x, const char *unit, enum st_heard heard);

/* The value alone, as it is rounded there: "23.4". */
void st_figure_value(char *buf, size_t size, const struct st_interval *x);

/* The place of its last digit: 0.1 of "23.4"; 0 where it is exact or not known. */
double st_figure_place(const struct st_interval *x);

/* A volume in the wished measures: "1.02 L, likely between ...", "700 mL ...", "23.7 fl oz ...". */
void st_volume_words(char *buf, size_t size, const struct st_interval *ml, enum st_measures units);
/* The value alone, rounded as it is there: "1.02 L". */
void st_volume_value(char *buf, size_t size, const struct st_interval *ml, enum st_measures units);

/* "2 bottles of 500 mL and a glass": whole bottles first, the rest in words. */
void st_bottles_words(char *buf, size_t size, double volume_ml, double bottle_ml);
/* "12 g", "1.24 kg", "0.4 g". */
void st_grams_words(char *buf, size_t size, double g);
/* "8 weeks", "6 to 8 weeks", "38 to 48 days"; "" when no time was given.  Weeks and minutes only where they are exact,
 * days and hours rounded by 1 % at most. */
void st_time_words(char *buf, size_t size, const struct st_amount *time);
/* The same with another joint between the ends: "38-48 days". */
void st_time_span_words(char *buf, size_t size, const struct st_amount *time, const char *joint);

#endif
