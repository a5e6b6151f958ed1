#include <ctype.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "take_whole.h"
#include "take_words.h"
#include "yaml_report.h"

/* ---- text as it can be kept ---- */

/* Marks that turn the direction of text, or end a line where nobody sees it. */
static bool is_unseen(const unsigned char *p, size_t n)
{
    if (n == 2)
        return p[0] == 0xc2 && p[1] < 0xa0;
    if (n != 3)
        return false;
    if (p[0] == 0xe2 && p[1] == 0x80)
        return p[2] >= 0xa8 && p[2] <= 0xae;
    return (p[0] == 0xe2 && p[1] == 0x81 && p[2] >= 0xa6 && p[2] <= 0xa9) ||
           (p[0] == 0xef && p[1] == 0xbb && p[2] == 0xbf) || (p[0] == 0xef && p[1] == 0xbf && p[2] >= 0xbe);
}

char *st_take_tidy(struct st_arena *a, const char *text, size_t size)
{
    const unsigned char *p = (const unsigned char *)text;
    char *out = st_arena_alloc(a, size + 1);
    size_t n = 0;

    for (size_t i = 0, k; i < size; i += k) {
        k = st_utf8_length(p + i, size - i);
        if (k == 0) {
            out[n++] = '?';
            k = 1;
        } else if (p[i] == '\r') {
            if (i + 1 >= size || p[i + 1] != '\n')
                out[n++] = '\n';
        } else if (is_unseen(p + i, k) || (p[i] < 0x20 && p[i] != '\n' && p[i] != '\t') || p[i] == 0x7f) {
            out[n++] = ' ';
        } else {
            memcpy(out + n, p + i, k);
            n += k;
        }
    }
    out[n] = '\0';
    return out;
}

int st_take_bad_letters(const char *text, size_t size)
{
    const unsigned char *p = (const unsigned char *)text;
    int bad = 0;
    for (size_t i = 0, k; i < size; i += k ? k : 1) {
        k = st_utf8_length(p + i, size - i);
        bad += k == 0;
    }
    return bad;
}

void st_take_say(struct st_taking *t, const char *format, ...)
{
    char text[300];
    va_list args;
    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    for (int i = 0; i < t->n_said; i++)
        if (strcmp(t->said[i], text) == 0)
            return;
    if (t->n_said < (int)(sizeof t->said / sizeof t->said[0]))
        t->said[t->n_said++] = st_arena_strdup(t->arena, text);
}

bool st_take_is_word_byte(char c)
{
    return isalnum((unsigned char)c) || (unsigned char)c >= 0x80;
}

static bool has_one(const char *text, const char *word, size_t n)
{
    for (const char *p = text; *p; p++)
        if ((p == text || !st_take_is_word_byte(p[-1])) && strncasecmp(p, word, n) == 0 && !st_take_is_word_byte(p[n]))
            return true;
    return false;
}

/* Behind bullets, numbers and Markdown marks. */
const char *st_take_bare(const char *text)
{
    static const char *const MARK[] = { "\xe2\x80\xa2", "\xe2\x80\x93", "\xe2\x80\x94", "\xe2\x97\xa6",
                                        "\xe2\x96\xa2", "\xe2\x98\x90", "\xc2\xb7",     "[ ]",
                                        "[]",           "[x]",          "[X]" };
    const char *p = text, *before = NULL;
    if (!text)
        return "";
    while (p != before) {
        before = p;
        p += strspn(p, " \t*#>_");
        if ((*p == '-' || *p == '+') && (p[1] == ' ' || p[1] == '\t'))
            p += 2;
        for (size_t i = 0; i < sizeof MARK / sizeof MARK[0]; i++)
            if (strncmp(p, MARK[i], strlen(MARK[i])) == 0)
                p += strlen(MARK[i]);
    }
    const size_t n = strspn(p, "0123456789");
    if (n > 0 && n < 3 && (p[n] == '.' || p[n] == ')') && (p[n + 1] == ' ' || p[n + 1] == '\t'))
        p += n + 1 + strspn(p + n + 1, " \t");
    return *p ? p : text;
}

bool st_take_has_word(const char *text, const char *words)
{
    while (*words) {
        const size_t n = strcspn(words, "|");
        if (n && has_one(text, words, n))
            return true;
        words += n + (words[n] == '|');
    }
    return false;
}

/* ---- sentences ---- */

/* A point behind these ends no sentence. */
static const char SHORT[] =
    "tbsp|tbs|tsp|oz|fl|lb|lbs|approx|ca|min|mins|hr|hrs|no|vol|pt|pts|qt|qts|gal|pkg|pkt|st|etc|eg|ie|"
    "btl|pce|lge|med|sml|sug|wt|abv|bott|appr|tabl|abt|imp|mths|cinn|gran|cl|ml|kg|g|l|c|t|wks|incl|esp|opt";

static bool is_short_word(const char *from, const char *point)
{
    const char *w = point;
    char word[12];
    while (w > from && isalpha((unsigned char)w[-1]))
        w--;
    const size_t n = (size_t)(point - w);
    if (n == 0 || n >= sizeof word || (w > from && (w[-1] == '\'' || (unsigned char)w[-1] >= 0x80)))
        return false; /* "I don't." */
    memcpy(word, w, n);
    word[n] = '\0';
    return n == 1 || st_take_has_word(SHORT, word) || st_take_has_word(word, SHORT);
}

/* "1." before the first word. */
static bool is_numbering(const char *from, const char *point)
{
    const char *p = from;
    while (p < point && (isdigit((unsigned char)*p) || *p == ' ' || *p == '\t' || *p == '#' || *p == '*' || *p == '('))
        p++;
    return p == point;
}

/* long_word: what stands before the point is hardly an abbreviation, so that small letters may follow: "... & shake.
 * strain and bottle". */
static bool begins_sentence(const char *p, const char *end, bool long_word)
{
    while (p < end && (*p == ' ' || *p == '\t'))
        p++;
    if (p < end && (isupper((unsigned char)*p) || *p == '"' || *p == '(' || *p == '*' || (unsigned char)*p >= 0x80))
        return true;
    return p < end && long_word && isalnum((unsigned char)*p);
}

static bool is_long_word(const char *from, const char *point)
{
    const char *w = point;
    while (w > from && isalpha((unsigned char)w[-1]))
        w--;
    return point - w >= 3 && !is_short_word(from, point);
}

/* "bottles of 0.35 l. If it is too sharp": a unit behind a figure, and then what begins a sentence and no name. */
static bool ends_with_unit(const char *from, const char *point, const char *next, const char *end)
{
    const char *w = point;
    struct st_scan s = { next, end };

    while (w > from && isalpha((unsigned char)w[-1]))
        w--;
    while (w > from && w[-1] == ' ')
        w--;
    st_scan_blanks(&s);
    if (w == from || w == point || !isdigit((unsigned char)w[-1]) || s.at >= s.end || !isupper((unsigned char)*s.at))
        return false;
    struct st_scan word = s;
    return st_scan_word(
               &s, "if|when|the|it|then|after|once|as|on|in|at|this|that|they|we|i|you|she|he|before|do|don't|some|"
                   "next|let|now") ||
           st_words_at(&word, ST_WORD_BIT(ST_WORD_DEED));
}

/* Bytes of the first sentence of text[0..n). */
size_t st_take_sentence(const char *text, size_t n)
{
    const char *end = text + n;
    for (const char *p = text; p < end; p++) {
        if (*p != '.' && *p != '!' && *p != '?')
            continue;
        const char *next = p + 1;
        while (next < end && (*next == ')' || *next == '"' || *next == '.' || *next == '!' || *next == '?'))
            next++;
        if (next >= end || (*next != ' ' && *next != '\t') || !begins_sentence(next, end, is_long_word(text, p)))
            continue;
        if (*p == '.' && (is_numbering(text, p) || (is_short_word(text, p) && !ends_with_unit(text, p, next, end))))
            continue;
        return (size_t)(next - text);
    }
    return n;
}
