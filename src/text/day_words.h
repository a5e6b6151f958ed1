#ifndef ST_TEXT_DAY_WORDS_H
#define ST_TEXT_DAY_WORDS_H

#include <stdbool.h>
#include <stddef.h>

/* A day as one says it: "Sunday 6 June 2027", or "6 June 2027" without weekday.
 * Given: iso, "2027-06-06" (what follows is not looked at); today, the same, or NULL: in its year the year is left out.
 * "a day not known" when iso is no day. */
void st_date_words(char *buf, size_t size, const char *iso, const char *today, bool weekday);

/* How long ago, or how far ahead, as one says it; days < 0: past.  "today", "tomorrow", "yesterday", "in 12 days",
 * "3 weeks ago", "in 5 months", "2 years ago": days to two weeks, weeks to nine, months to two years, rounded. */
void st_days_words(char *buf, size_t size, long days);

/* The bare length: "1 day", "3 weeks", "5 months". */
void st_days_length(char *buf, size_t size, long days);

#endif
