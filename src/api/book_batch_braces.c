#include "api/book_batch_braces.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

static const char *row_end(const char *p)
{
    return p + strcspn(p, "\n");
}

const char *st_batch_braces(const char *text)
{
    const char *p = text;
    for (;;) {
        p += strspn(p, " \t\r\n");
        if (*p == '#')
            p = row_end(p);
        else if (strncmp(p, "---", 3) == 0)
            p += 3;
        else
            return *p == '{' ? p + 1 : NULL;
    }
}

/* Behind what stands in quotes. */
static const char *behind_quoted(const char *p)
{
    const char quote = *p++;
    while (*p && *p != quote)
        p += quote == '"' && *p == '\\' && p[1] ? 2 : 1;
    return *p ? p + 1 : p;
}

/* The next sign that parts things, from p on: one of { } [ ] , or the end.  An apostrophe within a word is no quote. */
static const char *next_sign(const char *p)
{
    bool fresh = true;
    while (*p && !strchr("{}[],", *p)) {
        if (fresh && (*p == '"' || *p == '\'')) {
            p = behind_quoted(p);
            fresh = false;
        } else if (*p == '#' && strchr(" \t\r\n", p[-1])) {
            p = row_end(p);
        } else {
            fresh = *p == ':' || (fresh && strchr(" \t\r\n", *p) != NULL);
            p++;
        }
    }
    return p;
}

/* Where that entry of a map ends: its comma, the closing brace, or the end of the text. */
static const char *entry_end(const char *p)
{
    int depth = 0;
    for (p = next_sign(p); *p; p = next_sign(p + 1)) {
        if (*p == '{' || *p == '[')
            depth++;
        else if (depth == 0)
            return p;
        else if (*p != ',')
            depth--;
    }
    return p;
}

/* Behind "key:" where the entry is of that key; NULL. */
static const char *value_of(const char *p, const char *key)
{
    const size_t n = strlen(key);
    for (p += strspn(p, " \t\r\n"); *p == '#'; p += strspn(p, " \t\r\n"))
        p = row_end(p);
    const char quote = *p == '"' || *p == '\'' ? *p++ : '\0';
    if (strncmp(p, key, n) != 0 || (quote && p[n] != quote))
        return NULL;
    p += n + (quote != '\0');
    p += strspn(p, " \t\r\n");
    return *p == ':' ? p + 1 + strspn(p + 1, " \t\r\n") : NULL;
}

const char *st_batch_braces_value(const char *inside, const char *key, const char **end)
{
    for (const char *p = inside;; p = *end + 1) {
        const char *value = value_of(p, key);
        *end = entry_end(p);
        if (value || **end != ',')
            return value;
    }
}

void st_batch_braces_put(const char *text, const char *at, const char *more, struct st_buf *out)
{
    const char next = at[strspn(at, " \t\r\n")];
    st_buf_add_n(out, text, (size_t)(at - text));
    st_buf_add(out, more);
    st_buf_add(out, next == '}' || next == ']' ? "" : ", ");
    st_buf_add(out, at);
}
