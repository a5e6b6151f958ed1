#include "text.h"

void st_say(char *buf, size_t size, const char *a, const char *b, const char *c)
{
    const char *part[3] = { a, b, c };
    size_t n = 0;
    for (int i = 0; i < 3; i++)
        for (const char *s = part[i]; s && *s && n + 1 < size; s++)
            buf[n++] = *s;
    if (size)
        buf[n] = '\0';
}
