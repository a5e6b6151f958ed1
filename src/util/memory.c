#include "memory.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The one place below cli that prints: there is no memory left to report through. */
_Noreturn void x_no_memory(void)
{
    fputs("stillroom: out of memory; close other programs or use a smaller file\n", stderr);
    exit(3);
}

void *x_realloc(void *old, size_t size)
{
    void *memory = realloc(old, size ? size : 1);
    if (!memory)
        x_no_memory();
    return memory;
}

void *x_realloc_array(void *old, size_t count, size_t size)
{
    if (size && count > SIZE_MAX / size)
        x_no_memory();
    return x_realloc(old, count * size);
}

void *x_malloc(size_t size)
{
    return x_realloc(NULL, size);
}

void *x_calloc(size_t count, size_t size)
{
    void *memory = x_realloc_array(NULL, count, size);
    return memset(memory, 0, count * size);
}

char *x_strndup(const char *text, size_t n)
{
    const char *end = memchr(text, '\0', n);
    const size_t length = end ? (size_t)(end - text) : n;
    char *copy = x_malloc(length + 1);
    memcpy(copy, text, length);
    copy[length] = '\0';
    return copy;
}

char *x_strdup(const char *text)
{
    return x_strndup(text, strlen(text));
}
