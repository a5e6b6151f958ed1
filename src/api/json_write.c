#include "api/json_write.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void st_json_add_text(struct st_buf *out, const char *text, size_t n)
{
    size_t from = 0;

    st_buf_char(out, '"');
    for (size_t i = 0; i < n; i++) {
        const unsigned char c = (unsigned char)text[i];
        if (c >= 0x20 && c != '"' && c != '\\')
            continue;
        st_buf_add_n(out, text + from, i - from);
        from = i + 1;
        if (c == '"' || c == '\\')
            st_buf_printf(out, "\\%c", c);
        else if (c == '\n')
            st_buf_add(out, "\\n");
        else if (c == '\t')
            st_buf_add(out, "\\t");
        else
            st_buf_printf(out, "\\u%04x", c);
    }
    st_buf_add_n(out, text + from, n - from);
    st_buf_char(out, '"');
}

void st_json_add_number(struct st_buf *out, double x)
{
    char text[40];

    for (int digits = 15; digits <= 17; digits++) {
        snprintf(text, sizeof text, "%.*g", digits, x);
        if (strtod(text, NULL) == x)
            break;
    }
    st_buf_add(out, text);
    if (!strpbrk(text, ".e"))
        st_buf_add(out, ".0");
}

/* How many bytes the letter at s has; 0: it is none. */
static size_t letter(const unsigned char *s, size_t n)
{
    const unsigned char c = s[0];
    const size_t k = c < 0x80                 ? 1
                     : c >= 0xc2 && c <= 0xdf ? 2
                     : c >= 0xe0 && c <= 0xef ? 3
                     : c >= 0xf0 && c <= 0xf4 ? 4
                                              : 0;

    if (k == 0 || k > n)
        return 0;
    for (size_t i = 1; i < k; i++)
        if ((s[i] & 0xc0) != 0x80)
            return 0;
    if ((c == 0xe0 && s[1] < 0xa0) || (c == 0xed && s[1] > 0x9f) || (c == 0xf0 && s[1] < 0x90) ||
        (c == 0xf4 && s[1] > 0x8f))
        return 0;
    return k;
}

bool st_json_is_utf8(const char *text, size_t n)
{
    for (size_t i = 0, k; i < n; i += k)
        if ((k = letter((const unsigned char *)text + i, n - i)) == 0)
            return false;
    return true;
}
