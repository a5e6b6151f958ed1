#include "several.h"

#include <stdio.h>
#include <string.h>

/* Whether the word stands in a list of names as a whole one. */
static bool listed(const char *names, const char *word)
{
    const size_t n = strlen(word);
    for (const char *at = strstr(names, word); at; at = strstr(at + 1, word)) {
        const bool begins = at == names || at[-1] == '|' || at[-1] == ' ';
        if (begins && (at[n] == '\0' || at[n] == '|' || at[n] == ' '))
            return true;
    }
    return false;
}

void st_several(const struct st_ingredient *in, bool many, char *buf, size_t size)
{
    static const char *const END[] = { "s", "es", "ies" };
    const size_t n = strlen(in->name);

    snprintf(buf, size, "%s", in->name);
    for (int i = 0; many && n > 0 && n <= 70 && i < 3; i++) {
        char plural[80];
        if (i == 2 && in->name[n - 1] != 'y')
            continue;
        snprintf(plural, sizeof plural, "%.*s%s", (int)(i == 2 ? n - 1 : n), in->name, END[i]);
        if (listed(in->names, plural) || listed(in->piece_names, plural)) {
            snprintf(buf, size, "%s", plural);
            return;
        }
    }
}
