#include "api/book_reach.h"

#include <string.h>

#include "model/observation.h"
#include "text/calendar_day.h"

bool st_reach_is_short(enum st_reach_state s)
{
    return s == ST_REACH_SHORT || s == ST_REACH_NONE;
}

static const struct st_ingredient *by_slug(const struct st_catalogue *c, const char *slug)
{
    for (size_t i = 0; *slug && i < st_catalogue_count(c); i++)
        if (strcmp(st_catalogue_at(c, i)->slug, slug) == 0)
            return st_catalogue_at(c, i);
    return NULL;
}

static struct st_range as_written(double x, double u)
{
    const double half = isnan(u) ? 0.0 : 1.96 * u;
    if (isnan(x))
        return (struct st_range){ .known = false, .source = "" };
    return (struct st_range){ x, fmax(0.0, x - half), x + half, true, 'u', "the larder" };
}

/* The last own measurement of its strength that nobody doubts; rows come by time. */
static const struct book_reading *measured(const struct book_reading *all, int n, int64_t lot)
{
    const struct book_reading *last = NULL;
    for (int i = 0; i < n; i++)
        if (all[i].lot_id == lot && !all[i].doubted)
            last = &all[i];
    return last;
}

/* What is treated like a spirit and is not one (a tincture, a drink of another batch) stands for none, but for itself. */
static void own_of(struct st_desk *d, const struct st_catalogue *c, const struct st_lot *l, struct st_holding *h)
{
    if (h->kind != ST_KIND_SPIRIT || st_lot_is_plain(c, &l->row))
        return;
    h->kind = ST_KIND_OTHER;
    if (st_lot_is_called_so(c, &l->row))
        return; /* for the one it is treated like alone */
    h->slug = "";
    if (l->row.from_batch != BOOK_NO && st_catalogue_find(c, l->row.name, strlen(l->row.name)))
        h->name = st_arena_printf(d->arena, "%s of a batch", l->row.name);
}

/* A whole fruit or egg, of which parts are used.  "6 lemons" are kept without saying which part is meant. */
static void whole_of(struct st_desk *d, const struct st_catalogue *c, const struct st_packs *packs,
                     const struct st_lot *l, struct st_holding *h)
{
    const struct st_ingredient *in = st_lot_ingredient(c, &l->row);
    char parts[ST_PACK_PARTS];

    if (!in)
        return;
    st_packs_parts(packs, in->slug, parts);
    if (!*parts)
        return;
    h->whole = in->slug;
    h->parts = st_arena_strdup(d->arena, parts);
    h->piece_g = in->piece;
}

static void holding_of(const struct st_catalogue *c, const struct st_lot *l, const struct book_reading *strength,
                       struct st_holding *h)
{
    const struct st_ingredient *in = by_slug(c, l->row.slug);
    long day;

    *h = (struct st_holding){ .id = l->row.id, .slug = l->row.slug, .name = l->row.name };
    h->kind = in ? in->kind : ST_KIND_OTHER;
    h->dim = strcmp(l->row.dim, "g") == 0 ? ST_DIM_MASS : strcmp(l->row.dim, "mL") == 0 ? ST_DIM_VOLUME : ST_DIM_PIECE;
    h->left = fmax(l->left, 0.0);
    h->strength = as_written(l->row.strength_pct_vol, l->row.strength_u);
    if (strength)
        h->strength = as_written(
            strength->value, isnan(strength->sd) ? st_seen_usual_sd(ST_SEEN_STRENGTH, strength->value) : strength->sd);
    h->weighed = l->row.gross == BOOK_NO ? ST_WEIGHED_UNSAID : l->row.gross ? ST_WEIGHED_GROSS : ST_WEIGHED_TRIMMED;
    h->trimmed_share = as_written(l->row.trimmed_share, (double)NAN);
    h->potency = l->row.potency;
    h->has_use_by = l->row.use_by && st_day_number(l->row.use_by, &day);
    if (h->has_use_by)
        h->use_by = day;
    h->opened = l->row.opened_on != NULL;
    h->price = l->row.price;
    h->bought = l->row.amount;
    h->currency = l->row.currency;
}

bool st_larder_reach(struct st_desk *d, const struct st_catalogue *c, const struct st_recipe *r,
                     const struct st_foretold *f, const struct st_packs *packs, bool us, double pour_price, double tax,
                     struct st_within *out)
{
    struct book_reading *read = NULL;
    int n = 0;
    const struct book_wanted w = { .column = "kind", .text = st_seen_info(ST_SEEN_STRENGTH)->key, .order = "at" };

    *out = (struct st_within){ .pour_price = pour_price, .tax = tax };
    if (d->book && (!st_larder_lots(d, false, &out->larder) ||
                    !st_desk_good(d, book_list(d->book, BOOK_READING, &w, d->arena, &read, &n))))
        return false;
    out->held = st_arena_alloc(d->arena, ((size_t)out->larder.n_lot + 1) * sizeof *out->held);
    for (int i = 0; i < out->larder.n_lot; i++) {
        holding_of(c, &out->larder.lot[i], measured(read, n, out->larder.lot[i].row.id), &out->held[i]);
        whole_of(d, c, packs, &out->larder.lot[i], &out->held[i]);
        own_of(d, c, &out->larder.lot[i], &out->held[i]);
    }
    out->shown = st_arena_alloc(d->arena, ((size_t)out->larder.n_lot + 1) * sizeof *out->shown);
    for (int i = 0; i < out->larder.n_lot; i++) {
        out->shown[i] = out->held[i];
        out->shown[i].name =
            st_arena_printf(d->arena, "%s %s", out->larder.lot[i].row.code, out->larder.lot[i].row.name);
    }
    if (!st_reach_find(r, f, out->held, out->larder.n_lot, d->number, &out->reach))
        return st_desk_refuse(d, r->file, "it could not be held against the larder", "make the recipe smaller");
    st_shopping_make(r, &out->reach, packs, us, &out->list);
    for (int i = 0; i < out->reach.n_line; i++)
        out->n_short += st_reach_is_short(out->reach.line[i].state);
    out->priced = !isnan(pour_price) && st_margin_of_pour(&out->reach.cost.pour, pour_price, tax, &out->margin);
    return true;
}

void st_within_done(struct st_within *w)
{
    st_shopping_done(&w->list);
    st_reach_done(&w->reach);
}
