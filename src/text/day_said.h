#ifndef ST_TEXT_DAY_SAID_H
#define ST_TEXT_DAY_SAID_H

#include <stdbool.h>
#include <stddef.h>

/* Days as people write them beside what they did: "Oct 4:", "on 4 October", "4.10.", "04.10.2026", "2026-10-04", "10/4:",
 * "yesterday", "last month", "3 weeks ago", "after six weeks". */

enum st_day_said {
    ST_DAY_SAID,
    ST_DAY_ABOUT, /* "last month", "in October": the day is a middle one */
    ST_DAY_AHEAD, /* with its year it is still to come */
    ST_DAY_NEVER, /* "31 February" */
    ST_DAY_TWO,   /* "10/4": 10 April or October 4 */
    ST_DAY_NONE   /* no day */
};

/* Bytes of the words for a day that stand at the beginning of text, with the colon, comma or dash behind them; 0 none.
 * first: they open a line or sentence, where "4.10." and "after six weeks" are days too; else only what can be nothing
 * else ("yesterday", "on 4 October").
 * *since: a length of time counted from the day before, which tells a recipe how long something stood. */
size_t st_day_words_at(const char *text, bool first, bool *since);

/* Which day the words (as found above) mean.  No year: the latest such day that is not after today.
 * Given:    today; before: the day that lengths of time are counted from; month_first: "10/4" is October 4
 * Returned: *day for ST_DAY_SAID, ST_DAY_ABOUT and ST_DAY_AHEAD, else untouched. */
enum st_day_said st_day_said(const char *words, long today, long before, bool month_first, long *day);

#endif
