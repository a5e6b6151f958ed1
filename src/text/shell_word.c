#include "shell_word.h"

#include <stdbool.h>
#include <string.h>

static const char PLAIN[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_.,:/%+-";

/* What a shell still reads between double quotes; ! by its history. */
static const char READ[] = "\"$`\\!";

struct out {
    char *buf;
    size_t size, n;
};

static void add(struct out *o, const char *text, size_t length)
{
    if (o->n + length < o->size)
        memcpy(o->buf + o->n, text, length);
    o->n += length;
}

int st_shell_word(char *buf, size_t size, const char *text)
{
    struct out o = { .buf = buf, .size = size };
    const bool plain = *text && strspn(text, PLAIN) == strlen(text);
    const bool single = strpbrk(text, READ) != NULL;
    const char *quote = plain ? "" : single ? "'" : "\"";
    add(&o, quote, strlen(quote));
    for (const char *p = text; *p; p++)
        if (single && *p == '\'')
            add(&o, "'\\''", 4);
        else
            add(&o, p, 1);
    add(&o, quote, strlen(quote));
    const bool fits = o.n < size;
    if (size > 0)
        buf[fits ? o.n : 0] = '\0';
    return fits ? 0 : -1;
}
