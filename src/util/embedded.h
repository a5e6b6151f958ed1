#ifndef ST_UTIL_EMBEDDED_H
#define ST_UTIL_EMBEDDED_H

#include <stddef.h>

/* A file that was put into the program when it was built (tools/embed.c). */
struct st_embedded {
    const char *name;           /* path from the top of the project, such as "data/ingredients.sheet" */
    const unsigned char *bytes; /* followed by one NUL that size does not count, so text reads as a string */
    size_t size;
};

/* Every embedded file, in alphabetical order; the last entry has the name NULL. */
extern const struct st_embedded st_embedded[];

/* The pages (web/), by their paths under "/"; none when they were not built, but then "why" holds the reason.  Only
 * programs that serve them have this table. */
extern const struct st_embedded st_pages[];

/* The file of this name in st_embedded, or NULL. */
const struct st_embedded *st_embedded_find(const char *name);

#endif
