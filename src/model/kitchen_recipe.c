#include <math.h>
#include <string.h>

#include "kitchen.h"

/* The recipe with amounts as a kitchen measures them: a copy that goes through a plan as any recipe does, so that the
 * same cup used twice is one error. */

static void own_tools(struct st_tools *t, const struct st_kitchen *k)
{
    for (int i = 0; i < ST_NTOOL; i++)
        if (k->tools.given[i]) {
            t->of[i] = k->tools.of[i];
            t->given[i] = true;
        }
    if (k->tools.scale_digit_g > 0.0)
        t->scale_digit_g = k->tools.scale_digit_g;
}

/* A range or a heap stays one where the dimension stays. */
static void measure(struct st_amount *m, const struct st_kitchen_item *item)
{
    const bool same = m->dim == item->dim && m->value > 0.0;
    const double low = same ? m->low / m->value : 1.0, high = same ? m->high / m->value : 1.0;
    m->dim = item->dim;
    m->value = item->amount;
    m->low = low * item->amount;
    m->high = high * item->amount;
    m->written = item->written;
    m->unit = item->unit;
    m->tool = item->tool;
    m->fills = item->fills;
    m->vague = m->vague && same;
    m->heaped = m->heaped && same;
    m->scant = m->scant && same;
}

struct st_recipe *st_kitchen_recipe(const struct st_aim *a, const struct st_kitchen *kitchen,
                                    const struct st_kitchen_item item[])
{
    double value[ST_MAX_DIALS];
    for (int k = 0; k < a->n_dial; k++)
        value[k] = item[k].factor;
    struct st_recipe *r = st_aim_recipe(a, value);
    if (!r)
        return NULL;
    own_tools(&r->tools, kitchen);
    for (int k = 0; k < a->n_dial; k++) {
        const struct st_dial *d = &a->dial[k].dial;
        if (d->of == ST_DIAL_AMOUNT && item[k].tool != ST_TOOL_NONE)
            measure(&r->step[d->step].line[d->line].amount, &item[k]);
    }
    return r;
}
