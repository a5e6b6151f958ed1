#include "text_room.h"

#include <stdarg.h>
#include <stdio.h>

void st_text_put(struct st_text_room *o, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    const int n = vsnprintf(o->buf + o->n, o->size - o->n, format, args);
    va_end(args);
    if (n > 0)
        o->n = (size_t)n < o->size - o->n ? o->n + (size_t)n : o->size - 1;
}
