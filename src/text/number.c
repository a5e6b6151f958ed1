#include "number.h"

#include <stdlib.h>
#include <string.h>

enum { DIGITS_LIMIT = 15, DENOMINATOR_LIMIT = 100 };

static const char NOT_A_NUMBER[] = "it is not a number";
static const char TOO_LONG[] = "it has more digits than any amount needs";
static const char BAD_FRACTION[] = "the fraction cannot be read";

static size_t digits_at(const struct st_scan *s)
{
    size_t n = 0;
    while (s->at + n < s->end && st_is_digit((unsigned char)s->at[n]))
        n++;
    return n;
}

/* The next n digits; n is at most DIGITS_LIMIT. */
static double take_digits(struct st_scan *s, size_t n)
{
    double x = 0.0;
    for (size_t i = 0; i < n; i++)
        x = 10.0 * x + (double)(*s->at++ - '0');
    return x;
}

/* ---- fractions ---- */

static bool vulgar(struct st_scan *s, double *x)
{
    static const struct {
        unsigned c;
        double top, bottom;
    } SIGN[] = {
        { 0xbc, 1, 4 },   { 0xbd, 1, 2 },   { 0xbe, 3, 4 },   { 0x2150, 1, 7 }, { 0x2151, 1, 9 }, { 0x2152, 1, 10 },
        { 0x2153, 1, 3 }, { 0x2154, 2, 3 }, { 0x2155, 1, 5 }, { 0x2156, 2, 5 }, { 0x2157, 3, 5 }, { 0x2158, 4, 5 },
        { 0x2159, 1, 6 }, { 0x215a, 5, 6 }, { 0x215b, 1, 8 }, { 0x215c, 3, 8 }, { 0x215d, 5, 8 }, { 0x215e, 7, 8 },
    };
    size_t n;
    const unsigned c = st_scan_char(s, &n);

    for (size_t i = 0; i < sizeof SIGN / sizeof SIGN[0]; i++)
        if (SIGN[i].c == c) {
            s->at += n;
            *x = SIGN[i].top / SIGN[i].bottom;
            return true;
        }
    return false;
}

static bool slash(struct st_scan *s)
{
    return st_scan_sign(s, "/") || st_scan_sign(s, "\xe2\x81\x84") || st_scan_sign(s, "\xe2\x88\x95");
}

/* "/2" after a numerator: 1 read, 0 none, -1 nonsense. */
static int denominator(struct st_scan *s, double *x)
{
    struct st_scan a = *s;
    if (!slash(&a))
        return 0;
    const size_t n = digits_at(&a);
    if (n == 0)
        return 0;
    if (n > 3)
        return -1;
    *x = take_digits(&a, n);
    const struct st_scan end = a;
    if (*x < 1.0 || *x > DENOMINATOR_LIMIT || (slash(&a) && digits_at(&a) > 0))
        return -1;
    *s = end;
    return 1;
}

/* A proper fraction that follows a whole number: "½", "1/2". */
static bool proper(struct st_scan *s, double *x)
{
    struct st_scan a = *s;
    double bottom;

    if (vulgar(s, x))
        return true;
    const size_t n = digits_at(&a);
    if (n == 0 || n > 3)
        return false;
    const double top = take_digits(&a, n);
    if (denominator(&a, &bottom) != 1 || top >= bottom || top <= 0.0)
        return false;
    *x = top / bottom;
    *s = a;
    return true;
}

static bool fraction_word(struct st_scan *s, double *x)
{
    static const struct {
        const char *words;
        double top, bottom;
    } WORD[] = {
        { "three quarters|three quarter", 3, 4 },  { "two thirds|two third", 2, 3 }, { "a half|one half|half", 1, 2 },
        { "a quarter|one quarter|quarter", 1, 4 }, { "a third|one third", 1, 3 },    { "an eighth|one eighth", 1, 8 },
    };
    for (size_t i = 0; i < sizeof WORD / sizeof WORD[0]; i++)
        if (st_scan_word(s, WORD[i].words)) {
            *x = WORD[i].top / WORD[i].bottom;
            return true;
        }
    return false;
}

static void and_fraction(struct st_scan *s, double *x)
{
    struct st_scan a = *s;
    double more;

    st_scan_blanks(&a);
    if (!st_scan_sign(&a, "&") && !st_scan_word(&a, "and"))
        return;
    st_scan_blanks(&a);
    if (proper(&a, &more) || fraction_word(&a, &more)) {
        *x += more;
        *s = a;
    }
}

/* What may follow a whole number: "1 1/2", "1-1/2", "1½", "1 & 1/2", "1 and a half". */
static void mixed(struct st_scan *s, double *x)
{
    struct st_scan a = *s;
    double more;

    const bool dash = st_scan_dash(&a);
    if (dash && !(*x >= 1.0))
        return; /* "0-3/4" is a range */
    if (!dash)
        st_scan_blanks(&a);
    if (proper(&a, &more)) {
        *x += more;
        *s = a;
        return;
    }
    and_fraction(s, x);
}

/* ---- decimals and thousands ---- */

static bool hard_gap(struct st_scan *s)
{
    return st_scan_sign(s, "'") || st_scan_sign(s, "\xe2\x80\x99") || st_scan_sign(s, "\xc2\xa0") ||
           st_scan_sign(s, "\xe2\x80\x89") || st_scan_sign(s, "\xe2\x80\xaf");
}

/* Groups of three after s, each behind a comma (or behind a hard gap); how many. */
static int groups(struct st_scan *s, bool comma, double *x)
{
    int n = 0;
    for (;;) {
        struct st_scan a = *s;
        if (!(comma ? st_scan_sign(&a, ",") : hard_gap(&a)) || digits_at(&a) != 3 || n == 3)
            return n;
        *x = 1000.0 * *x + take_digits(&a, 3);
        *s = a;
        n++;
    }
}

/* Digits behind a point or comma. */
static bool decimals(struct st_scan *s, double *x, const char **why)
{
    char copy[DIGITS_LIMIT + 3] = "0.";
    const size_t n = digits_at(s);

    if (n > DIGITS_LIMIT) {
        *why = TOO_LONG;
        return false;
    }
    memcpy(copy + 2, s->at, n);
    *x += strtod(copy, NULL);
    s->at += n;
    return true;
}

static bool point(struct st_scan *s, const char *sign)
{
    struct st_scan a = *s;
    if (!st_scan_sign(&a, sign) || digits_at(&a) == 0)
        return false;
    *s = a;
    return true;
}

/* "2 500": a plain blank before just three digits that begin no fraction.  Nobody writes a number of its own as "000" or "050":
 * "1 000" is a thousand. */
static bool soft_gap(struct st_scan *s, size_t first, struct st_number *out)
{
    struct st_scan a = *s;
    if (first > 3 || !st_scan_sign(&a, " ") || digits_at(&a) != 3)
        return false;
    const double second = take_digits(&a, 3);
    struct st_scan b = a;
    if (slash(&b) || point(&b, "/"))
        return false;
    *s = a;
    const bool group = out->value >= 1.0 && second < 100.0;
    out->doubt = group ? ST_NUMBER_SURE : ST_NUMBER_GAP;
    out->other = second;
    out->value = 1000.0 * out->value + second;
    return true;
}

/* ".5", ",5": a figure that begins with its decimal sign. */
static bool leading_mark(struct st_scan *s)
{
    return point(s, ".") || point(s, ",");
}

/* The end of figures: no second point, no exponent. */
static int figures_end(struct st_scan *s, const char **why)
{
    struct st_scan a = *s;
    *why = NOT_A_NUMBER;
    if (leading_mark(&a))
        return -1;
    if (st_scan_sign(&a, "e") || st_scan_sign(&a, "E"))
        return digits_at(&a) > 0 || ((st_scan_sign(&a, "+") || st_scan_sign(&a, "-")) && digits_at(&a) > 0) ? -1 : 1;
    return 1;
}

static int comma_groups(struct st_scan *s, size_t first, bool zero, struct st_number *out, const char **why)
{
    struct st_scan a = *s;
    const double whole = out->value;
    double x = whole;
    const int n = first <= 3 && !zero ? groups(&a, true, &x) : 0;

    if (n == 0)
        return 0;
    out->value = x;
    if (n == 1 && !point(&(struct st_scan){ a.at, a.end }, ".")) {
        out->doubt = ST_NUMBER_COMMA;
        out->other = whole + (x - 1000.0 * whole) / 1000.0;
    } else if (point(&a, ".") && !decimals(&a, &out->value, why)) {
        return -1;
    }
    *s = a;
    return 1;
}

/* A number that begins with a digit, or with a point or a comma before one. */
static int figures(struct st_scan *s, struct st_number *out, const char **why)
{
    const size_t n = digits_at(s);
    double bottom = 1.0;
    int got;

    if (n > DIGITS_LIMIT) {
        *why = TOO_LONG;
        return -1;
    }
    const bool zero = n > 0 && *s->at == '0';
    out->value = take_digits(s, n);
    got = n > 0 ? denominator(s, &bottom) : 0;
    if (got != 0) {
        out->value /= bottom;
        *why = BAD_FRACTION;
        return got < 0 ? -1 : figures_end(s, why);
    }
    got = n > 0 ? comma_groups(s, n, zero, out, why) : 0;
    if (got != 0)
        return got < 0 ? -1 : figures_end(s, why);
    if (n > 0 && n <= 3 && groups(s, false, &out->value) > 0) {
        if (leading_mark(s) && !decimals(s, &out->value, why))
            return -1;
        return figures_end(s, why);
    }
    if (leading_mark(s))
        return decimals(s, &out->value, why) ? figures_end(s, why) : -1;
    if (!soft_gap(s, n, out))
        mixed(s, &out->value);
    return figures_end(s, why);
}

/* ---- words ---- */

static bool whole_word(struct st_scan *s, double *x)
{
    static const struct {
        const char *words;
        double x;
    } WORD[] = {
        { "one", 1 },
        { "two", 2 },
        { "three", 3 },
        { "four", 4 },
        { "five", 5 },
        { "six", 6 },
        { "seven", 7 },
        { "eight", 8 },
        { "nine", 9 },
        { "ten", 10 },
        { "eleven", 11 },
        { "twelve", 12 },
        { "thirteen", 13 },
        { "fourteen", 14 },
        { "fifteen", 15 },
        { "sixteen", 16 },
        { "eighteen", 18 },
        { "twenty", 20 },
        { "thirty", 30 },
        { "forty", 40 },
        { "fifty", 50 },
        { "sixty", 60 },
        { "eighty", 80 },
        { "ninety", 90 },
        { "a hundred|one hundred", 100 },
        { "a pair of", 2 },
    };
    for (size_t i = 0; i < sizeof WORD / sizeof WORD[0]; i++)
        if (st_scan_word(s, WORD[i].words)) {
            *x = WORD[i].x;
            return true;
        }
    return false;
}

/* Common practice, no source. */
static bool vague_word(struct st_scan *s, struct st_number *out)
{
    static const struct {
        const char *words;
        double low, value, high;
    } WORD[] = {
        { "a couple of|a couple|couple of", 2, 2, 3 },
        { "a good few", 4, 5, 7 },
        { "a few|few", 3, 4, 5 },
        { "several", 4, 5, 7 },
    };
    for (size_t i = 0; i < sizeof WORD / sizeof WORD[0]; i++)
        if (st_scan_word(s, WORD[i].words)) {
            out->low = WORD[i].low;
            out->value = WORD[i].value;
            out->high = WORD[i].high;
            out->vague = true;
            return true;
        }
    return false;
}

static bool words(struct st_scan *s, struct st_number *out)
{
    if (vague_word(s, out))
        return true;
    if (fraction_word(s, &out->value)) {
        (void)st_scan_word(s, "of a|of an|of|a|an"); /* "half a cup" */
        return true;
    }
    if (whole_word(s, &out->value)) {
        and_fraction(s, &out->value);
        return true;
    }
    out->value = 1.0;
    return st_scan_word(s, "a|an");
}

static bool begins_with_figures(const struct st_scan *s)
{
    struct st_scan a = *s;
    double x;
    return digits_at(&a) > 0 || leading_mark(&a) || vulgar(&a, &x);
}

/* "a 2 L jar", "a ½ cup": the article says nothing. */
static void skip_article(struct st_scan *s)
{
    struct st_scan a = *s;
    if (st_scan_word(&a, "a|an") && st_scan_blanks(&a) && begins_with_figures(&a))
        *s = a;
}

int st_number_read(struct st_scan *s, struct st_number *out, const char **why)
{
    struct st_scan a = *s;
    struct st_number n = { .figures = true, .doubt = ST_NUMBER_SURE };
    int got = 1;

    st_scan_blanks(&a);
    skip_article(&a);
    if (digits_at(&a) > 0 || leading_mark(&(struct st_scan){ a.at, a.end }))
        got = figures(&a, &n, why);
    else if (!vulgar(&a, &n.value)) {
        n.figures = false;
        got = words(&a, &n) ? 1 : 0;
    }
    if (got != 1)
        return got;
    if (!n.vague)
        n.low = n.high = n.value;
    *out = n;
    *s = a;
    return 1;
}

bool st_number_share(struct st_scan *s, double *share)
{
    struct st_scan a = *s;
    struct st_number n;
    const char *why;

    if (!fraction_word(&a, share)) {
        if (st_number_read(&a, &n, &why) != 1 || !n.figures || n.doubt != ST_NUMBER_SURE)
            return false;
        *share = n.value;
        st_scan_blanks(&a);
        if (st_scan_sign(&a, "%") || st_scan_word(&a, "percent|per cent"))
            *share /= 100.0;
        else if (!(n.value < 1.0))
            return false;
    }
    if (!(*share > 0.0 && *share <= 1.0))
        return false;
    *s = a;
    return true;
}

bool st_is_percent(const char *behind)
{
    struct st_scan s = { behind, behind + strlen(behind) };

    st_scan_blanks(&s);
    if ((st_scan_sign(&s, "%") || st_scan_word(&s, "percent|per cent")) && st_scan_blanks(&s))
        (void)st_scan_word(&s, "vol|by volume");
    else
        (void)st_scan_word(&s, "vol"); /* "40%vol" */
    st_scan_blanks(&s);
    return s.at == s.end;
}
