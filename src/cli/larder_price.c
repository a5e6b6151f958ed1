#include "cli/larder.h"

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

/* The money that n bytes name: a code, "" where several use that word, NULL none. */
static const char *money_of(const char *said, size_t n, char code[4])
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

/* The figure into number, what stands before or behind it into *word of *n bytes. */
static bool parted(const char *said, char *number, size_t size, const char **word, size_t *n)
{
    const char *from = said + strcspn(said, "0123456789"), *to = from + strspn(from, "0123456789.,");
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

void larder_price(struct cli *c, double *price, const char **currency, bool *by_price, bool *bad)
{
    static char code[4];
    const char *said = cli_option(c, "--price", bad), *word = "";
    char number[40], what[80];
    size_t n = 0;
    double x;

    *by_price = false;
    if (!said)
        return;
    (void)snprintf(what, sizeof what, "--price \"%.40s\"", said);
    const char *money = parted(said, number, sizeof number, &word, &n) && n > 0 ? money_of(word, n, code) : NULL;
    if (!parted(said, number, sizeof number, &word, &n) || (n > 0 && !money) || !cli_number(number, &x) || x > 1e9) {
        cli_error(what, "it is no price", "write for example --price 4.50, or with its money: --price \"4.50 EUR\"");
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
