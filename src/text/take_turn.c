#include "take_turn.h"

#include <stdio.h>
#include <string.h>

#include "number.h"
#include "take_inside.h"

struct st_scan st_turn_from(const struct st_clean *l, size_t at)
{
    return (struct st_scan){ l->s + at, l->s + l->n };
}

bool st_turn_begins(const struct st_clean *l, size_t i)
{
    return l->s[i] != ' ' && st_word_begins(l->s, i);
}

void st_turn_put(struct st_clean *l, size_t at, size_t n, const char *with)
{
    const size_t k = strlen(with), behind = l->n - at - n;
    if (l->n - n + k > ST_CLEAN_LIMIT)
        return;
    memmove(l->s + at + k, l->s + at + n, behind + 1);
    memmove(l->from + at + k, l->from + at + n, (behind + 1) * sizeof l->from[0]);
    memcpy(l->s + at, with, k);
    for (size_t i = n; i < k; i++)
        l->from[at + i] = l->from[n ? at + n - 1 : at];
    l->n += k - n;
}

void st_turn_cut(struct st_clean *l, size_t least, size_t k, size_t stop)
{
    const size_t from = k;
    while (k > least && strchr(" ,(-", l->s[k - 1]))
        k--;
    const bool bracket = memchr(l->s + k, '(', from - k) != NULL;
    if (bracket && stop < l->n && l->s[stop] == ')')
        stop++;
    st_turn_put(l, k, stop - k, bracket && stop < l->n && l->s[stop - 1] != ')' ? " (" : "");
}

size_t st_turn_quantity(const struct st_clean *l, size_t at, enum st_dimension dim, struct st_amount *a)
{
    struct st_problem p;
    size_t used = 0;
    if (at >= l->n || !st_is_digit((unsigned char)l->s[at]) ||
        st_quantity_parse(l->s + at, l->n - at, ST_MEASURES_METRIC, a, &used, &p) != 0 || a->dim != dim ||
        !(a->value > 0))
        return 0;
    while (used && l->s[at + used - 1] == ' ')
        used--;
    return used;
}

size_t st_turn_amount(const struct st_clean *l, size_t at, struct st_amount *a)
{
    const size_t n = st_turn_quantity(l, at, ST_DIM_MASS, a);
    return n ? n : st_turn_quantity(l, at, ST_DIM_VOLUME, a);
}

void st_turn_say(double low, double high, enum st_dimension dim, char *out, size_t size)
{
    const char *unit = dim == ST_DIM_MASS ? "g" : "mL";
    if (low < high)
        (void)snprintf(out, size, "%.5g-%.5g %s", low, high, unit);
    else
        (void)snprintf(out, size, "%.6g %s", high, unit);
}

/* "a mug and a half bottle": the half is of the next thing. */
static bool is_of_next(struct st_scan s)
{
    struct st_amount a;
    struct st_problem p;
    size_t used;
    char one[40];

    st_scan_blanks(&s);
    if (s.at >= s.end || !st_is_letter((unsigned char)*s.at) || st_scan_word(&s, "of"))
        return false;
    if (st_words_at(&s, ST_WORD_BIT(ST_WORD_BOTTLE)))
        return true;
    (void)snprintf(one, sizeof one, "1 %.*s", (int)(s.end - s.at < 30 ? s.end - s.at : 30), s.at);
    return st_quantity_parse(one, strlen(one), ST_MEASURES_METRIC, &a, &used, &p) >= 0 && a.unit;
}

size_t st_turn_and_half(struct st_scan *s, char *out, size_t size)
{
    struct st_scan a = *s;
    struct st_number n;
    const char *why;

    if (st_number_read(&a, &n, &why) != 1 || n.figures || n.vague || !(n.value >= 1 && n.value <= 12) ||
        !st_scan_blanks(&a))
        return 0;
    const char *word = a.at;
    while (a.at < a.end && st_is_letter((unsigned char)*a.at))
        a.at++;
    const int letters = (int)(a.at - word);
    const bool half = st_scan_word(&a, "and a half|and half"), quarter = !half && st_scan_word(&a, "and a quarter");
    if (letters == 0 || letters > 20 || !(half || quarter) || is_of_next(a))
        return 0;
    (void)snprintf(out, size, "%.4g %.*s", n.value + (half ? 0.5 : 0.25), letters, word);
    const size_t bytes = (size_t)(a.at - s->at);
    *s = a;
    return bytes;
}
