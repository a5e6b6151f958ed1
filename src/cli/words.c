#include <math.h>
#include <stdarg.h>
#include <string.h>
#include <time.h>

#include "cli/cli.h"
#include "cli/page.h"

double cli_now_ms(void)
{
    struct timespec t = { 0 };
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec * 1e-6;
}

void cli_say(int indent, int hang, const char *format, ...)
{
    char text[2048];
    va_list args;

    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    cli_wrap(indent, hang, text);
}

void cli_heading(const char *text)
{
    printf("\n%s\n", text);
}

void cli_figure_line(const char *name, const char *figure)
{
    enum { COLUMN = 17 };
    const int wide = (int)strlen(name) + 3; /* names are plain ASCII */
    printf("  %-*s", (wide > COLUMN ? wide : COLUMN) - 2, name);
    cli_wrap_on(wide > COLUMN ? wide : COLUMN, COLUMN, figure);
}

/* What is left over after whole bottles of this size. */
static const char *rest_words(double ml, double bottle_ml)
{
    const double share = ml / bottle_ml;
    if (ml < 15.0 || share < 0.03)
        return "";
    if (ml < 60.0)
        return "a taste";
    if (share < 0.3 && ml < 180.0)
        return "a glass";
    if (share < 0.3)
        return "a quarter of another";
    if (share < 0.42)
        return "a third of another";
    if (share < 0.58)
        return "half of another";
    if (share < 0.71)
        return "two thirds of another";
    return share < 0.9 ? "most of another" : "nearly another";
}

void cli_bottles_text(char *buf, size_t size, double volume_ml, double bottle_ml)
{
    const double whole = floor(volume_ml / bottle_ml + 1e-9);
    const char *rest = rest_words(volume_ml - whole * bottle_ml, bottle_ml);

    if (whole < 1.0) {
        snprintf(buf, size, "less than one bottle of %g mL", bottle_ml);
        return;
    }
    snprintf(buf, size, "%.0f bottle%s of %g mL%s%s", whole, whole > 1.0 ? "s" : "", bottle_ml, *rest ? " and " : "",
             rest);
}

void cli_grams_text(char *buf, size_t size, double g)
{
    if (g >= 1000.0)
        snprintf(buf, size, "%.3g kg", g * 1e-3);
    else
        snprintf(buf, size, g >= 99.5 ? "%.0f g" : "%.2g g", g);
}

void cli_time_text(char *buf, size_t size, const struct st_amount *time)
{
    static const struct {
        double s;
        const char *one, *many;
    } UNIT[] = { { 2629800.0, "month", "months" }, { 604800.0, "week", "weeks" }, { 86400.0, "day", "days" },
                 { 3600.0, "hour", "hours" },      { 60.0, "minute", "minutes" },   { 1.0, "second", "seconds" } };
    const int n = sizeof UNIT / sizeof *UNIT;
    int i = 0;

    buf[0] = '\0';
    if (time->dim != ST_DIM_TIME || !(time->value > 0.0))
        return;
    if (time->unit && st_unit_is_vague(time->unit)) { /* "2 months", whose length is not one number */
        const double a = round(time->low / time->unit->low), b = round(time->high / time->unit->high);
        if (a < b)
            snprintf(buf, size, "%g to %g %s", a, b, time->unit->plural);
        else
            snprintf(buf, size, "%g %s", b, b > 1.0 ? time->unit->plural : time->unit->name);
        return;
    }
    const bool range = time->high > time->low * (1.0 + 1e-9) && time->low > 0.0;
    const double low = range ? time->low : time->value, high = range ? time->high : time->value;
    for (; i < n - 1; i++) { /* the largest unit in which both ends are whole, or nearly */
        const double a = low / UNIT[i].s, b = high / UNIT[i].s;
        if (a >= 1.0 - 1e-9 && fabs(a - round(a)) < 0.02 && fabs(b - round(b)) < 0.02)
            break;
    }
    if (range)
        snprintf(buf, size, "%g to %g %s", round(low / UNIT[i].s), round(high / UNIT[i].s), UNIT[i].many);
    else
        snprintf(buf, size, "%g %s", round(low / UNIT[i].s), low / UNIT[i].s > 1.5 ? UNIT[i].many : UNIT[i].one);
}
