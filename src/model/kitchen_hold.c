#include <math.h>
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

static double at_least_0(double x)
{
    return x > 0.0 ? x : 0.0; /* rounding outward may go below */
}

/* ST_LIMIT_SUGAR: what dissolves rises with water; with ethanol it rises or falls, so that the solvent and its strength
 * are each taken at their own worst. */
static iv dissolved(const struct st_hold *h, const struct st_syrup *y)
{
    const iv s = h->value[y->sucrose], w = h->value[y->water], e = h->value[y->ethanol];
    const double wl = at_least_0(w.low), el = at_least_0(e.low);
    if (!(s.high < HUGE_VAL && w.high < HUGE_VAL && e.high < HUGE_VAL) || !(wl > 0.0))
        return (iv){ 0.0, HUGE_VAL };
    /* in a gram of solvent, the weakest and the strongest there can be */
    const double weak = st_jars_dissolves(w.high, el) / (w.high + el),
                 strong = st_jars_dissolves(wl, e.high) / (wl + e.high);
    const double most = weak * (w.high + e.high), least = strong * (wl + el);
    return (iv){ at_least_0(s.low) / most * (1.0 - 1e-9), least > 0.0 ? s.high / least * (1.0 + 1e-9) : HUGE_VAL };
}

/* Over a box: what the most of its dials bring into the least drink, and the other way round. */
static iv carried(const struct st_hold *h, const struct st_carry_of *c)
{
    const iv per = h->value[c->per], by = h->value[c->by];
    double low = c->rest, high = low;
    for (int i = 0; i < c->n; i++) {
        low += c->part[i] * at_least_0(h->value[c->dial[i]].low);
        high += c->part[i] * h->value[c->dial[i]].high;
    }
    const double least = at_least_0(per.low) * at_least_0(by.low), most = per.high * by.high;
    return (iv){ most > 0.0 ? low / most * (1.0 - 1e-9) : 0.0, least > 0.0 ? high / least * (1.0 + 1e-9) : HUGE_VAL };
}

static iv fill_of(const struct st_hold *h, const struct st_jar_of *l)
{
    switch (l->of) {
    case ST_LIMIT_JAR: return h->value[l->filled];
    case ST_LIMIT_SUGAR: return dissolved(h, &l->syrup);
    case ST_LIMIT_CARRY: return carried(h, &l->carry);
    case ST_LIMIT_TAKE: /* all of them, below */
    case ST_LIMIT_HAVE:
    default: return (iv){ 0.0, 0.0 };
    }
}

bool st_hold_never(struct st_hold *h, const double low[], const double high[], const double most[])
{
    const struct st_jars *j = h->of;
    for (int k = 0; k < j->of->n_dial; k++)
        h->value[j->of->dial_reg[k]] = (iv){ low[k], high[k] };
    for (int i = 0; i < j->n_op; i++)
        h->value[j->op[i]->dst] = st_interval_op(h->value, j->op[i], j->of->tape.arg);
    for (int i = 0; i < j->n; i++)
        if (fill_of(h, &j->limit[i]).low > most[i])
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
        if (!(fill_of(h, &j->limit[i]).high <= most[i]))
            return false;
    for (int i = 0; i < j->n_take; i++)
        if (!(h->value[j->take[i].want].high <= h->value[j->take[i].left].low))
            return false;
    return true;
}
