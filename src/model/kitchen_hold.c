#include <stdlib.h>

#include "interval.h"
#include "kitchen_inside.h"
#include "plan_inside.h"

/* The operations of st_jars in interval arithmetic: a box in which nothing can be done is not looked into. */

struct st_hold {
    const struct st_jars *of;
    iv *value; /* of each register */
};

struct st_hold *st_hold_create(const struct st_jars *j)
{
    const struct st_tape *t = &j->of->tape;
    if (j->n == 0 && j->n_take == 0)
        return NULL;
    struct st_hold *h = calloc(1, sizeof *h);
    if (!h)
        return NULL;
    h->of = j;
    h->value = malloc(((size_t)t->n_reg + 1) * sizeof *h->value);
    if (!h->value) {
        free(h);
        return NULL;
    }
    for (int r = 0; r < t->n_reg; r++)
        h->value[r] = (iv){ t->nominal[r], t->nominal[r] };
    return h;
}

void st_hold_free(struct st_hold *h)
{
    if (!h)
        return;
    free(h->value);
    free(h);
}

bool st_hold_never(struct st_hold *h, const double low[], const double high[], const double most[])
{
    const struct st_jars *j = h->of;
    for (int k = 0; k < j->of->n_dial; k++)
        h->value[j->of->dial_reg[k]] = (iv){ low[k], high[k] };
    for (int i = 0; i < j->n_op; i++)
        h->value[j->op[i]->dst] = st_interval_op(h->value, j->op[i], j->of->tape.arg);
    for (int i = 0; i < j->n; i++)
        if (h->value[j->filled[i]].low > most[i])
            return true;
    for (int i = 0; i < j->n_take; i++)
        if (h->value[j->take[i].want].low > h->value[j->take[i].left].high * (1.0 + 1e-6))
            return true;
    return false;
}

bool st_hold_always(const struct st_hold *h, const double most[])
{
    const struct st_jars *j = h->of;
    for (int i = 0; i < j->n; i++)
        if (!(h->value[j->filled[i]].high <= most[i]))
            return false;
    for (int i = 0; i < j->n_take; i++)
        if (!(h->value[j->take[i].want].high <= h->value[j->take[i].left].low))
            return false;
    return true;
}
