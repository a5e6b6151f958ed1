#include "check_value.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* a number that ends where the text ends or a '/' stands */
static const char *one_number(const char *word, double *x)
{
    char *end;
    *x = strtod(word, &end);
    return end == word ? NULL : end;
}

bool check_number(const char *word, double *x)
{
    double a, b;
    const char *end = one_number(word, &a);
    if (!end)
        return false;
    if (*end == '/') {
        end = one_number(end + 1, &b);
        if (!end || b == 0.0)
            return false;
        a /= b;
    }
    if (*end != '\0')
        return false;
    *x = a;
    return true;
}

/* low..high: the dots are the last two before a number, since "4..5" may be read as "4." and ".5" */
static bool read_inside(const char *word, struct check_expected *e)
{
    char low[64];
    const char *dots = strstr(word, "..");
    if (!dots || dots == word || (size_t)(dots - word) >= sizeof low)
        return false;
    memcpy(low, word, (size_t)(dots - word));
    low[dots - word] = '\0';
    e->want = CHECK_INSIDE;
    return check_number(low, &e->low) && check_number(dots + 2, &e->high) && e->low <= e->high;
}

bool check_read_expected(const char *word, struct check_expected *e)
{
    e->low = -(double)INFINITY;
    e->high = (double)INFINITY;
    if (strcmp(word, "none") == 0) {
        e->want = CHECK_NONE;
        return true;
    }
    if (strncmp(word, "<=", 2) == 0) {
        e->want = CHECK_AT_MOST;
        return check_number(word + 2, &e->high) && isfinite(e->high);
    }
    if (strncmp(word, ">=", 2) == 0) {
        e->want = CHECK_AT_LEAST;
        return check_number(word + 2, &e->low) && isfinite(e->low);
    }
    if (strstr(word, ".."))
        return read_inside(word, e) && isfinite(e->low) && isfinite(e->high);
    e->want = CHECK_VALUE;
    if (!check_number(word, &e->low) || !isfinite(e->low))
        return false;
    e->high = e->low;
    return true;
}

int check_read_tolerance(const char *const word[], int n, struct check_tolerance *t)
{
    t->size = 0.0;
    if (n >= 1 && strcmp(word[0], "-") == 0) {
        t->how = CHECK_SHOWN;
        return 1;
    }
    if (n >= 2 && strcmp(word[0], "rel") == 0) {
        t->how = CHECK_RELATIVE;
        return check_number(word[1], &t->size) && t->size >= 0.0 && isfinite(t->size) ? 2 : 0;
    }
    if (n >= 2 && strcmp(word[0], "factor") == 0) {
        t->how = CHECK_FACTOR;
        return check_number(word[1], &t->size) && t->size >= 1.0 && isfinite(t->size) ? 2 : 0;
    }
    t->how = CHECK_ABSOLUTE;
    return n >= 1 && check_number(word[0], &t->size) && t->size >= 0.0 && isfinite(t->size) ? 1 : 0;
}

/* One part in 1e12 is left for decimal fractions: 0.15 - 0.10 is a little more than 0.05. */
static double share_of(double deviation, double size, double scale)
{
    const double d = fabs(deviation), grain = 1e-12 * size + 4e-16 * scale;
    if (isnan(deviation))
        return (double)INFINITY;
    if (d <= size + grain)
        return size > 0.0 ? (d < size ? d / size : 1.0) : 0.0;
    return size > 0.0 ? d / size : (double)INFINITY;
}

static struct check_deviation by_factor(double value, double edge, double size)
{
    struct check_deviation d = { (double)INFINITY, (double)INFINITY };
    if (!(value * edge > 0.0)) /* other sign, or 0: no factor leads there */
        return d;
    const double f = value / edge > 1.0 ? value / edge : edge / value;
    d.deviation = f - 1.0;
    d.share = f <= size * (1.0 + 1e-12) ? (size > 1.0 ? fmin(1.0, log(f) / log(size)) : 0.0) : f / size;
    return d;
}

struct check_deviation check_judge(double value, const struct check_expected *e, const struct check_tolerance *t)
{
    struct check_deviation d = { 0.0, 0.0 };
    if (isnan(value)) {
        d.deviation = d.share = (double)INFINITY;
        return d;
    }
    if (value >= e->low && value <= e->high)
        return d;
    const double edge = value < e->low ? e->low : e->high;
    d.deviation = value - edge;
    switch (t->how) {
    case CHECK_ABSOLUTE: d.share = share_of(d.deviation, t->size, fabs(edge)); break;
    case CHECK_RELATIVE:
        d.share = share_of(d.deviation, t->size * fabs(edge), fabs(edge));
        if (edge != 0.0)
            d.deviation /= fabs(edge);
        break;
    case CHECK_FACTOR: d = by_factor(value, edge, t->size); break;
    case CHECK_SHOWN: break;
    }
    return d;
}

void check_print_number(char *to, size_t room, double x, const struct check_tolerance *t)
{
    const bool fine = t->how == CHECK_RELATIVE || (t->how == CHECK_ABSOLUTE && t->size > 0.0 && t->size < 2e-5);
    if (fine || fabs(x) >= 1e7 || (x != 0.0 && fabs(x) < 1e-3))
        (void)snprintf(to, room, "%.17g", x);
    else
        (void)snprintf(to, room, "%.6f", x);
}

void check_print_expected(char *to, size_t room, const struct check_expected *e, const struct check_tolerance *t)
{
    char low[40], high[40];
    check_print_number(low, sizeof low, e->low, t);
    check_print_number(high, sizeof high, e->high, t);
    switch (e->want) {
    case CHECK_VALUE: (void)snprintf(to, room, "%s", low); break;
    case CHECK_INSIDE: (void)snprintf(to, room, "%s..%s", low, high); break;
    case CHECK_AT_MOST: (void)snprintf(to, room, "<= %s", high); break;
    case CHECK_AT_LEAST: (void)snprintf(to, room, ">= %s", low); break;
    case CHECK_NONE: (void)snprintf(to, room, "no value"); break;
    }
}

void check_print_tolerance(char *to, size_t room, const struct check_tolerance *t)
{
    switch (t->how) {
    case CHECK_ABSOLUTE: (void)snprintf(to, room, "+/- %g", t->size); break;
    case CHECK_RELATIVE: (void)snprintf(to, room, "+/- %g of it", t->size); break;
    case CHECK_FACTOR: (void)snprintf(to, room, "within a factor %g", t->size); break;
    case CHECK_SHOWN: (void)snprintf(to, room, "(shown only)"); break;
    }
}
