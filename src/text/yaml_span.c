#include "yaml_span.h"

#include <stdlib.h>
#include <string.h>

struct reading {
    const char *p, *end;
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static void skip_blanks(struct reading *r)
{
    while (r->p < r->end && (*r->p == ' ' || *r->p == '\t' || *r->p == '\n'))
        r->p++;
}

static bool passed_over(struct reading *r, const char *word)
{
    const size_t n = strlen(word);
    if ((size_t)(r->end - r->p) < n || memcmp(r->p, word, n) != 0)
        return false;
    r->p += n;
    return true;
}

/* Digits with one point or comma among them. */
static bool read_number(struct reading *r, double *x, int *decimals)
{
    enum { DIGITS = 15 };
    char copy[DIGITS + 2];
    int n = 0, digits = 0, point = -1;

    for (; r->p < r->end; r->p++) {
        if (is_digit(*r->p)) {
            if (++digits > DIGITS)
                return false;
            copy[n++] = *r->p;
        } else if ((*r->p == '.' || *r->p == ',') && point < 0 && r->end - r->p > 1 && is_digit(r->p[1])) {
            point = digits;
            copy[n++] = '.';
        } else
            break;
    }
    if (digits == 0)
        return false;
    copy[n] = '\0';
    *x = strtod(copy, NULL);
    const int behind = point < 0 ? 0 : digits - point;
    if (behind > *decimals)
        *decimals = behind;
    return true;
}

static bool skip_dash(struct reading *r)
{
    return passed_over(r, "..") || passed_over(r, "-") || passed_over(r, "\xe2\x80\x93") /* en dash */ ||
           passed_over(r, "\xe2\x80\x94") || passed_over(r, "\xe2\x88\x92") /* minus */ || passed_over(r, "to ");
}

static bool skip_plus_minus(struct reading *r)
{
    return passed_over(r, "\xc2\xb1") || passed_over(r, "+-") || passed_over(r, "+/-");
}

/* What stands up to a dash or plus-minus, or the end: a unit. */
static void read_unit(struct reading *r, const char **unit, size_t *size)
{
    skip_blanks(r);
    *unit = r->p;
    while (r->p < r->end) {
        struct reading ahead = *r;
        if (skip_dash(&ahead) || skip_plus_minus(&ahead))
            break;
        r->p++;
    }
    const char *last = r->p;
    while (last > *unit && (last[-1] == ' ' || last[-1] == '\t' || last[-1] == '\n'))
        last--;
    *size = (size_t)(last - *unit);
}

static bool read_second(struct reading *r, struct st_span *s)
{
    double x;
    const bool about = skip_plus_minus(r);
    if (!about && !skip_dash(r))
        return false;
    skip_blanks(r);
    if (!read_number(r, &x, &s->decimals))
        return false;
    s->low = about ? s->value - x : s->value;
    s->high = about ? s->value + x : x;
    s->single = false;
    return s->low >= 0 && s->low <= s->high;
}

/* "0.5 (0-24) %": the value lies nearer to one end.  False: it is begun, and is none. */
static bool read_ends(struct reading *r, struct st_span *s)
{
    skip_blanks(r);
    if (!passed_over(r, "("))
        return true;
    s->single = false;
    skip_blanks(r);
    if (!read_number(r, &s->low, &s->decimals))
        return false;
    skip_blanks(r);
    if (!skip_dash(r))
        return false;
    skip_blanks(r);
    if (!read_number(r, &s->high, &s->decimals))
        return false;
    skip_blanks(r);
    return passed_over(r, ")") && s->low <= s->value && s->value <= s->high;
}

bool st_span_read(const char *text, size_t size, struct st_span *out)
{
    struct reading r = { text, text + size };
    struct st_span s = { .single = true };

    skip_blanks(&r);
    if (!read_number(&r, &s.value, &s.decimals))
        return false;
    s.low = s.high = s.value;
    if (!read_ends(&r, &s))
        return false;
    read_unit(&r, &s.unit, &s.unit_size);
    if (r.p < r.end && s.single) {
        const char *unit;
        size_t n;
        if (!read_second(&r, &s))
            return false;
        read_unit(&r, &unit, &n);
        if (s.unit_size && n && (n != s.unit_size || memcmp(unit, s.unit, n) != 0))
            return false;
        if (n) {
            s.unit = unit;
            s.unit_size = n;
        }
        s.value = s.low / 2 + s.high / 2;
    }
    if (r.p < r.end)
        return false;
    *out = s;
    return true;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* One word of the list against the unit; *units is moved behind it. */
static bool same_word(const struct st_span *s, const char **units)
{
    size_t i = 0;
    bool same = true;
    for (; **units && **units != '|'; (*units)++) {
        if (**units == ' ')
            continue;
        while (i < s->unit_size && s->unit[i] == ' ')
            i++;
        same = same && i < s->unit_size && lower(s->unit[i]) == **units;
        i++;
    }
    return same && i == s->unit_size; /* blanks in either count for nothing */
}

bool st_span_unit_is(const struct st_span *s, const char *units)
{
    for (;; units++) {
        if (same_word(s, &units))
            return true;
        if (!*units)
            return false;
    }
}
