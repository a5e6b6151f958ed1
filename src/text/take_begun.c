#include <string.h>

#include "scan.h"
#include "take_per.h"

/* "Begun about 20 August": the jar stands already. */

static const char DAY[] =
    "january|february|march|april|may|june|july|august|september|october|november|december|jan|feb|"
    "apr|aug|sept|sep|oct|nov|dec|ago|yesterday|last week|last month|last year|last autumn|"
    "last summer";

/* Bytes of "begun about 20 August" at s; 0 when it is no such thing. */
static size_t begun_at(const char *s)
{
    struct st_scan at = { s, s + strcspn(s, "\n;.") };
    if (!st_scan_word(&at, "begun|started|laid down|put up|set up|in the jar since|standing since"))
        return 0;
    for (const char *p = at.at; p < at.end && p - at.at < 28; p++) {
        struct st_scan day = { p, at.end };
        if (*p == ' ' || st_take_is_word_byte(p[-1]) || !st_scan_word(&day, DAY))
            continue;
        return (size_t)(day.at - s);
    }
    return 0;
}

void st_take_begun(struct st_taking *t)
{
    for (const char *s = t->text; *s; s++) {
        if ((s > t->text && st_take_is_word_byte(s[-1])) || *s == ' ')
            continue;
        const size_t n = begun_at(s);
        if (n == 0)
            continue;
        st_take_say(t, "The jar stands already: \"%.*s\". Its time counts from that day.", (int)n, s);
        return;
    }
}
