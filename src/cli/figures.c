#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"

enum { WIDTH = 78 };

/* ---- JSON ---- */

static json_t *number(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

json_t *cli_json_interval(const struct st_interval *x)
{
    if (!x->known)
        return json_null();
    json_t *o = json_object();
    json_object_set_new(o, "value", number(x->value));
    json_object_set_new(o, "low", number(x->low));
    json_object_set_new(o, "high", number(x->high));
    json_object_set_new(o, "status", json_string(st_status_text(x->status)));
    return o;
}

void cli_json_figures(json_t *obj, const struct st_foretold *f)
{
    for (int i = 0; i < ST_NFIG; i++)
        json_object_set_new(obj, st_figure_info((enum st_figure)i)->key, cli_json_interval(&f->fig[i]));
}

static bool printed;

bool cli_json_printed(void)
{
    return printed;
}

json_t *cli_json_sources(const char *text)
{
    json_t *all = json_array();
    for (const char *p = strchr(text, '['); p; p = strchr(p, '[')) {
        const size_t n = strcspn(++p, "]");
        json_array_append_new(all, json_stringn(p, n));
    }
    return all;
}

int cli_json_print(json_t *doc)
{
    printed = true;
    const int failed = doc ? json_dumpf(doc, stdout, JSON_INDENT(2) | JSON_REAL_PRECISION(12)) : -1;
    if (!failed)
        putchar('\n');
    json_decref(doc);
    if (!failed && !ferror(stdout))
        return ST_EXIT_DONE;
    cli_error("the JSON document", "it could not be written", "look for a full disk");
    return ST_EXIT_SYSTEM;
}

/* ---- words ---- */

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

void cli_figure_text(char *buf, size_t size, const struct st_interval *x, const char *unit)
{
    if (!x->known || !isfinite(x->value)) {
        snprintf(buf, size, "not known");
        return;
    }
    const double half = 0.5 * (x->high - x->low);
    if (!(half > 1e-9 * fabs(x->value)) || !isfinite(half)) {
        snprintf(buf, size, "exactly %.6g", x->value);
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

void cli_volume_text(char *buf, size_t size, const struct st_interval *ml, enum st_measures units)
{
    const char *unit;
    const struct st_interval x = volume_in(ml, units, &unit);
    cli_figure_text(buf, size, &x, unit);
}

void cli_volume_value(char *buf, size_t size, const struct st_interval *ml, enum st_measures units)
{
    char text[160];
    cli_volume_text(text, sizeof text, ml, units);
    const char *from = strncmp(text, "exactly ", 8) == 0 ? text + 8 : text;
    snprintf(buf, size, "%.*s", (int)strcspn(from, ","), from);
}

/* Characters, not bytes, of the first n bytes of UTF-8. */
static int columns(const char *text, size_t n)
{
    int k = 0;
    for (size_t i = 0; i < n; i++)
        k += ((unsigned char)text[i] & 0xc0) != 0x80;
    return k;
}

void cli_wrap(int indent, int hang, const char *text)
{
    printf("%*s", indent, "");
    cli_wrap_on(indent, hang, text);
}

void cli_wrap_on(int at, int hang, const char *text)
{
    bool first = true;

    for (const char *s = text; *s;) {
        s += strspn(s, " \t\r\n");
        const size_t n = strcspn(s, " \t\r\n");
        if (n == 0)
            break;
        const int w = columns(s, n);
        if (!first && at + 1 + w > WIDTH) {
            printf("\n%*s", hang, "");
            at = hang;
            first = true;
        }
        if (!first)
            putchar(' ');
        fwrite(s, 1, n, stdout);
        at += w + !first;
        first = false;
        s += n;
    }
    putchar('\n');
}
