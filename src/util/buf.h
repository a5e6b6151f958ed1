#ifndef ST_UTIL_BUF_H
#define ST_UTIL_BUF_H

#include <stddef.h>

/* A string that grows.  It always ends in NUL and may also hold NUL bytes (see length).
 * `struct st_buf b = { 0 };` is an empty buffer; st_buf_done frees what it holds. */
struct st_buf {
    char *text;    /* NULL while nothing was added: read it by st_buf_text */
    size_t length; /* bytes, without the closing NUL */
    size_t room;   /* bytes allocated */
};

void st_buf_init(struct st_buf *b);
void st_buf_done(struct st_buf *b); /* frees; b is empty and may be used again */
void st_buf_clear(struct st_buf *b); /* empty, memory kept */

void st_buf_char(struct st_buf *b, char c);
void st_buf_add(struct st_buf *b, const char *text);
void st_buf_add_n(struct st_buf *b, const void *bytes, size_t n);

/* Append as printf would write.  Arguments must not point into b. */
__attribute__((format(printf, 2, 3))) void st_buf_printf(struct st_buf *b, const char *format, ...);

/* What the buffer holds, "" when empty; lent until the next call on b. */
const char *st_buf_text(const struct st_buf *b);

/* The same, given away: the caller frees, b is empty afterwards. */
char *st_buf_take(struct st_buf *b);

#endif
