#include "base64.h"

#include <stdint.h>
#include <string.h>

static const char LETTER[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

void st_base64_add(struct st_buf *out, const void *bytes, size_t n)
{
    const unsigned char *b = bytes;

    for (size_t i = 0; i < n; i += 3) {
        const size_t left = n - i;
        const uint32_t x = (uint32_t)b[i] << 16 | (left > 1 ? (uint32_t)b[i + 1] << 8 : 0) | (left > 2 ? b[i + 2] : 0);
        const char four[4] = { LETTER[x >> 18], LETTER[x >> 12 & 63], left > 1 ? LETTER[x >> 6 & 63] : '=',
                               left > 2 ? LETTER[x & 63] : '=' };
        st_buf_add_n(out, four, sizeof four);
    }
}

static int value_of(char c)
{
    const char *at = c ? strchr(LETTER, c) : NULL;
    return at ? (int)(at - LETTER) : -1;
}

/* Four letters, `pad` of them '='. */
static bool read_four(struct st_buf *out, const char *four, size_t pad)
{
    uint32_t x = 0;

    for (size_t i = 0; i < 4; i++) {
        const int v = i < 4 - pad ? value_of(four[i]) : 0;
        if (v < 0)
            return false;
        x = x << 6 | (uint32_t)v;
    }
    if ((pad == 1 && (x & 0xff)) || (pad == 2 && (x & 0xffff)))
        return false;
    const char three[3] = { (char)(x >> 16), (char)(x >> 8 & 0xff), (char)(x & 0xff) };
    st_buf_add_n(out, three, 3 - pad);
    return true;
}

bool st_base64_read(struct st_buf *out, const char *letters, size_t n)
{
    if (n % 4 != 0)
        return false;
    for (size_t i = 0; i < n; i += 4) {
        const bool last = i + 4 == n;
        const size_t pad = last && letters[i + 3] == '=' ? letters[i + 2] == '=' ? 2 : 1 : 0;
        if (!read_four(out, letters + i, pad))
            return false;
    }
    return true;
}
