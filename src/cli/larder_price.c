#include "cli/larder.h"

#include <math.h>
#include <string.h>
#include <strings.h>

#include "cli/page.h"

/* A price with its money: "4.20", "4.20 EUR", "\xe2\x82\xac" "4.20". */

static const struct {
    const char *words, *code; /* words: '|' between; code NULL: several use it */
} MONEY[] = {
    { "\xe2\x82\xac|eur|euro|euros", "EUR" },
    { "\xc2\xa3|gbp|pound|pounds|quid", "GBP" },
    { "chf|franken|francs|sfr", "CHF" },
    { "usd|us$", "USD" },
    { "$|dollar|dollars", NULL },
    { "kr|krona|kronor|krone|kroner", NULL },
};
enum { NMONEY = sizeof MONEY / sizeof *MONEY };

static bool is_one_of(const char *words, const char *said, size_t n)
{
    for (const char *at = words;; at += 1) {
        const size_t k = strcspn(at, "|");
        if (k == n && strncasecmp(at, said, n) == 0)
            return true;
        at += k;
        if (!*at)
            return false;
    }
}

const char *larder_money_of(const char *said, size_t n, char code[4])
{
    for (int i = 0; i < NMONEY; i++)
        if (is_one_of(MONEY[i].words, said, n))
            return MONEY[i].code ? MONEY[i].code : "";
    for (size_t i = 0; i < n; i++)
        if (n != 3 || !((said[i] >= 'a' && said[i] <= 'z') || (said[i] >= 'A' && said[i] <= 'Z')))
            return NULL;
    for (size_t i = 0; i < 3; i++)
        code[i] = (char)(said[i] & ~0x20);
    code[3] = '\0';
    return code;
}

/* ",50", "\xe2\x82\xac.50": the mark begins the figure; behind a letter it may end a word ("kr.50"), and is none. */
static bool is_leading_mark(const char *said, const char *at)
{
    const char before = at > said ? at[-1] : ' ';
    const bool letter = (before >= 'a' && before <= 'z') || (before >= 'A' && before <= 'Z');
    return (*at == ',' || *at == '.') && !letter && before != ',' && before != '.';
}

/* The figure into number, what stands before or behind it into *word of *n bytes. */
static bool parted(const char *said, char *number, size_t size, const char **word, size_t *n)
{
    const char *from = said + strcspn(said, "0123456789"), *to = from + strspn(from, "0123456789.,");
    if (*from && from > said && is_leading_mark(said, from - 1))
        from--;
    const size_t before = (size_t)(from - said), figure = (size_t)(to - from);
    const char *behind = to + strspn(to, " ");
    size_t lead = before;

    while (lead > 0 && said[lead - 1] == ' ')
        lead--;
    if (figure == 0 || figure >= size || (lead > 0 && *behind))
        return false;
    memcpy(number, from, figure);
    number[figure] = '\0';
    *word = lead ? said : behind;
    *n = lead ? lead : strlen(behind);
    return true;
}

/* How often the mark stands in the figure, and where last. */
static int marks(const char *number, char mark, const char **last)
{
    int n = 0;
    for (const char *p = strchr(number, mark); p; p = strchr(p + 1, mark)) {
        *last = p;
        n++;
    }
    return n;
}

/* "1.299,00", "1,299.00", "1.299.000": the groups are closed, the last mark becomes a point; false where the groups are none. */
static bool close_groups(char *number, char group, const char *end)
{
    char *to = number;
    size_t digits = 0;
    bool first = true;

    for (const char *p = number; p < end; p++) {
        if (*p != group) {
            *to++ = *p;
            digits++;
            continue;
        }
        if (first ? digits == 0 || digits > 3 : digits != 3)
            return false;
        first = false;
        digits = 0;
    }
    if (digits != 3 || first)
        return false;
    memmove(to, end, strlen(end) + 1);
    if (*to)
        *to = '.';
    return true;
}

/* 1 read; 0 "1.299", which may be a thousand and more; -1 no figure. */
static int sum_of(char *number, double *x)
{
    const char *point = NULL, *comma = NULL;
    const int points = marks(number, '.', &point), commas = marks(number, ',', &comma);
    const char *last = !comma || (point && point > comma) ? point : comma;

    if (last && points + commas == 1 && strlen(last + 1) == 3 && last > number && last - number <= 3 && *number != '0')
        return 0;
    if (last && points + commas > 1) {
        const bool both = points > 0 && commas > 0;
        const char group = both == (*last == '.') ? ',' : '.'; /* both: the other one; else the one there is */
        if (!close_groups(number, group, both ? last : number + strlen(number)))
            return -1;
    }
    return cli_number(number, x) ? 1 : -1;
}

static bool wrong(const char *what, const char *why, const char *try_)
{
    cli_error(what, why, try_);
    return false;
}

static bool ask_of_groups(const char *what, const char *number)
{
    char why[160], try_[120];
    const int whole = (int)strcspn(number, ".,");
    (void)snprintf(why, sizeof why, "the %s may part thousands (%.*s%s), or be the decimal sign (%.*s.%s)",
                   number[whole] == '.' ? "point" : "comma", whole, number, number + whole + 1, whole, number,
                   number + whole + 1);
    (void)snprintf(try_, sizeof try_, "write %.*s%s, or %.*s.%s0", whole, number, number + whole + 1, whole, number,
                   number + whole + 1);
    return wrong(what, why, try_);
}

bool larder_money(const char *option, const char *said, double *x, const char **money)
{
    static char code[4];
    const char *word = "";
    char number[40], what[80], try_[120];
    size_t n = 0;

    (void)snprintf(what, sizeof what, "%s \"%.40s\"", option, said);
    (void)snprintf(try_, sizeof try_, "write for example %s 4.50, or with its money: %s \"4.50 EUR\"", option, option);
    if (!parted(said, number, sizeof number, &word, &n))
        return wrong(what, "it is no price", try_);
    *money = n > 0 ? larder_money_of(word, n, code) : NULL;
    if (n > 0 && !*money)
        return wrong(what, "it is no price", try_);
    const int got = sum_of(number, x);
    if (got == 0)
        return ask_of_groups(what, number);
    return (got > 0 && *x <= 1e9) || wrong(what, "it is no price", try_);
}

void larder_price(struct cli *c, double *price, const char **currency, bool *by_price, bool *bad)
{
    const char *said = cli_option(c, "--price", bad), *money = NULL;
    char what[80];
    double x;

    *by_price = false;
    if (!said)
        return;
    (void)snprintf(what, sizeof what, "--price \"%.40s\"", said);
    if (!larder_money("--price", said, &x, &money)) {
        *bad = true;
    } else if (money && !*money && !*currency) {
        cli_error(what, "several countries call their money so",
                  "write its three letters, for example USD, CAD, AUD, SEK: --price 4.50 --currency USD");
        *bad = true;
    } else if (money && *money && *currency && strcasecmp(money, *currency) != 0) {
        cli_error(what, "--currency says another money", "write one of them");
        *bad = true;
    } else {
        *price = x;
        *by_price = money && *money && !*currency;
        if (*by_price)
            *currency = money;
    }
}

void larder_pour_price(struct cli *c, struct larder_pour *pour, bool *bad)
{
    const char *said = cli_option(c, "--pour-price", bad), *money = NULL;
    double tax = 0.0;

    *pour = (struct larder_pour){ .price = (double)NAN, .money = "" };
    (void)cli_option_number(c, "--tax", 0.0, 99.0, &tax, bad);
    pour->tax = tax / (100.0 + tax); /* what is added to the net price, as its share of the price */
    if (!said)
        return;
    if (!larder_money("--pour-price", said, &pour->price, &money))
        *bad = true;
    else if (money && !*money) {
        char what[80];
        (void)snprintf(what, sizeof what, "--pour-price \"%.40s\"", said);
        cli_error(what, "several countries call their money so", "write its three letters: --pour-price \"6.50 USD\"");
        *bad = true;
    } else if (money)
        pour->money = money;
}

bool larder_pour_fits(const struct larder_pour *pour, const char *currency)
{
    return !*pour->money || !*currency || strcasecmp(pour->money, currency) == 0;
}
