#include <stdio.h>
#include <string.h>

#include "take_taken.h"

/* A line and its places: bullets and numbers in front, words, figures, sentences; and the items it gives. */

struct st_scan st_taken_from(const struct st_taken *l, size_t at)
{
    return (struct st_scan){ l->text.s + at, l->text.s + l->text.n };
}

struct st_take_item *st_taken_give(struct st_taken *l, enum st_take_role role, size_t at, size_t end)
{
    struct st_take_item *item = &l->item[l->n < ST_TAKE_ITEMS ? l->n++ : ST_TAKE_ITEMS - 1];

    *item = (struct st_take_item){ .role = role, .line = { .text = "", .from_step = -1 } };
    item->at = l->text.from[at];
    item->n = l->text.from[end] - item->at;
    return item;
}

/* Room for one more?  Where there is none, the last item says so: nothing is left out in silence. */
bool st_taken_has_room(struct st_taken *l)
{
    if (l->n < ST_TAKE_ITEMS)
        return true;
    struct st_take_item *last = &l->item[ST_TAKE_ITEMS - 1];
    const size_t at = last->at, n = last->n;
    *last = (struct st_take_item){
        .role = ST_TAKE_INGREDIENT, .sure = ST_UNREAD, .at = at, .n = n, .line = { .text = "", .from_step = -1 }
    };
    (void)snprintf(last->because, sizeof last->because, "%s", "more than six things in one line: part it");
    return false;
}

int st_taken_words(const struct st_taken *l, size_t at)
{
    int n = 0;
    for (size_t i = at; i < l->text.n; i++)
        n += st_is_letter((unsigned char)l->text.s[i]) && st_word_begins(l->text.s, i);
    return n;
}

/* A figure that may be of an amount: not a year, nor one of 1 to 2 in brackets behind a name. */
bool st_taken_has_digit(const struct st_taken *l, size_t at)
{
    for (size_t i = at; i < l->text.n; i++) {
        size_t n = 0;
        while (i + n < l->text.n && st_is_digit((unsigned char)l->text.s[i + n]))
            n++;
        const char *p = l->text.s + i;
        const bool year = n == 4 && (strncmp(p, "18", 2) == 0 || strncmp(p, "19", 2) == 0 || strncmp(p, "20", 2) == 0);
        if (n > 0 && !(year && i > at && strchr(" (", p[-1])))
            return true;
        i += n;
    }
    return false;
}

void st_taken_put(struct st_taken *l, const struct st_take_item *item, size_t at, size_t end)
{
    if (!st_taken_has_room(l))
        return;
    struct st_take_item *to = st_taken_give(l, item->role, at, end);
    const size_t where = to->at, n = to->n;
    *to = *item;
    to->at = where;
    to->n = n;
    if (to->as[0] && to->line.text)
        to->line.text = to->as;
}

/* ---- marks in front ---- */

static bool skip_number(struct st_scan *s)
{
    struct st_scan a = *s;
    int digits = 0;

    (void)st_scan_sign(&a, "(");
    while (a.at < a.end && st_is_digit((unsigned char)*a.at) && digits < 3)
        a.at++, digits++;
    if (digits == 0 || digits > 2 || !(st_scan_sign(&a, ".") || st_scan_sign(&a, ")")))
        return false;
    (void)st_scan_sign(&a, ")");
    if (!st_scan_blanks(&a))
        return false;
    *s = a;
    return true;
}

void st_taken_skip_marks(struct st_taken *l)
{
    struct st_scan s = st_taken_from(l, 0);
    bool numbered = false;

    for (;;) {
        const char *at = s.at;
        st_scan_blanks(&s);
        if (st_scan_sign(&s, "#"))
            l->hashes++;
        else if (!(st_scan_sign(&s, "*") || st_scan_sign(&s, ">") || st_scan_sign(&s, "\xe2\x80\xa2") ||
                   st_scan_sign(&s, "[ ]") || st_scan_sign(&s, "[x]") || st_scan_sign(&s, "[X]") ||
                   st_scan_sign(&s, "[]") || st_scan_sign(&s, "+ ") || st_scan_sign(&s, "\xe2\x80\x93 ") ||
                   st_scan_sign(&s, "- ") || st_scan_sign(&s, "-") || st_scan_sign(&s, "\xe2\x80\x94") ||
                   st_scan_sign(&s, ".") || st_scan_sign(&s, "o "))) {
            if (numbered || !skip_number(&s))
                break;
            numbered = true;
        }
        if (s.at == at)
            break;
    }
    st_scan_blanks(&s);
    struct st_scan t = s;
    if (st_scan_word(&t, "title|recipe|name") && st_scan_sign(&t, ":")) {
        l->title = true;
        s = t;
        st_scan_blanks(&s);
    }
    t = s;
    if (st_scan_word(&t, "step") && st_scan_blanks(&t)) { /* "Step 2:" */
        while (t.at < t.end && (st_is_digit((unsigned char)*t.at) || strchr(" .:)-", *t.at)))
            t.at++;
        s = t;
    }
    t = s;
    if (st_scan_word(&t, "day|week|month") && st_scan_blanks(&t)) { /* "Day 14: strain." */
        const char *digits = t.at;
        while (t.at < t.end && st_is_digit((unsigned char)*t.at))
            t.at++;
        struct st_scan colon = t;
        if (t.at > digits && st_scan_sign(&colon, ":") && st_scan_blanks(&colon) && colon.at < colon.end)
            s = colon;
    }
    l->start = (size_t)(s.at - l->text.s);
}

size_t st_taken_end(const struct st_taken *l)
{
    size_t n = l->text.n;
    while (n > l->start && strchr(" :.-=!*#", l->text.s[n - 1]))
        n--;
    return n;
}

/* ---- sentences ---- */

static bool is_short_word(const char *s, size_t at)
{
    static const char *const SHORT[] = {
        "approx", "abt", "ca", "c",   "oz",  "ozs", "lb",  "lbs", "tsp", "tbsp",  "fl",         "pt",
        "pts",    "qt",  "no", "vol", "alc", "g",   "kg",  "ml",  "l",   "t",     "st",         "mrs",
        "mr",     "dr",  "gr", "cl",  "imp", "in",  "wks", "min", "hrs", "litre", "tablespoon", "teaspoon"
    };
    size_t from = at;

    while (from > 0 && st_is_letter((unsigned char)s[from - 1]))
        from--;
    for (size_t i = 0; i < sizeof SHORT / sizeof SHORT[0]; i++) {
        struct st_scan w = { s + from, s + at };
        if (strlen(SHORT[i]) == at - from && st_scan_word(&w, SHORT[i]))
            return true;
    }
    return false;
}

size_t st_taken_sentence(const struct st_taken *l, size_t at)
{
    const char *t = l->text.s;

    for (size_t i = at; i < l->text.n; i++) {
        if ((t[i] == '!' || t[i] == '?') && !(i + 1 < l->text.n && t[i + 1] == ')'))
            return i + 1;
        if (t[i] != '.' || i + 2 >= l->text.n || t[i + 1] != ' ' || i == at || is_short_word(t, i))
            continue;
        if (t[i + 2] >= 'a' && t[i + 2] <= 'z')
            continue;
        if (i > 0 && st_is_digit((unsigned char)t[i - 1]) && i - at < 3)
            continue;
        if (i > 0 && (t[i - 1] == '.' || t[i - 1] == ' '))
            continue;
        return i + 1;
    }
    return l->text.n;
}
