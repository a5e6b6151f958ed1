#include <stdio.h>
#include <string.h>

#include "name_form.h"
#include "take_names.h"
#include "take_taken.h"

/* Things that a line names without an amount, beside others: "700 mL vodka 40 %, some wormwood". */

/* So much as nobody measured. */
static const char LITTLE[] = "some|a little bit of|a little of|a little|a bit of|a touch of|a hint of|a trace of|a "
                             "suspicion of|plenty of|lots of|"
                             "a lot of|enough|bits of|some more|a little more|a few";
static const char SIGNS[] = ",;+&";

static struct st_scan scan(const struct st_taken *l, size_t at, size_t end)
{
    return (struct st_scan){ l->text.s + at, l->text.s + end };
}

size_t st_goods_piece_end(const struct st_taken *l, size_t at, size_t end)
{
    const char *t = l->text.s;
    int depth = 0;

    for (size_t i = at; i < end; i++) {
        struct st_scan s = scan(l, i, end);
        depth += t[i] == '(' ? 1 : t[i] == ')' ? -1 : 0;
        if (depth > 0)
            continue;
        if (strchr(SIGNS, t[i]) && (i + 1 == end || !st_is_digit((unsigned char)t[i + 1])))
            return i;
        if (i > at && t[i] != ' ' && st_word_begins(t, i) && st_scan_word(&s, "and|plus|with|then"))
            return i;
    }
    return end;
}

bool st_goods_in_brackets(const struct st_taken *l, size_t at, size_t i)
{
    int depth = 0;
    for (; at < i; at++)
        depth += l->text.s[at] == '(' ? 1 : l->text.s[at] == ')' && depth > 0 ? -1 : 0;
    return depth > 0;
}

/* Words behind the name that leave it what it is: "cinnamon, if you like", "honey for the syrup"; not "rum soaked". */
static bool is_plain_behind(const struct st_taken *l, size_t at, size_t end)
{
    while (at < end && strchr(" .)", l->text.s[at]))
        at++;
    struct st_scan s = scan(l, at, end), tail = s;
    if (at >= end || l->text.s[at] == '(')
        return true;
    struct st_scan of = s;
    return !st_scan_word(&of, "of|and|with|is|are|it|we|i|you") &&
           (st_words_at(&s, ST_WORD_BIT(ST_WORD_DROP) | ST_WORD_BIT(ST_WORD_REMARK) | ST_WORD_BIT(ST_WORD_MAYBE) |
                                ST_WORD_BIT(ST_WORD_PIECE)) ||
            st_scan_word(&tail, "to|for|from|if|as|into|until|in|on|too|also|out of|optional|at"));
}

/* "in syrup", "stones removed", "no sugar": of the thing before it. */
static bool goes_on(const struct st_taken *l, size_t at, size_t end)
{
    struct st_scan s = scan(l, at, end), word = s;
    return st_words_at(&s, ST_WORD_BIT(ST_WORD_NOT)) ||
           st_scan_word(&word, "stones|stone|kernels|kernel|half|all|both|most|the "
                               "rest|in|for|to|at|on|with|from|or|into|as|by|of|per|which|that|"
                               "instead|no|not|without|like|such|each|all|plus extra|is|are|be|use|used|if|but");
}

/* Behind words that say nothing ("my lovely"). */
static size_t skip_empty(const struct st_taken *l, size_t at, size_t end)
{
    for (;;) {
        while (at < end && l->text.s[at] == ' ')
            at++;
        struct st_scan s = scan(l, at, end);
        if (goes_on(l, at, end) || !st_words_at(&s, ST_WORD_BIT(ST_WORD_DROP) | ST_WORD_BIT(ST_WORD_LEAD)) ||
            s.at == s.end || *s.at != ' ')
            return at;
        at = (size_t)(s.at - l->text.s);
    }
}

bool st_goods_little(const struct st_taken *l, size_t at, size_t end)
{
    struct st_scan s = scan(l, at, end);
    st_scan_blanks(&s);
    return st_scan_word(&s, LITTLE);
}

size_t st_goods_bare(const struct st_taken *l, size_t at, size_t end, const struct st_ingredient **what)
{
    struct st_scan s = scan(l, at, end);
    size_t to = 0;

    *what = NULL;
    st_scan_blanks(&s);
    if (goes_on(l, (size_t)(s.at - l->text.s), end))
        return 0;
    const bool little = st_scan_word(&s, LITTLE);
    at = skip_empty(l, (size_t)(s.at - l->text.s), end);
    const size_t stop = st_goods_piece_end(l, at, end);
    if (at >= stop || !st_is_letter((unsigned char)l->text.s[at]) || goes_on(l, at, stop))
        return 0;
    for (size_t i = at; i < stop; i++)
        if (st_is_digit((unsigned char)l->text.s[i]))
            return 0; /* an amount, it may be */
    *what = st_take_name_at(l->c, l->text.s, at, &to);
    if (*what && to <= stop)
        return little || is_plain_behind(l, to, stop) ? stop : 0;
    *what = NULL;
    return little && st_take_has_unknown(l->c, l->text.s, at, stop) ? stop : 0;
}

const struct st_ingredient *st_goods_first_name(const struct st_taken *l, size_t at, size_t end)
{
    size_t to = 0;
    at = skip_empty(l, at, end);
    const struct st_ingredient *in = st_take_name_at(l->c, l->text.s, at, &to);
    return in && to <= end ? in : NULL;
}

/* ---- "chocolate, milk": one name, turned round ---- */

static bool is_written_so(const struct st_name_words *w, const char *name, size_t n)
{
    struct st_name_words known;

    st_name_split(name, n, &known);
    if (known.n != w->n)
        return false;
    for (int i = 0; i < w->n; i++)
        if (strcmp(known.word[i], w->word[i]) != 0)
            return false;
    return true;
}

static bool is_name_in_order(const struct st_ingredient *in, const char *text)
{
    struct st_name_words w;
    const char *all = in->names ? in->names : "";

    st_name_split(text, strlen(text), &w);
    if (is_written_so(&w, in->name, strlen(in->name)))
        return true;
    while (*all) {
        const size_t n = strcspn(all, "|");
        if (is_written_so(&w, all, n))
            return true;
        all += n + (all[n] == '|');
    }
    return false;
}

bool st_goods_turned(const struct st_taken *l, size_t at, size_t i, size_t next, size_t stop)
{
    const char *t = l->text.s;
    size_t from = i;

    while (next < stop && t[next] == ' ')
        next++;
    while (stop > next && strchr(" .", t[stop - 1]))
        stop--;
    for (int words = 1; words <= 2 && from > at && stop - next < 60; words++) {
        char both[140];
        while (from > at && t[from - 1] == ' ')
            from--;
        const size_t behind = from;
        while (from > at && (st_is_letter((unsigned char)t[from - 1]) || (unsigned char)t[from - 1] >= 0x80))
            from--;
        if (from == behind || i - from > 60)
            return false; /* a figure, or a sign */
        (void)snprintf(both, sizeof both, "%.*s %.*s", (int)(stop - next), t + next, (int)(i - from), t + from);
        const struct st_ingredient *in = st_catalogue_find(l->c, both, strlen(both));
        if (in && is_name_in_order(in, both))
            return true;
    }
    return false;
}
