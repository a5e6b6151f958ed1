#include "take_clean.h"

#include <stdlib.h>
#include <string.h>

#include "take_words.h"

/* ---- putting ---- */

static void put(struct st_clean *out, const char *bytes, size_t n, size_t from)
{
    if (out->cut || out->n + n > ST_CLEAN_LIMIT) {
        out->cut = true;
        return;
    }
    for (size_t i = 0; i < n; i++)
        out->from[out->n + i] = (unsigned)from;
    memcpy(out->s + out->n, bytes, n);
    out->n += n;
}

/* One blank, however many there were. */
static void put_blank(struct st_clean *out, size_t from)
{
    if (out->n > 0 && out->s[out->n - 1] != ' ')
        put(out, " ", 1, from);
}

static void finish(struct st_clean *out, size_t end)
{
    while (out->n > 0 && out->s[out->n - 1] == ' ')
        out->n--;
    out->s[out->n] = '\0';
    out->from[out->n] = (unsigned)end;
}

/* ---- entities and tags ---- */

static const struct {
    const char *name, *is;
} ENTITY[] = {
    { "amp", "&" },
    { "nbsp", " " },
    { "lt", "<" },
    { "gt", ">" },
    { "quot", " " },
    { "apos", "'" },
    { "frac12", "\xc2\xbd" },
    { "frac14", "\xc2\xbc" },
    { "frac34", "\xc2\xbe" },
    { "frac13", "\xe2\x85\x93" },
    { "frac23", "\xe2\x85\x94" },
    { "frac18", "\xe2\x85\x9b" },
    { "deg", "\xc2\xb0" },
    { "ndash", "-" },
    { "mdash", "\xe2\x80\x94" },
    { "times", "x" },
    { "rsquo", "'" },
    { "lsquo", "'" },
    { "rdquo", " " },
    { "ldquo", " " },
    { "bull", "\xe2\x80\xa2" },
    { "hellip", " " },
    { "eacute", "\xc3\xa9" },
    { "egrave", "\xc3\xa8" },
    { "ccedil", "\xc3\xa7" },
    { "uuml", "\xc3\xbc" },
    { "thinsp", " " },
    { "middot", " " },
    { "pound", "\xc2\xa3" },
    { "frasl", "/" },
    { "plusmn", "\xc2\xb1" },
    { "minus", "-" },
    { "emsp", " " },
};

static size_t utf8(unsigned c, char out[4])
{
    if (c < 0x20 || (c >= 0xd800 && c < 0xe000) || c > 0x10ffff)
        c = ' ';
    if (c < 0x80) {
        out[0] = (char)c;
        return 1;
    }
    const size_t n = c < 0x800 ? 2 : c < 0x10000 ? 3 : 4;
    for (size_t i = n - 1; i > 0; i--, c >>= 6)
        out[i] = (char)(0x80u | (c & 0x3fu));
    out[0] = (char)((n == 2 ? 0xc0u : n == 3 ? 0xe0u : 0xf0u) | c);
    return n;
}

/* Bytes of an entity at p ("&frac12;"), 0 when there is none; what it stands for goes to is. */
static size_t entity(const char *p, size_t left, char is[5])
{
    size_t n = 1;

    while (n < left && n < 10 && p[n] != ';')
        n++;
    if (n >= left || p[n] != ';' || n < 3)
        return 0;
    if (p[1] == '#') {
        const bool hex = p[2] == 'x' || p[2] == 'X';
        char digits[10], *end;
        memcpy(digits, p + (hex ? 3 : 2), n - (hex ? 3 : 2));
        digits[n - (hex ? 3 : 2)] = '\0';
        const unsigned long c = strtoul(digits, &end, hex ? 16 : 10);
        if (*end || end == digits || digits[0] == '-' || digits[0] == '+')
            return 0;
        is[utf8((unsigned)(c > 0x10ffff ? ' ' : c), is)] = '\0';
        return n + 1;
    }
    for (size_t i = 0; i < sizeof ENTITY / sizeof ENTITY[0]; i++)
        if (strlen(ENTITY[i].name) == n - 1 && memcmp(ENTITY[i].name, p + 1, n - 1) == 0) {
            memcpy(is, ENTITY[i].is, strlen(ENTITY[i].is) + 1);
            return n + 1;
        }
    return 0;
}

/* Bytes of a tag at p ("<b>", "</li>", "<!-- -->"), 0 when it is none. */
static size_t tag(const char *p, size_t left)
{
    enum { LONGEST = 300 };

    if (left < 3 || !(p[1] == '/' || p[1] == '!' || st_is_letter((unsigned char)p[1])))
        return 0;
    for (size_t i = 2; i < left && i < LONGEST; i++)
        if (p[i] == '>')
            return i + 1;
    return 0;
}

/* ---- characters ---- */

/* Pictures, arrows, boxes: no part of any word. */
static bool is_picture(unsigned c)
{
    return c >= 0x1f000 || (c >= 0x2190 && c < 0x2212) || (c > 0x2212 && c < 0x2248 && c != 0x223c) ||
           (c > 0x2248 && c < 0x2c00) || c == 0xfe0f || c == 0x200d;
}

static const char *plain_sign(unsigned c)
{
    switch (c) {
    case 0x2018:
    case 0x2019:
    case 0x2bc:
    case 0x60:
    case 0xb4: return "'";
    case 0x201c:
    case 0x201d:
    case '"':
    case 0xab:
    case 0xbb:
    case 0xb7: return " ";
    case 0x2044: return "/"; /* the slash of fractions */
    case 0xd7: return "x";
    case 0x2013:
    case 0x2010:
    case 0x2011:
    case 0x2012:
    case 0x2212: return "-";
    default: return NULL;
    }
}

/* A mark of Markdown at p: how many bytes to leave out. */
static size_t mark(const char *p, size_t left)
{
    if (left >= 2 && ((p[0] == '*' && p[1] == '*') || (p[0] == '_' && p[1] == '_') || (p[0] == '~' && p[1] == '~')))
        return 2;
    if (*p == '_' || *p == '|')
        return 1;
    if (*p == '*' && !(left >= 2 && (p[1] == ' ' || st_is_digit((unsigned char)p[1]))))
        return 1;
    return 0;
}

/* One character at text[i]; how many bytes it had. */
static size_t plain_at(const char *text, size_t n, size_t i, struct st_clean *out)
{
    const struct st_scan s = { text + i, text + n };
    char is[5];
    size_t length, used;
    const unsigned c = st_scan_char(&s, &length);

    if (c == '&' && (used = entity(s.at, n - i, is)) > 0) {
        if (is[0] == ' ' && !is[1])
            put_blank(out, i);
        else
            put(out, is, strlen(is), i);
        return used;
    }
    if (c == '&' && i > 0 && text[i - 1] == ' ' && i + 1 < n && text[i + 1] == ' ') {
        put(out, "and", 3, i);
        return 1;
    }
    if ((c == '<' && (used = tag(s.at, n - i)) > 0) || (used = mark(s.at, n - i)) > 0) {
        if (c == '<' || c == '|')
            put_blank(out, i);
        return used;
    }
    const char *sign = plain_sign(c);
    struct st_scan blank = s;
    if (c == 0xfffd)
        put(out, "?", 1, i);
    else if (sign && *sign != ' ')
        put(out, sign, 1, i);
    else if (sign || c == ' ' || (c != 0xa0 && c != 0x2009 && c != 0x202f && st_scan_blanks(&blank)) || is_picture(c) ||
             c < 0x20 || c == 0x7f || c == 0x2028 || c == 0x2029 || c == 0xfeff || c == 0x200b ||
             (c >= 0x80 && c < 0xa0) || (c >= 0x202a && c <= 0x202e) || (c >= 0x2066 && c <= 0x2069))
        put_blank(out, i);
    else
        put(out, s.at, length, i);
    return length;
}

void st_clean_plain(const char *text, size_t n, struct st_clean *out)
{
    out->n = 0;
    out->cut = false;
    for (size_t i = 0; i < n && !out->cut;)
        i += plain_at(text, n, i, out);
    finish(out, n);
}

/* ---- words ---- */

static bool begins_word(const struct st_clean *in, size_t i)
{
    if (i == 0)
        return true;
    const unsigned char b = (unsigned char)in->s[i - 1];
    const unsigned char c = (unsigned char)in->s[i];
    if (st_is_digit(b))
        return !st_is_digit(c) && c != '.' && c != ','; /* "500gr" */
    return !(st_is_letter(b) || b >= 0x80 || b == '\'');
}

/* "1.000 ml", "2.500 g": no kitchen measures a thousandth of these; the point parts thousands. */
static bool is_thousands_point(const struct st_clean *in, size_t i)
{
    const char *p = in->s + i;

    if (i == 0 || i + 4 >= in->n || *p != '.' || !st_is_digit((unsigned char)p[-1]) || p[2] != '0' || p[3] != '0' ||
        !st_is_digit((unsigned char)p[1]) || (i > 1 && p[-2] == '.'))
        return false;
    struct st_scan s = { p + 4, in->s + in->n };
    return st_scan_word(&s, "g|gr|ml|gram|grams|cc") || (st_scan_blanks(&s) && st_scan_word(&s, "g|gr|ml|gram|grams"));
}

/* ".5 L", ",5 L": a mark before a digit, with nothing of a number or a word right before it. */
static bool is_leading_mark(const struct st_clean *in, size_t i)
{
    const char c = in->s[i];
    return (c == '.' || c == ',') && st_is_digit((unsigned char)in->s[i + 1]) &&
           (i == 0 || strchr(" (", in->s[i - 1])) && !(i > 1 && in->s[i - 2] == c);
}

/* "put ,5 L", "and ,5 L", "- ,5 L": no thing is named before the comma, so that it parts none. */
static bool parts_nothing(const struct st_clean *in, size_t i)
{
    size_t end = i, from;

    while (end > 0 && in->s[end - 1] == ' ')
        end--;
    if (end == 0 || strchr("(,;:-*", in->s[end - 1]))
        return true;
    for (from = end; from > 0 && st_is_letter((unsigned char)in->s[from - 1]);)
        from--;
    struct st_scan s = { in->s + from, in->s + end };
    return from < end && st_scan_word(&s, "and|with|of|in|to|plus|or|about|add|put|take|pour|stir|mix|the|then|another|"
                                          "into|over|dissolve|use|needs|need|for");
}

/* The figure is written with its nought, the comma that parts with its blank behind it. */
static void put_mark(const struct st_clean *in, size_t i, struct st_clean *out)
{
    const bool decimal = in->s[i] == '.' || parts_nothing(in, i);
    if (decimal)
        put(out, "0", 1, in->from[i]);
    put(out, in->s + i, 1, in->from[i]);
    if (!decimal)
        put_blank(out, in->from[i]);
}

void st_clean_write(const struct st_clean *in, struct st_clean *out)
{
    out->n = 0;
    out->cut = in->cut;
    for (size_t i = 0; i < in->n && !out->cut;) {
        struct st_scan s = { in->s + i, in->s + in->n };
        const struct st_word *w =
            in->s[i] != ' ' && begins_word(in, i) ? st_words_at(&s, ST_WORD_BIT(ST_WORD_WRITE)) : NULL;
        if (w) {
            put(out, w->value, strlen(w->value), in->from[i]);
            i = (size_t)(s.at - in->s);
        } else if (is_leading_mark(in, i)) {
            put_mark(in, i, out);
            i++;
        } else if (is_thousands_point(in, i)) {
            i++;
        } else {
            put(out, in->s + i, 1, in->from[i]);
            i++;
        }
    }
    out->cut = out->cut || in->cut;
    finish(out, in->from[in->n]);
}
