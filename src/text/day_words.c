#include "day_words.h"

#include <stdio.h>

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
