#include "source_entry.h"

#include <ctype.h>
#include <string.h>

/* The heading line "### [KEY]" that text begins with; its length in bytes, 0 when it is not one. */
static size_t heading_key(const char *line, const char **key)
{
    if (strncmp(line, "### [", 5) != 0)
        return 0;
    *key = line + 5;
    return strcspn(*key, "]\n");
}

/* The row "| `KEY` | what |" of a table; key and its length as above, *what at the text behind it. */
static size_t row_key(const char *line, const char **key, const char **what)
{
    if (strncmp(line, "| `", 3) != 0)
        return 0;
    *key = line + 3;
    const size_t n = strcspn(*key, "`\n");
    if (strncmp(*key + n, "` | ", 4) != 0)
        return 0;
    *what = *key + n + 4;
    return n;
}

static const char *next_line(const char *p, const char *end)
{
    const char *nl = memchr(p, '\n', (size_t)(end - p));
    return nl ? nl + 1 : end;
}

/* A full stop that ends a sentence: not one of an abbreviation, which is short. */
static bool ends_sentence(const char *text, size_t n)
{
    size_t letters = 0;
    while (letters < n && islower((unsigned char)text[n - 1 - letters]))
        letters++;
    return text[n] == '.' && letters >= 4 && (text[n + 1] == ' ' || text[n + 1] == '\n');
}

/* The first sentence of an entry, or its first line when that is shorter: what it is called. */
static size_t title_size(const char *text, const char *end)
{
    bool slanted = false;
    size_t n = 0;

    for (; text + n + 1 < end && text[n] != '\n' && text[n] != '|'; n++) {
        slanted = slanted != (text[n] == '*');
        if (!slanted && ends_sentence(text, n))
            break;
    }
    while (n > 0 && text[n - 1] == ' ')
        n--;
    return n;
}

/* Marks that stand where a source would: there is none, and that is what is told. */
static const char *no_source(const char *key)
{
    if (strcmp(key, "memory") == 0)
        return "No source: from memory of whoever wrote the figure. Take it as a hint and check it.";
    if (strcmp(key, "practice") == 0)
        return "No source: common practice.";
    return NULL;
}

/* From its first line to the next heading, without empty lines at the end. */
static size_t section_size(const char *text, const char *end)
{
    const char *to = text;
    while (to < end && *to != '#')
        to = next_line(to, end);
    while (to > text && to[-1] == '\n')
        to--;
    return (size_t)(to - text);
}

static size_t row_size(const char *text)
{
    size_t n = strcspn(text, "\n");
    while (n && strchr(" |", text[n - 1]))
        n--;
    return n;
}

bool st_source_next(const char *list, size_t size, size_t *at, struct st_source_entry *out)
{
    const char *end = list + size;
    for (const char *p = list + *at; p < end; p = next_line(p, end)) {
        const char *key = p, *text = p;
        const size_t heading = heading_key(p, &key), n = heading ? heading : row_key(p, &key, &text);
        if (!n)
            continue;
        if (heading)
            text = next_line(p, end);
        *out = (struct st_source_entry){ .key = key, .key_size = n, .text = text, .title = text };
        out->size = heading ? section_size(text, end) : row_size(text);
        out->title_size = title_size(text, end);
        *at = (size_t)(next_line(p, end) - list);
        return true;
    }
    return false;
}

bool st_source_find(const char *list, size_t size, const char *key, struct st_source_entry *out)
{
    const size_t n = strlen(key);
    const char *none = no_source(key);
    size_t at = 0;

    if (none) {
        *out = (struct st_source_entry){ .key = key, .key_size = n, .text = none, .title = none };
        out->size = strlen(none);
        out->title_size = strcspn(none, ".");
        return true;
    }
    while (n > 0 && st_source_next(list, size, &at, out))
        if (out->key_size == n && memcmp(out->key, key, n) == 0)
            return true;
    return false;
}
