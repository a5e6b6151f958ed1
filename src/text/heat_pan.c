#include "heat_pan.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "heat_words.h"

/* ---- the words that are understood ---- */

enum {
    FIRE = 1,       /* heats */
    THING = 2,      /* ... as a thing: flame, hob */
    HOT = 4,        /* is hot */
    COOL = 8,       /* cools, is cold */
    ADD = 16,       /* puts to what is there */
    JOIN = 32,      /* puts together */
    SPIRIT = 64,    /* names spirit */
    ALL = 128,      /* everything that is there, spirit too */
    IT = 256,       /* whatever was spoken of */
    PLAIN = 512,    /* holds no spirit of itself */
    LIQUID = 1024,  /* ... and fills a pan */
    FILL = 2048,    /* is of no account here */
    PAN = 4096,     /* a bowl, a jug */
    AGAINST = 8192, /* with, in, into, over: what follows comes to something else */
    NOT = 16384,
    RINSE = 32768,
    STRANGE = 65536, /* not understood */
    DEGREES = 131072 /* a temperature at which vapour is driven off */
};

static const char SPIRITS[] =
    "|spirit|spirits|alcohol|ethanol|vodka|gin|rum|rums|brandy|brandies|cognac|whisky|whiskey|bourbon|rye|"
    "tequila|grappa|kirsch|schnapps|eau-de-vie|eau de vie|liqueur|liquor|infusion|tincture|maceration|"
    "macerate|wine|sherry|port|vermouth|beer|cider|mead|aquavit|akvavit|moonshine|";

static const struct {
    unsigned is;
    const char *list;
} LISTS[] = {
    { COOL, "|cool|cools|cooled|cooling|cold|chill|chills|chilled|room temperature|temperature of the room|"
            "cold water bath|iced water bath|ice water bath|ice bath|" },
    { ADD, "|add|adds|added|adding|pour|pours|poured|pouring|top|stir in|stir into|mix in|mix into|mix with|mixed with|"
           "combine with|combined with|blend with|blend into|blend in|join|stirred in|stirred into|" },
    { JOIN, "|mix|mixed|mixing|combine|combined|combining|blend|blended|blending|unite|" },
    { SPIRIT, SPIRITS },
    { ALL, "|everything|all|mixture|contents|lot|whole|both|" },
    { IT, "|it|them|this|that|these|those|" },
    { PLAIN, "|sugar|sugars|glucose|dextrose|fructose|salt|" },
    { PLAIN | LIQUID, "|water|syrup|syrups|honey|milk|cream|coffee|tea|" },
    { PAN, "|pan|pot|bowl|jug|kettle|saucer|basin|" },
    { AGAINST, "|with|in|into|onto|over|on|to|" },
    { RINSE, "|wash|washed|rinse|rinsed|scald|scalded|sterilise|sterilize|sterilised|sterilized|clean|scrub|" },
    { FILL,
      "|a|an|the|your|my|its|of|and|or|until|till|for|from|at|by|is|are|be|has|have|been|as|so|which|while|when|once|"
      "after|before|then|now|first|next|again|more|well|very|quite|just|only|about|up|down|out|off|if|you|we|i|"
      "meanwhile|together|enough|away|soon|too|will|some|half|other|two|three|four|five|six|ten|few|each|through|back|"
      "low|medium|high|clear|thick|thin|thicker|smooth|little|bit|white|brown|caster|granulated|cane|plain|simple|fine|"
      "golden|demerara|icing|tap|fresh|pure|filtered|soft|"
      "prepare|prepared|put|place|let|leave|left|allow|stand|standing|rest|bring|brought|make|makes|made|making|"
      "dissolve|dissolves|"
      "dissolved|dissolving|stir|stirring|stirred|whisk|skim|skimmed|skimming|strain|strained|reduce|reduced|thicken|"
      "thickened|thickens|take|remove|removed|lift|set|aside|cover|covered|uncovered|turn|keep|come|comes|reach|"
      "reaches|rolling|get|gets|become|becomes|form|forms|melt|melts|melted|wait|return|use|using|"
      "go|goes|going|gone|"
      "minute|minutes|min|mins|hour|hours|second|seconds|moment|g|gram|grams|kg|ml|l|litre|litres|liter|liters|cup|"
      "cups|pint|pints|tablespoon|tablespoons|tbsp|teaspoon|teaspoons|tsp|spoon|c|f|\xC2\xB0"
      "c|\xC2\xB0"
      "f|"
      "degrees|degree|weight|volume|parts|part|equal|"
      "lid|sieve|cloth|thermometer|scum|foam|froth|crystals|temperature|room|fridge|refrigerator|outside|overnight|"
      "night|day|tomorrow|morning|side|time|end|surface|top|" },
};

/* Words that begin a clause of their own behind "and". */
static const char TURN[] =
    "|cool|chill|add|pour|top|mix|combine|blend|stir|let|leave|allow|put|place|take|remove|strain|"
    "filter|bottle|skim|"
    "dissolve|bring|set|stand|steep|cover|seal|shake|keep|make|when|once|after|then|wait|return|boil|simmer|heat|warm|"
    "reheat|flambe|ignite|light|serve|drink|whisk|reduce|use|while|as|cook|join|unite|drown|sweeten|finish|";
static const char SLIGHT[] =
    "|slightly|little|bit|somewhat|briefly|partly|partially|while|minute|minutes|min|mins|moment|"
    "second|seconds|almost|nearly|lukewarm|tepid|warm|hand-warm|blood|half|";
static const char CONDITION[] = "|when|once|after|if|only|as soon as|";
static const char UNCOOLED[] = "|before|while|as|still|yet|hardly|nearly|almost|half|slightly|partly|";
static const char SO_FAR[] = "|until|till|so|dissolve|";
static const char MUCH[] = "|too|very|so|only|just|";
static const char ARTICLE[] = "|the|a|an|your|this|that|some|all|of|";

/* ---- words and clauses ---- */

enum { WORDS = 60 }; /* in one clause; a longer one is not understood */

struct word {
    const char *at;
    unsigned is;
    int plain; /* which of the plain names, 0..31 */
};

struct clause {
    struct word word[WORDS];
    int n;
    bool sentence; /* begins one */
    bool is_long;
};

struct reader {
    const char *text, *at;
    const char *const *name;
    int n_name;
    bool names; /* names count as plain now */
};

/* The next ends at a word end: how long the word at p is, as it stands. */
static size_t word_length(const char *p)
{
    size_t n = 0;
    while (st_in_word((unsigned char)p[n]) ||
           (p[n] == '.' && n > 0 && isdigit((unsigned char)p[n - 1]) && isdigit((unsigned char)p[n + 1])))
        n++;
    return n;
}

static bool is_dash(const char *p)
{
    return strncmp(p, "\xE2\x80\x93", 3) == 0 || strncmp(p, "\xE2\x80\x94", 3) == 0;
}

/* The word at p is one of the step's own ingredients ("damsons" of "damson"). */
static bool is_named(const struct reader *r, const char *p, size_t n)
{
    for (int i = 0; r->names && i < r->n_name; i++)
        for (const char *w = r->name[i]; *w;) {
            const size_t k = strcspn(w, " ,");
            size_t m = 0;
            while (m < k && m < n && tolower((unsigned char)w[m]) == tolower((unsigned char)p[m]))
                m++;
            if (k > 2 && m == k && (n == k || (n == k + 1 && tolower((unsigned char)p[k]) == 's')))
                return true;
            w += k + strspn(w + k, " ,");
        }
    return false;
}

static unsigned fire_of(const char *p, size_t *length)
{
    const size_t hot = st_hot_word(p), fire = st_fire_word(p), thing = st_fire_thing(p);
    if (hot == 0 && fire == 0)
        return 0;
    *length = hot > fire ? hot : fire;
    return (hot ? HOT : 0u) | (fire ? FIRE : 0u) | (thing ? THING : 0u);
}

static unsigned what_is(const struct reader *r, const char *p, size_t n, size_t *length)
{
    unsigned is = fire_of(p, length);
    *length = is ? *length : n;
    for (size_t i = 0; i < sizeof LISTS / sizeof *LISTS; i++) {
        const size_t k = st_listed(p, LISTS[i].list);
        if (k == 0 || k < *length || (is & (ADD | COOL) && k == *length))
            continue;
        *length = k;
        is |= LISTS[i].is;
    }
    if (st_not_word(p))
        is |= NOT | FILL;
    if (is == 0 && (isdigit((unsigned char)*p) || (n > 3 && strncmp(p + n - 2, "ly", 2) == 0)))
        is = FILL;
    if (is == 0 && is_named(r, p, n))
        is = PLAIN;
    return is ? is : STRANGE;
}

static int plain_of(const char *p)
{
    static const char *const NAME[] = { "|water|", "|syrup|syrups|", "|sugar|sugars|", "|honey|",
                                        "|milk|",  "|cream|",        "|coffee|tea|" };
    for (int i = 0; i < (int)(sizeof NAME / sizeof *NAME); i++)
        if (st_listed(p, NAME[i]))
            return i;
    return 31;
}

/* "and cool", "and gently heat", "but let": something else is done. */
static bool turns_at(const char *p)
{
    size_t n = st_listed(p, "|and|but|");
    if (n == 0)
        return st_listed(p, "|then|") > 0;
    for (int i = 0; i < 2; i++) {
        p += n + strspn(p + n, " ");
        n = word_length(p);
        if (st_listed(p, TURN))
            return true;
        if (n < 4 || strncmp(p + n - 2, "ly", 2) != 0)
            return false;
    }
    return false;
}

/* "cool to 40 C", "when it is below 60 C": the figure is of what cools. */
static bool is_cooling(const struct clause *c)
{
    for (int i = 0; i < c->n; i++)
        if (c->word[i].is & COOL || st_listed(c->word[i].at, "|below|under|beneath|than|"))
            return true;
    return false;
}

static bool next_clause(struct reader *r, struct clause *c)
{
    const bool begins = r->at == r->text;
    *c = (struct clause){ .sentence = begins };
    while (*r->at) {
        const char *p = r->at;
        if (!st_in_word((unsigned char)*p) || is_dash(p)) {
            r->at += is_dash(p) ? 3 : 1;
            if (strchr(".;:!?\n", *p) && c->n == 0)
                c->sentence = true;
            if ((strchr(",.;:!?\n()", *p) || is_dash(p)) && c->n > 0) {
                r->at = p; /* the sign belongs to the next, which may begin a sentence */
                return true;
            }
            continue;
        }
        if (c->n > 0 && (turns_at(p) || st_listed(p, "|before|")))
            return true;
        if (c->n == 0 && st_listed(p, "|and|but|then|") && turns_at(p)) {
            r->at += word_length(p);
            continue;
        }
        size_t length = 0;
        const size_t degrees = is_cooling(c) ? 0 : st_fire_degrees(p);
        const unsigned is = degrees ? FIRE | DEGREES : what_is(r, p, word_length(p), &length);
        length = degrees ? degrees : length;
        if (c->n < WORDS)
            c->word[c->n++] = (struct word){ p, is, plain_of(p) };
        else
            c->is_long = true;
        r->at += length;
    }
    return c->n > 0;
}

/* ---- one clause ---- */

static bool is_one_of(const struct clause *c, int i, const char *list)
{
    return i >= 0 && i < c->n && st_listed(c->word[i].at, list);
}

static bool within(const struct clause *c, int from, int to, const char *list)
{
    for (int i = from < 0 ? 0 : from; i < to && i < c->n; i++)
        if (is_one_of(c, i, list))
            return true;
    return false;
}

static int skip_articles(const struct clause *c, int i)
{
    while (is_one_of(c, i, ARTICLE))
        i++;
    return i;
}

/* "never boil", "do not let it simmer", "off the heat", "from the stove"; across a comma only in a list of things ("no
 * flame, no stove") or of deeds with "or". */
static bool is_taken_back(const struct clause *c, int i, bool before_not)
{
    for (int k = i - 1; k >= 0 && k >= i - 4; k--) {
        if (c->word[k].is & NOT)
            return !within(c, k + 1, i, MUCH);
        if (k >= i - 2 && (c->word[i].is & THING || is_one_of(c, i, "|heat|boil|")) && is_one_of(c, k, "|from|"))
            return true;
    }
    const bool listed = c->word[i].is & THING || is_one_of(c, i - 1, "|or|nor|") || is_one_of(c, i + 1, "|or|nor|");
    return before_not && listed;
}

static bool has(const struct clause *c, unsigned is)
{
    for (int i = 0; i < c->n; i++)
        if (c->word[i].is & is)
            return true;
    return false;
}

/* How far the objects of a clause go: "until all the sugar has dissolved in the water" names none. */
static int objects_end(const struct clause *c)
{
    for (int i = 1; i < c->n; i++)
        if (is_one_of(c, i, SO_FAR) && (!is_one_of(c, i, "|dissolve|") || is_one_of(c, i - 1, "|to|")))
            return i;
    return c->n;
}

/* "all the sugar" is sugar. */
static bool says_all(const struct clause *c)
{
    const int end = objects_end(c);
    for (int i = 0; i < end; i++)
        if (c->word[i].is & ALL) {
            const int k = skip_articles(c, i + 1);
            if (!(is_one_of(c, i, "|all|both|") && k < c->n && c->word[k].is & PLAIN))
                return true;
        }
    return false;
}

static bool may_hold_spirit(const struct clause *c)
{
    return c->is_long || has(c, STRANGE | SPIRIT) || says_all(c);
}

static unsigned plain_mask(const struct clause *c, int end)
{
    unsigned mask = 0;
    for (int i = 0; i < end && i < c->n; i++)
        if (c->word[i].is & PLAIN)
            mask |= 1u << c->word[i].plain;
    return mask;
}

enum { WATER = 1u << 0, LIQUIDS = WATER | 1u << 1 | 1u << 3 | 1u << 4 | 1u << 5 | 1u << 6 };

/* "the boiled syrup", "hot water" */
static bool is_hot_adjective(const struct clause *c, int i)
{
    return c->word[i].is & HOT || is_one_of(c, i, "|boiled|heated|");
}

/* What is heated is named as a thing of its own: "boil sugar and water", not "boil with sugar and water". */
static bool names_its_own(const struct clause *c, unsigned seen)
{
    const int end = objects_end(c);
    bool liquid = false;
    int first = -1;
    for (int i = 0; i < end; i++) {
        if (!(c->word[i].is & PLAIN))
            continue;
        first = first < 0 ? i : first;
        const bool known = c->word[i].plain != 1 || seen & WATER || (i > 0 && is_hot_adjective(c, i - 1));
        liquid = liquid || (c->word[i].is & LIQUID && known);
    }
    int k = first - 1;
    while (k >= 0 && (is_one_of(c, k, ARTICLE) || isdigit((unsigned char)*c->word[k].at) || c->word[k].is == HOT ||
                      is_one_of(c, k, "|white|brown|caster|g|ml|kg|l|half|")))
        k--;
    return liquid && !(k >= 0 && c->word[k].is & AGAINST) && !has(c, ADD);
}

/* Cold is said of something else: "cold vodka", "a cool place", "cold water". */
static bool cools_another(const struct clause *c, int i)
{
    const int k = skip_articles(c, i + 1);
    if (k >= c->n)
        return false;
    const struct word *w = &c->word[k];
    return is_one_of(c, i + 1, "|place|room|") || w->is & (STRANGE | SPIRIT | ALL) || (w->is & PLAIN && w->plain == 0);
}

static bool is_too_warm_still(const struct clause *c, int i)
{
    if (within(c, i + 1, i + 6, SLIGHT) && !within(c, i + 1, i + 6, "|overnight|hour|hours|"))
        return true;
    for (int k = i + 1; k < c->n && k < i + 5; k++)
        if (isdigit((unsigned char)*c->word[k].at) && strtod(c->word[k].at, NULL) > 30.0 &&
            !is_one_of(c, k + 1, "|hour|hours|"))
            return true;
    return false;
}

/* "cool it with vodka", "cool by adding the spirit" */
static bool is_cooled_by(const struct clause *c, int i)
{
    int k = i + 1;
    while (is_one_of(c, k, "|it|down|off|syrup|the|this|"))
        k++;
    return is_one_of(c, k, "|with|by|");
}

/* Where this clause cools what is hot; before: before anything else of it is done.  -1 nowhere. */
static int cools_at(const struct clause *c, bool *before)
{
    for (int i = 0; i < c->n; i++) {
        if (!(c->word[i].is & COOL) || within(c, i - 3, i, UNCOOLED) || is_taken_back(c, i, false) ||
            cools_another(c, i) || is_too_warm_still(c, i))
            continue;
        const int next = skip_articles(c, i + 1);
        const bool adjective = next < c->n && next == i + 1 && c->word[next].is & PLAIN;
        bool done = false;
        for (int k = 0; k < i; k++)
            done = done || c->word[k].is & (STRANGE | SPIRIT | ALL | ADD | JOIN);
        *before = (!done && !is_cooled_by(c, i)) || adjective || within(c, i - 5, i, CONDITION);
        return i;
    }
    return -1;
}

/* "cold boiled water", "boiled and cooled" */
static bool is_boiled_before(const struct clause *c, int i)
{
    const int next = is_one_of(c, i + 1, "|and|then|but|") ? i + 2 : i + 1;
    return is_one_of(c, i, "|boiled|") &&
           ((i > 0 && is_one_of(c, i - 1, "|cold|cooled|cool|")) || is_one_of(c, next, "|cooled|"));
}

/* The heat of a clause that is not taken back: the place of the word, or -1. */
static int heats_at(const struct clause *c, bool before_not)
{
    for (int i = 0; i < c->n; i++)
        if (c->word[i].is & (FIRE | HOT) && !is_boiled_before(c, i) && !is_taken_back(c, i, before_not))
            return i;
    return -1;
}

/* ---- the pan ---- */

struct pan {
    bool clean; /* all words so far are understood, and none says spirit */
    bool hot;
    unsigned seen;    /* plain things so far */
    unsigned tainted; /* ... that may have met spirit */
    bool negated;     /* the clause before, in this sentence, takes back */
    unsigned found;
};

/* Jars and fruit washed with hot water; empty jars sterilised in an oven. */
static bool is_rinsed(const struct clause *c)
{
    if (is_one_of(c, 0, "|sterilise|sterilize|") && within(c, 1, 4, "|jar|jars|bottle|bottles|") &&
        !has(c, SPIRIT | ADD | JOIN) && !says_all(c))
        return true;
    return has(c, RINSE) && plain_mask(c, c->n) & WATER && !has(c, SPIRIT | ADD | JOIN) && !says_all(c);
}

static void heat(struct pan *p, const struct clause *c, int at)
{
    const bool own = names_its_own(c, p->seen | plain_mask(c, objects_end(c)));
    const bool met = plain_mask(c, objects_end(c)) & p->tainted;
    const bool filled = p->clean && p->seen & LIQUIDS;
    if (may_hold_spirit(c) || !((own && !met) || filled))
        p->found |=
            c->word[at].is & HOT ? ST_HEAT_POURED | (c->word[at].is & FIRE ? ST_HEAT_WARMED : 0) : ST_HEAT_WARMED;
    p->hot = true;
}

/* What is put to a pan of which nothing was said comes to what the step holds. */
static void taint(struct pan *p, const struct clause *c)
{
    const unsigned mask = plain_mask(c, c->n);
    bool to_it = has(c, ADD) && !p->seen;
    for (int i = 1; i < c->n && !p->seen; i++)
        to_it = to_it || (c->word[i].is & IT && c->word[i - 1].is & AGAINST);
    if (may_hold_spirit(c) || to_it)
        p->clean = false;
    if (!p->clean && (may_hold_spirit(c) || has(c, ADD | JOIN)))
        p->tainted |= mask;
    p->seen |= mask;
}

static bool meets_spirit(const struct clause *c)
{
    return may_hold_spirit(c) || (has(c, ADD | JOIN) && !plain_mask(c, c->n) && !has(c, PAN));
}

static void one_clause(struct pan *p, const struct clause *c)
{
    bool before = false;
    const bool negated = !c->sentence && p->negated;
    const int fire = is_rinsed(c) ? -1 : heats_at(c, negated), cool = cools_at(c, &before);
    const bool cooled_last = cool >= 0 && (fire < 0 || cool > fire || fire - cool <= 2);

    if (cool >= 0 && before && fire < 0)
        p->hot = false;
    const bool comes_later = c->sentence && is_one_of(c, 0, "|before|"); /* "Before adding the vodka, cool the syrup" */
    if (p->hot && meets_spirit(c) && !is_rinsed(c) && !comes_later)
        p->found |= ST_HEAT_POURED;
    if (fire >= 0)
        heat(p, c, fire);
    if (!is_rinsed(c))
        taint(p, c);
    if (cooled_last && !(fire >= 0 && cool < fire && !is_hot_adjective(c, fire)))
        p->hot = false;
    p->negated = has(c, NOT) || negated;
}

/* Where the words name spirit for the last time, or NULL. */
static const char *last_spirit(const char *p)
{
    const char *last = NULL;
    for (size_t n = 0; *p; p += n) {
        n = word_length(p);
        if (n && st_listed(p, SPIRITS))
            last = p;
        n = n ? n : 1;
    }
    return last;
}

unsigned st_heat_in(const char *words, const char *const name[], int n)
{
    struct reader r = { .text = words, .at = words, .name = name, .n_name = n };
    struct pan p = { .clean = true };
    struct clause c;
    if (!words)
        return 0;
    const char *last = n > 0 ? last_spirit(words) : NULL;
    do {
        r.names = p.clean && last && r.at <= last; /* the spirit is added further on */
        if (!next_clause(&r, &c))
            break;
        one_clause(&p, &c);
    } while (true);
    return p.found | (p.hot ? ST_HEAT_LEFT : 0u);
}
