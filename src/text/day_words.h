#ifndef ST_TEXT_DAY_WORDS_H
#define ST_TEXT_DAY_WORDS_H

#include <stddef.h>

/* How long ago, or how far ahead, as one says it; days < 0: past.  "today", "tomorrow", "yesterday", "in 12 days",
 * "3 weeks ago", "in 5 months", "2 years ago": days to two weeks, weeks to nine, months to two years, rounded. */
void st_days_words(char *buf, size_t size, long days);

/* The bare length: "1 day", "3 weeks", "5 months". */
void st_days_length(char *buf, size_t size, long days);

#endif
