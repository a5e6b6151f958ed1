#include "take_words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/arena.h"
#include "util/embedded.h"

enum { BUCKETS = 1024 };

static const char *const CLASS[ST_NWORD] = {
    [ST_WORD_DROP] = "drop",   [ST_WORD_REMARK] = "remark",   [ST_WORD_WRITE] = "write",
    [ST_WORD_NAME] = "name",   [ST_WORD_HEADING] = "heading", [ST_WORD_NOTHING] = "nothing",
    [ST_WORD_PAGE] = "page",   [ST_WORD_NOTE] = "note",       [ST_WORD_STORY] = "story",
    [ST_WORD_DEED] = "deed",   [ST_WORD_LEAD] = "lead",       [ST_WORD_TIME] = "time",
    [ST_WORD_USUAL] = "usual", [ST_WORD_STRONG] = "strong",   [ST_WORD_BOTTLE] = "bottle",
    [ST_WORD_MAYBE] = "maybe", [ST_WORD_LESS] = "less",       [ST_WORD_MEASURES] = "measures",
    [ST_WORD_NOT] = "not",     [ST_WORD_POISON] = "poison",   [ST_WORD_SAME] = "same",
    [ST_WORD_COUNT] = "count", [ST_WORD_LENGTH] = "length",   [ST_WORD_WHICH] = "which",
    [ST_WORD_HAND] = "hand",   [ST_WORD_PIECE] = "piece",     [ST_WORD_TITLE] = "title",
    [ST_WORD_OTHER] = "other", [ST_WORD_SPELL] = "spell",     [ST_WORD_PAST] = "past",
    [ST_WORD_FEAST] = "feast", [ST_WORD_VESSEL] = "vessel",   [ST_WORD_TONGUE] = "tongue",
};

struct entry {
    struct st_word word;
    size_t n;
    struct entry *next;
};

struct words {
    struct st_arena arena;
    struct entry *bucket[BUCKETS];
};

static struct words *the_words; /* read when first asked for, then never changed */

/* ---- finding ---- */

static unsigned char lower(char c)
{
    return (unsigned char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static bool in_word(char c)
{
    const unsigned char u = lower(c);
    return (u >= 'a' && u <= 'z') || (u >= '0' && u <= '9') || u == '\'' || u >= 0x80;
}

/* By the first word; by the first byte where that is a sign. */
static size_t bucket_of(const char *at, const char *end)
{
    unsigned h = 2166136261u;
    const char *p = at;

    do
        h = (h ^ lower(*p)) * 16777619u;
    while (in_word(*p++) && p < end && in_word(*p));
    return h % BUCKETS;
}

static const struct entry *longest(const struct words *w, struct st_scan *s, unsigned long long classes)
{
    for (const struct entry *e = w->bucket[bucket_of(s->at, s->end)]; e; e = e->next) {
        struct st_scan a = *s;
        if ((classes & ST_WORD_BIT(e->word.what)) && st_scan_word(&a, e->word.phrase)) {
            *s = a;
            return e;
        }
    }
    return NULL;
}

/* ---- reading ---- */

static int refuse(struct st_problem *p, int line, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ .at = { line, 1 } };
    (void)snprintf(p->what, sizeof p->what, "%s", what);
    (void)snprintf(p->why, sizeof p->why, "%s", why);
    (void)snprintf(p->try_, sizeof p->try_, "%s", try_);
    return -1;
}

static int class_named(const char *at, size_t n)
{
    for (int i = 0; i < ST_NWORD; i++)
        if (strlen(CLASS[i]) == n && memcmp(CLASS[i], at, n) == 0)
            return i;
    return -1;
}

/* Longer phrases stand first, so that the first that fits is the longest. */
static void keep(struct words *w, enum st_word_class what, const char *at, size_t n, const char *value)
{
    struct entry *e = st_arena_alloc(&w->arena, sizeof *e);
    struct entry **to = &w->bucket[bucket_of(at, at + n)];

    *e = (struct entry){ { what, st_arena_strndup(&w->arena, at, n), value }, n, NULL };
    while (*to && (*to)->n >= n)
        to = &(*to)->next;
    e->next = *to;
    *to = e;
}

static void keep_all(struct words *w, enum st_word_class what, const char *at, const char *end, const char *value)
{
    while (at < end) {
        const char *bar = memchr(at, '|', (size_t)(end - at));
        const char *stop = bar ? bar : end;
        const char *next = bar ? bar + 1 : end;
        while (at < stop && *at == ' ')
            at++;
        while (stop > at && stop[-1] == ' ')
            stop--;
        if (stop > at)
            keep(w, what, at, (size_t)(stop - at), value);
        at = next;
    }
}

static int read_line(struct words *w, const char *at, const char *end, int line, struct st_problem *problem)
{
    const char *tab = memchr(at, '\t', (size_t)(end - at));

    if (!tab)
        return refuse(problem, line, "no tab in a line of words", "a tab parts the class from its words",
                      "write class, tab, words, and where there is one: tab, value");
    const int what = class_named(at, (size_t)(tab - at));
    if (what < 0)
        return refuse(problem, line, "unknown class of words", "the first column is not one of those known",
                      "see data/README.md for the classes");
    at = tab + 1;
    tab = memchr(at, '\t', (size_t)(end - at));
    const char *words_end = tab ? tab : end;
    for (const char *p = at; p < words_end; p++)
        if (*p >= 'A' && *p <= 'Z')
            return refuse(problem, line, "a capital in the words", "words are compared in small letters",
                          "write them small");
    const char *value = tab ? st_arena_strndup(&w->arena, tab + 1, (size_t)(end - tab - 1)) : "";
    keep_all(w, (enum st_word_class)what, at, words_end, value);
    return 0;
}

static int read_words(struct words *w, const char *text, size_t size, struct st_problem *problem)
{
    const char *end = text + size;

    st_arena_init(&w->arena);
    for (int line = 1; text < end; line++) {
        const char *stop = memchr(text, '\n', (size_t)(end - text));
        if (!stop)
            stop = end;
        if (stop > text && *text != '#' && read_line(w, text, stop, line, problem))
            return -1;
        text = stop < end ? stop + 1 : end;
    }
    return 0;
}

static struct words *create(void)
{
    struct words *w = calloc(1, sizeof *w);
    if (!w)
        abort();
    return w;
}

static void destroy(struct words *w)
{
    st_arena_done(&w->arena);
    free(w);
}

/* Two threads may read them at the same time; the one that comes later throws its own away. */
static const struct words *embedded_words(void)
{
    struct words *w = __atomic_load_n(&the_words, __ATOMIC_ACQUIRE), *none = NULL;
    const struct st_embedded *file;
    struct st_problem problem;

    if (w)
        return w;
    w = create();
    file = st_embedded_find("data/take.words");
    if (!file || read_words(w, (const char *)file->bytes, file->size, &problem))
        abort(); /* the unit tests read this file: a program that was built with a broken one is of no use */
    if (__atomic_compare_exchange_n(&the_words, &none, w, false, __ATOMIC_ACQ_REL, __ATOMIC_ACQUIRE))
        return w;
    destroy(w);
    return none;
}

int st_words_check(const char *text, size_t size, struct st_problem *problem)
{
    struct words *w = create();
    const int result = read_words(w, text, size, problem);
    destroy(w);
    return result;
}

/* ---- asking ---- */

const struct st_word *st_words_at(struct st_scan *s, unsigned long long classes)
{
    if (s->at >= s->end)
        return NULL;
    const struct entry *e = longest(embedded_words(), s, classes);
    return e ? &e->word : NULL;
}

const char *st_words_value(enum st_word_class what, const char *phrase)
{
    struct st_scan s = { phrase, phrase + strlen(phrase) };
    const struct st_word *w = st_words_at(&s, ST_WORD_BIT(what));
    return w && s.at == s.end ? w->value : NULL;
}
