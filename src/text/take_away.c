#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "scan.h"
#include "take_inside.h"
#include "take_prose.h"

/* What is taken out of a jar again, put in by a part only, or multiplied: no step of a recipe says it. */

static const char SHARE[] =
    "half|one half|a half|a third|one third|two thirds|a quarter|one quarter|three quarters|most|"
    "some|part|a part|a few|a little|a cup|a glass|a bottle|a litre|a pint|a cupful|a glassful|"
    "one|two|three|four|five";
static const char LIQUID[] = "liquor|liquid|liqueur|spirit|spirits|alcohol|vodka|gin|rum|brandy|whisky|whiskey|grappa|"
                             "wine|infusion|mixture|macerate|tincture|drink|syrup|juice|contents|it|this";
static const char REST[] = "the rest|rest of|remaining|remainder|other half|second half|other third|what is left|"
                           "what you kept|kept back|set aside the|reserved";

struct clause {
    const char *text;
    size_t n;
};

static struct st_scan scan_at(const struct clause *c, size_t i)
{
    return (struct st_scan){ c->text + i, c->text + c->n };
}

/* A share or a figure right here ("half", "400 ml", "about a third"). */
static bool is_share(struct st_scan *s)
{
    (void)st_scan_word(s, "only|just|about|around|up to|roughly|exactly|off|out|away|back|in");
    (void)st_scan_word(s, "only|just|about|around|roughly|exactly");
    if (st_scan_word(s, SHARE))
        return true;
    st_scan_blanks(s);
    return s->at < s->end && st_is_digit((unsigned char)*s->at);
}

/* One of the words between here and the end of the clause. */
static bool names_liquid(const struct clause *c, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        struct st_scan s = { c->text + i, c->text + to };
        if (c->text[i] != ' ' && st_word_begins(c->text, i) && st_scan_word(&s, LIQUID))
            return true;
    }
    return false;
}

/* Where the clause ends that begins at i: before the next deed. */
static size_t end_of(const struct clause *c, size_t i)
{
    for (size_t k = i + 1; k < c->n; k++) {
        struct st_scan s = scan_at(c, k);
        if (strchr(";!?(", c->text[k]) || (c->text[k] == '.' && (k + 1 >= c->n || c->text[k + 1] == ' ')))
            return k;
        const bool comma = st_scan_sign(&s, ",");
        if (!comma && !st_word_begins(c->text, k))
            continue;
        const bool link = st_scan_word(&s, "and then|and|then|but");
        if (!comma && !link)
            continue;
        st_scan_blanks(&s);
        if (st_deed_begins(s.at, (size_t)(s.end - s.at)) || st_words_at(&s, ST_WORD_BIT(ST_WORD_PAST)))
            return k;
    }
    return c->n;
}

static bool is_denied(const struct clause *c, size_t i)
{
    static const char *const NOT[] = { "not ", "never ", "n't ", "dont ", "to ", "can be ", "could be " };
    for (size_t k = 0; k < sizeof NOT / sizeof NOT[0]; k++) {
        const size_t n = strlen(NOT[k]);
        if (i >= n && strncasecmp(c->text + i - n, NOT[k], n) == 0)
            return true;
    }
    return false;
}

/* "Drank 100 ml": nothing is named, and what stands in the jar is meant. */
static bool is_drunk(const struct clause *c, size_t i, size_t end)
{
    struct st_scan s = scan_at(c, i);
    int words = 0;

    if (!st_scan_word(&s, "drank|drunk|tasted|sampled|spilt|spilled|lost") || !is_share(&s))
        return false;
    for (size_t k = (size_t)(s.at - c->text); k < end; k++)
        words += st_is_letter((unsigned char)c->text[k]) &&
                 (st_word_begins(c->text, k) || st_is_digit((unsigned char)c->text[k - 1]));
    return words <= 1;
}

/* "Pour away 400 ml of the liquor": out of the jar, and out of the drink. */
static bool takes_away(const struct clause *c, size_t i, size_t end)
{
    static const char GONE[] =
        "pour away|poured away|tip away|tipped away|throw away|threw away|discard|discarded|drink|"
        "drank|pour out|poured out|tip out|tipped out";
    static const char APART[] =
        "pour off|poured off|draw off|drew off|drain off|drained off|siphon off|siphoned off|"
        "take out|took out|take off|took off|take away|took away|remove|removed|set aside|"
        "put aside|keep back|kept back|hold back|held back|reserve|reserved|save|saved|keep|kept";
    struct st_scan s = scan_at(c, i);
    const bool gone = st_scan_word(&s, GONE);

    if (is_drunk(c, i, end))
        return true;
    if (!gone && !st_scan_word(&s, APART))
        return false;
    const size_t behind = (size_t)(s.at - c->text);
    if (!names_liquid(c, behind, end))
        return false;
    if (is_share(&s))
        return true;
    s = scan_at(c, behind);
    return gone && st_scan_word(&s, "the|all the|all of the|this") && st_scan_word(&s, LIQUID);
}

/* "Use only 700 ml of the vodka"; "add half of the syrup". */
static bool uses_part(const struct clause *c, size_t i, size_t end)
{
    struct st_scan s = scan_at(c, i);

    if (st_scan_word(&s, "use only|only use|use just|just use|used only|only used|used just"))
        return is_share(&s) && (size_t)(s.at - c->text) < end;
    if (!st_scan_word(&s, "add only|add|added only|added|use|used|stir in|stirred in|pour in|poured in|mix in|mixed in|"
                          "put in") ||
        !st_scan_word(&s, "only half|just half|about half|half|a third|one third|two thirds|a quarter|one quarter|"
                          "three quarters|a half"))
        return false;
    (void)st_scan_word(&s, "of");
    (void)st_scan_word(&s, "the|this|that|your");
    return st_scan_word(&s, "syrup|liquor|liquid|infusion|mixture|it|this|that|of it|of this");
}

/* "..., half of which goes in" */
static bool of_which(const struct clause *c, size_t i)
{
    struct st_scan s = scan_at(c, i);

    if (st_scan_word(&s, "of which"))
        return st_scan_word(&s,
                            "only half|half|only a third|a third|only two thirds|two thirds|only a quarter|a quarter|"
                            "only some|some|only part|part");
    return st_scan_word(&s,
                        "only half|half|a third|one third|two thirds|a quarter|one quarter|three quarters|most|some|"
                        "part") &&
           st_scan_word(&s, "of which");
}

/* "Double everything for a big jar"; not "double strain". */
static bool multiplies(const struct clause *c, size_t i)
{
    static const char ALL[] = "everything|all|it all|the lot|the recipe|this recipe|the quantities|quantities|"
                              "all quantities|the amounts|amounts|all amounts|the batch|the ingredients|ingredients|"
                              "all the ingredients|all ingredients";
    struct st_scan s = scan_at(c, i);

    if (st_scan_word(&s, "double|doubled|triple|tripled|treble|trebled|quadruple|quadrupled"))
        return st_scan_word(&s, ALL) ||
               st_scan_word(&s, "the sugar|the spirit|the vodka|the gin|the rum|the brandy|the "
                                "fruit|the water|the syrup|the amount|the quantity");
    if (st_scan_word(&s, "halve|halved|multiply|multiplied"))
        return st_scan_word(&s, ALL);
    return st_scan_word(&s, "make|makes|made|for") &&
           st_scan_word(&s,
                        "a double batch|a triple batch|half a batch|a half batch|double the recipe|twice the recipe|"
                        "half the recipe|a double quantity");
}

const char *st_take_away(const char *sentence, const char *whole, size_t *at, size_t *n)
{
    const struct clause c = { sentence, strlen(sentence) };

    for (size_t i = 0; i < c.n; i++) {
        const char *why = NULL;
        if (!st_take_is_word_byte(sentence[i]) || !st_word_begins(sentence, i) || is_denied(&c, i))
            continue;
        const size_t end = end_of(&c, i);
        if (multiplies(&c, i))
            why = "not reckoned: the amounts are taken as they are written";
        else if (takes_away(&c, i, end))
            why = "not reckoned: nothing is taken out again in these figures";
        else if ((uses_part(&c, i, end) || of_which(&c, i)) && !st_take_has_word(whole, REST))
            why = "not reckoned: all of it is taken to go in";
        if (!why)
            continue;
        *at = i;
        for (*n = end - i; sentence[i + *n - 1] == ' ' || sentence[i + *n - 1] == ',';)
            --*n;
        return why;
    }
    return NULL;
}
