#include "figure_words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Power of ten of the last digit worth saying: the half width to one figure, to two if it starts with 1. */
static int last_place(double half)
{
    int e = (int)floor(log10(half));
    double lead = half / pow(10.0, e);
    if (lead >= 9.5) {
        lead /= 10.0;
        e++;
    }
    return lead < 1.95 ? e - 1 : e;
}

static double rounded(double x, double place)
{
    const double y = place >= 1.0 ? round(x / place) * place : round(x * round(1.0 / place)) / round(1.0 / place);
    return y == 0.0 ? 0.0 : y; /* no minus zero */
}

/* Rounding outward forgives what is the last digit already. */
static double outward(double x, double place, double side)
{
    const double k = x / place, near = round(k);
    if (fabs(k - near) < 1e-6)
        return rounded(near * place, place);
    return rounded((side < 0.0 ? floor(k) : ceil(k)) * place, place);
}

static void with_unit(char *buf, size_t size, const char *unit)
{
    const size_t n = strlen(buf);
    if (*unit && n < size)
        snprintf(buf + n, size - n, " %s", unit);
}

void st_plain_figure(char *buf, size_t size, double x, int figures)
{
    if (x == 0.0 || !isfinite(x)) {
        snprintf(buf, size, "%g", x == 0.0 ? 0.0 : x);
        return;
    }
    char text[48];
    snprintf(text, sizeof text, "%.*e", figures - 1, x); /* rounded, with the power it then has */
    const int power = (int)strtol(strchr(text, 'e') + 1, NULL, 10), digits = figures - 1 - power;
    snprintf(text, sizeof text, "%.*f", digits > 0 ? digits : 0, strtod(text, NULL));
    size_t n = strlen(text);
    while (strchr(text, '.') && (text[n - 1] == '0' || text[n - 1] == '.')) {
        n--;
        const bool point = text[n] == '.';
        text[n] = '\0';
        if (point)
            break;
    }
    snprintf(buf, size, "%s", text);
}

void st_figure_words(char *buf, size_t size, const struct st_interval *x, const char *unit)
{
    if (!x->known || !isfinite(x->value)) {
        snprintf(buf, size, "not known");
        return;
    }
    const double half = 0.5 * (x->high - x->low);
    if (!(half > 1e-9 * fabs(x->value)) || !isfinite(half)) {
        char value[40];
        st_plain_figure(value, sizeof value, x->value, 6);
        snprintf(buf, size, "exactly %s", value);
        with_unit(buf, size, unit);
        return;
    }
    const int e = last_place(half);
    const int digits = e < 0 ? -e : 0;
    const double place = pow(10.0, e);
    char ends[96];
    snprintf(buf, size, "%.*f", digits, rounded(x->value, place));
    with_unit(buf, size, unit);
    snprintf(ends, sizeof ends, ", likely between %.*f and %.*f", digits, outward(x->low, place, -1.0), digits,
             outward(x->high, place, 1.0));
    const size_t n = strlen(buf);
    if (n < size)
        snprintf(buf + n, size - n, "%s", ends);
}

void st_heard_words(char *buf, size_t size, const struct st_interval *x, const char *unit, enum st_heard heard)
{
    if (heard == ST_HEARD_FILE || !x->known || x->high > 0.0)
        st_figure_words(buf, size, x, unit);
    else
        snprintf(buf, size, "%s", heard == ST_HEARD_PART ? "not known: none is in what was read" : "none was told");
}

/* In the unit that is wished for. */
static struct st_interval volume_in(const struct st_interval *ml, enum st_measures units, const char **unit)
{
    const bool litres = ml->known && ml->value >= 1000.0;
    double scale = litres ? 1e-3 : 1.0;

    *unit = litres ? "L" : "mL";
    if (units == ST_MEASURES_US || units == ST_MEASURES_IMPERIAL) {
        *unit = "fl oz";
        scale = 1.0 / (units == ST_MEASURES_US ? 29.5735295625 : 28.4130625);
    }
    return (struct st_interval){ ml->value * scale, ml->low * scale, ml->high * scale, ml->status, ml->known };
}

void st_volume_words(char *buf, size_t size, const struct st_interval *ml, enum st_measures units)
{
    const char *unit;
    const struct st_interval x = volume_in(ml, units, &unit);
    st_figure_words(buf, size, &x, unit);
}

void st_figure_value(char *buf, size_t size, const struct st_interval *x)
{
    char text[160];
    st_figure_words(text, sizeof text, x, "");
    const char *from = strncmp(text, "exactly ", 8) == 0 ? text + 8 : text;
    snprintf(buf, size, "%.*s", (int)strcspn(from, ","), from);
}

void st_volume_value(char *buf, size_t size, const struct st_interval *ml, enum st_measures units)
{
    char text[160];
    st_volume_words(text, sizeof text, ml, units);
    const char *from = strncmp(text, "exactly ", 8) == 0 ? text + 8 : text;
    snprintf(buf, size, "%.*s", (int)strcspn(from, ","), from);
}

double st_figure_place(const struct st_interval *x)
{
    const double half = 0.5 * (x->high - x->low);
    if (!x->known || !isfinite(x->value) || !isfinite(half) || !(half > 1e-9 * fabs(x->value)))
        return 0.0;
    return pow(10.0, last_place(half));
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

void st_bottles_words(char *buf, size_t size, double volume_ml, double bottle_ml)
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

void st_grams_words(char *buf, size_t size, double g)
{
    char figure[40];
    if (g >= 99.5 && g < 1000.0)
        snprintf(figure, sizeof figure, "%.0f", g);
    else
        st_plain_figure(figure, sizeof figure, g >= 1000.0 ? g * 1e-3 : g, g >= 1000.0 ? 3 : 2);
    snprintf(buf, size, "%s %s", figure, g >= 1000.0 ? "kg" : "g");
}

/* "2 months", whose length is not one number. */
static void vague_words(char *buf, size_t size, const struct st_amount *time, const char *joint)
{
    const struct st_unit *u = time->unit;
    const double low = round(time->low / u->low * 10.0) / 10.0, high = round(time->high / u->high * 10.0) / 10.0;
    if (low < high)
        snprintf(buf, size, "%g%s%g %s", low, joint, high, u->plural);
    else
        snprintf(buf, size, "%g %s", high, high > 1.0 ? u->plural : u->name);
}

/* Is x whole, within this share of it? */
static bool is_whole(double x, double within)
{
    return x >= 1.0 - 1e-6 && fabs(x - round(x)) <= 1e-6 + within * x;
}

void st_time_span_words(char *buf, size_t size, const struct st_amount *time, const char *joint)
{
    static const struct {
        double s, within;
        const char *one, *many;
    } UNIT[] = { { 604800.0, 0.0, "week", "weeks" },
                 { 86400.0, 0.01, "day", "days" },
                 { 3600.0, 0.01, "hour", "hours" },
                 { 60.0, 0.0, "minute", "minutes" },
                 { 1.0, 1.0, "second", "seconds" } };
    int i = 0;

    buf[0] = '\0';
    if (time->dim != ST_DIM_TIME || !(time->value > 0.0))
        return;
    if (time->unit && st_unit_is_vague(time->unit) && time->unit->low > 0.0 && time->unit->high > 0.0) {
        vague_words(buf, size, time, joint);
        return;
    }
    const bool range = time->high > time->low * (1.0 + 1e-9) && time->low > 0.0;
    double low = range ? time->low : time->value, high = range ? time->high : time->value;
    while (i < 4 && !(is_whole(low / UNIT[i].s, UNIT[i].within) && is_whole(high / UNIT[i].s, UNIT[i].within)))
        i++;
    low = round(low / UNIT[i].s);
    high = round(high / UNIT[i].s);
    if (low < high)
        snprintf(buf, size, "%.0f%s%.0f %s", low, joint, high, UNIT[i].many);
    else
        snprintf(buf, size, "%.0f %s", high, high > 1.0 ? UNIT[i].many : UNIT[i].one);
}

void st_time_words(char *buf, size_t size, const struct st_amount *time)
{
    st_time_span_words(buf, size, time, " to ");
}
