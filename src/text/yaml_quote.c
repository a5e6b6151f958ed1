#include "yaml_quote.h"

#include <stdbool.h>

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/* Line breaks and blanks from i on; *breaks counts the breaks.  The index behind them. */
static size_t skip_breaks(const char *raw, size_t size, size_t i, size_t *breaks)
{
    for (*breaks = 0; i < size && (is_blank(raw[i]) || raw[i] == '\n' || raw[i] == '\r'); i++)
        if (raw[i] == '\n' || (raw[i] == '\r' && !(i + 1 < size && raw[i + 1] == '\n')))
            ++*breaks;
    return i;
}

const char *st_yaml_unquote(struct st_arena *arena, const char *raw, size_t size, size_t *length)
{
    char *text = st_arena_alloc(arena, size + 1);
    size_t n = 0, breaks;

    for (size_t i = 0; i < size;) {
        if (is_blank(raw[i]) || raw[i] == '\n' || raw[i] == '\r') {
            const size_t next = skip_breaks(raw, size, i, &breaks);
            if (!breaks)
                while (i < next)
                    text[n++] = raw[i++];
            else if (breaks == 1)
                text[n++] = ' ';
            else
                while (--breaks)
                    text[n++] = '\n';
            i = next;
            continue;
        }
        text[n++] = raw[i];
        i += raw[i] == '\'' && i + 1 < size && raw[i + 1] == '\'' ? 2 : 1;
    }
    text[n] = '\0';
    *length = n;
    return text;
}
