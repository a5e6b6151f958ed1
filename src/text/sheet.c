#include "sheet.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int st_sheet_problem(struct st_problem *problem, struct st_place at, const char *what, const char *attempt,
                     const char *why, ...)
{
    va_list args;

    problem->at = at;
    problem->is_question = 0;
    (void)snprintf(problem->what, sizeof problem->what, "%s", what);
    (void)snprintf(problem->try_, sizeof problem->try_, "%s", attempt);
    va_start(args, why);
    (void)vsnprintf(problem->why, sizeof problem->why, why, args);
    va_end(args);
    return -1;
}

/* Bytes of the UTF-8 character at p, 0 when it is none (overlong forms and surrogates are none). */
static int utf8_length(const unsigned char *p, const unsigned char *end)
{
    const long left = end - p;
    const unsigned c = p[0];

    if (c < 0x80)
        return 1;
    if (c >= 0xC2 && c <= 0xDF)
        return left >= 2 && (p[1] & 0xC0) == 0x80 ? 2 : 0;
    if (left < 3 || (p[1] & 0xC0) != 0x80 || (p[2] & 0xC0) != 0x80)
        return 0;
    if (c >= 0xE0 && c <= 0xEF)
        return (c == 0xE0 && p[1] < 0xA0) || (c == 0xED && p[1] > 0x9F) ? 0 : 3;
    if (c < 0xF0 || c > 0xF4 || left < 4 || (p[3] & 0xC0) != 0x80)
        return 0;
    return (c == 0xF0 && p[1] < 0x90) || (c == 0xF4 && p[1] > 0x8F) ? 0 : 4;
}

static bool is_control(unsigned char c)
{
    return (c < 0x20 && c != '\t' && c != '\n' && c != '\r') || c == 0x7F;
}

int st_sheet_open(struct st_sheet *s, char *text, size_t size, struct st_problem *problem)
{
    struct st_place at = { 1, 1 };
    const unsigned char *p = (const unsigned char *)text, *end = p + size, *start = p;

    if (size > ST_SHEET_SIZE_LIMIT)
        return st_sheet_problem(problem, (struct st_place){ 0 }, "cannot read this sheet", "split it",
                                "it has %zu bytes, the limit is %d", size, ST_SHEET_SIZE_LIMIT);
    while (p < end) {
        if (*p >= 0x20 && *p < 0x7F) { /* nearly all of it */
            p++;
            continue;
        }
        const int n = utf8_length(p, end);
        if (n == 0 || is_control(*p)) {
            at.column = (int)(p - start) + 1;
            return st_sheet_problem(problem, at, "cannot read this sheet", "save it as plain text in UTF-8",
                                    n ? "byte %#x is a control character" : "byte %#x is not UTF-8", *p);
        }
        if (*p == '\n') {
            at.line++;
            start = p + 1;
        }
        p += n;
    }
    *s = (struct st_sheet){ text, text + size, 0 };
    return 0;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r';
}

char *st_sheet_word(char **rest)
{
    char *p = *rest;
    while (is_blank(*p))
        p++;
    char *word = p;
    while (*p && !is_blank(*p))
        p++;
    if (*p)
        *p++ = '\0';
    while (is_blank(*p))
        p++;
    *rest = p;
    return word;
}

int st_sheet_next(struct st_sheet *s, struct st_sheet_line *out, struct st_problem *problem)
{
    while (s->next < s->end) {
        char *line = s->next, *stop = memchr(line, '\n', (size_t)(s->end - line));
        if (!stop)
            stop = s->end;
        s->next = stop < s->end ? stop + 1 : stop;
        s->line++;
        if (stop - line > ST_SHEET_LINE_LIMIT)
            return st_sheet_problem(problem, (struct st_place){ s->line, 1 }, "cannot read this line",
                                    "make it shorter", "it is longer than %d bytes", ST_SHEET_LINE_LIMIT);
        while (stop > line && is_blank(stop[-1]))
            stop--;
        *stop = '\0';
        char *rest = line;
        out->key = st_sheet_word(&rest);
        out->rest = rest;
        out->at = (struct st_place){ s->line, (int)(out->key - line) + 1 };
        if (*out->key && *out->key != '#')
            return 1;
    }
    return 0;
}

bool st_sheet_is_mark(const char *word)
{
    return word[0] && !word[1] && strchr("rmcpu", word[0]);
}

/* Up to 15 digits with one point: whole number and power of ten are exact in a double, so their quotient is the nearest
 * one, as strtod would give, in a fifth of the time.  False for anything else. */
static bool short_number(const char *text, double *out)
{
    static const double TEN_TO[] = { 1,   1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                     1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15 };
    long long whole = 0;
    int digits = 0, decimals = -1;

    for (; *text; text++) {
        if (*text == '.' && decimals < 0) {
            decimals = 0;
        } else if (*text >= '0' && *text <= '9' && digits < 15) {
            whole = whole*10 + (*text - '0');
            digits++;
            decimals += decimals >= 0;
        } else {
            return false;
        }
    }
    if (digits == 0)
        return false;
    *out = (double)whole/TEN_TO[decimals > 0 ? decimals : 0];
    return true;
}

/* A plain decimal number and nothing after it; strtod alone would also take "nan", "inf" and hexadecimals. */
static bool number(const char *text, double *out)
{
    char *end;
    if (short_number(text, out))
        return true;
    if (!*text || text[strspn(text, "0123456789.eE+-")])
        return false;
    *out = strtod(text, &end);
    return end != text && *end == '\0' && isfinite(*out);
}

/* "72..84", in place. */
static bool two_numbers(char *text, double *low, double *high)
{
    char *dots = strstr(text, "..");
    if (!dots)
        return false;
    *dots = '\0';
    return number(text, low) && number(dots + 2, high);
}

int st_sheet_figure(char *rest, const char *unit, double factor, double most, struct st_place at, struct st_range *out,
                    struct st_problem *problem)
{
    static const char WHAT[] = "cannot read this figure";
    static const char TRY[] = "write: value low..high unit mark source, such as 9.5 7..13 % m handbook value";
    const char *value = st_sheet_word(&rest);
    char *spread = st_sheet_word(&rest);
    const char *written_unit = st_sheet_word(&rest), *mark = st_sheet_word(&rest);
    struct st_range r = { .known = true, .mark = mark[0], .source = rest };

    if (!number(value, &r.value))
        return st_sheet_problem(problem, at, WHAT, TRY, "'%.40s' is not a number", value);
    if (!two_numbers(spread, &r.low, &r.high))
        return st_sheet_problem(problem, at, WHAT, TRY, "after %.40s comes its range as low..high", value);
    if (!(0 <= r.low && r.low <= r.value && r.value <= r.high && r.high <= most))
        return st_sheet_problem(problem, at, WHAT, TRY, "%g is not between its low %g and high %g, all in 0..%g",
                                r.value, r.low, r.high, most);
    if (strcmp(written_unit, unit) != 0)
        return st_sheet_problem(problem, at, WHAT, TRY, "its unit is '%.20s', not '%s'", written_unit, unit);
    if (!st_sheet_is_mark(mark))
        return st_sheet_problem(problem, at, WHAT, TRY, "the mark '%.20s' is none of r, m, c, p, u", mark);
    if (!*rest)
        return st_sheet_problem(problem, at, WHAT, TRY, "it names no source");
    r.value *= factor;
    r.low *= factor;
    r.high *= factor;
    *out = r;
    return 0;
}
