#include "said_of.h"

#include <string.h>

#include "heat_words.h"

/* "off" and "away" take back heat, not what is told here ("pour it off and distil it"). */
static const char NOT[] = "|no|not|never|without|nor|don't|dont|avoid|neither|cannot|can't|unlike|";

/* Begin of the word before p in its sentence, or NULL. */
static const char *word_before(const char *text, const char *p)
{
    while (p > text && !st_in_word((unsigned char)p[-1]))
        if (strchr(".;:!", *--p))
            return NULL;
    const char *end = p;
    while (p > text && st_in_word((unsigned char)p[-1]))
        p--;
    return p < end ? p : NULL;
}

static bool taken_back(const char *text, const char *p)
{
    for (int back = 0; back < 4 && (p = word_before(text, p)) != NULL; back++)
        if (st_listed(p, NOT))
            return true;
    return false;
}

const char *st_said_of(const char *words, const char *list, size_t *n)
{
    for (const char *p = words; p && *p; p++) {
        if (p > words && st_in_word((unsigned char)p[-1]))
            continue;
        *n = st_listed(p, list);
        if (*n && !taken_back(words, p))
            return p;
    }
    *n = 0;
    return NULL;
}

const char *st_step_says(const struct st_step *s, const char *list, size_t *n)
{
    const char *found = st_said_of(s->words, list, n);
    for (int i = 0; i < s->n_line && !found; i++) {
        found = st_said_of(s->line[i].text, list, n);
        if (!found)
            found = st_said_of(s->line[i].said, list, n);
    }
    return found;
}
