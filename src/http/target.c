#include "target.h"

#include <string.h>

static bool is_letter_or_digit(char c)
{
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

bool st_is_target(const char *target)
{
    if (target[0] != '/')
        return false;
    for (const char *s = target; *s; s++)
        if (*s <= ' ' || *s > '~')
            return false;
    return true;
}

static bool is_segment(const char *s)
{
    if (*s == '\0' || *s == '.')
        return false;
    for (; *s; s++)
        if (!is_letter_or_digit(*s) && !strchr("._~-", *s))
            return false;
    return true;
}

bool st_path_matches(const char *pattern, const char *path, const char **tail)
{
    const size_t n = strlen(pattern);

    *tail = "";
    if (n < 2 || strcmp(pattern + n - 2, "/*") != 0)
        return strcmp(pattern, path) == 0;
    if (strncmp(pattern, path, n - 1) != 0 || !is_segment(path + n - 1))
        return false;
    *tail = path + n - 1;
    return true;
}

static int hex(char c)
{
    if (c >= '0' && c <= '9')
        return c - '0';
    if (c >= 'a' && c <= 'f')
        return c - 'a' + 10;
    if (c >= 'A' && c <= 'F')
        return c - 'A' + 10;
    return -1;
}

bool st_decode(const char *text, size_t size, char *out)
{
    for (size_t i = 0; i < size; i++) {
        char c = text[i] == '+' ? ' ' : text[i];
        if (text[i] == '%') {
            const int high = i + 2 < size ? hex(text[i + 1]) : -1, low = i + 2 < size ? hex(text[i + 2]) : -1;
            if (high < 0 || low < 0)
                return false;
            c = (char)(high * 16 + low);
            i += 2;
        }
        if (c == '\0')
            return false;
        *out++ = c;
    }
    *out = '\0';
    return true;
}

/* One name=value of a query; the name alone has an empty value. */
struct pair {
    const char *name, *value;
    size_t name_size, value_size;
};

/* The pair at s; returns where the next one starts, NULL at the end. */
static const char *pair_at(const char *s, struct pair *p)
{
    const size_t n = strcspn(s, "&");
    const char *is = memchr(s, '=', n);

    p->name = s;
    p->name_size = is ? (size_t)(is - s) : n;
    p->value = is ? is + 1 : s + n;
    p->value_size = is ? n - p->name_size - 1 : 0;
    return s[n] ? s + n + 1 : NULL;
}

static bool can_decode(const char *text, size_t size)
{
    for (size_t i = 0; i < size; i++) {
        if (text[i] != '%')
            continue;
        if (i + 2 >= size || hex(text[i + 1]) < 0 || hex(text[i + 2]) < 0 || (text[i + 1] == '0' && text[i + 2] == '0'))
            return false;
        i += 2;
    }
    return true;
}

bool st_is_query(const char *query)
{
    struct pair p;

    while (query) {
        query = pair_at(query, &p);
        if (!can_decode(p.name, p.name_size) || !can_decode(p.value, p.value_size))
            return false;
    }
    return true;
}

bool st_query_find(const char *query, const char *name, char *out)
{
    struct pair p;

    while (query) {
        query = pair_at(query, &p);
        if (st_decode(p.name, p.name_size, out) && strcmp(out, name) == 0 && st_decode(p.value, p.value_size, out))
            return true;
    }
    return false;
}
