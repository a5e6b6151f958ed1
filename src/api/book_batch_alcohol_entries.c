#include "api/book_batch_alcohol_inside.h"

#include <math.h>
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

double st_alcohol_litres(double ml, double q, double q_u, double *u)
{
    const double l = ml / 1000.0 * q / 100.0;
    *u = hypot(l * VOLUME_U, ml / 1000.0 * q_u / 100.0);
    return l;
}

int st_alcohol_batch_at(const struct st_alcohol_ledger *k, int64_t id)
{
    for (int i = 0; i < k->n_batch; i++)
        if (k->batch[i].id == id)
            return i;
    return -1;
}

void st_alcohol_step(struct st_alcohol_ledger *k, const char *lot, int64_t batch, const char *day, double l)
{
    struct st_alcohol *out = k->out;
    const int at = st_alcohol_batch_at(k, batch);
    if (at < 0 || strcmp(day, k->since) < 0 || strcmp(day, k->until) > 0)
        return;
    out->step = st_alcohol_grow(k->a, out->step, out->n_step, &k->room_step, sizeof *out->step);
    out->step[out->n_step++] = (struct st_alcohol_step){ lot, k->batch[at].code, day, l };
}
