#include <math.h>
#include <stdio.h>
#include <string.h>

#include "number.h"
#include "take_inside.h"

/* "gin or vodka": the other thing that will do. */

static void blank(struct st_item *it, size_t from, size_t to)
{
    memset(it->d.work + from, ' ', to - from);
}

static const struct st_ingredient *known(const struct st_item *it, const char *at, size_t n)
{
    while (n > 0 && strchr(" ,;)(.", at[n - 1]))
        n--;
    while (n > 0 && *at == ' ')
        at++, n--;
    const struct st_word *w;
    struct st_scan s = { at, at + n };
    if (n > 0 && (w = st_words_at(&s, ST_WORD_BIT(ST_WORD_NAME))) && s.at == s.end)
        return st_catalogue_find(it->c, w->value, strlen(w->value));
    return n > 0 ? st_catalogue_find(it->c, at, n) : NULL;
}

/* Up to the end of the words that stand together. */
static size_t phrase_end(const struct st_item *it, size_t at)
{
    while (at < it->d.n && !strchr(",;)(", it->d.work[at]))
        at++;
    return at;
}

/* "fresh or frozen blackcurrants": the other is a state of the same. */
static const struct st_ingredient *other_state(const struct st_item *it, size_t at, size_t or_at, size_t end)
{
    struct st_scan s = { it->d.work + at, it->d.work + end };
    size_t n = or_at;

    while (n > 0 && it->d.work[n - 1] == ' ')
        n--;
    size_t from = n;
    while (from > 0 && st_is_letter((unsigned char)it->d.work[from - 1]))
        from--;
    struct st_scan before = { it->d.work + from, it->d.work + n };
    if (!st_scan_word(&before, "fresh|frozen|dried|ripe|ground|whole") ||
        !st_scan_word(&s, "frozen|dried|fresh|tinned"))
        return NULL;
    return known(it, it->d.work + at, end - at);
}

/* Passes over an amount. */
static bool skip_amount(const struct st_item *it, struct st_scan *s)
{
    const struct st_ask ask = { it->context->measures, ST_DIMS_GOODS, false, false };
    struct st_amount a;
    struct st_problem p;
    return st_closed_read(s, &ask, &a, NULL, &p) >= 0;
}

/* "250 g honey, or 220 g sugar": the other with an amount of its own, which stands for the whole of it. */
static bool or_amount(struct st_item *it, size_t or_at, size_t at, size_t end)
{
    struct st_scan left = { it->d.work, it->d.work + or_at }, right = { it->d.work + at, it->d.work + end };

    if (!skip_amount(it, &right) || !skip_amount(it, &left))
        return false;
    (void)st_scan_word(&right, "of");
    (void)st_scan_word(&left, "of");
    const struct st_ingredient *in = known(it, right.at, (size_t)(right.end - right.at));
    if (!in || !known(it, left.at, (size_t)(left.end - left.at)))
        return false;
    (void)snprintf(it->out->or_slug, sizeof it->out->or_slug, "%s", in->slug);
    blank(it, or_at, end);
    return true;
}

/* The strengths that are usual for the drink, or its own: what the words before "or" may have. */
static bool is_usual_for(const struct st_ingredient *in, const struct st_range *r)
{
    struct st_usual u;
    const char *value = st_words_value(ST_WORD_USUAL, in->slug);

    if (in->strength.known)
        return r->low <= in->strength.high && in->strength.low <= r->high;
    st_usual_read(value ? value : st_words_value(ST_WORD_USUAL, "other"), &u);
    double low = u.low, high = u.high;
    for (int i = 0; i < u.n_option; i++) {
        low = fmin(low, u.option[i]);
        high = fmax(high, u.option[i]);
    }
    return r->low <= high && low <= r->high;
}

/* A strength that stands before the second name is that one's alone; behind both names it is that of both, where the
 * first may have it. */
static void own_strength(struct st_item *it, size_t or_at, size_t end, const struct st_ingredient *in)
{
    const struct st_range r = it->d.strength;
    const size_t at = it->d.strength_at;
    size_t from = 0, n = or_at;
    while (end > or_at && it->d.work[end - 1] == ' ')
        end--; /* the strength itself was blanked */

    if (!r.known || it->d.strength_n == 0 || at < or_at || in->kind != ST_KIND_SPIRIT)
        return;
    const struct st_ingredient *first = NULL;
    while (n > 0 && strchr(" ,", it->d.work[n - 1]))
        n--;
    for (; from < n && !first; from++)
        if (it->d.work[from] != ' ' && st_word_begins(it->d.work, from))
            first = known(it, it->d.work + from, n - from);
    if (!first || first->kind != ST_KIND_SPIRIT || (at >= end && is_usual_for(first, &r)))
        return;
    it->out->or_strength = r;
    it->d.strength = (struct st_range){ 0 };
    it->d.strength_n = 0;
}

/* "or good plain brandy": what is said of it and is no name. */
static size_t skip_praise(const struct st_item *it, size_t at, size_t end)
{
    struct st_scan s = { it->d.work + at, it->d.work + end };
    st_scan_blanks(&s);
    while (s.at < s.end && !known(it, s.at, (size_t)(s.end - s.at)) &&
           (st_words_at(&s, ST_WORD_BIT(ST_WORD_DROP)) || st_scan_word(&s, "some|a|an|a good")))
        st_scan_blanks(&s);
    return (size_t)(s.at - it->d.work);
}

/* "1 or 2 cinnamon sticks": an amount, and no other thing. */
static bool is_or_of_numbers(const struct st_item *it, size_t or_at, size_t at)
{
    size_t end = or_at;
    while (end > 0 && it->d.work[end - 1] == ' ')
        end--;
    return end > 0 && st_is_digit((unsigned char)it->d.work[end - 1]) && st_is_digit((unsigned char)it->d.work[at]);
}

void st_item_or(struct st_item *it)
{
    for (size_t i = 0; i < it->d.n; i++) {
        struct st_scan s = { it->d.work + i, it->d.work + it->d.n };
        if (*s.at == ' ' || !st_word_begins(it->d.work, i) ||
            !st_scan_word(&s, "or else|or if you prefer|or even|or use|or possibly|or|some say|some use|some prefer"))
            continue;
        st_scan_blanks(&s);
        size_t at = (size_t)(s.at - it->d.work);
        if (is_or_of_numbers(it, i, at))
            continue;
        size_t end = phrase_end(it, at);
        const struct st_ingredient *in = other_state(it, at, i, end);
        if (in) {
            (void)snprintf(it->out->or_slug, sizeof it->out->or_slug, "%s", in->slug);
            while (s.at < s.end && *s.at != ' ')
                s.at++;
            blank(it, i, (size_t)(s.at - it->d.work));
            return;
        }
        if (or_amount(it, i, at, end))
            return;
        at = skip_praise(it, at, end);
        for (; end > at; end--) { /* the longest run of words that is one */
            if (end < it->d.n && it->d.work[end] != ' ' && !strchr(",;)(", it->d.work[end]))
                continue;
            if ((in = known(it, it->d.work + at, end - at)) != NULL)
                break;
        }
        if (!in)
            continue;
        (void)snprintf(it->out->or_slug, sizeof it->out->or_slug, "%s", in->slug);
        own_strength(it, i, end, in);
        blank(it, i, end);
        return;
    }
}

/* "juice of 1 lemon or lime": the other is juice too. */
void st_item_other_part(struct st_item *it)
{
    if (!it->part[0] || !it->out->or_slug[0])
        return;
    for (size_t i = 0; i < st_catalogue_count(it->c); i++) {
        const struct st_ingredient *in = st_catalogue_at(it->c, i);
        char whole[120];
        if (strcmp(in->slug, it->out->or_slug) != 0)
            continue;
        (void)snprintf(whole, sizeof whole, "%.*s %s", (int)strcspn(in->name, ","), in->name, it->part);
        in = st_catalogue_find(it->c, whole, strlen(whole));
        (void)snprintf(it->out->or_slug, sizeof it->out->or_slug, "%s", in ? in->slug : "");
        return;
    }
}
