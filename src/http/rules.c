#include "rules.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

bool st_is_own_host(const char *host, uint16_t port)
{
    static const char *const name[] = { "127.0.0.1", "localhost", "[::1]" };
    char own[32];

    for (size_t i = 0; i < sizeof name / sizeof *name; i++) {
        snprintf(own, sizeof own, "%s:%u", name[i], (unsigned)port);
        if (strcmp(host, own) == 0 || (port == 80 && strcmp(host, name[i]) == 0))
            return true;
    }
    return false;
}

bool st_is_own_origin(const char *origin, uint16_t port)
{
    static const char scheme[] = "http://";
    return strncmp(origin, scheme, sizeof scheme - 1) == 0 && st_is_own_host(origin + sizeof scheme - 1, port);
}

bool st_is_own_site(const char *sec_fetch_site)
{
    return strcmp(sec_fetch_site, "same-origin") == 0 || strcmp(sec_fetch_site, "none") == 0;
}

static const char *after_blanks(const char *s)
{
    return s + strspn(s, " \t");
}

bool st_is_json_type(const char *content_type)
{
    static const char type[] = "application/json", charset[] = "charset=utf-8";
    const char *s = content_type;

    if (strncasecmp(s, type, sizeof type - 1) != 0)
        return false;
    s = after_blanks(s + sizeof type - 1);
    if (*s == ';') {
        s = after_blanks(s + 1);
        if (strncasecmp(s, charset, sizeof charset - 1) != 0)
            return false;
        s = after_blanks(s + sizeof charset - 1);
    }
    return *s == '\0';
}

bool st_read_length(const char *text, uint64_t *length)
{
    const size_t n = strspn(text, "0123456789");
    uint64_t sum = 0;

    if (n == 0 || n > 18 || text[n] != '\0')
        return false;
    for (size_t i = 0; i < n; i++)
        sum = sum * 10 + (uint64_t)(text[i] - '0');
    *length = sum;
    return true;
}

bool st_is_field_name(const char *name, size_t size)
{
    static const char token[] = "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ!#$%&'*+-.^_`|~";

    for (size_t i = 0; i < size; i++)
        if (!memchr(token, name[i], sizeof token - 1))
            return false;
    return size > 0;
}

bool st_is_field_value(const char *value, size_t size)
{
    for (size_t i = 0; i < size; i++) {
        const unsigned char c = (unsigned char)value[i];
        if ((c < 0x20 && c != '\t') || c == 0x7f)
            return false;
    }
    return true;
}
