#ifndef ST_TEXT_TAKE_CLEAN_H
#define ST_TEXT_TAKE_CLEAN_H

#include <stdbool.h>
#include <stddef.h>

/* A line as pasted, made plain: tags, entities and Markdown marks gone, bad bytes "?", units and slips of the pen
 * written as the reader of quantities knows them.  from[] tells where each byte was. */

enum { ST_CLEAN_LIMIT = 4000 };

struct st_clean {
    char s[ST_CLEAN_LIMIT + 1];
    unsigned from[ST_CLEAN_LIMIT + 1]; /* from[n]: the end */
    size_t n;
    bool cut; /* the line was longer */
};

/* Tags, entities, marks. */
void st_clean_plain(const char *text, size_t n, struct st_clean *out);

/* The words of class `write` replaced. */
void st_clean_write(const struct st_clean *in, struct st_clean *out);

#endif
