#include "buf.h"

#include "memory.h"

#include <assert.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void st_buf_init(struct st_buf *b)
{
    *b = (struct st_buf){ 0 };
}

void st_buf_done(struct st_buf *b)
{
    free(b->text);
    st_buf_init(b);
}

void st_buf_clear(struct st_buf *b)
{
    b->length = 0;
    if (b->text)
        b->text[0] = '\0';
}

/* Have room for n more bytes and the closing NUL. */
static void reserve(struct st_buf *b, size_t n)
{
    if (b->room - b->length > n) /* room >= length always, so no wrap-around */
        return;
    size_t room = b->room ? b->room : 64;
    while (room <= SIZE_MAX / 2 && room - b->length <= n)
        room *= 2;
    if (room - b->length <= n)
        room = SIZE_MAX; /* cannot be had: x_realloc ends the program */
    b->text = x_realloc(b->text, room);
    b->room = room;
}

void st_buf_add_n(struct st_buf *b, const void *bytes, size_t n)
{
    reserve(b, n);
    if (n)
        memcpy(b->text + b->length, bytes, n);
    b->length += n;
    b->text[b->length] = '\0';
}

void st_buf_add(struct st_buf *b, const char *text)
{
    st_buf_add_n(b, text, strlen(text));
}

void st_buf_char(struct st_buf *b, char c)
{
    st_buf_add_n(b, &c, 1);
}

void st_buf_printf(struct st_buf *b, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    const int n = vsnprintf(NULL, 0, format, args);
    assert(n >= 0); /* our own format is wrong */
    reserve(b, (size_t)n);
    (void)vsnprintf(b->text + b->length, b->room - b->length, format, again);
    b->length += (size_t)n;
    va_end(again);
    va_end(args);
}

const char *st_buf_text(const struct st_buf *b)
{
    return b->text ? b->text : "";
}

char *st_buf_take(struct st_buf *b)
{
    reserve(b, 0);
    char *text = b->text;
    text[b->length] = '\0';
    st_buf_init(b);
    return text;
}
