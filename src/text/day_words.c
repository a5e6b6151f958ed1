#include "day_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "calendar_day.h"

void st_date_words(char *buf, size_t size, const char *iso, const char *today, bool weekday)
{
    static const char *const MONTH[] = { "January", "February", "March",     "April",   "May",      "June",
                                         "July",    "August",   "September", "October", "November", "December" };
    char day[11];
    long number;
    snprintf(day, sizeof day, "%.10s", iso ? iso : "");
    if (!st_day_number(day, &number)) {
        snprintf(buf, size, "a day not known");
        return;
    }
    const long month = strtol(day + 5, NULL, 10), of = strtol(day + 8, NULL, 10);
    const bool this_year = today && strncmp(day, today, 4) == 0;
    snprintf(buf, size, "%s%s%ld %s%s%.4s", weekday ? st_weekday_name(st_weekday(number)) : "", weekday ? " " : "", of,
             MONTH[month - 1], this_year ? "" : " ", this_year ? "" : day);
}

void st_days_length(char *buf, size_t size, long days)
{
    const long n = days < 0 ? -days : days;
    const char *unit = "day";
    long count = n;

    if (n >= 730) {
        unit = "year";
        count = (4 * n + 730) / 1461;
    } else if (n > 63) {
        unit = "month";
        count = (100 * n + 1522) / 3044;
    } else if (n >= 14) {
        unit = "week";
        count = (n + 3) / 7;
    }
    snprintf(buf, size, "%ld %s%s", count, unit, count == 1 ? "" : "s");
}

void st_days_words(char *buf, size_t size, long days)
{
    char length[40];

    if (days >= -1 && days <= 1) {
        snprintf(buf, size, "%s", days == 0 ? "today" : days > 0 ? "tomorrow" : "yesterday");
        return;
    }
    st_days_length(length, sizeof length, days);
    snprintf(buf, size, days > 0 ? "in %s" : "%s ago", length);
}
