#include "name_index.h"

#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

static unsigned hash_of(const char *form, size_t length)
{
    unsigned h = 2166136261u; /* FNV-1a, 32 bit */
    for (size_t i = 0; i < length; i++)
        h = (h ^ (unsigned char)form[i])*16777619u;
    return h;
}

/* The slot that holds the form, or the free one where it belongs.  room > n always, so there is an end. */
static struct st_name_entry *seek(const struct st_name_index *x, const char *form, size_t length, unsigned hash)
{
    for (size_t i = hash & (x->room - 1);; i = (i + 1) & (x->room - 1)) {
        struct st_name_entry *e = &x->slot[i];
        if (!e->form)
            return e;
        if (e->hash == hash && strncmp(e->form, form, length) == 0 && e->form[length] == '\0')
            return e;
    }
}

static void grow(struct st_name_index *x)
{
    const struct st_name_index old = *x;

    x->room = old.room ? old.room*2 : 4096;
    x->slot = x_calloc(x->room, sizeof *x->slot);
    for (size_t i = 0; i < old.room; i++)
        if (old.slot[i].form)
            *seek(x, old.slot[i].form, strlen(old.slot[i].form), old.slot[i].hash) = old.slot[i];
    free(old.slot);
}

static struct st_name_entry *put(struct st_name_index *x, struct st_arena *arena, const char *form, size_t length,
                                 int what, int *already)
{
    const unsigned hash = hash_of(form, length);
    if ((x->n + 1)*2 > x->room)
        grow(x);
    struct st_name_entry *e = seek(x, form, length, hash);
    *already = e->form ? e->what : -1;
    if (!e->form) {
        *e = (struct st_name_entry){ st_arena_strndup(arena, form, length), hash, what };
        x->n++;
    }
    return e;
}

int st_name_index_add(struct st_name_index *x, struct st_arena *arena, const char *form, size_t length, int what)
{
    int already;
    (void)put(x, arena, form, length, what, &already);
    return already;
}

void st_name_index_set(struct st_name_index *x, struct st_arena *arena, const char *form, size_t length, int what)
{
    int already;
    put(x, arena, form, length, what, &already)->what = what;
}

int st_name_index_find(const struct st_name_index *x, const char *form, size_t length)
{
    if (x->room == 0)
        return -1;
    const struct st_name_entry *e = seek(x, form, length, hash_of(form, length));
    return e->form ? e->what : -1;
}

void st_name_index_done(struct st_name_index *x)
{
    free(x->slot);
    *x = (struct st_name_index){ 0 };
}
