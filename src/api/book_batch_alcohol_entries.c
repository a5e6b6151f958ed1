#include "api/book_batch_alcohol_inside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double VOLUME_U = 0.01; /* common practice, no source */

void *st_alcohol_grow(const struct st_batch_ask *a, void *old, int n, int *room, size_t size)
{
    if (n < *room)
        return old;
    *room = *room ? 2 * *room : 64;
    void *new = st_arena_alloc(a->arena, (size_t)*room * size);
    if (n)
        memcpy(new, old, (size_t)n * size);
    return new;
}

void st_alcohol_enter(struct st_alcohol_ledger *k, struct st_alcohol_entry e)
{
    k->e = st_alcohol_grow(k->a, k->e, k->n, &k->room, sizeof *k->e);
    if (!e.day)
        e.day = "";
    k->e[k->n++] = e;
}

void st_alcohol_litres(const struct st_alcohol_liquid *x, struct st_alcohol_entry *e)
{
    const double ml_u = fmax(x->ml * VOLUME_U, isfinite(x->ml_u) ? x->ml_u : 0.0);
    e->litres = x->ml / 1000.0 * x->q / 100.0;
    e->doubt[0] = (struct st_alcohol_doubt){ x->of_q, x->ml / 1000.0 * x->q_u / 100.0 };
    e->doubt[1] = (struct st_alcohol_doubt){ x->of_ml, ml_u / 1000.0 * x->q / 100.0 };
}

/* Both lists are in the order of their ids. */
static int by_batch(const void *id, const void *row)
{
    const int64_t x = *(const int64_t *)id, y = ((const struct book_batch *)row)->id;
    return (x > y) - (x < y);
}

static int by_lot(const void *id, const void *row)
{
    const int64_t x = *(const int64_t *)id, y = ((const struct book_lot *)row)->id;
    return (x > y) - (x < y);
}

int st_alcohol_batch_at(const struct st_alcohol_ledger *k, int64_t id)
{
    const struct book_batch *x =
        k->n_batch ? bsearch(&id, k->batch, (size_t)k->n_batch, sizeof *k->batch, by_batch) : NULL;
    return x ? (int)(x - k->batch) : -1;
}

int st_alcohol_lot_at(const struct st_alcohol_ledger *k, int64_t id)
{
    const struct book_lot *x = k->n_lot ? bsearch(&id, k->lot, (size_t)k->n_lot, sizeof *k->lot, by_lot) : NULL;
    return x ? (int)(x - k->lot) : -1;
}

void st_alcohol_step(struct st_alcohol_ledger *k, const char *lot, int64_t batch, const struct st_alcohol_entry *e)
{
    struct st_alcohol *out = k->out;
    struct st_alcohol_step step = { lot, "", e->day, (double)NAN, (double)NAN, e->by_line };
    const int at = st_alcohol_batch_at(k, batch);
    if (at < 0 || strcmp(e->day, k->since) < 0 || strcmp(e->day, k->until) > 0)
        return;
    step.batch = k->batch[at].code;
    if (e->known) {
        step.litres = e->litres;
        step.u = hypot(hypot(e->doubt[0].u, e->doubt[1].u), e->doubt[2].u);
    }
    out->step = st_alcohol_grow(k->a, out->step, out->n_step, &k->room_step, sizeof *out->step);
    out->step[out->n_step++] = step;
}
