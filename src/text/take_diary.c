#include "take_diary.h"

#include <string.h>

#include "day_said.h"
#include "scan.h"
#include "take_prose.h"

/* ---- how much came off ---- */

/* These say by themselves that it came off. */
static const char SURE_BEFORE[] =
    "got|gave|yielded|left with|ended up with|came to|which made|that made|it made|made about|and made|giving|yielding|"
    "getting|i had|we had|collected|drew off|ran off|drained off|drained|strained|strained off|filtered|pressed out";
static const char SURE_BEHIND[] =
    "came off|came out|ran off|drained off|dripped out|came through|were left|was left|liquid came|"
    "of liquid|of liqueur|of clear liqueur|of clear liquid|strained off|after straining";
static const char STRAINS[] = "strained|strain|filtered|filter|drained|drain|sieved|pressed|poured off|racked|squeezed|"
                              "decanted|came off|came out";

static bool volume_at(const char *text, enum st_measures m, size_t *used, struct st_amount *out)
{
    struct st_problem p;
    return st_quantity_parse(text, strlen(text), m, out, used, &p) == 0 && out->dim == ST_DIM_VOLUME &&
           out->open == ST_CLOSED && out->unit && out->value > 0;
}

/* Where the words begin that lead to the volume at byte i; i when none do. */
static size_t led_from(const char *text, size_t i)
{
    const size_t least = i > 40 ? i - 40 : 0;
    for (size_t k = i; k-- > least;) {
        if ((text[k] == ':' || text[k] == ',') && k + 2 == i)
            return i - 1; /* "strained: 900 ml" */
        if (strchr(".;,(:", text[k]))
            break;
        struct st_scan s = { text + k, text + i };
        if (!st_take_is_word_byte(text[k]) || (k && st_take_is_word_byte(text[k - 1])) ||
            !st_scan_word(&s, SURE_BEFORE))
            continue;
        st_scan_blanks(&s);
        if (st_scan_word(&s, "about|roughly|some|around|me|us|nearly|almost|just over|just under|only"))
            st_scan_blanks(&s);
        if (s.at >= text + i)
            return k;
    }
    return i;
}

bool st_take_came_off(const char *text, enum st_measures measures, size_t *at, size_t *n, struct st_amount *out)
{
    struct st_scan got = { text + strspn(text, " \t"), text + strlen(text) };
    if (!st_take_has_word(text, STRAINS) && !st_scan_word(&got, "got|i got|we got"))
        return false;
    for (size_t i = 0, used; text[i]; i++) {
        if (!st_take_is_word_byte(text[i]) || (i && text[i - 1] != ' ' && text[i - 1] != '(') ||
            !volume_at(text + i, measures, &used, out))
            continue;
        while (used && (text[i + used - 1] == ' ' || text[i + used - 1] == '.'))
            used--;
        const size_t from = led_from(text, i);
        struct st_scan s = { text + i + used, text + strlen(text) };
        st_scan_blanks(&s);
        if (st_scan_word(&s, "has|have"))
            st_scan_blanks(&s);
        const bool behind = st_scan_word(&s, SURE_BEHIND);
        const bool stops = s.at == s.end || strchr(".,;:)!", *s.at) || st_scan_word(&s, "and|in all|altogether|of it");
        if (!behind && !(from < i && stops)) { /* an amount of something */
            i += used - 1;
            continue;
        }
        *at = from;
        *n = (behind ? (size_t)(s.at - text) : i + used) - from;
        return true;
    }
    return false;
}

/* ---- when it was ---- */

size_t st_take_day_in(const char *text, size_t *at, bool *since)
{
    for (size_t i = *at; text[i]; i++) {
        if (!st_take_is_word_byte(text[i]) || (i && (st_take_is_word_byte(text[i - 1]) || text[i - 1] == '\'')))
            continue;
        const size_t n = st_day_words_at(text + i, i == strspn(text, " \t"), since);
        if (n) {
            *at = i;
            return n;
        }
    }
    return 0;
}

/* "Two months ago I put ... and last week I strained it": two days, two sentences; bytes of the first. */
size_t st_take_before_next_day(struct st_arena *arena, const char *text, size_t day, size_t n)
{
    static const char *const JOIN[] = { ", and then ", ", and ", " and then ", " and ", ", then ", "; ", ", " };
    const char *sentence = st_arena_strndup(arena, text, n);
    bool since;
    size_t at = day;
    if (day == 0) {
        at = strspn(sentence, " \t");
        if (!st_take_day_in(sentence, &at, &since))
            return n;
        at += st_day_words_at(sentence + at, false, &since);
    }
    size_t next = at;
    if (next >= n || !st_take_day_in(sentence, &next, &since))
        return n;
    for (size_t i = next; i > at; i--)
        for (size_t k = 0; k < sizeof JOIN / sizeof *JOIN; k++)
            if (strncmp(sentence + i, JOIN[k], strlen(JOIN[k])) == 0 && i + strlen(JOIN[k]) <= next)
                return i + (sentence[i] == ' ' ? 1 : 2);
    return n;
}
