#include "line_draft.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* A point or a comma before a digit. */
static bool is_mark(const char *p)
{
    return (*p == '.' || *p == ',') && st_is_digit((unsigned char)p[1]);
}

struct st_scan st_draft_from(const struct st_draft *d, size_t at)
{
    return (struct st_scan){ d->work + at, d->work + d->n };
}

void st_draft_blank(struct st_draft *d, size_t from, size_t to)
{
    memset(d->work + from, ' ', to - from);
    if (to > from && is_mark(d->work + to))
        d->work[to] = ';'; /* of "40 %,5 L": no decimal sign, now that blanks stand before it */
}

int st_draft_stop(struct st_draft *d, size_t at, const char *why, const char *try_, const char *what, ...)
{
    va_list args;

    *d->problem = (struct st_problem){ .at = { 0, (int)at + 1 } };
    va_start(args, what);
    (void)vsnprintf(d->problem->what, sizeof d->problem->what, what, args);
    va_end(args);
    (void)snprintf(d->problem->why, sizeof d->problem->why, "%s", why);
    (void)snprintf(d->problem->try_, sizeof d->problem->try_, "%s", try_);
    return -1;
}

static bool is_word_byte(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '\'' || (c & 0x80) != 0;
}

/* "gin .5 L", "(,5 L)": the decimal sign of a figure that begins with it.  In "sugar,5 g" it parts two words. */
static bool begins_decimal(const struct st_draft *d, size_t at)
{
    return at < d->n && is_mark(d->work + at) && (at == 0 || strchr(" \t([", d->text[at - 1]));
}

bool st_draft_is_start(const struct st_draft *d, size_t at)
{
    if (at == 0)
        return true;
    const char before = d->work[at - 1];
    if ((before & 0x80) != 0 && at >= 3) { /* dashes, wide blanks and the like are no part of a word */
        struct st_scan s = st_draft_from(d, at - (at >= 3 && (d->work[at - 3] & 0xf0) == 0xe0 ? 3u : 2u));
        size_t n;
        const unsigned c = st_scan_char(&s, &n);
        return c != 0xfffd && !st_is_letter(c) && !st_is_digit(c);
    }
    if (before == '.' || before == ',')
        return !st_is_digit((unsigned char)d->work[at]) ||
               !((at >= 2 && st_is_digit((unsigned char)d->work[at - 2])) || begins_decimal(d, at - 1));
    return !is_word_byte(before);
}

bool st_draft_is_number(const struct st_draft *d, size_t at)
{
    struct st_scan s = st_draft_from(d, at);
    size_t n;
    const unsigned c = st_scan_char(&s, &n);
    return st_is_digit(c) || begins_decimal(d, at) || c == '~' || c == 0x2248 || c == 0x223c ||
           (c >= 0xbc && c <= 0xbe) || (c >= 0x2150 && c <= 0x215e);
}

void st_draft_blank_before(struct st_draft *d, size_t at, const char *words)
{
    size_t end = at, from;

    while (end > 0 && (d->work[end - 1] == ' ' || d->work[end - 1] == '.'))
        end--;
    from = end;
    while (from > 0 && (is_word_byte(d->work[from - 1]) || (d->work[from - 1] == '@' && from == end)))
        from--;
    struct st_scan s = st_draft_from(d, from);
    if (from < end && st_scan_word(&s, words) && s.at == d->work + end)
        st_draft_blank(d, from, end);
}

/* ---- figures of one sort, wherever they stand ---- */

struct st_range st_draft_range(const struct st_amount *a)
{
    return (struct st_range){ a->value, a->low, a->high, true, 'u', "" };
}

bool st_draft_next(const struct st_draft *d, enum st_dimension dim, size_t from, struct st_found *out)
{
    const struct st_ask ask = { d->ask.measures, ST_DIM_BIT(dim), false, false };

    for (size_t i = from; i < d->n; i++) {
        struct st_scan s = st_draft_from(d, i);
        if (!st_draft_is_number(d, i) || !st_draft_is_start(d, i))
            continue;
        *out = (struct st_found){ .at = i };
        out->got = st_closed_read(&s, &ask, &out->a, NULL, &out->problem);
        out->end = (size_t)(s.at - d->work);
        if (out->got == ST_GOT_NONSENSE || (out->got >= 0 && out->a.dim == dim))
            return true;
    }
    return false;
}

void st_draft_question(struct st_draft *d, size_t at, const struct st_problem *p)
{
    if (d->asks)
        return;
    d->asks = true;
    d->question = *p;
    d->question.at.column = (int)at + 1;
}

/* ---- temperature ---- */

/* "60 °C" and "60 degrees F" tell themselves; "2 C" may be two cups, unless "at" stands before. */
static bool is_told(const struct st_draft *d, size_t at, size_t end)
{
    struct st_scan s = { d->work + at, d->work + end };
    size_t n, blank = at;

    for (; s.at < s.end; s.at += n) {
        const unsigned c = st_scan_char(&s, &n);
        if (c == 0xb0 || c == 0x2103 || c == 0x2109 || st_scan_letters(&s) >= 3)
            return true;
    }
    while (blank > 0 && d->work[blank - 1] == ' ')
        blank--;
    return blank >= 2 && blank < at && (d->work[blank - 1] | 0x20) == 't' && (d->work[blank - 2] | 0x20) == 'a' &&
           (blank == 2 || d->work[blank - 3] == ' ');
}

int st_draft_temperature(struct st_draft *d)
{
    struct st_found f;

    for (size_t i = 0; st_draft_next(d, ST_DIM_TEMPERATURE, i, &f); i++) {
        i = f.at;
        if (f.got < 0 || !is_told(d, f.at, f.end))
            continue;
        if (f.got == ST_GOT_QUESTION)
            st_draft_question(d, f.at, &f.problem);
        if (d->temperature.known)
            return st_draft_stop(d, f.at, "a line has one temperature", "keep one of them", "a second temperature");
        d->temperature = st_draft_range(&f.a);
        st_draft_blank(d, f.at, f.end);
        st_draft_blank_before(d, f.at, "at");
        i = f.end - 1;
    }
    return 0;
}

void st_draft_warmth(struct st_draft *d)
{
    /* kelvin, from memory */
    static const struct {
        const char *words;
        double value, low, high;
    } WARMTH[] = {
        { "boiling", 371.15, 363.15, 373.15 },       { "hot", 353.15, 333.15, 368.15 },
        { "lukewarm", 308.15, 303.15, 313.15 },      { "warm", 313.15, 305.15, 323.15 },
        { "ice cold|iced", 275.15, 273.15, 279.15 }, { "chilled|cold", 279.15, 276.15, 284.15 },
    };
    const enum st_kind k = d->what->kind;

    if (d->temperature.known || (k != ST_KIND_WATER && k != ST_KIND_SYRUP && k != ST_KIND_DAIRY &&
                                 k != ST_KIND_SPIRIT && k != ST_KIND_WINE && k != ST_KIND_JUICE))
        return;
    const size_t n = strlen(d->name);
    for (size_t w = 0; w < sizeof WARMTH / sizeof WARMTH[0]; w++)
        for (size_t i = 0; i < n; i++) {
            struct st_scan s = { d->name + i, d->name + n };
            if ((i == 0 || d->name[i - 1] == ' ') && d->name[i] != ' ' && st_scan_word(&s, WARMTH[w].words)) {
                d->temperature = (struct st_range){ WARMTH[w].value, WARMTH[w].low, WARMTH[w].high, true, 'm', "" };
                return;
            }
        }
}

/* ---- as bought, pitted ---- */

static bool blank_words(struct st_draft *d, const char *words)
{
    bool found = false;

    for (size_t i = 0; i < d->n; i++) {
        struct st_scan s = st_draft_from(d, i);
        if (d->work[i] == ' ' || !st_draft_is_start(d, i) || !st_scan_word(&s, words))
            continue;
        found = true;
        st_draft_blank(d, i, (size_t)(s.at - d->work));
    }
    return found;
}

bool st_draft_says(const struct st_draft *d, const char *words)
{
    for (size_t i = 0; i < d->n; i++) {
        struct st_scan s = { d->text + i, d->text + d->n };
        if ((i == 0 || !is_word_byte(d->text[i - 1])) && d->text[i] != ' ' && st_scan_word(&s, words))
            return true;
    }
    return false;
}

void st_draft_weighing(struct st_draft *d)
{
    if (blank_words(d, ST_GROSS_WORDS))
        d->gross = !d->net;
}
