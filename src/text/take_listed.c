#include <stdio.h>
#include <string.h>

#include "take_taken.h"

/* Lists in one line that name each thing before its amount: "sugar 300 g, water 200 ml, lemons 5". */

enum { MOST_THINGS = 24 };

struct thing {
    size_t at, end, behind; /* behind: where the next begins */
    bool amount, named;     /* an amount stands in it; it begins with its name */
    bool bare;              /* it is nothing but a name */
    size_t count;           /* "Lemons, 8 large": where "8 large" begins; 0 none */
};

/* Bytes of what parts two things at i. */
static size_t parting(const struct st_taken *l, size_t i, size_t end)
{
    struct st_scan s = { l->text.s + i, l->text.s + end };

    if ((l->text.s[i] == ',' || l->text.s[i] == ';') && i + 1 < end && l->text.s[i + 1] == ' ')
        return 1;
    if (i == 0 || l->text.s[i - 1] != ' ')
        return 0;
    if (st_scan_sign(&s, "& ") || st_scan_sign(&s, "+ "))
        return 1;
    return st_scan_word(&s, "and|plus|with") ? (size_t)(s.at - l->text.s) - i : 0;
}

/* The first amount of goods from `at` on that stands before any time or temperature; end when there is none. */
static size_t amount_in(const struct st_taken *l, size_t at, size_t end, enum st_dimension *dim)
{
    const struct st_ask ask = { l->context->measures, ST_DIMS_ALL, false, false };

    for (size_t i = at; i < end; i++) {
        struct st_scan s = { l->text.s + i, l->text.s + end };
        struct st_amount a;
        struct st_problem p;
        if (!st_is_digit((unsigned char)*s.at) || !st_word_begins(l->text.s, i))
            continue;
        const enum st_got got = st_closed_read(&s, &ask, &a, NULL, &p);
        if (got < 0 || a.dim == ST_DIM_STRENGTH) {
            while (i + 1 < end && l->text.s[i + 1] != ' ')
                i++;
            continue;
        }
        *dim = a.dim;
        return ST_DIMS_GOODS & ST_DIM_BIT(a.dim) ? i : end;
    }
    return end;
}

/* Words that join what follows to the thing before, or do something: no name. */
static bool begins_name(const struct st_taken *l, size_t at, size_t end)
{
    struct st_scan s = { l->text.s + at, l->text.s + end };

    return at < end && (st_is_letter((unsigned char)*s.at)) && !st_deed_begins(s.at, end - at) &&
           !st_scan_word(&s,
                         "about|around|or|each|say|total|in all|makes|at|for|in|to|up to|not|no|from|per|then|until|"
                         "of|roughly|ca|approx|minus|less|i|we|my|our|you|the|this|it|makes|yields|serves|but|if|"
                         "juice of|zest of|peel of|rind of|a|an|some|half|one|two|three|four|five|six");
}

/* One piece between two partings. */
static struct thing piece_at(const struct st_taken *l, size_t at, size_t end)
{
    struct thing k = { .at = at, .end = end };
    enum st_dimension dim = ST_DIM_OPEN;
    size_t n = 0;

    while (k.end > at && strchr(" .", l->text.s[k.end - 1]))
        k.end--;
    while (k.at < k.end && l->text.s[k.at] == ' ')
        k.at++;
    const size_t amount = amount_in(l, k.at, k.end, &dim);
    k.amount = amount < k.end;
    for (n = k.at; n < k.end && !st_is_digit((unsigned char)l->text.s[n]) && l->text.s[n] != '('; n++)
        continue;
    while (n > k.at && l->text.s[n - 1] == ' ')
        n--;
    const bool known = n > k.at && st_catalogue_find(l->c, l->text.s + k.at, n - k.at);
    k.named = begins_name(l, k.at, k.end) && n - k.at < 60 && (known || (k.amount && n > k.at));
    k.bare = k.named && n == k.end;
    k.count = amount == k.at && dim == ST_DIM_PIECE ? k.at : 0;
    return k;
}

/* "8 large": an amount, and no name behind it. */
static bool is_nameless(const struct st_taken *l, const struct thing *k)
{
    struct st_take_context context = *l->context;
    struct st_take_item item;

    return !st_item_read(l->text.s + k->at, k->end - k->at, l->c, &context, &item) || !item.line.what;
}

/* The things of at..end, each with what is said of it; how many. */
static int things(const struct st_taken *l, size_t at, size_t end, struct thing out[MOST_THINGS])
{
    int n = 0;

    for (size_t i = at, from = at, skip = 0; i <= end; i++) {
        if (i < end && !(skip = parting(l, i, end)))
            continue;
        const struct thing k = piece_at(l, from, i);
        const bool own = k.named || (k.amount && !is_nameless(l, &k));
        const bool bare_before = n > 0 && out[n - 1].bare && st_goods_first_name(l, k.at, k.end) &&
                                 !st_goods_turned(l, out[n - 1].at, out[n - 1].end, k.at, k.end);
        if (n == 0 || (own && (out[n - 1].amount || bare_before))) {
            if (n == MOST_THINGS)
                return 0;
            out[n] = k;
            out[n++].count = 0;
        } else { /* "vodka 40 %, 1 L"; "lemons 8, unwaxed" */
            out[n - 1].end = k.end;
            out[n - 1].bare = false;
            if (!out[n - 1].amount && k.amount)
                out[n - 1].count = k.count;
            out[n - 1].amount = out[n - 1].amount || k.amount;
        }
        out[n - 1].behind = from = i < end ? i + skip : end;
        i = i < end ? i + skip - 1 : i;
    }
    return n;
}

/* Read one; "Lemons, 8 large" is 8 large lemons. */
static bool read_thing(struct st_taken *l, const struct thing *k, struct st_take_item *item)
{
    char made[ST_ITEM_LIMIT];
    size_t name = k->count;

    while (name > k->at && strchr(" ,", l->text.s[name - 1]))
        name--;
    if (k->count && k->end - k->at < ST_ITEM_LIMIT - 2) {
        (void)snprintf(made, sizeof made, "%.*s %.*s", (int)(k->end - k->count), l->text.s + k->count,
                       (int)(name - k->at), l->text.s + k->at);
        return st_item_read(made, strlen(made), l->c, l->context, item);
    }
    return st_item_read(l->text.s + k->at, k->end - k->at, l->c, l->context, item);
}

bool st_goods_listed(struct st_taken *l, size_t at, size_t end)
{
    struct thing of[MOST_THINGS];
    struct st_take_context before = *l->context;
    struct st_take_item item;
    const int n = things(l, at, end, of);
    int named = 0, read = 0;

    for (int i = 0; i < n; i++) {
        named += of[i].named && of[i].amount;
        read += of[i].named && of[i].amount && read_thing(l, &of[i], &item) && st_goods_has_amount(&item);
        *l->context = before;
    }
    if (n == 0 || !of[0].named || !(of[0].amount || of[0].bare) || read < 1 || (named < 2 && !(n == 1 && of[0].count)))
        return false;
    for (int i = 0; i < n; i++) {
        if (!read_thing(l, &of[i], &item))
            item.sure = ST_UNREAD;
        st_taken_put(l, &item, of[i].at, of[i].behind);
    }
    return true;
}
