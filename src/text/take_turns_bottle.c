#include <stdio.h>
#include <string.h>

#include "number.h"
#include "take_turn.h"

/* Bottles in part: how much of what they hold. */

static const char HOLDS[] = "bottles|bottle|tins|tin|packets|packet|bags|bag|cartons|carton";

/* A share with what is said of it: "half", "2/3", "most of", "nearly".  What the words mean is common practice without
 * a source. */
struct share {
    double low, high;
};

/* "half", "2/3", "three quarters": no strength. */
static bool plain_share(struct st_scan *s, double *out)
{
    const char *at = s->at;
    struct st_scan a = *s;
    if (!st_number_share(&a, out) || !(*out < 1) || memchr(at, '%', (size_t)(a.at - at)))
        return false;
    *s = a;
    return true;
}

static bool whole_or_full(struct st_scan *s)
{
    return st_scan_word(s,
                        "a whole|the whole|a full|the full|one whole|one full|whole|full|all of a|all of the|all the");
}

static bool read_share(struct st_scan *s, struct share *out)
{
    struct st_scan a = *s;
    double by;

    if (st_scan_word(&a, "most of|the most of|the best part of|the better part of|the greater part of|much of")) {
        *out = (struct share){ 0.6, 0.95 };
        *s = a;
        return true;
    }
    const bool under = st_scan_word(&a, "nearly|almost|not quite|close to|just under");
    const bool about = !under && st_scan_word(&a, "about|roughly|around|some|approximately|a good|good|perhaps|maybe");
    st_scan_blanks(&a);
    struct st_scan b = a;
    if (plain_share(&b, &by)) {
        *out = under   ? (struct share){ 0.8 * by, by }
               : about ? (struct share){ 0.9 * by, 1.1 * by < 1 ? 1.1 * by : 1 }
                       : (struct share){ by, by };
        *s = b;
        return true;
    }
    if (!under || !whole_or_full(&a))
        return false;
    *out = (struct share){ 0.85, 1 };
    *s = a;
    return true;
}

static void say_share(const struct share *by, const struct st_amount *a, char *words, size_t size)
{
    st_turn_say(a->low * by->low, a->high * by->high, a->dim, words, size);
}

/* "half a 70cl bottle of gin", "2/3 of a 750 ml bottle", "nearly a whole 1 litre bottle". */
static bool part_of_bottle(struct st_clean *l, size_t i)
{
    struct st_scan s = st_turn_from(l, i);
    struct st_amount a;
    struct share by;
    char words[60];

    if (!read_share(&s, &by))
        return false;
    (void)st_scan_word(&s, "of a|of one|of the|of|a|the");
    st_scan_blanks(&s);
    const size_t at = (size_t)(s.at - l->s), n = st_turn_quantity(l, at, ST_DIM_VOLUME, &a);
    s = st_turn_from(l, at + n);
    if (n == 0 || !(st_scan_sign(&s, "-"), st_scan_word(&s, HOLDS)))
        return false;
    say_share(&by, &a, words, sizeof words);
    st_turn_put(l, i, (size_t)(s.at - l->s) - i, words);
    return true;
}

/* What a whole bottle holds, told somewhere behind `from`: no half of one. */
static size_t whole_size(const struct st_clean *l, size_t from, size_t *at, struct st_amount *a)
{
    enum { LEAST_WHOLE = 450 };
    for (size_t k = from; k < l->n; k++) {
        const size_t n = st_turn_begins(l, k) ? st_turn_quantity(l, k, ST_DIM_VOLUME, a) : 0;
        if (n && a->value >= LEAST_WHOLE && (k == 0 || strchr(" (,", l->s[k - 1]))) {
            *at = k;
            return n;
        }
        while (k + 1 < l->n && st_is_digit((unsigned char)l->s[k]) && st_is_digit((unsigned char)l->s[k + 1]))
            k++;
    }
    return 0;
}

/* "(70 cl, 40 %)" -> "(40 %)"; "(70 cl)" and ", 70 cl" go whole. */
static void drop_size(struct st_clean *l, size_t at, size_t n)
{
    size_t stop = at + n;
    if (stop < l->n && l->s[stop] == ',') {
        while (stop < l->n && strchr(", ", l->s[stop]))
            stop++;
        st_turn_put(l, at, stop - at, "");
        return;
    }
    const bool bracket = at > 0 && l->s[at - 1] == '(';
    while (at > 0 && strchr(" ,(", l->s[at - 1]))
        at--;
    stop += bracket && stop < l->n && l->s[stop] == ')';
    st_turn_put(l, at, stop - at, bracket && stop < l->n && l->s[stop - 1] != ')' ? " (" : "");
}

/* "half a bottle (70 cl) of gin", "most of a bottle of rum, 700 ml": what a whole one holds, where it could not be the
 * part.  Without a size: "0.6-0.95 bottle". */
static bool part_and_size(struct st_clean *l, size_t i)
{
    struct st_scan s = st_turn_from(l, i);
    struct st_amount a;
    struct share by;
    char words[60];
    size_t at = 0;

    if (!read_share(&s, &by) || (st_scan_word(&s, "of a|of the|of my|of our|of|a"), !st_scan_word(&s, "bottle")))
        return false;
    const size_t end = (size_t)(s.at - l->s), n = whole_size(l, end, &at, &a);
    if (n) {
        drop_size(l, at, n);
        say_share(&by, &a, words, sizeof words);
        st_turn_put(l, i, end - i, words);
        return true;
    }
    if (!(by.low < by.high))
        return false; /* "half a bottle" is sold */
    (void)snprintf(words, sizeof words, "%.3g-%.3g bottle", by.low, by.high);
    st_turn_put(l, i, end - i, words);
    return true;
}

/* "70 cl bottle vodka, three quarters full", "a bottle of gin, almost full (70 cl)" */
static bool full_in_part(struct st_clean *l, size_t i)
{
    struct st_scan part = st_turn_from(l, i), bottle;
    struct share by = { 0.85, 1 };
    struct st_amount a;
    char words[60];
    size_t at = 0, n;

    if (!st_scan_word(&part, "nearly full|almost full|not quite full") &&
        !(read_share(&part, &by) && st_scan_word(&part, "full")))
        return false;
    const size_t stop = (size_t)(part.at - l->s);
    for (size_t k = 0; k < i; k++) {
        bottle = st_turn_from(l, k);
        if (!st_turn_begins(l, k) || !st_scan_word(&bottle, HOLDS) || bottle.at > l->s + i)
            continue;
        n = whole_size(l, 0, &at, &a);
        if (!n) {
            (void)snprintf(words, sizeof words, "%.3g-%.3g ", by.low, by.high);
            st_turn_cut(l, (size_t)(bottle.at - l->s), i, stop);
            bottle = st_turn_from(l, 0);
            if (st_scan_word(&bottle, "a|one|1") && st_scan_blanks(&bottle) && (size_t)(bottle.at - l->s) == k)
                st_turn_put(l, 0, k, words);
            return true;
        }
        if (at > i) { /* the later one first: places stay */
            say_share(&by, &a, words, sizeof words);
            st_turn_put(l, at, n, words);
            st_turn_cut(l, (size_t)(bottle.at - l->s), i, stop);
        } else {
            st_turn_cut(l, at + n, i, stop);
            say_share(&by, &a, words, sizeof words);
            st_turn_put(l, at, n, words);
        }
        return true;
    }
    return false;
}

void st_turn_bottle(struct st_clean *line, size_t i)
{
    (void)(part_of_bottle(line, i) || part_and_size(line, i) || full_in_part(line, i));
}
