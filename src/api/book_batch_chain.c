#include "api/book_batch_chain.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

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

/* Does at begin with the code as a line says it ("V 1" of V-1), and does no longer word begin there? */
static bool says_code(const char *at, const char *code)
{
    for (; *code; at++, code++) {
        const bool sign = !isalnum((unsigned char)*code) && (unsigned char)*code < 0x80;
        if (sign ? *at != ' ' && *at != *code : tolower((unsigned char)*at) != tolower((unsigned char)*code))
            return false;
    }
    return !isalnum((unsigned char)*at);
}

/* Does a line name what was poured off or drained as that lot: "200 mL poured L2"? The text of a batch begun as another
 * has it without any weighing. */
static bool names(const struct book_batch *batch, const struct book_lot *lot)
{
    static const char *const WAY[] = { "poured ", "spent " };
    if (lot->from_batch == BOOK_NO || !batch->text)
        return false;
    for (const char *p = batch->text; *p; p++)
        for (int i = 0; i < 2; i++)
            if (strncasecmp(p, WAY[i], strlen(WAY[i])) == 0 && says_code(p + strlen(WAY[i]), lot->code))
                return true;
    return false;
}

static const struct book_lot *lot_of(const struct known *k, int64_t id)
{
    for (int i = 0; i < k->n_lot; i++)
        if (k->lot[i].id == id)
            return &k->lot[i];
    return NULL;
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
    const struct book_lot *lot = of.is_lot ? lot_of(k, of.id) : NULL;
    for (int i = 0; lot && i < k->n_batch; i++)
        if (names(&k->batch[i], lot))
            add(x, false, k->batch[i].id, at);
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
    for (int i = 0; !is_lot && i < k.n_batch; i++)
        for (int j = 0; k.batch[i].id == id && j < k.n_lot; j++)
            if (names(&k.batch[i], &k.lot[j]))
                add(&x, true, k.lot[j].id, 0);
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
