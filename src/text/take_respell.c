#include <ctype.h>
#include <string.h>
#include <strings.h>

#include "day_said.h"
#include "take_prose.h"
#include "take_turn.h"
#include "take_words.h"

/* A sentence of the method as it would stand in a book: "3 mths" -> "3 months", "then she strained it" -> "then strain
 * it", "Day 3: add ..." -> "add ...".  Only the reading goes by it; the maker's own words are kept beside it. */

struct respelling {
    struct st_arena *arena;
    const struct st_catalogue *c;
    const char *text;
    size_t size, room;
    struct st_take_spelt *out;
    bool told; /* somebody did something: what is joined to it by "and" he did too */
};

enum { SHORT = 45 }; /* a title or a line of a list has its amounts in their places */

static void put(struct respelling *r, const char *bytes, size_t n, size_t from)
{
    for (size_t i = 0; i < n && r->out->n < r->room; i++) {
        r->out->from[r->out->n] = (unsigned)from;
        r->out->text[r->out->n++] = bytes[i];
    }
}

static struct st_scan scan_at(const struct respelling *r, size_t at)
{
    return (struct st_scan){ r->text + at, r->text + r->size };
}

static bool begins_word(const char *text, size_t i)
{
    return i == 0 || !(st_take_is_word_byte(text[i - 1]) || text[i - 1] == '\'');
}

/* Is the last word written so far one of these? */
static bool follows(const struct respelling *r, const char *words)
{
    size_t end = r->out->n, from;
    while (end && strchr(" ,", r->out->text[end - 1]))
        end--;
    for (from = end; from && st_take_is_word_byte(r->out->text[from - 1]);)
        from--;
    struct st_scan s = { r->out->text + from, r->out->text + end };
    return from < end && st_scan_word(&s, words) && s.at == s.end;
}

/* "After that we filter it": when, and no part of another sentence. */
static bool follows_after_that(const struct respelling *r)
{
    static const char WORDS[] = "after that ";
    const size_t k = sizeof WORDS - 1, n = r->out->n;
    return n >= k && strncasecmp(r->out->text + n - k, WORDS, k) == 0;
}

/* "Day 3: ", "Week 2 - ": when, not what. */
static size_t skip_day(const struct respelling *r)
{
    const char *bare = st_take_bare(r->text);
    struct st_scan s = scan_at(r, (size_t)(bare - r->text));
    if (!st_scan_word(&s, "day|week|month|evening|morning") || !st_scan_blanks(&s))
        return 0;
    const char *digits = s.at;
    while (s.at < s.end && (isdigit((unsigned char)*s.at) || *s.at == '-'))
        s.at++;
    if (s.at == digits || s.at >= s.end || *s.at != ':')
        return 0;
    s.at++;
    st_scan_blanks(&s);
    return s.at < s.end ? (size_t)(s.at - r->text) : 0;
}

/* What a recipe says for "strained", and for "strain" of somebody who tells what is done; NULL: no deed. */
static const char *deed_told(struct st_scan *s)
{
    const struct st_word *w = st_words_at(s, ST_WORD_BIT(ST_WORD_PAST));
    if (w)
        return w->value;
    w = st_words_at(s, ST_WORD_BIT(ST_WORD_DEED));
    return w && strcmp(w->value, "none") != 0 ? w->phrase : NULL;
}

/* "she strained" -> ", strain"; s goes behind it. */
static bool told_of(struct respelling *r, struct st_scan *s, size_t at)
{
    static const char WHO[] = "i|we|she|he|they|you";
    static const char NOT_AFTER[] =
        "that|which|who|what|as|when|once|after|because|how|where|until|if|while|before|than";
    struct st_scan a = *s;

    if (!st_scan_word(&a, WHO) || (follows(r, NOT_AFTER) && !follows_after_that(r)))
        return false;
    st_scan_blanks(&a);
    if (st_scan_word(&a, "then|always|just|also|first|simply|next"))
        st_scan_blanks(&a);
    const char *deed = deed_told(&a);
    if (!deed)
        return false;
    while (r->out->n && r->out->text[r->out->n - 1] == ' ')
        r->out->n--;
    const size_t n = r->out->n;
    if (n && st_take_is_word_byte(r->out->text[n - 1]) && !follows(r, "and|then|but"))
        put(r, ",", 1, at);
    if (r->out->n && r->out->text[r->out->n - 1] != '"')
        put(r, " ", 1, at);
    put(r, deed, strlen(deed), at);
    r->told = true;
    *s = a;
    return true;
}

/* What may stand behind the verb of a deed that is told, and not behind the same word in a name: "crushed ice". */
static bool goes_on_as_deed(struct st_scan next)
{
    st_scan_blanks(&next);
    if (next.at == next.end || isdigit((unsigned char)*next.at) || strchr(",.;:", *next.at))
        return true;
    return st_scan_word(&next,
                        "it|them|that|the|this|these|my|our|in|into|up|off|out|over|for|through|with|all|everything|"
                        "on|a|an|some|about|half|another|maybe|around|two|three|four|five|six|seven|eight|nine|"
                        "ten|twelve|again|twice|once|after|one|1/2");
}

/* "adding" -> "add", "putting" -> "put"; NULL: of no deed. */
static const char *deed_going_on(struct st_scan *s)
{
    char word[24];
    size_t n = 0;
    while (s->at + n < s->end && st_take_is_word_byte(s->at[n]))
        n++;
    if (n < 6 || n >= sizeof word || strncmp(s->at + n - 3, "ing", 3) != 0)
        return NULL;
    memcpy(word, s->at, n);
    static const char *const TAIL[] = { "", "e" };
    for (int doubled = 0; doubled < 2; doubled++) /* "putting" */
        for (int i = 0; i < 2; i++) {
            size_t k = n - 3 - (size_t)doubled;
            if (doubled && word[k] != word[k - 1])
                continue;
            word[k] = '\0';
            if (!doubled && *TAIL[i])
                word[k] = 'e', word[k + 1] = '\0';
            struct st_scan one = { word, word + strlen(word) };
            const struct st_word *w = st_words_at(&one, ST_WORD_BIT(ST_WORD_DEED));
            memcpy(word, s->at, n);
            if (w && one.at == one.end && strcmp(w->value, "none") != 0 && strcmp(w->value, "other") != 0) {
                s->at += n;
                return w->phrase;
            }
        }
    return NULL;
}

/* Where the first word stands that is no day: "After two weeks, strained". */
static size_t opening(const struct respelling *r)
{
    static const char SIGNS[] = " \t,;:-";
    bool since;
    const size_t at = strspn(r->text, SIGNS), day = st_day_words_at(r->text + at, true, &since);
    return at + day + (day ? strspn(r->text + at + day, SIGNS) : 0);
}

/* A sentence that opens with what was done, with or without who did it: "Strained it", "I am adding", "We did put". */
static bool told_first(struct respelling *r, struct st_scan *s, size_t at)
{
    struct st_scan a = *s;
    if (at != opening(r))
        return false;
    const bool who = st_scan_word(&a, "i|we|she|he|they");
    st_scan_blanks(&a);
    const bool help = st_scan_word(&a, "have|has|had|did|am|was|were|are|be|been|do|just|then|also|first") ||
                      (who && st_scan_sign(&a, "'ve"));
    st_scan_blanks(&a);
    const char *deed = deed_told(&a);
    if (!deed && (who || help))
        deed = deed_going_on(&a);
    if (!deed || !(who || goes_on_as_deed(a)))
        return false;
    put(r, deed, strlen(deed), at);
    r->told = true;
    *s = a;
    return true;
}

/* "... and boiled up 200 g", where "I" stands before. */
static bool told_on(struct respelling *r, struct st_scan *s, size_t at)
{
    struct st_scan a = *s;
    const size_t n = r->out->n;
    const bool comma = n > 1 && r->out->text[n - 2] == ',';
    const struct st_word *w = r->told ? st_words_at(&a, ST_WORD_BIT(ST_WORD_PAST)) : NULL;

    if (!w || !(comma || follows(r, "and|then")))
        return false;
    struct st_scan next = a;
    st_scan_blanks(&next);
    if (!(next.at < next.end && isdigit((unsigned char)*next.at)) &&
        !st_scan_word(&next, "it|them|that|the|this|in|up|off|over|for|through|into|all|everything|on|a|some|about"))
        return false;
    put(r, w->value, strlen(w->value), at);
    *s = a;
    return true;
}

static bool respell_word(struct respelling *r, struct st_scan *s, size_t at)
{
    const char *said = NULL;
    char half[40];
    size_t n;

    if (told_first(r, s, at) || told_of(r, s, at) || told_on(r, s, at))
        return true;
    if (st_turn_and_half(s, half, sizeof half)) {
        put(r, half, strlen(half), at);
        return true;
    }
    if (r->size > SHORT && (n = st_take_amount_behind(r->arena, r->c, r->text, at, &said)) > 0) {
        put(r, said, strlen(said), at);
        s->at += n;
        return true;
    }
    const struct st_word *w = st_words_at(s, ST_WORD_BIT(ST_WORD_SPELL));
    if (!w)
        return false;
    put(r, w->value, strlen(w->value), at);
    return true;
}

bool st_take_respell(struct st_arena *a, const struct st_catalogue *c, const char *sentence, struct st_take_spelt *out)
{
    struct respelling r = { .arena = a, .c = c, .text = sentence, .size = strlen(sentence), .out = out };
    bool changed = false;

    r.room = 2 * r.size + 16;
    *out = (struct st_take_spelt){ st_arena_alloc(a, r.room + 1), st_arena_alloc(a, (r.room + 1) * sizeof(unsigned)), 0,
                                   false };
    size_t i = skip_day(&r), denied = 0, n_denied = st_take_denied(sentence, i, &denied);
    changed = i > 0;
    while (i < r.size) {
        if (n_denied && i >= denied) { /* it does not go in */
            i = denied + n_denied;
            n_denied = st_take_denied(sentence, i, &denied);
            changed = true;
            continue;
        }
        struct st_scan s = scan_at(&r, i);
        if (st_take_is_word_byte(sentence[i]) && begins_word(sentence, i) && respell_word(&r, &s, i)) {
            changed = true;
            i = (size_t)(s.at - sentence);
        } else {
            put(&r, sentence + i, 1, i);
            i++;
        }
    }
    out->from[out->n] = (unsigned)r.size;
    out->text[out->n] = '\0';
    out->told = r.told;
    return changed;
}
