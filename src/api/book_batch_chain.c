#include "api/book_batch_chain.h"

#include <string.h>

/* All that the book knows of lots and batches. */
struct known {
    struct book_lot *lot;
    struct book_batch *batch;
    struct book_lot_use *use;
    struct book_weighing *weighing;
    int n_lot, n_batch, n_use, n_weighing;
};

static enum book_status know(const struct st_batch_ask *a, struct known *k)
{
    enum book_status s = book_list(a->book, BOOK_LOT, NULL, a->arena, &k->lot, &k->n_lot);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_BATCH, NULL, a->arena, &k->batch, &k->n_batch);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_LOT_USE, NULL, a->arena, &k->use, &k->n_use);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_WEIGHING, NULL, a->arena, &k->weighing, &k->n_weighing);
    return s;
}

/* At most every lot and batch once: the room that was made is enough. */
struct links {
    const struct known *k;
    struct st_chain_link *link;
    int n;
};

static struct links room_for(const struct st_batch_ask *a, const struct known *k)
{
    const size_t most = (size_t)k->n_lot + (size_t)k->n_batch + 1;
    return (struct links){ .k = k, .link = st_arena_alloc(a->arena, most * sizeof(struct st_chain_link)) };
}

static void add(struct links *x, bool is_lot, int64_t id, int from)
{
    const struct known *k = x->k;
    for (int i = 0; i < x->n; i++)
        if (x->link[i].is_lot == is_lot && x->link[i].id == id)
            return;
    for (int i = 0; is_lot && i < k->n_lot; i++)
        if (k->lot[i].id == id)
            x->link[x->n++] = (struct st_chain_link){ true, id, k->lot[i].code, k->lot[i].name, from };
    for (int i = 0; !is_lot && i < k->n_batch; i++)
        if (k->batch[i].id == id)
            x->link[x->n++] = (struct st_chain_link){ false, id, k->batch[i].code, k->batch[i].name, from };
}

static void forward(struct links *x, int at)
{
    const struct known *k = x->k;
    const struct st_chain_link of = x->link[at];
    for (int i = 0; !of.is_lot && i < k->n_lot; i++)
        if (k->lot[i].from_batch == of.id)
            add(x, true, k->lot[i].id, at);
    for (int i = 0; of.is_lot && i < k->n_use; i++)
        if (k->use[i].lot_id == of.id && k->use[i].batch_id != BOOK_NO)
            add(x, false, k->use[i].batch_id, at);
    for (int i = 0; of.is_lot && i < k->n_weighing; i++)
        if (k->weighing[i].lot_id == of.id)
            add(x, false, k->weighing[i].batch_id, at);
}

enum book_status st_batch_chain(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                int *n)
{
    struct known k = { .n_lot = 0 };
    const enum book_status s = know(a, &k);
    if (s != BOOK_OK)
        return s;
    struct links x = room_for(a, &k);
    add(&x, is_lot, id, -1);
    for (int at = 0; at < x.n; at++)
        forward(&x, at);
    *link = x.link;
    *n = x.n;
    return BOOK_OK;
}

enum book_status st_batch_chain_back(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                     int *n)
{
    struct known k = { .n_lot = 0 };
    const enum book_status s = know(a, &k);
    if (s != BOOK_OK)
        return s;
    struct links x = room_for(a, &k);
    for (int i = 0; is_lot && i < k.n_lot; i++)
        if (k.lot[i].id == id && k.lot[i].from_batch != BOOK_NO)
            add(&x, false, k.lot[i].from_batch, 0);
    for (int i = 0; !is_lot && i < k.n_use; i++)
        if (k.use[i].batch_id == id)
            add(&x, true, k.use[i].lot_id, 0);
    for (int i = 0; !is_lot && i < k.n_weighing; i++)
        if (k.weighing[i].batch_id == id && k.weighing[i].lot_id != BOOK_NO)
            add(&x, true, k.weighing[i].lot_id, 0);
    *link = x.link;
    *n = x.n;
    return BOOK_OK;
}

const char *st_batch_chain_way(const struct st_batch_ask *a, const struct st_chain_link link[], int at)
{
    const char *way = "";
    for (; at >= 0; at = link[at].from) {
        const struct st_chain_link *l = &link[at];
        if (l->is_lot)
            way = st_arena_printf(a->arena, "by %s %s%s%s", l->code, l->name, *way ? " " : "", way);
        else if (l->from >= 0)
            way = st_arena_printf(a->arena, "in %s%s%s", l->code, *way ? ", " : "", way);
    }
    return way;
}
