#include <stdio.h>
#include <string.h>

#include "quantity.h"
#include "take_whole.h"

/* "1 kg damsons or plums": both will do, and only one went in. */

static const struct st_ingredient *by_slug(const struct st_catalogue *c, const char *slug)
{
    for (size_t i = 0; i < st_catalogue_count(c); i++)
        if (strcmp(st_catalogue_at(c, i)->slug, slug) == 0)
            return st_catalogue_at(c, i);
    return NULL;
}

static void offer(struct st_take_ask *ask, const char *label, const char *as)
{
    if (strlen(as) >= sizeof ask->option[0].as)
        return;
    (void)snprintf(ask->option[ask->n_option].label, sizeof ask->option[0].label, "%.31s", label);
    (void)snprintf(ask->option[ask->n_option].as, sizeof ask->option[0].as, "%s", as);
    ask->n_option++;
}

/* "kirsch or plain 45 % brandy": each keeps its own strength, and which it was is asked. */
static void ask_spirit(struct st_taking *t, struct st_take_item *item, const struct st_ingredient *one,
                       const struct st_ingredient *two)
{
    const struct st_range *r = &item->or_strength;
    struct st_amount a;
    struct st_line line;
    struct st_problem p;
    size_t used = 0;

    if (!r->known || one == two || item->n_ask >= ST_TAKE_ASKS ||
        st_quantity_parse(item->as, strlen(item->as), t->measures, &a, &used, &p) != 0 || a.open != ST_CLOSED)
        return;
    while (used && item->as[used - 1] == ' ')
        used--;
    const char *other = st_arena_printf(t->arena, r->low < r->high ? "%.*s %s %.4g-%.4g %%" : "%.*s %s %.4g %%",
                                        (int)used, item->as, two->name, r->low, r->high);
    if (st_line_parse(other, t->measures, t->catalogue, &line, &p) != 0)
        return;
    struct st_take_ask *ask = &item->ask[item->n_ask++];
    *ask = (struct st_take_ask){ .kind = ST_ASK_WHICH };
    (void)snprintf(ask->ask, sizeof ask->ask, "Which spirit went in, %.40s or %.40s?", one->name, two->name);
    offer(ask, one->name, item->as);
    offer(ask, two->name, other);
    item->sure = item->sure < ST_LIKELY ? ST_LIKELY : item->sure;
    (void)snprintf(item->because, sizeof item->because,
                   "%.26s is taken, its strength is not written; the %.4g %% is of the %.26s", one->name, r->value,
                   two->name);
}

void st_take_ask_either(struct st_taking *t, struct st_take_item *item)
{
    const struct st_ingredient *one = item->line.what,
                               *two = *item->or_slug ? by_slug(t->catalogue, item->or_slug) : NULL;
    struct st_amount a;
    struct st_line line;
    struct st_problem p;
    size_t used = 0;

    if (one && two && one->kind == ST_KIND_SPIRIT)
        ask_spirit(t, item, one, two);
    if (!one || !two || one == two || item->n_ask >= ST_TAKE_ASKS || item->sure >= ST_GUESS ||
        !st_kind_is_solid(one->kind) || !st_kind_is_solid(two->kind) ||
        st_quantity_parse(item->as, strlen(item->as), t->measures, &a, &used, &p) != 0 || a.open != ST_CLOSED)
        return;
    for (int i = 0; i < item->n_ask; i++)
        if (item->ask[i].kind == ST_ASK_WHICH)
            return;
    while (used && item->as[used - 1] == ' ')
        used--;
    const char *other = st_arena_printf(t->arena, "%.*s %s", (int)used, item->as, two->name);
    if (st_line_parse(other, t->measures, t->catalogue, &line, &p) != 0)
        return;
    struct st_take_ask *ask = &item->ask[item->n_ask++];
    *ask = (struct st_take_ask){ .kind = ST_ASK_WHICH };
    (void)snprintf(ask->ask, sizeof ask->ask, "Which went in, %.45s or %.45s?", one->name, two->name);
    (void)snprintf(ask->with, sizeof ask->with, "%.*s %%s", (int)(used < 60 ? used : 60), item->as);
    offer(ask, one->name, item->as);
    offer(ask, two->name, other);
    item->sure = ST_LIKELY;
    if (!*item->because)
        (void)snprintf(item->because, sizeof item->because, "%.40s is taken; or %.40s", one->name, two->name);
}
