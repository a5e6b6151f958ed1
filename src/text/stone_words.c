#include "stone_words.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "model/recipe.h"

/* The stem at the beginning of a word from p on: "crack" of "cracked", not of "uncracked".  NULL: none. */
static const char *word_with(const char *text, const char *p, const char *stem)
{
    const size_t n = strlen(stem);
    for (; *p; p++)
        if (strncasecmp(p, stem, n) == 0 && (p == text || !isalpha((unsigned char)p[-1])))
            return p;
    return NULL;
}

static bool any_of(const char *text, const char *const stem[], size_t n)
{
    for (size_t i = 0; text && i < n; i++)
        if (word_with(text, text, stem[i]))
            return true;
    return false;
}

/* The word that ends before p is a denial: "do not crack", "never crush", "without crushing". */
static bool is_denied(const char *text, const char *p)
{
    static const char *const DENY[] = { "not", "never", "without", "don't", "no" };
    while (p > text && p[-1] == ' ')
        p--;
    const char *begin = p;
    while (begin > text && (isalpha((unsigned char)begin[-1]) || begin[-1] == '\''))
        begin--;
    for (size_t i = 0; i < sizeof DENY / sizeof *DENY; i++)
        if (strlen(DENY[i]) == (size_t)(p - begin) && strncasecmp(begin, DENY[i], (size_t)(p - begin)) == 0)
            return true;
    return false;
}

/* "do not crack all of them", "not crack more than ten": some are. */
static bool is_half_denied(const char *p)
{
    static const char *const SOME[] = { "all",  "every", "more", "too",    "many",
                                        "most", "until", "but",  "except", "unless" };
    char clause[80];
    const size_t n = strcspn(p, ".;");
    snprintf(clause, sizeof clause, "%.*s", (int)(n < sizeof clause - 1 ? n : sizeof clause - 1), p);
    return any_of(clause, SOME, sizeof SOME / sizeof *SOME);
}

static const char *const OPENS[] = { "crack",  "crush",        "bruis",  "smash",  "pound",  "grind",
                                     "ground", "blend",        "blitz",  "mill",   "broken", "break",
                                     "mash",   "split the st", "hammer", "mortar", "pulp",   "puree" };
static const char *const OUT[] = { "pitted", "stoned", "destoned", "de-stoned", "cored" };
static const char *const STONES_OUT[] = { "without stones", "without their stones", "stones removed", "stones out",
                                          "no stones" };
static const char *const BACK[] = { "unpitted", "unstoned", "not",  "half",   "kernel", "some",  "crack",
                                    "pits",     "keep",     "kept", "mostly", "partly", "nearly" };

/* "pitted, and 20 stones" says that they are in: any word that might bring them back counts. */
static bool are_out(const char *text)
{
    if (any_of(text, BACK, sizeof BACK / sizeof *BACK))
        return false;
    if (any_of(text, STONES_OUT, sizeof STONES_OUT / sizeof *STONES_OUT))
        return true;
    return any_of(text, OUT, sizeof OUT / sizeof *OUT) && !any_of(text, (const char *const[]){ "stones" }, 1);
}

static bool opens(const char *text)
{
    for (size_t i = 0; text && i < sizeof OPENS / sizeof *OPENS; i++)
        for (const char *p = word_with(text, text, OPENS[i]); p; p = word_with(text, p + 1, OPENS[i]))
            if (!is_denied(text, p) || is_half_denied(p))
                return true;
    return false;
}

/* "peaches with kernels": a kernel is what lies in a stone, and it is out of it. */
static bool has_kernels(const char *text)
{
    const char *p = text ? word_with(text, text, "kernel") : NULL;
    return p && !is_denied(text, p);
}

enum st_stones st_stones_said(const struct st_recipe *r, int step, int line)
{
    const char *text = r->step[step].line[line].text;
    if (are_out(text))
        return ST_STONES_OUT;
    if (opens(text) || has_kernels(text))
        return ST_STONES_OPENED;
    for (int s = 0; s < r->n_step; s++)
        if (opens(r->step[s].words))
            return ST_STONES_OPENED;
    return ST_STONES_SHUT;
}
