#ifndef ST_TEXT_SOURCE_ENTRY_H
#define ST_TEXT_SOURCE_ENTRY_H

#include <stdbool.h>
#include <stddef.h>

/* The list of sources (docs/sources.md): an entry is a section under "### [KEY]", or a row "| `KEY` | what | ...". */
struct st_source_entry {
    const char *key, *text, *title; /* lent from the list; the title is the first sentence of the text */
    size_t key_size, size, title_size;
};

/* The entry of a key; "memory" and "practice" have one that says there is no source.  False when there is none. */
bool st_source_find(const char *list, size_t size, const char *key, struct st_source_entry *out);

/* The next entry at or behind *at (0 at first), which is moved on; false at the end. */
bool st_source_next(const char *list, size_t size, size_t *at, struct st_source_entry *out);

#endif
