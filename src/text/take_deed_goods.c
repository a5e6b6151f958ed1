#include <string.h>

#include "quantity.h"
#include "quantity_term.h"
#include "take_deed.h"

/* The things that a clause of the method names with an amount. */

static struct st_scan scan(const char *text, size_t from, size_t to)
{
    return (struct st_scan){ text + from, text + to };
}

static const char EDGES[] = "in|into|over|onto|from|until|for|on|through|at|by|per|and|with|to|of the|plus|using";

/* ", 38 %" goes on with the thing before. */
static bool tells_strength(const char *text, size_t at, size_t end)
{
    const struct st_ask ask = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_STRENGTH), false, false };
    struct st_scan s = scan(text, at, end);
    struct st_amount a;
    struct st_problem p;

    (void)st_scan_word(&s, "at|about");
    return st_closed_read(&s, &ask, &a, NULL, &p) >= 0 && a.dim == ST_DIM_STRENGTH;
}

/* ", stones and all" goes on with it too. */
static size_t tells_how_weighed(const char *text, size_t at, size_t end)
{
    struct st_scan s = scan(text, at, end);
    st_scan_blanks(&s);
    const struct st_word *w = st_words_at(&s, ST_WORD_BIT(ST_WORD_REMARK));
    struct st_scan next = s;
    if (!w || strcmp(w->value, "gross") != 0 || st_scan_word(&next, "of"))
        return 0; /* "with peel of 4 lemons" */
    next = s;
    st_scan_blanks(&next);
    const bool into =
        s.at - text > 3 && strncmp(s.at - 3, " in", 3) == 0 && next.at < next.end &&
        (st_is_digit((unsigned char)*next.at) || st_scan_word(&next, "a|an|the|half|some|my|one|two|about"));
    return (size_t)(s.at - text) - (into ? 3 : 0); /* "with stones in 1 L vodka" */
}

/* Where the words about one thing end. */
static size_t phrase_end(const char *text, size_t from, size_t end)
{
    int depth = 0;

    for (size_t i = from; i < end; i++) {
        struct st_scan s = scan(text, i, end);
        depth += text[i] == '(' ? 1 : text[i] == ')' ? -1 : 0;
        if (depth > 0)
            continue;
        if (text[i] == ',' && tells_strength(text, i + 1, end))
            continue;
        const size_t weighed = text[i] == ',' ? tells_how_weighed(text, i + 1, end) : 0;
        if (weighed) {
            i = weighed - 1;
            continue;
        }
        if ((text[i] == ',' || text[i] == ';') && !(i + 1 < end && st_is_digit((unsigned char)text[i + 1])) &&
            !st_is_digit((unsigned char)text[i + 1]))
            return i;
        struct st_scan of = s;
        if (st_scan_word(&of, "at|of") && tells_strength(text, i + 2, end))
            continue;
        const size_t shell =
            i > from && text[i] != ' ' && st_word_begins(text, i) ? tells_how_weighed(text, i, end) : 0;
        if (shell) { /* "in the shell" */
            i = shell - 1;
            continue;
        }
        if (i > from && text[i] != ' ' && st_word_begins(text, i) && st_scan_word(&s, EDGES))
            return i;
    }
    return end;
}

static bool is_vessel(const char *text, size_t from, size_t to)
{
    const struct st_clause c = { from, to, NULL, 0 };
    return st_clause_says(text, &c,
                          "jar|jars|vessel|demijohn|carboy|crock|container|barrel|cask|keg|bottle|bottles|pan|saucepan|"
                          "bowl|jug|pitcher|lid|filter|filters|paper|cloth|muslin|sieve|times|minutes|weeks|days|"
                          "months|hours|turns|layers|cm|inches|flasks|degrees");
}

static bool has_article(const char *text, size_t from, size_t to)
{
    const struct st_clause c = { from, to, NULL, 0 };
    return st_clause_says(text, &c, "the|it|them|this|that|these|your");
}

/* "half the sugar" */
static bool tells_share(const char *text, size_t from, size_t to)
{
    struct st_scan s = scan(text, from, to);
    return st_scan_word(&s, "half|a third|two thirds|a quarter|three quarters|1/2|1/3|2/3|1/4|3/4");
}

/* The last word is a tool's. */
static bool is_tool(const char *text, size_t to)
{
    while (to > 0 && !st_is_letter((unsigned char)text[to - 1]))
        to--;
    size_t at = to;
    while (at > 0 && st_is_letter((unsigned char)text[at - 1]))
        at--;
    struct st_scan s = scan(text, at, to);
    return st_scan_word(&s, "filter|filters|paper|cloth|muslin|sieve|funnel|strainer|colander");
}

/* Is what was read worth an item?  Names without an amount were listed before. */
static bool keeps(const struct st_take_item *item, const char *text, size_t from, size_t name, size_t to)
{
    const struct st_amount *a = &item->line.amount;

    struct st_scan first = scan(text, from, to);
    if (st_scan_word(&first, "a|an") && is_tool(text, to))
        return false; /* "through a coffee filter" */
    if (item->sure == ST_UNREAD)
        return item->line.what || ((item->line.amount.dim == ST_DIM_MASS || item->line.amount.dim == ST_DIM_VOLUME) &&
                                   item->line.amount.unit && item->n_ask > 0 && !is_vessel(text, from, to));
    struct st_scan article = scan(text, from, to);
    if (a->dim == ST_DIM_PIECE && st_scan_word(&article, "a|an") &&
        (item->sure != ST_SURE || item->line.what->kind == ST_KIND_SYRUP || item->line.what->kind == ST_KIND_SPIRIT))
        return false; /* "through a coffee paper", "to a syrup" */
    if (a->dim == ST_DIM_OPEN && a->open == ST_OPEN_SOME)
        return (item->n_ask > 0 && item->ask[0].kind == ST_ASK_AMOUNT) || tells_share(text, from, to);
    return a->dim != ST_DIM_OPEN || !has_article(text, name, to);
}

static bool is_warmth(const char *text, size_t i, size_t end)
{
    const struct st_ask ask = { ST_MEASURES_NONE, ST_DIM_BIT(ST_DIM_TEMPERATURE), false, false };
    struct st_scan s = scan(text, i, end);
    struct st_amount a;
    struct st_problem p;
    return st_is_digit((unsigned char)text[i]) && st_closed_read(&s, &ask, &a, NULL, &p) >= 0 &&
           a.dim == ST_DIM_TEMPERATURE;
}

/* "added 300 g sugar to 600 g damsons": no filling up to 600 g, for a thing is named behind it. */
static bool adds_to(const char *text, size_t i, const struct st_scan *behind)
{
    struct st_scan to = scan(text, i, i + 3), s = *behind;
    if (!st_scan_word(&to, "to"))
        return false;
    st_scan_blanks(&s);
    if (st_scan_word(&s, "of"))
        st_scan_blanks(&s);
    return s.at > behind->at && s.at < s.end && st_is_letter((unsigned char)*s.at) && !st_scan_word(&s, EDGES) &&
           !st_scan_word(&s, "in all|total|altogether|mark|line|then|but|or");
}

/* Begins with an amount that has a unit, a count, or is open by its verb ("cover with"). */
static bool opens(const char *text, size_t i, size_t end, enum st_measures m, bool *open)
{
    const struct st_ask ask = { m, ST_DIMS_GOODS, false, false };
    struct st_scan s = scan(text, i, end), word = s;
    struct st_amount a;
    struct st_problem p;

    *open = false;
    if (is_warmth(text, i, end))
        return false;
    if (st_scan_word(&s,
                     "juice of|juices of|zest of|zests of|peel of|peels of|rind of|rinds of|juice from|peel from|peels "
                     "from|zest from|white of|whites of|yolk of|yolks of"))
        return true;
    s = scan(text, i, end);
    if (st_open_read(&s, &ask, &a, &p) == ST_GOT_AMOUNT) {
        if (a.make_up_to && adds_to(text, i, &s))
            return false;
        *open = a.open == ST_OPEN_COVER || a.open == ST_OPEN_FILL || a.open == ST_OPEN_TOP_UP || a.make_up_to;
        return *open;
    }
    if (!st_is_digit((unsigned char)text[i]) && !((unsigned char)text[i] == 0xc2 || (unsigned char)text[i] == 0xe2) &&
        !st_words_at(&word, ST_WORD_BIT(ST_WORD_COUNT) | ST_WORD_BIT(ST_WORD_BOTTLE) | ST_WORD_BIT(ST_WORD_SAME)))
        return false;
    s = scan(text, i, end);
    if (st_closed_read(&s, &ask, &a, NULL, &p) >= 0)
        return true;
    word = scan(text, i, end);
    return st_words_at(&word, ST_WORD_BIT(ST_WORD_BOTTLE) | ST_WORD_BIT(ST_WORD_SAME)) != NULL;
}

/* The bytes of "most of the " where a figure stands behind it; else 0. */
static size_t share_of_figure(const char *text, size_t i, size_t end)
{
    const size_t share = st_item_share(text, i, end);
    return share && st_is_digit((unsigned char)text[i + share]) ? share : 0;
}

void st_deed_goods(struct st_deed_items *s, const char *text, const struct st_clause *c, const struct st_catalogue *cat,
                   struct st_take_context *context)
{
    const bool put = strcmp(c->verb->value, "put") == 0;
    bool open;

    for (size_t i = put ? c->at : c->verb_end; i < c->end && s->n < s->room; i++) {
        struct st_scan time = scan(text, i, c->end);
        struct st_amount unused;
        if (text[i] == ' ' || !st_word_begins(text, i))
            continue;
        if (st_deed_time(&time, &unused)) {
            i = (size_t)(time.at - text) - 1;
            continue;
        }
        const size_t share = share_of_figure(text, i, c->end);
        if (!opens(text, i + share, c->end, context->measures, &open))
            continue;
        struct st_take_item item;
        size_t end = phrase_end(text, i + share, c->end), name = i;
        if (open || (end < c->end && strncmp(text + end, "of ", 3) == 0)) { /* "fill a jar two thirds with sloes" */
            while (end < c->end && text[end] != ' ')
                end++;
            name = end;
            end = phrase_end(text, end, c->end);
        }
        size_t at = i;
        bool got = st_item_read(text + i, end - i, cat, context, &item);
        if (open && (!got || item.sure == ST_UNREAD)) { /* "pour brandy over until covered" */
            at = name = c->verb_end;
            got = st_item_read(text + at, end - at, cat, context, &item);
        }
        if (!got)
            continue;
        if (!keeps(&item, text, i, name, end)) {
            if (item.sure == ST_UNREAD)
                continue;
            i = end - 1;
            continue;
        }
        if (st_clause_says(text, c, "every day|each day|daily|every week|each week|every morning")) {
            st_item_doubt(&item, ST_GUESS, "how often it goes in is not reckoned: once is taken");
            (void)st_item_ask(&item, ST_ASK_AMOUNT, "How much is that in all?");
        }
        item.at = at;
        item.n = end - at;
        s->item[s->n++] = item;
        i = end - 1;
    }
}
