#include "take_await.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "quantity.h"
#include "take_caution.h"

/* An amount that waits to be read. */

static const double NEGLIGIBLE = 0.01; /* of what was read: policy, no source */

static bool is_dry(enum st_kind k)
{
    switch (k) {
    case ST_KIND_SEED:
    case ST_KIND_BARK:
    case ST_KIND_ROOT_DRY:
    case ST_KIND_BEAN:
    case ST_KIND_POWDER:
    case ST_KIND_PEEL_DRY:
    case ST_KIND_FLOWER_DRY:
    case ST_KIND_HERB_DRY: return true;
    default: return false;
    }
}

static bool is_goods(const struct st_amount *a)
{
    return a->open == ST_CLOSED && a->value > 0.0 && (a->dim == ST_DIM_MASS || a->dim == ST_DIM_VOLUME);
}

/* The amount of a row that was not read: its own, or the first that stands in its words. */
static bool amount_of(const struct st_take_read_as *r, struct st_amount *a)
{
    struct st_problem p;
    size_t used;

    *a = r->item->line.amount;
    if (is_goods(a))
        return true;
    for (const char *at = r->words; *at; at++)
        if (isdigit((unsigned char)*at) && (at == r->words || !isalnum((unsigned char)at[-1])) &&
            st_quantity_parse(at, strlen(at), ST_MEASURES_METRIC, a, &used, &p) >= 0)
            return is_goods(a);
    return false;
}

/* g and mL of all that was read, one like the other. */
static double read_in_all(const struct st_take *t)
{
    double sum = 0.0;
    for (int i = 0; i < t->n_row; i++) {
        const struct st_take_item *item = t->row[i].item;
        const struct st_amount *a = &item->line.amount;
        if (item->role == ST_TAKE_INGREDIENT && item->sure != ST_UNREAD && is_goods(a))
            sum += a->value;
    }
    return sum;
}

static bool is_awaited(const struct st_take *t, int row)
{
    const struct st_take_read_as *r = &t->row[row];
    const struct st_ingredient *what = r->item->line.what;
    struct st_amount a;

    if (r->item->role != ST_TAKE_INGREDIENT || r->item->sure != ST_UNREAD || st_take_is_unreckoned(t, row) ||
        (what && is_dry(what->kind)) || !amount_of(r, &a))
        return false;
    return a.value >= NEGLIGIBLE * read_in_all(t);
}

const struct st_take_read_as *st_take_awaited(const struct st_take *t)
{
    for (int i = 0; i < t->n_row; i++)
        if (is_awaited(t, i))
            return &t->row[i];
    return NULL;
}

bool st_take_may_be_foretold(const struct st_take *t)
{
    return t->whole && !st_take_awaited(t);
}

bool st_take_await_problem(const struct st_take *t, struct st_problem *p)
{
    const struct st_take_read_as *r = st_take_awaited(t);

    if (!r)
        return false;
    *p = (struct st_problem){ .at = { 0, 0 } };
    (void)snprintf(p->what, sizeof p->what, "line %d, \"%.60s\", is not read yet", r->line, r->words);
    (void)snprintf(p->why, sizeof p->why, "what it is may bring water or sugar, and no figure stands without it");
    (void)snprintf(p->try_, sizeof p->try_, "answer what is asked, or say that line in other words");
    return true;
}
