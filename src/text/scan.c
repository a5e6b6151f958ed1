#include "scan.h"

#include <string.h>

bool st_is_digit(unsigned c)
{
    return c >= '0' && c <= '9';
}

bool st_is_letter(unsigned c)
{
    if (c < 0x80)
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    return (c >= 0xc0 && c < 0x2000 && c != 0xd7 && c != 0xf7) || (c >= 0x2c00 && c < 0xe000) ||
           (c >= 0xf900 && c != 0xfffd && c != 0xfeff);
}

static unsigned byte_at(const struct st_scan *s, size_t i)
{
    return (unsigned char)s->at[i];
}

unsigned st_scan_char(const struct st_scan *s, size_t *length)
{
    static const unsigned LEAST[] = { 0, 0, 0x80, 0x800, 0x10000 };
    const size_t left = (size_t)(s->end - s->at);

    *length = left > 0;
    if (left == 0)
        return 0;
    const unsigned first = byte_at(s, 0);
    if (first < 0x80)
        return first;
    const size_t n = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (first < 0xc2 || first > 0xf4 || n > left)
        return 0xfffd;
    unsigned c = first & (0x7fu >> n);
    for (size_t i = 1; i < n; i++) {
        if ((byte_at(s, i) & 0xc0u) != 0x80u)
            return 0xfffd;
        c = c << 6 | (byte_at(s, i) & 0x3fu);
    }
    if (c < LEAST[n] || c > 0x10ffff || (c >= 0xd800 && c < 0xe000))
        return 0xfffd;
    *length = n;
    return c;
}

static bool is_blank(unsigned c)
{
    return c == ' ' || (c >= '\t' && c <= '\r') || c == 0xa0 || (c >= 0x2000 && c <= 0x200a) || c == 0x202f ||
           c == 0x205f || c == 0x3000;
}

bool st_scan_blanks(struct st_scan *s)
{
    const char *from = s->at;
    size_t n;

    while (is_blank(st_scan_char(s, &n)))
        s->at += n;
    return s->at > from;
}

bool st_scan_sign(struct st_scan *s, const char *bytes)
{
    const size_t n = strlen(bytes);

    if ((size_t)(s->end - s->at) < n || memcmp(s->at, bytes, n) != 0)
        return false;
    s->at += n;
    return true;
}

bool st_scan_dash(struct st_scan *s)
{
    size_t n;
    const unsigned c = st_scan_char(s, &n);

    if (c != '-' && !(c >= 0x2010 && c <= 0x2015) && c != 0x2212)
        return false;
    s->at += n;
    return true;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* One phrase of n bytes, without its end being looked at. */
static bool phrase(struct st_scan *s, const char *words, size_t n)
{
    struct st_scan a = *s;

    for (size_t i = 0; i < n; i++) {
        if (words[i] == ' ') {
            if (!st_scan_blanks(&a) && !st_scan_dash(&a))
                return false;
        } else if (a.at < a.end && lower(*a.at) == words[i]) {
            a.at++;
        } else {
            return false;
        }
    }
    *s = a;
    return true;
}

/* A phrase of n bytes that ends where a word does. */
static bool whole_phrase(struct st_scan *s, const char *words, size_t n)
{
    struct st_scan a = *s;
    size_t length;

    if (!phrase(&a, words, n))
        return false;
    const unsigned next = st_scan_char(&a, &length);
    if (st_is_letter(next) || st_is_digit(next))
        return false;
    *s = a;
    return true;
}

/* Asked hundreds of times a line: a phrase is looked at only where its first byte fits. */
bool st_scan_word(struct st_scan *s, const char *words)
{
    struct st_scan from = *s;

    st_scan_blanks(&from);
    const char first = from.at < from.end ? lower(*from.at) : '\0';
    for (const char *p = words; *p; p += *p == '|') {
        if ((*p == first || *p == ' ') && whole_phrase(&from, p, strcspn(p, "|"))) {
            *s = from;
            return true;
        }
        while (*p && *p != '|')
            p++;
    }
    return false;
}

size_t st_scan_letters(const struct st_scan *s)
{
    struct st_scan a = *s;
    size_t n;

    while (st_is_letter(st_scan_char(&a, &n)))
        a.at += n;
    return (size_t)(a.at - s->at);
}

void st_scan_clip(const char *text, size_t n, char *out, size_t size)
{
    enum { DOTS = 3 };
    struct st_scan s = { text, text + n };
    size_t used = 0, length;

    for (; s.at < s.end; s.at += length) {
        const unsigned c = st_scan_char(&s, &length);
        if (used + length + DOTS + 1 > size) {
            if (size > DOTS) {
                memcpy(out + used, "...", DOTS);
                used += DOTS;
            }
            break;
        }
        if (c < 0x20 || c == 0x7f || c == 0xfffd || (c >= 0x80 && c < 0xa0) || (c >= 0x202a && c <= 0x202e) ||
            (c >= 0x2066 && c <= 0x2069)) {
            out[used++] = '?';
            continue;
        }
        memcpy(out + used, s.at, length);
        used += length;
    }
    if (size)
        out[used] = '\0';
}
