#ifndef ST_UTIL_ARENA_H
#define ST_UTIL_ARENA_H

#include <stddef.h>

/* Memory that is freed all at once: for what one recipe or one request needs.
 * `struct st_arena a = { 0 };` is an empty arena.  Nothing in it is freed or moved before st_arena_done. */
struct st_arena_block;
struct st_arena {
    struct st_arena_block *blocks; /* newest first */
};

void st_arena_init(struct st_arena *a);
void st_arena_done(struct st_arena *a); /* frees everything; a is empty and may be used again */

/* size bytes, zeroed, aligned for any type; never NULL (without memory the program ends, see memory.h). */
void *st_arena_alloc(struct st_arena *a, size_t size);

/* Copies that live as long as the arena. */
char *st_arena_strdup(struct st_arena *a, const char *text);
char *st_arena_strndup(struct st_arena *a, const char *text, size_t n);
__attribute__((format(printf, 2, 3))) char *st_arena_printf(struct st_arena *a, const char *format, ...);

#endif
