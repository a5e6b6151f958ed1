#ifndef ST_TEXT_CALENDAR_DAY_H
#define ST_TEXT_CALENDAR_DAY_H

#include <stdbool.h>

/* Days of the calendar (proleptic Gregorian), as whole numbers; no clock, no time zone. */

/* Read "2026-10-04" (ISO 8601).
 * Returned: *day, days since 1970-01-01; untouched when false.
 * Result: false when it is no day of the years 1800 to 2999. */
bool st_day_number(const char *text, long *day);

/* 0 Monday .. 6 Sunday; its English name. */
int st_weekday(long day);
const char *st_weekday_name(int weekday);

/* Write "2026-10-04" into out. */
void st_day_write(long day, char out[11]);

#endif
