#include <ctype.h>
#include <string.h>

#include "number.h"
#include "quantity.h"
#include "scan.h"
#include "take_prose.h"
#include "take_words.h"

/* Amounts that stand behind the name, as prose tells them. */

/* Do the words before already tell how much: "a bottle of rum (70 cl)", "four quinces, about 800 g"? */
static bool has_amount_before(const char *text, size_t at)
{
    size_t i = at;
    for (int words = 0; words < 3; words++) {
        while (i > 0 && text[i - 1] == ' ')
            i--;
        if (i == 0 || strchr(",;:().", text[i - 1]))
            return false;
        while (i > 0 && text[i - 1] != ' ' && !strchr(",;:()", text[i - 1]))
            i--;
        struct st_scan one = { text + i, text + at }, two = one, three = one;
        if (isdigit((unsigned char)text[i]) || st_words_at(&one, ST_WORD_BIT(ST_WORD_COUNT)) ||
            st_scan_word(&two, "of|half|third|rest|remaining|other|more"))
            return true;
        if (st_scan_word(&three, "and|with|or|in|put|add|into|plus|over"))
            return false;
    }
    return false;
}

static bool is_hedge(struct st_scan *s)
{
    return st_scan_word(s,
                        "about|maybe|perhaps|probably|roughly|around|some|nearly|almost|i think|say|it was|it may have "
                        "been|i'd say|i would say|i would guess|i guess");
}

/* May the amount end here? */
static bool ends(const char *text, size_t at, bool bracket)
{
    struct st_scan s = { text + at, text + strlen(text) };
    if (text[at] == ' ' && text[at + 1] == '(')
        return !bracket;
    if (text[at] == '\0' || strchr(bracket ? ")," : ",;.)(", text[at]))
        return true;
    return !bracket && st_scan_word(&s, "of it|of them|in all|altogether");
}

/* "two bottles of " before a volume: bytes of the number with its blank, 0 none; s goes to the volume. */
static int so_many_bottles(struct st_scan *s)
{
    struct st_scan a = *s;
    struct st_number n;
    const char *why;

    if (st_number_read(&a, &n, &why) != 1 || n.vague || !(n.value >= 1) || !st_scan_blanks(&a))
        return 0;
    const int bytes = (int)(a.at - s->at);
    if (!st_scan_word(&a, "bottles of|bottle of|tins of|bags of|packets of"))
        return 0;
    st_scan_blanks(&a);
    s->at = a.at;
    return bytes;
}

size_t st_take_amount_behind(struct st_arena *a, const struct st_catalogue *c, const char *text, size_t at,
                             const char **out)
{
    struct st_problem p;
    struct st_amount amount;
    size_t end = at, used = 0;

    if (!st_take_name_at(c, text, at, &end) || has_amount_before(text, at))
        return 0;
    const size_t open = end + strspn(text + end, " ");
    const bool bracket = text[open] == '(';
    if (!bracket && text[open] != ',')
        return 0;
    struct st_scan s = { text + open + 1, text + strlen(text) };
    bool about = false;
    while (st_scan_blanks(&s) || is_hedge(&s))
        about = about || s.at[-1] != ' ';
    const char *many = s.at; /* "gin, two bottles of 70 cl" */
    const int n_many = so_many_bottles(&s);
    if (st_quantity_parse(s.at, (size_t)(s.end - s.at), ST_MEASURES_METRIC, &amount, &used, &p) < 0 ||
        (amount.dim != ST_DIM_MASS && amount.dim != ST_DIM_VOLUME) || !amount.unit)
        return 0;
    while (used && s.at[used - 1] == ' ')
        used--;
    size_t stop = (size_t)(s.at - text) + used;
    if (!ends(text, stop, bracket))
        return 0;
    const char *rest = "";
    if (bracket && text[stop] == ')')
        stop++;
    else if (bracket)
        stop += 1 + strspn(text + stop + 1, " "), rest = " (";
    *out = st_arena_printf(a, "%s%.*s%.*s%s %.*s%s", about ? "about " : "", n_many, many, (int)used, s.at,
                           n_many ? " bottles" : "", (int)(end - at), text + at, rest);
    return stop - at;
}
