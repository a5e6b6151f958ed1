#include "said_of.h"

#include "heat_words.h"

/* "off" and "away" take back heat, not what is told here ("pour it off and distil it"). */
static const char NOT[] = "|no|not|never|without|nor|don't|dont|avoid|neither|cannot|can't|unlike|";

const char *st_said_of(const char *words, const char *list, size_t *n)
{
    for (const char *p = words; p && *p; p++) {
        if (p > words && st_in_word((unsigned char)p[-1]))
            continue;
        *n = st_listed(p, list);
        if (*n && !st_taken_back(words, p, NOT))
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
