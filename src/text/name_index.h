#ifndef ST_TEXT_NAME_INDEX_H
#define ST_TEXT_NAME_INDEX_H

#include <stddef.h>

#include "util/arena.h"

/* From the form of a name (name_form.h) to a number.  `struct st_name_index x = { 0 };` is empty; its forms live in
 * the arena, its slots are freed by st_name_index_done. */
struct st_name_entry {
    const char *form;
    unsigned hash;
    int what;
};

struct st_name_index {
    struct st_name_entry *slot;
    size_t n, room; /* room is a power of two, or 0 */
};

/* Add a form, copied into the arena.  Returns what it already stood for, and leaves that, or -1 when it was free. */
int st_name_index_add(struct st_name_index *x, struct st_arena *arena, const char *form, size_t length, int what);

/* What the form stands for, or -1. */
int st_name_index_find(const struct st_name_index *x, const char *form, size_t length);

/* Let a form stand for something else (or for the first thing). */
void st_name_index_set(struct st_name_index *x, struct st_arena *arena, const char *form, size_t length, int what);

void st_name_index_done(struct st_name_index *x);

#endif
