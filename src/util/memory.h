#ifndef ST_UTIL_MEMORY_H
#define ST_UTIL_MEMORY_H

#include <stddef.h>

/* Heap memory that is never refused: when there is none, the program ends with one line on stderr and
 * exit code 3.  Callers have no failure to handle.  Free with free().
 *
 * Given:
 *   size, count   bytes wanted; 0 gives a pointer that may be freed, not NULL
 *   text          ends in NUL; for x_strndup at most n bytes of it are copied
 * Returned:
 *   memory that the caller frees; x_calloc's is zeroed, x_strdup's and x_strndup's end in NUL
 * Notes:
 *   1. x_calloc and x_realloc_array check count * size for overflow, and end the program on it too.
 */
void *x_malloc(size_t size);
void *x_calloc(size_t count, size_t size);
void *x_realloc(void *old, size_t size);
void *x_realloc_array(void *old, size_t count, size_t size);
char *x_strdup(const char *text);
char *x_strndup(const char *text, size_t n);

/* End the program in that way: for memory that a library asked for and did not get. */
_Noreturn void x_no_memory(void);

#endif
