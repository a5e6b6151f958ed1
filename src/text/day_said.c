#include "day_said.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "calendar_day.h"
#include "scan.h"
#include "take_words.h"

enum form { CALENDAR, SLASHED, BACK, SINCE, MONTH };

/* The words, not yet a day. */
struct told {
    enum form form;
    int year, month, day; /* CALENDAR, MONTH; year 0: not told.  SLASHED: the two figures as written */
    long days;            /* BACK, SINCE */
    bool about;
};

/* ---- words ---- */

static bool figure(struct st_scan *s, int least, int most, int *out)
{
    int n = 0, digits = 0;
    const char *p = s->at;
    for (; p < s->end && isdigit((unsigned char)*p) && digits < 5; p++, digits++)
        n = 10 * n + (*p - '0');
    if (digits == 0 || digits > 4 || n < least || n > most)
        return false;
    s->at = p;
    *out = n;
    return true;
}

/* Whether a figure would be one of these. */
static bool is_unit(const struct st_scan *s)
{
    static const char UNIT[] =
        "g|kg|mg|ml|cl|dl|l|litre|litres|liter|liters|gram|grams|cup|cups|tsp|tbsp|teaspoon|teaspoons|tablespoon|"
        "tablespoons|oz|fl|ounce|ounces|pound|pounds|lb|lbs|pint|pints|quart|quarts|gallon|gallons|inch|part|parts|of|"
        "bottle|bottles|jar|jars|proof|percent|days|weeks|months|hours|minutes|degrees|%|x";
    struct st_scan a = *s;
    return st_scan_word(&a, UNIT);
}

static bool month_name(struct st_scan *s, bool whole, int *out)
{
    static const char *const NAME[] = { "january|jan.|jan",
                                        "february|feb.|feb",
                                        "march|mar.|mar",
                                        "april|apr.|apr",
                                        "may",
                                        "june|jun.|jun",
                                        "july|jul.|jul",
                                        "august|aug.|aug",
                                        "september|sept.|sept|sep.|sep",
                                        "october|oct.|oct",
                                        "november|nov.|nov",
                                        "december|dec.|dec" };
    for (int i = 0; i < 12; i++) {
        struct st_scan a = *s;
        if (st_scan_word(&a, NAME[i]) && (!whole || a.at - s->at > 4 || i == 4)) {
            *s = a;
            *out = i + 1;
            return true;
        }
    }
    return false;
}

/* "4", "4th"; a unit or a point must not follow.  Up to 99: "November 40" is a day that the calendar has not. */
static bool day_figure(struct st_scan *s, int *out)
{
    static const char *const NTH[] = { "st", "nd", "rd", "th" };
    struct st_scan a = *s;
    if (!figure(&a, 1, 99, out))
        return false;
    for (size_t i = 0; i < sizeof NTH / sizeof *NTH; i++)
        if (a.end - a.at >= 2 && strncmp(a.at, NTH[i], 2) == 0) {
            a.at += 2;
            break;
        }
    if (a.at < a.end && (isalnum((unsigned char)*a.at) || *a.at == '%' || *a.at == '/'))
        return false;
    *s = a;
    return true;
}

/* ", 2026", " 2026", where it is a year. */
static void year_behind(struct st_scan *s, int *year)
{
    struct st_scan a = *s;
    (void)st_scan_sign(&a, ",");
    if (st_scan_blanks(&a) && figure(&a, 1800, 2999, year) &&
        (a.at == a.end || !(isalnum((unsigned char)*a.at) || *a.at == '%')) &&
        !(a.end - a.at > 2 && *a.at == ' ' && (strncmp(a.at, " g ", 3) == 0 || strncmp(a.at, " ml", 3) == 0)))
        *s = a;
    else
        *year = 0;
}

/* Behind "Nov 40": not "Nov 40 g". */
static bool may_be_no_day(const struct st_scan *s)
{
    struct st_scan a = *s;
    if (a.at == a.end || strchr(":,;.", *a.at) || !st_scan_blanks(&a))
        return true;
    return !is_unit(&a);
}

/* "Oct 4", "October 4th, 2026", "4 October", "4th of Oct". */
static bool named_month(struct st_scan *s, bool opens, struct told *t)
{
    struct st_scan a = *s;
    t->form = CALENDAR;
    if (month_name(&a, false, &t->month)) {
        if (!st_scan_blanks(&a) || !day_figure(&a, &t->day))
            return false;
    } else {
        if (!day_figure(&a, &t->day))
            return false;
        (void)st_scan_sign(&a, ".");
        st_scan_blanks(&a);
        if (st_scan_word(&a, "of"))
            st_scan_blanks(&a);
        if (!month_name(&a, false, &t->month))
            return false;
    }
    if (t->day > 31 && !(opens && may_be_no_day(&a)))
        return false;
    year_behind(&a, &t->year);
    *s = a;
    return true;
}

/* "2026-10-04" */
static bool iso(struct st_scan *s, struct told *t)
{
    struct st_scan a = *s;
    t->form = CALENDAR;
    if (!figure(&a, 1800, 2999, &t->year) || !st_scan_sign(&a, "-") || !figure(&a, 0, 99, &t->month) ||
        !st_scan_sign(&a, "-") || !figure(&a, 0, 99, &t->day) || (a.at < a.end && isalnum((unsigned char)*a.at)))
        return false;
    *s = a;
    return true;
}

/* "4.10.", "4.10.2026", "4.10:"; not "4.10 g". */
static bool dotted(struct st_scan *s, struct told *t)
{
    struct st_scan a = *s;
    t->form = CALENDAR;
    if (!figure(&a, 1, 31, &t->day) || !st_scan_sign(&a, ".") || !figure(&a, 1, 99, &t->month))
        return false;
    const bool dot = st_scan_sign(&a, ".");
    struct st_scan y = a;
    const bool year = dot && figure(&y, 1800, 2999, &t->year);
    if (year)
        a = y;
    else
        t->year = 0;
    if ((!dot && (a.at == a.end || *a.at != ':')) || (a.at < a.end && isalnum((unsigned char)*a.at)))
        return false;
    *s = a;
    return true;
}

/* "3/4" may be a share of something; "10/4" and "10/12" are nobody's. */
static bool is_share(int over, int under)
{
    return over < under && (under < 7 || under == 8 || under == 10 || under == 16);
}

/* What is said behind "10/4" that is not said behind an amount. */
static bool day_goes_on(struct st_scan next, bool on, bool share)
{
    if (st_scan_sign(&next, ":") || st_scan_sign(&next, " - "))
        return true;
    if (!st_scan_blanks(&next))
        return next.at == next.end && !share;
    if (st_scan_word(&next, "i|we|some|more|another") ||
        st_words_at(&next, ST_WORD_BIT(ST_WORD_DEED) | ST_WORD_BIT(ST_WORD_PAST)))
        return true;
    return (on || !share) && !is_unit(&next);
}

/* "10/4:", "10/4/2026", "10/4 some sugar", "on 3/4 I put"; not "3/4 cup". */
static bool slashed(struct st_scan *s, bool on, struct told *t)
{
    struct st_scan a = *s;
    t->form = SLASHED;
    if (!figure(&a, 1, 31, &t->month) || !st_scan_sign(&a, "/") || !figure(&a, 1, 31, &t->day))
        return false;
    struct st_scan y = a;
    t->year = 0;
    if (st_scan_sign(&y, "/") && figure(&y, 0, 2999, &t->year)) {
        t->year += t->year < 100 ? 2000 : 0;
        a = y;
    } else if (!day_goes_on(a, on, is_share(t->month, t->day)))
        return false;
    *s = a;
    return true;
}

/* "6 weeks", "a month", "a couple of days": so many days. */
static bool length(struct st_scan *s, long *days, bool *about)
{
    static const char *const COUNT[] = {
        "a couple of|two|couple of", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"
    };
    static const struct {
        const char *words;
        long days; /* a month of 30, a year of 365 days: the day is about */
    } UNIT[] = { { "days|day", 1 }, { "weeks|week|wks|wk", 7 }, { "months|month|mths", 30 }, { "years|year", 365 } };
    struct st_scan a = *s;
    int n = 0;

    *about = st_scan_word(&a, "about|around|roughly|some|almost|maybe");
    st_scan_blanks(&a);
    if (!figure(&a, 1, 999, &n)) {
        for (int i = 0; i < 11 && n == 0; i++)
            n = st_scan_word(&a, COUNT[i]) ? i + 2 : 0;
        if (n == 0 && !st_scan_word(&a, "a|an|one"))
            return false;
        n = n ? n : 1;
    }
    st_scan_blanks(&a);
    for (size_t i = 0; i < sizeof UNIT / sizeof *UNIT; i++)
        if (st_scan_word(&a, UNIT[i].words)) {
            *about = *about || i > 1;
            *days = n * UNIT[i].days;
            *s = a;
            return true;
        }
    return false;
}

/* "yesterday", "last month", "3 weeks ago", and where they open a sentence "after six weeks", "2 days later". */
static bool counted(struct st_scan *s, bool first, struct told *t)
{
    static const struct {
        const char *words;
        long days;
        bool about;
    } BACK_BY[] = { { "the day before yesterday", 2, false },
                    { "yesterday", 1, false },
                    { "today", 0, false },
                    { "last week", 7, true },
                    { "last month", 30, true },
                    { "last year", 365, true } };
    struct st_scan a = *s;

    t->form = BACK;
    for (size_t i = 0; i < sizeof BACK_BY / sizeof *BACK_BY; i++)
        if (st_scan_word(&a, BACK_BY[i].words)) {
            t->days = BACK_BY[i].days;
            t->about = BACK_BY[i].about;
            *s = a;
            return a.at == a.end || *a.at != '\'';
        }
    const bool after = first && st_scan_word(&a, "after");
    st_scan_blanks(&a);
    if (!length(&a, &t->days, &t->about))
        return false;
    struct st_scan tail = a;
    st_scan_blanks(&tail);
    if (st_scan_word(&tail, "ago"))
        a = tail;
    else if (after || (first && st_scan_word(&tail, "later|after that"))) {
        t->form = SINCE;
        a = after ? a : tail;
    } else
        return false;
    *s = a;
    return true;
}

static bool read_told(struct st_scan *s, bool first, struct told *t)
{
    static const char WEEKDAY[] =
        "monday|tuesday|wednesday|thursday|friday|saturday|sunday|mon|tue|wed|thu|fri|sat|sun";
    struct st_scan a = *s, b;

    *t = (struct told){ .form = CALENDAR };
    if (first && st_scan_word(&a, "started|begun|began|dated|date")) {
        (void)st_scan_sign(&a, ":");
        st_scan_blanks(&a);
    }
    if (st_scan_word(&a, WEEKDAY)) {
        (void)st_scan_sign(&a, ",");
        st_scan_blanks(&a);
    }
    const bool on = st_scan_word(&a, "on");
    st_scan_blanks(&a);
    if (on && st_scan_word(&a, "the"))
        st_scan_blanks(&a);
    b = a;
    const bool named = named_month(&b, first || on, t);
    if (named && !first && !on && (t->month == 3 || t->month == 5))
        return false; /* "2 march past", "you may 4" */
    if (named || iso(&b, t) || ((first || on) && (dotted(&b, t) || slashed(&b, on && first, t))) ||
        (!on && counted(&b, first, t))) {
        *s = b;
        return true;
    }
    b = a;
    t->form = MONTH;
    t->year = 0;
    t->about = true;
    if (!first || on || !st_scan_word(&b, "in") || !st_scan_blanks(&b) || !month_name(&b, true, &t->month))
        return false;
    year_behind(&b, &t->year);
    *s = b;
    return true;
}

size_t st_day_words_at(const char *text, bool first, bool *since)
{
    struct st_scan s = { text, text + strlen(text) };
    struct told t;

    if (!read_told(&s, first, &t))
        return 0;
    *since = t.form == SINCE;
    if (first) {
        struct st_scan a = s;
        st_scan_blanks(&a);
        if (st_scan_sign(&a, ":") || st_scan_sign(&a, ",") || st_scan_sign(&a, "-") ||
            st_scan_sign(&a, "\xe2\x80\x93") || st_scan_sign(&a, "\xe2\x80\x94"))
            s = a;
    }
    return (size_t)(s.at - text);
}

/* ---- the day ---- */

static bool number_of(int year, int month, int day, long *out)
{
    char text[40];
    (void)snprintf(text, sizeof text, "%04d-%02d-%02d", year, month, day);
    return strlen(text) == 10 && st_day_number(text, out);
}

static enum st_day_said calendar(const struct told *t, int month, int day, long today, long *out)
{
    char now[11];
    int year = t->year;
    long n;

    if (year)
        return !number_of(year, month, day, out) ? ST_DAY_NEVER : *out > today ? ST_DAY_AHEAD : ST_DAY_SAID;
    st_day_write(today, now);
    struct st_scan s = { now, now + 4 };
    if (!figure(&s, 1, 9999, &year))
        return ST_DAY_NEVER;
    for (int back = 0; back < 8; back++) /* 29 February comes only every so often */
        if (number_of(year - back, month, day, &n) && n <= today) {
            *out = n;
            return ST_DAY_SAID;
        }
    return ST_DAY_NEVER;
}

enum st_day_said st_day_said(const char *words, long today, long before, bool month_first, long *day)
{
    struct st_scan s = { words, words + strlen(words) };
    struct told t;
    enum st_day_said said;

    if (!read_told(&s, true, &t))
        return ST_DAY_NONE;
    switch (t.form) {
    case BACK: *day = today - t.days; return t.about ? ST_DAY_ABOUT : ST_DAY_SAID;
    case SINCE: *day = before + t.days; return *day > today ? ST_DAY_AHEAD : t.about ? ST_DAY_ABOUT : ST_DAY_SAID;
    case MONTH: said = calendar(&t, t.month, 15, today, day); return said == ST_DAY_SAID ? ST_DAY_ABOUT : said;
    case SLASHED:
        if (!month_first && t.month <= 12 && t.day <= 12 && t.month != t.day)
            return ST_DAY_TWO;
        if (t.month > 12 || (!month_first && t.day <= 12))
            return calendar(&t, t.day, t.month, today, day);
        return calendar(&t, t.month, t.day, today, day);
    case CALENDAR: break;
    }
    return calendar(&t, t.month, t.day, today, day);
}
