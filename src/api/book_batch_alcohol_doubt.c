/* Doubts of sums: what has one cause is added before it is squared. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_alcohol_inside.h"
#include "util/memory.h"

/* ---- causes: 0 is none, then those of all, of each lot, of each batch; own ones from below 0 downward, by turns ---- */

enum { OF_ALL = 2, OF_LOT = 4, OF_BATCH = 3 };

int st_alcohol_cause(const struct st_alcohol_ledger *k, enum st_alcohol_cause of, int at)
{
    if (of < ST_ALC_OF_LOT_STRENGTH)
        return 1 + (int)of;
    if (of < ST_ALC_OF_STRENGTH)
        return 1 + OF_ALL + OF_LOT * at + (int)(of - ST_ALC_OF_LOT_STRENGTH);
    return 1 + OF_ALL + OF_LOT * k->n_lot + OF_BATCH * at + (int)(of - ST_ALC_OF_STRENGTH);
}

/* Even numbers below 0; few strengths stand in the recipes of one book. */
int st_alcohol_cause_named(struct st_alcohol_ledger *k, double q)
{
    int i = 0;
    while (i < k->n_named && fabs(k->named[i] - q) > 1e-9)
        i++;
    if (i == k->n_named) {
        k->named = st_alcohol_grow(k->a, k->named, k->n_named, &k->room_named, sizeof *k->named);
        k->named[k->n_named++] = q;
    }
    return -2 * (i + 1);
}

int st_alcohol_cause_own(struct st_alcohol_ledger *k)
{
    return -2 * k->n_own++ - 1;
}

/* ---- sums ---- */

static struct st_alcohol_doubt *room_for(struct st_alcohol_doubts *x, int n)
{
    if (x->n + n > x->room) {
        x->room = 2 * (x->n + n);
        x->d = x_realloc_array(x->d, (size_t)x->room, sizeof *x->d);
    }
    x->n += n;
    return x->d + x->n - n;
}

void st_alcohol_doubts_add(struct st_alcohol_doubts *x, const struct st_alcohol_doubt *d, int n, double sign)
{
    if (n == 0)
        return; /* nothing may have no room at all */
    struct st_alcohol_doubt *to = room_for(x, n);
    for (int i = 0; i < n; i++)
        to[i] = (struct st_alcohol_doubt){ d[i].cause, sign * d[i].u };
}

void st_alcohol_doubts_join(struct st_alcohol_doubts *x, const struct st_alcohol_doubts *y, double sign)
{
    st_alcohol_doubts_add(x, y->d, y->n, sign);
}

static int by_cause(const void *x, const void *y)
{
    const struct st_alcohol_doubt *a = x, *b = y;
    return (a->cause > b->cause) - (a->cause < b->cause);
}

double st_alcohol_doubts_u(struct st_alcohol_doubts *x)
{
    double var = 0.0;
    int n = 0;
    if (x->n)
        qsort(x->d, (size_t)x->n, sizeof *x->d, by_cause);
    for (int i = 0; i < x->n; i++)
        if (n > 0 && x->d[n - 1].cause == x->d[i].cause)
            x->d[n - 1].u += x->d[i].u;
        else
            x->d[n++] = x->d[i];
    x->n = n; /* one of each cause is left: the same sum, shorter */
    for (int i = 0; i < n; i++)
        var += x->d[i].cause == 0 ? 0.0 : x->d[i].u * x->d[i].u;
    return sqrt(var);
}

void st_alcohol_doubts_done(struct st_alcohol_doubts *x)
{
    free(x->d);
    *x = (struct st_alcohol_doubts){ NULL, 0, 0 };
}
