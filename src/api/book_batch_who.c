#include "api/book_batch_who.h"

#include <stdlib.h>
#include <string.h>

static enum book_status add_holders(const struct st_batch_ask *a, const struct st_chain_link *batch,
                                    struct st_batch_who *out)
{
    struct book_bottling *all;
    int n;
    const struct book_wanted w = { .column = "batch_id", .integer = batch->id };
    enum book_status s = book_list(a->book, BOOK_BOTTLING, &w, a->arena, &all, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct book_gone *gone;
        int m, home;
        const struct book_wanted of = { .column = "bottling_id", .integer = all[i].id };
        s = book_list(a->book, BOOK_GONE, &of, a->arena, &gone, &m);
        if (s == BOOK_OK)
            s = st_batch_at_home(a, &all[i], &home);
        if (s != BOOK_OK)
            break;
        out->at_home += home;
        struct st_batch_holder *grown = st_arena_alloc(a->arena, (size_t)(out->n + m + 1) * sizeof *grown);
        if (out->n)
            memcpy(grown, out->holder, (size_t)out->n * sizeof *grown);
        out->holder = grown;
        for (int g = 0; g < m; g++)
            if (gone[g].count > gone[g].returned && gone[g].lot_id == BOOK_NO)
                out->holder[out->n++] = (struct st_batch_holder){ gone[g], all[i].code, batch->code, batch->name,
                                                                  gone[g].count - gone[g].returned };
    }
    return s;
}

/* What of a lot was given away as it is. */
static enum book_status add_given(const struct st_batch_ask *a, const struct st_chain_link *lot,
                                  struct st_batch_who *out)
{
    struct book_lot_use *use;
    int n = 0;
    const struct book_wanted w = { .column = "lot_id", .integer = lot->id };
    const enum book_status s = book_list(a->book, BOOK_LOT_USE, &w, a->arena, &use, &n);
    if (s != BOOK_OK || n == 0)
        return s;
    struct st_batch_given *grown = st_arena_alloc(a->arena, (size_t)(out->n_given + n) * sizeof *grown);
    if (out->n_given)
        memcpy(grown, out->given, (size_t)out->n_given * sizeof *grown);
    out->given = grown;
    for (int i = 0; i < n; i++)
        if (use[i].why && strcmp(use[i].why, "given") == 0)
            out->given[out->n_given++] = (struct st_batch_given){ use[i], lot->code, lot->name };
    return s;
}

static int last_given(const void *x, const void *y)
{
    const struct st_batch_given *a = x, *c = y;
    const int day = strcmp(c->use.on_day, a->use.on_day);
    return day ? day : (a->use.id > c->use.id) - (a->use.id < c->use.id);
}

static int ring_first(const void *x, const void *y)
{
    const struct st_batch_holder *a = x, *c = y;
    if (!a->gone.told_on != !c->gone.told_on)
        return a->gone.told_on ? 1 : -1;
    if (a->has != c->has)
        return a->has > c->has ? -1 : 1;
    const int day = strcmp(c->gone.on_day, a->gone.on_day);
    return day ? day : (a->gone.id > c->gone.id) - (a->gone.id < c->gone.id);
}

enum book_status st_batch_who(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_batch_who *out)
{
    memset(out, 0, sizeof *out);
    enum book_status s = st_batch_chain(a, is_lot, id, &out->link, &out->n_link);
    if (s == BOOK_OK)
        s = st_batch_chain_back(a, is_lot, id, &out->back, &out->n_back);
    if (s == BOOK_OK)
        s = st_batch_chain_unclear(a, out->link, out->n_link, &out->unclear, &out->n_unclear);
    for (int i = 0; s == BOOK_OK && i < out->n_link; i++)
        s = out->link[i].is_lot ? add_given(a, &out->link[i], out) : add_holders(a, &out->link[i], out);
    if (s == BOOK_OK && out->n_given)
        qsort(out->given, (size_t)out->n_given, sizeof *out->given, last_given);
    if (s == BOOK_OK && out->n)
        qsort(out->holder, (size_t)out->n, sizeof *out->holder, ring_first);
    return s;
}
