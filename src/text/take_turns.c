#include "take_turns.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "number.h"
#include "take_inside.h"
#include "take_turn.h"

/* ---- more and less ---- */

/* "no more than 4 cloves" */
static bool at_most_pieces(struct st_clean *l, size_t i, struct st_scan s)
{
    enum { MOST = 40 };
    struct st_number n;
    const char *why;
    char words[40];

    if (st_number_read(&s, &n, &why) != 1 || n.vague || !(n.value >= 2 && n.value <= MOST) ||
        n.value > floor(n.value) || !st_scan_blanks(&s) || s.at >= s.end || !st_is_letter((unsigned char)*s.at))
        return false;
    (void)snprintf(words, sizeof words, "%.0f-%.0f ", ceil(0.7 * n.value), n.value);
    if (ceil(0.7 * n.value) >= n.value)
        (void)snprintf(words, sizeof words, "%.0f ", n.value);
    st_turn_put(l, i, (size_t)(s.at - l->s) - i, words);
    return true;
}

/* "no more than 300 g": somewhat less is usual, 70 % of it at least, common practice, no source. */
static bool at_most(struct st_clean *l, size_t i)
{
    struct st_scan s = st_turn_from(l, i);
    struct st_amount a;
    char words[60];

    if (!st_scan_word(&s, "no more than|not more than|at most|at the most|a maximum of|max.|max"))
        return false;
    st_scan_blanks(&s);
    const size_t at = (size_t)(s.at - l->s);
    const size_t n = st_turn_amount(l, at, &a);
    if (n == 0)
        return at < l->n && at_most_pieces(l, i, s);
    st_turn_say(0.7 * a.high, a.high, a.dim, words, sizeof words);
    st_turn_put(l, i, at + n - i, words);
    return true;
}

/* "1.5 l, of which 500 ml kept back": what is left goes in now. */
static bool kept_back(struct st_clean *l, size_t i)
{
    static const char KEPT[] =
        "kept back|held back|set aside|put aside|kept aside|kept for later|reserved|kept|later|"
        "is kept back|are kept back|is for later|is set aside|goes in later|go in later|at the end";
    struct st_amount a, less;
    char words[60];
    const size_t n = st_turn_amount(l, i, &a);
    for (size_t k = i + n; n && k < l->n; k++) {
        struct st_scan s = st_turn_from(l, k);
        if (!st_turn_begins(l, k) || !st_scan_word(&s, "of which|of this|of that"))
            continue;
        st_scan_blanks(&s);
        const size_t at = (size_t)(s.at - l->s), m = at < l->n ? st_turn_quantity(l, at, a.dim, &less) : 0;
        s = st_turn_from(l, at + m);
        if (m == 0 || !st_scan_word(&s, KEPT) || !(less.value < a.value))
            return false;
        st_turn_cut(l, i + n, k, (size_t)(s.at - l->s));
        st_turn_say(a.low - less.high, a.high - less.low, a.dim, words, sizeof words);
        st_turn_put(l, i, n, words);
        return true;
    }
    return false;
}

/* "500 g sugar less 2 tablespoons": taken off, a spoon by what a cup of it weighs. */
static bool less(struct st_clean *l, const struct st_catalogue *c, size_t i)
{
    struct st_amount a, off;
    struct st_problem p;
    char words[60];
    size_t used = 0;
    const size_t n = st_turn_amount(l, i, &a);
    for (size_t k = i + n; n && k < l->n; k++) {
        struct st_scan s = st_turn_from(l, k);
        if (!st_turn_begins(l, k) || !st_scan_word(&s, "less|minus|but for|save for"))
            continue;
        st_scan_blanks(&s);
        if (s.at >= s.end || st_quantity_parse(s.at, (size_t)(s.end - s.at), ST_MEASURES_METRIC, &off, &used, &p) != 0)
            return false;
        size_t name = i + n, end = k;
        struct st_scan of = st_turn_from(l, name);
        if (st_scan_word(&of, "of"))
            name = (size_t)(of.at - l->s);
        while (name < end && l->s[name] == ' ')
            name++;
        while (end > name && strchr(" ,(", l->s[end - 1]))
            end--;
        const struct st_ingredient *in = st_catalogue_find(c, l->s + name, end - name);
        const struct st_range by = in ? st_ingredient_g_per_ml(in, off.value) : (struct st_range){ 0 };
        const double g = off.dim == a.dim ? 1 : off.dim == ST_DIM_VOLUME && by.known ? by.value : 0;
        if (!(g > 0) || !(off.value * g < a.value))
            return false;
        size_t stop = (size_t)(s.at - l->s) + used;
        stop += stop < l->n && l->s[stop] == ')';
        st_turn_put(l, end, stop - end, "");
        st_turn_say(a.low - off.high * g, a.high - off.low * g, a.dim, words, sizeof words);
        st_turn_put(l, i, n, words);
        return true;
    }
    return false;
}

/* "twice 250 g" */
static void twice(struct st_clean *l, size_t i)
{
    struct st_scan s = st_turn_from(l, i);
    struct st_amount a;
    char words[60];

    if (!st_scan_word(&s, "twice|two times|double"))
        return;
    st_scan_blanks(&s);
    const size_t at = (size_t)(s.at - l->s);
    const size_t n = st_turn_amount(l, at, &a);
    if (n == 0)
        return;
    st_turn_say(2 * a.low, 2 * a.high, a.dim, words, sizeof words);
    st_turn_put(l, i, at + n - i, words);
}

/* "A syrup of 250 g sugar and 150 ml water went in": it is made. */
static void syrup_of(struct st_clean *l, size_t start)
{
    struct st_scan s = st_turn_from(l, start);
    if (!st_scan_word(&s,
                      "a syrup of|syrup of|a syrup made from|a syrup made of|a syrup from|syrup from|the syrup from|"
                      "a syrup made with|syrup made with|syrup made from"))
        return;
    st_scan_blanks(&s);
    if (s.at < s.end && st_is_digit((unsigned char)*s.at))
        st_turn_put(l, start, (size_t)(s.at - l->s) - start, "make a syrup of ");
}

/* "just a third of a vanilla pod" */
static void just(struct st_clean *l, size_t start)
{
    struct st_scan s = st_turn_from(l, start), n;
    struct st_number number;
    const char *why;
    double by;

    if (!st_scan_word(&s, "just|only"))
        return;
    st_scan_blanks(&s);
    n = s;
    if (st_number_share(&s, &by) || st_number_read(&s, &number, &why) == 1)
        st_turn_put(l, start, (size_t)(n.at - l->s) - start, "");
}

/* "100 g sugar, and the same again at the end": twice. */
static void same_again(struct st_clean *l, size_t i)
{
    static const char AGAIN[] = "and the same again|and the same amount again|and as much again|the same again|"
                                "plus the same again|and again the same";
    struct st_amount a;
    char words[200];
    const size_t n = st_turn_amount(l, i, &a);
    for (size_t k = i + n; n && k < l->n; k++) {
        struct st_scan s = st_turn_from(l, k);
        if (!st_turn_begins(l, k) || !st_scan_word(&s, AGAIN))
            continue;
        struct st_scan of = s;
        if (st_scan_word(&of, "of"))
            return; /* "the same again of water" */
        size_t thing = k;
        while (thing > i && strchr(" ,;(", l->s[thing - 1]))
            thing--;
        (void)snprintf(words, sizeof words, "and %.*s", (int)(thing - i > 120 ? 120 : thing - i), l->s + i);
        st_turn_put(l, k, (size_t)(s.at - l->s) - k, words);
        return;
    }
}

/* "1 or 2 sticks", "500 or 600 g" */
static void one_or_two(struct st_clean *l, size_t i)
{
    struct st_scan s = st_turn_from(l, i), t;
    struct st_number one, two;
    const char *why;

    if (!st_is_digit((unsigned char)l->s[i]) || st_number_read(&s, &one, &why) != 1 || !one.figures)
        return;
    const size_t end = (size_t)(s.at - l->s);
    if (!st_scan_word(&s, "or"))
        return;
    st_scan_blanks(&s);
    t = s;
    if (s.at >= s.end || !st_is_digit((unsigned char)*s.at) || st_number_read(&t, &two, &why) != 1 || !two.figures ||
        !(two.value > one.value) || two.value > 3 * one.value || one.low < one.high || two.low < two.high)
        return;
    st_turn_put(l, end, (size_t)(s.at - l->s) - end, "-");
}

/* ---- of one ---- */

/* "zest of 2 big oranges and juice of one": one of them. */
static void of_one(struct st_clean *l, size_t i)
{
    static const char PART[] = "juice of|the juice of|zest of|the zest of|peel of|the peel of|rind of|the rind of";
    struct st_scan s = st_turn_from(l, i);
    struct st_number n;
    const char *why;

    if (!st_scan_word(&s, PART))
        return;
    st_scan_blanks(&s);
    if (st_number_read(&s, &n, &why) != 1)
        return;
    const size_t name = (size_t)(s.at - l->s);
    for (size_t k = name; k < l->n; k++) {
        struct st_scan more = st_turn_from(l, k);
        if (!st_turn_begins(l, k) || !st_scan_word(&more, "and|plus") || !st_scan_word(&more, PART))
            continue;
        if (!st_scan_word(&more, "only one|just one|one|1|two|2|three|3|half") && !st_scan_sign(&more, "\xc2\xbd"))
            return;
        const size_t at = (size_t)(more.at - l->s);
        (void)st_scan_word(&more, "of them|of these|only");
        const size_t stop = (size_t)(more.at - l->s);
        if (stop < l->n && !strchr(".,;)", l->s[stop]))
            return;
        char words[80];
        const size_t m = k - name;
        (void)snprintf(words, sizeof words, "%.*s", (int)(m > 70 ? 70 : m), l->s + name);
        size_t w = strlen(words);
        while (w && strchr(" ,", words[w - 1]))
            words[--w] = '\0';
        st_turn_put(l, at, stop - at, words);
        return;
    }
}

/* ---- how it was said ---- */

/* "a mug and a half of sugar" */
static void and_half(struct st_clean *l, size_t i)
{
    struct st_scan s = st_turn_from(l, i);
    char words[40];
    const size_t n = st_turn_and_half(&s, words, sizeof words);
    if (n)
        st_turn_put(l, i, n, words);
}

/* "raspberries (maybe 400 g)", "sugar, I think it was 250 g": an amount all the same. */
static void hedged(struct st_clean *l, size_t i)
{
    static const char HEDGE[] =
        "maybe|perhaps|probably|possibly|say|i think it was|i think it is|i think|i guess it was|i guess|i would guess|"
        "i'd guess|i would say|i'd say|i reckon|it must have been|must have been|it may have been|i believe|if i "
        "remember right|something like|i seem to remember";
    struct st_scan s = st_turn_from(l, i);
    struct st_amount a;
    struct st_problem p;
    size_t used = 0;

    if (!st_scan_word(&s, HEDGE))
        return;
    st_scan_blanks(&s);
    (void)(st_scan_word(&s, "about|some|around|roughly") && st_scan_blanks(&s));
    if (s.at >= s.end || st_quantity_parse(s.at, (size_t)(s.end - s.at), ST_MEASURES_METRIC, &a, &used, &p) < 0 ||
        a.dim == ST_DIM_OPEN || (a.dim == ST_DIM_PIECE && !a.unit && !st_is_digit((unsigned char)*s.at)))
        return;
    st_turn_put(l, i, (size_t)(s.at - l->s) - i, "about ");
}

/* ---- "vodka 40% - 500, sugar - 200, water - 300" ---- */

/* One of the list from i to end: the name, and where the figure behind its dash begins; false: it is none. */
static bool dashed(const struct st_clean *l, const struct st_catalogue *c, size_t i, size_t end, size_t *dash,
                   size_t *figure)
{
    for (size_t k = end; k > i + 1; k--) {
        const char b = l->s[k - 1];
        if (b != '-' && b != ':' && b != '=')
            continue;
        *dash = k - 1;
        *figure = k;
        while (*figure < end && l->s[*figure] == ' ')
            ++*figure;
        if (*figure >= end || !st_is_digit((unsigned char)l->s[*figure]) || l->s[k] != ' ')
            return false;
        for (size_t m = *figure; m < end; m++)
            if (l->s[m] == '%')
                return false;
        const size_t digits = strcspn(l->s + i, "0123456789"); /* the strength is no part of the name */
        size_t name = i + digits < *dash ? i + digits : *dash;
        while (name > i && l->s[name - 1] == ' ')
            name--;
        return name > i && st_catalogue_find(c, l->s + i, name - i);
    }
    return false;
}

/* Where the list's thing that begins at i ends. */
static size_t listed_end(const struct st_clean *l, size_t i, size_t *next)
{
    size_t end = i;
    while (end < l->n && l->s[end] != ';' && !(l->s[end] == ',' && l->s[end + 1] == ' '))
        end++;
    *next = end + (end < l->n);
    while (*next < l->n && l->s[*next] == ' ')
        ++*next;
    while (end > i && strchr(" .", l->s[end - 1]))
        end--;
    return end;
}

/* The figure first, in every thing of the list. */
static void turn_each(struct st_clean *l, const struct st_catalogue *c, size_t start)
{
    for (size_t i = start, next; i < l->n; i = next) {
        char made[ST_ITEM_LIMIT];
        size_t dash, figure;
        const size_t end = listed_end(l, i, &next), n = l->n;
        if (!dashed(l, c, i, end, &dash, &figure) || end - i >= ST_ITEM_LIMIT)
            return;
        while (dash > i && l->s[dash - 1] == ' ')
            dash--;
        (void)snprintf(made, sizeof made, "%.*s %.*s", (int)(end - figure), l->s + figure, (int)(dash - i), l->s + i);
        st_turn_put(l, i, end - i, made);
        next -= n - l->n;
    }
}

static void dashed_list(struct st_clean *l, size_t start, const struct st_catalogue *c)
{
    size_t dash, figure, next;
    int n = 0;

    for (size_t i = start; i < l->n; i = next, n++) {
        const size_t end = listed_end(l, i, &next);
        if (!dashed(l, c, i, end, &dash, &figure))
            return;
    }
    if (n > 1)
        turn_each(l, c, start);
}

void st_turns_write(struct st_clean *line, size_t start, const struct st_catalogue *c, char *because, size_t size)
{
    because[0] = '\0';
    dashed_list(line, start, c);
    just(line, start);
    syrup_of(line, start);
    for (size_t i = start; i < line->n; i++) {
        if (!st_turn_begins(line, i))
            continue;
        hedged(line, i);
        and_half(line, i);
        st_turn_bottle(line, i);
        same_again(line, i);
        one_or_two(line, i);
        of_one(line, i);
        twice(line, i);
        if (less(line, c, i))
            (void)snprintf(because, size, "what is taken off is reckoned with");
        if (at_most(line, i))
            (void)snprintf(because, size, "only the most is written");
        if (kept_back(line, i))
            (void)snprintf(because, size, "what is kept back is taken off");
        while (i + 1 < line->n && st_is_digit((unsigned char)line->s[i]) && st_is_digit((unsigned char)line->s[i + 1]))
            i++;
    }
}
