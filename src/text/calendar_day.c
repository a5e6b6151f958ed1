#include "calendar_day.h"

#include <stdio.h>

static bool is_leap(long y)
{
    return (y % 4 == 0 && y % 100 != 0) || y % 400 == 0;
}

static int days_of(long y, int m)
{
    static const int DAYS[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
    return DAYS[m - 1] + (m == 2 && is_leap(y) ? 1 : 0);
}

/* Days from 1970-01-01 to the first of January of year y >= 1. */
static long first_of(long y)
{
    const long before = y - 1;
    return 365 * (y - 1970) + (before / 4 - before / 100 + before / 400) - (1969 / 4 - 1969 / 100 + 1969 / 400);
}

static bool digits(const char *text, int n, int *out)
{
    *out = 0;
    for (int i = 0; i < n; i++) {
        if (text[i] < '0' || text[i] > '9')
            return false;
        *out = *out * 10 + (text[i] - '0');
    }
    return true;
}

bool st_day_number(const char *text, long *day)
{
    int y, m, d;
    if (!digits(text, 4, &y) || text[4] != '-' || !digits(text + 5, 2, &m) || text[7] != '-' ||
        !digits(text + 8, 2, &d) || text[10] != '\0')
        return false;
    if (y < 1800 || y > 2999 || m < 1 || m > 12 || d < 1 || d > days_of(y, m))
        return false;
    long n = first_of(y) + d - 1;
    for (int k = 1; k < m; k++)
        n += days_of(y, k);
    *day = n;
    return true;
}

int st_weekday(long day)
{
    const long w = (day + 3) % 7; /* 1970-01-01 was a Thursday */
    return (int)(w < 0 ? w + 7 : w);
}

const char *st_weekday_name(int weekday)
{
    static const char *const NAME[] = { "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday" };
    return weekday >= 0 && weekday < 7 ? NAME[weekday] : "";
}

void st_day_write(long day, char out[11])
{
    long y = 1970 + day / 366 - 1;
    while (first_of(y + 1) <= day)
        y++;
    while (first_of(y) > day)
        y--;
    int m = 1, rest = (int)(day - first_of(y));
    while (rest >= days_of(y, m))
        rest -= days_of(y, m++);
    snprintf(out, 11, "%04u-%02u-%02u", (unsigned)y % 10000u, (unsigned)m % 100u, ((unsigned)rest + 1u) % 100u);
}
