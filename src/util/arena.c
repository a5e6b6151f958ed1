#include "arena.h"

#include "memory.h"

#include <assert.h>
#include <stdalign.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BLOCK_SIZE = 8192 };

struct st_arena_block {
    struct st_arena_block *next;
    size_t used, size;
    alignas(max_align_t) unsigned char bytes[];
};

void st_arena_init(struct st_arena *a)
{
    a->blocks = NULL;
}

void st_arena_done(struct st_arena *a)
{
    while (a->blocks) {
        struct st_arena_block *next = a->blocks->next;
        free(a->blocks);
        a->blocks = next;
    }
}

static struct st_arena_block *add_block(struct st_arena *a, size_t size)
{
    struct st_arena_block *block = x_calloc(1, sizeof *block + size);
    block->next = a->blocks;
    block->size = size;
    a->blocks = block;
    return block;
}

void *st_arena_alloc(struct st_arena *a, size_t size)
{
    const size_t step = alignof(max_align_t);
    if (size > SIZE_MAX / 2)
        return x_malloc(SIZE_MAX); /* cannot be had: ends the program */
    const size_t wanted = (size + step - 1) / step * step;

    struct st_arena_block *block = a->blocks;
    if (!block || block->size - block->used < wanted)
        block = add_block(a, wanted > BLOCK_SIZE ? wanted : BLOCK_SIZE);
    void *memory = block->bytes + block->used;
    block->used += wanted;
    return memory;
}

char *st_arena_strndup(struct st_arena *a, const char *text, size_t n)
{
    const char *end = memchr(text, '\0', n);
    const size_t length = end ? (size_t)(end - text) : n;
    char *copy = st_arena_alloc(a, length + 1); /* zeroed, so it ends in NUL */
    memcpy(copy, text, length);
    return copy;
}

char *st_arena_strdup(struct st_arena *a, const char *text)
{
    return st_arena_strndup(a, text, strlen(text));
}

char *st_arena_printf(struct st_arena *a, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    const int n = vsnprintf(NULL, 0, format, args);
    assert(n >= 0); /* our own format is wrong */
    char *text = st_arena_alloc(a, (size_t)n + 1);
    (void)vsnprintf(text, (size_t)n + 1, format, again);
    va_end(again);
    va_end(args);
    return text;
}
