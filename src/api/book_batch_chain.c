#include "api/book_batch_chain.h"

#include <string.h>

#include "api/book_batch_bottles.h"
#include "api/book_batch_named.h"
#include "api/book_batch_rest.h"

/* All that the book knows of lots and batches. */
struct known {
    struct book_lot *lot;
    struct book_batch *batch;
    struct book_lot_use *use;
    struct book_weighing *weighing;
    struct book_lot_of *of;
    struct st_batch_name *name;
    int n_lot, n_batch, n_use, n_weighing, n_of, n_name;
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
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_LOT_OF, NULL, a->arena, &k->of, &k->n_of);
    if (s == BOOK_OK)
        s = st_batch_named(a, k->batch, k->n_batch, k->lot, k->n_lot, k->weighing, k->n_weighing, &k->name, &k->n_name);
    return s;
}

/* At most every lot and batch once: the room that was made is enough. */
struct links {
    const struct st_batch_ask *a;
    const struct known *k;
    struct st_chain_link *link;
    int n;
    bool ever, earlier; /* whenever; one that was there came in earlier than was known */
    enum book_status failed;
};

static struct links room_for(const struct st_batch_ask *a, const struct known *k)
{
    const size_t most = (size_t)k->n_lot + (size_t)k->n_batch + 1;
    return (struct links){ .a = a, .k = k, .link = st_arena_alloc(a->arena, most * sizeof(struct st_chain_link)) };
}

static const struct st_batch_moment BEGINNING = { .day = NULL };

/* It came there by another way: the earlier one counts. */
static void look_at_since(struct links *x, struct st_chain_link *l, const struct st_batch_moment *since)
{
    bool later = l->since.day != NULL;
    if (later && since->day)
        x->failed = st_batch_later(x->a, &l->since, since, &later);
    if (x->failed != BOOK_OK || !later)
        return;
    l->since = *since;
    x->earlier = true;
}

static void add(struct links *x, bool is_lot, int64_t id, int from, const struct st_batch_moment *since)
{
    const struct known *k = x->k;
    for (int i = 0; i < x->n; i++)
        if (x->link[i].is_lot == is_lot && x->link[i].id == id) {
            look_at_since(x, &x->link[i], since);
            return;
        }
    for (int i = 0; is_lot && i < k->n_lot; i++)
        if (k->lot[i].id == id)
            x->link[x->n++] = (struct st_chain_link){ true, id, k->lot[i].code, k->lot[i].name, from, BEGINNING };
    for (int i = 0; !is_lot && i < k->n_batch; i++)
        if (k->batch[i].id == id)
            x->link[x->n++] = (struct st_chain_link){ false, id, k->batch[i].code, k->batch[i].name, from, *since };
}

enum book_status st_batch_chain_before(const struct st_batch_ask *a, const struct st_chain_link *batch,
                                       const struct st_batch_moment *left, bool *is)
{
    *is = false;
    return batch->since.day && left->day ? st_batch_later(a, &batch->since, left, is) : BOOK_OK;
}

/* A lot of a batch, unless it left before. */
static void add_part(struct links *x, const struct book_lot *lot, int from)
{
    struct st_batch_moment then;
    bool before = false;
    if (!x->ever && x->link[from].since.day) {
        x->failed = st_batch_lot_moment(x->a, lot, &then);
        if (x->failed == BOOK_OK)
            x->failed = st_batch_chain_before(x->a, &x->link[from], &then, &before);
    }
    if (!before)
        add(x, true, lot->id, from, &BEGINNING);
}

/* What was weighed of a line of the recipe is there from the beginning. */
static struct st_batch_moment came_at(const struct links *x, const struct book_weighing *w)
{
    if (x->ever || w->line != 0)
        return BEGINNING;
    return (struct st_batch_moment){ .table = BOOK_WEIGHING, .id = w->id, .day = w->on_day };
}

/* A use of a weighing came when that did. */
static struct st_batch_moment used_at(const struct links *x, const struct book_lot_use *use)
{
    const struct known *k = x->k;
    for (int i = 0; use->weighing_id != BOOK_NO && i < k->n_weighing; i++)
        if (k->weighing[i].id == use->weighing_id)
            return came_at(x, &k->weighing[i]);
    return BEGINNING;
}

static void forward(struct links *x, int at)
{
    const struct known *k = x->k;
    const struct st_chain_link of = x->link[at];
    for (int i = 0; !of.is_lot && i < k->n_lot && x->failed == BOOK_OK; i++)
        if (k->lot[i].from_batch == of.id)
            add_part(x, &k->lot[i], at);
    for (int i = 0; of.is_lot && i < k->n_of; i++)
        if (k->of[i].of_lot == of.id)
            add(x, true, k->of[i].lot_id, at, &BEGINNING);
    for (int i = 0; of.is_lot && i < k->n_use && x->failed == BOOK_OK; i++)
        if (k->use[i].lot_id == of.id && k->use[i].batch_id != BOOK_NO) {
            const struct st_batch_moment came = used_at(x, &k->use[i]);
            add(x, false, k->use[i].batch_id, at, &came);
        }
    for (int i = 0; of.is_lot && i < k->n_weighing && x->failed == BOOK_OK; i++)
        if (k->weighing[i].lot_id == of.id) {
            const struct st_batch_moment came = came_at(x, &k->weighing[i]);
            add(x, false, k->weighing[i].batch_id, at, &came);
        }
    for (int i = 0; of.is_lot && i < k->n_name; i++)
        if (k->name[i].lot_id == of.id && k->name[i].sure)
            add(x, false, k->name[i].batch_id, at, &BEGINNING);
}

static enum book_status chain(const struct st_batch_ask *a, bool is_lot, int64_t id,
                              const struct st_batch_moment *since, bool ever, struct st_chain_link **link, int *n)
{
    struct known k = { .n_lot = 0 };
    const enum book_status s = know(a, &k);
    if (s != BOOK_OK)
        return s;
    struct links x = room_for(a, &k);
    x.ever = ever;
    add(&x, is_lot, id, -1, since);
    do {
        x.earlier = false; /* then more of what left that batch has something of it: once more */
        for (int at = 0; at < x.n && x.failed == BOOK_OK; at++)
            forward(&x, at);
    } while (x.earlier && x.failed == BOOK_OK);
    *link = x.link;
    *n = x.n;
    return x.failed;
}

enum book_status st_batch_chain(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                int *n)
{
    return chain(a, is_lot, id, &BEGINNING, false, link, n);
}

enum book_status st_batch_chain_since(const struct st_batch_ask *a, int64_t batch, const struct st_batch_moment *since,
                                      struct st_chain_link **link, int *n)
{
    return chain(a, false, batch, since, false, link, n);
}

enum book_status st_batch_chain_ever(const struct st_batch_ask *a, bool is_lot, int64_t id, struct st_chain_link **link,
                                     int *n)
{
    return chain(a, is_lot, id, &BEGINNING, true, link, n);
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
            add(&x, false, k.lot[i].from_batch, 0, &BEGINNING);
    for (int i = 0; !is_lot && i < k.n_use; i++)
        if (k.use[i].batch_id == id)
            add(&x, true, k.use[i].lot_id, 0, &BEGINNING);
    for (int i = 0; !is_lot && i < k.n_weighing; i++)
        if (k.weighing[i].batch_id == id && k.weighing[i].lot_id != BOOK_NO)
            add(&x, true, k.weighing[i].lot_id, 0, &BEGINNING);
    for (int i = 0; is_lot && i < k.n_of; i++)
        if (k.of[i].lot_id == id)
            add(&x, true, k.of[i].of_lot, 0, &BEGINNING);
    for (int i = 0; !is_lot && i < k.n_name; i++)
        if (k.name[i].batch_id == id && k.name[i].sure)
            add(&x, true, k.name[i].lot_id, 0, &BEGINNING);
    for (int at = 0; at < x.n; at++) /* house stock is no step of its own: what it was made of stands beside it */
        for (int i = 0; x.link[at].is_lot && i < k.n_of; i++)
            if (k.of[i].lot_id == x.link[at].id)
                add(&x, true, k.of[i].of_lot, 0, &BEGINNING);
    *link = x.link;
    *n = x.n;
    return BOOK_OK;
}

/* ---- what is not known ---- */

static const char *code_of(const struct known *k, bool is_lot, int64_t id)
{
    for (int i = 0; is_lot && i < k->n_lot; i++)
        if (k->lot[i].id == id)
            return k->lot[i].code;
    for (int i = 0; !is_lot && i < k->n_batch; i++)
        if (k->batch[i].id == id)
            return k->batch[i].code;
    return "";
}

static bool concerns(const struct st_chain_link link[], int n, const struct st_batch_name *name)
{
    if (name->sure)
        return false;
    for (int i = 0; i < n; i++)
        if (link[i].id == (link[i].is_lot ? name->lot_id : name->batch_id) && (link[i].is_lot || i == 0))
            return true;
    return false;
}

/* All lots that a line may mean. */
static struct st_chain_unclear unclear_of(const struct st_batch_ask *a, const struct known *k,
                                          const struct st_batch_name *name)
{
    struct st_chain_unclear x = { code_of(k, false, name->batch_id), name->line, "" };
    for (int i = 0; i < k->n_name; i++)
        if (!k->name[i].sure && k->name[i].batch_id == name->batch_id && strcmp(k->name[i].line, name->line) == 0)
            x.lots =
                st_arena_printf(a->arena, "%s%s%s", x.lots, *x.lots ? ", " : "", code_of(k, true, k->name[i].lot_id));
    return x;
}

enum book_status st_batch_chain_unclear(const struct st_batch_ask *a, const struct st_chain_link link[], int n,
                                        struct st_chain_unclear **unclear, int *n_unclear)
{
    struct known k = { .n_lot = 0 };
    const enum book_status s = know(a, &k);
    *n_unclear = 0;
    if (s != BOOK_OK)
        return s;
    *unclear = st_arena_alloc(a->arena, (size_t)(k.n_name + 1) * sizeof **unclear);
    for (int i = 0; i < k.n_name; i++) {
        if (!concerns(link, n, &k.name[i]))
            continue;
        const struct st_chain_unclear x = unclear_of(a, &k, &k.name[i]);
        const struct st_chain_unclear *last = *n_unclear ? &(*unclear)[*n_unclear - 1] : NULL;
        if (!last || strcmp(last->batch, x.batch) != 0 || strcmp(last->line, x.line) != 0)
            (*unclear)[(*n_unclear)++] = x;
    }
    return BOOK_OK;
}

const char *st_batch_chain_way(const struct st_batch_ask *a, const struct st_chain_link link[], int at)
{
    const char *way = "";
    bool of_lot = false; /* what follows is a lot too: house stock made of this one */
    for (; at >= 0; of_lot = link[at].is_lot, at = link[at].from) {
        const struct st_chain_link *l = &link[at];
        if (l->is_lot)
            way = st_arena_printf(a->arena, "by %s %s%s%s", l->code, l->name, !*way ? "" : of_lot ? ", " : " ", way);
        else if (l->from >= 0)
            way = st_arena_printf(a->arena, "in %s%s%s", l->code, *way ? ", " : "", way);
    }
    return way;
}
