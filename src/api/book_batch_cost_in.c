/* What went into a batch, by the price of each lot. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_batch_cost_inside.h"
#include "api/book_batch_rest.h"
#include "text/line.h"
#include "text/scan.h"
#include "text/text_room.h"

/* ---- lots ---- */

/* One lot's share of its price into the sum. */
static void add(struct st_batch_cost *out, const struct book_lot *lot, const struct st_cost_price *price, double amount)
{
    out->n_used++;
    if (!price->all.known || !(lot->amount > 0.0)) {
        out->n_unpriced += strcmp(lot->kind, "spent") != 0;
        if (price->code && ++out->n_unknown > 0) {
            out->unpriced_code = price->code;
            (void)snprintf(out->unpriced_why, sizeof out->unpriced_why, "%s", price->why);
        }
        return;
    }
    out->bare |= !*price->currency;
    out->mixed |= *out->currency && *price->currency && strcmp(out->currency, price->currency) != 0;
    if (*price->currency)
        out->currency = price->currency;
    out->mixed |= out->bare && *out->currency;
    out->batch.value += price->all.value * amount / lot->amount;
    out->batch.low += price->all.low * amount / lot->amount;
    out->batch.high += price->all.high * amount / lot->amount;
}

static enum book_status price_of(const struct st_batch_ask *a, const struct book_lot *lot, struct st_cost_price *out)
{
    *out = (struct st_cost_price){ .currency = lot->currency };
    if (isnan(lot->price) && lot->from_batch != BOOK_NO && strcmp(lot->kind, "spent") != 0)
        return st_cost_of_batch(a, lot, out);
    out->all =
        (struct st_range){ .value = lot->price, .low = lot->price, .high = lot->price, .known = isfinite(lot->price) };
    return BOOK_OK;
}

/* Weighings of a batch, with a->until those that were in it then. */
static enum book_status weighings(const struct st_batch_ask *a, const struct book_batch *batch,
                                  const struct book_weighing **w, int *n)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    struct book_weighing *row;
    const enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &row, n);
    *w = row;
    return s == BOOK_OK ? st_batch_until(a, w, n) : s;
}

/* Whether that use of a lot was in the batch at a->until. */
static enum book_status was_in(const struct st_batch_ask *a, const struct book_lot_use *use,
                               const struct book_weighing w[], int n, bool *is)
{
    *is = !a->until;
    for (int i = 0; i < n && !*is; i++)
        *is = w[i].id == use->weighing_id;
    if (*is || use->weighing_id != BOOK_NO)
        return BOOK_OK;
    const struct st_batch_moment x = { .table = BOOK_LOT_USE, .id = use->id, .day = use->on_day };
    const enum book_status s = st_batch_later(a, &x, a->until, is);
    *is = !*is;
    return s;
}

enum book_status st_cost_uses(const struct st_batch_ask *a, const struct book_batch *batch, struct st_cost_uses *out)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    const struct book_weighing *w;
    struct book_lot_use *use;
    int n = 0, n_w = 0;
    enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n);
    if (s == BOOK_OK)
        s = weighings(a, batch, &w, &n_w);
    out->n = 0;
    out->x = st_arena_alloc(a->arena, (size_t)(n + 1) * sizeof *out->x);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct st_cost_use *x = &out->x[out->n];
        bool is;
        s = was_in(a, &use[i], w, n_w, &is);
        if (s != BOOK_OK || !is)
            continue;
        x->use = use[i];
        s = book_get(a->book, BOOK_LOT, use[i].lot_id, a->arena, &x->lot);
        if (s == BOOK_OK)
            s = price_of(a, &x->lot, &x->price);
        out->n++;
    }
    return s;
}

static enum book_status of_lots(const struct st_batch_ask *a, const struct st_cost_uses *uses,
                                const struct book_weighing w[], int n, struct st_batch_cost *out)
{
    enum book_status s = BOOK_OK;
    for (int i = 0; s == BOOK_OK && i < uses->n; i++) {
        const struct st_cost_use *x = &uses->x[i];
        bool is;
        s = was_in(a, &x->use, w, n, &is);
        if (s == BOOK_OK && is)
            add(out, &x->lot, &x->price, x->use.amount);
    }
    out->at_least = out->batch.low;
    if (out->mixed) {
        out->currency = "";
        out->at_least = (double)NAN;
    }
    return s;
}

/* ---- what no lot is told of ---- */

/* Each weighing of the line wants a lot; what was weighed is all that went in on it. */
static void of_line(const struct book_weighing w[], int n, const char *step, int line, const char *text,
                    struct st_batch_cost *out)
{
    const struct book_weighing *bare = NULL;
    int with = 0;
    for (int i = 0; i < n; i++)
        if (w[i].line == line && strcmp(w[i].step, step) == 0) {
            with += w[i].lot_id != BOOK_NO;
            bare = w[i].lot_id == BOOK_NO ? &w[i] : bare;
        }
    if (with == 0 && out->n_no_lot++ == 0) {
        struct st_text_room o = { out->no_lot, sizeof out->no_lot, 0 };
        char words[64];
        st_scan_clip(text, strlen(text), words, sizeof words);
        st_text_put(&o, "line %d of %.40s: %s", line, step, words);
    }
    if (with > 0 && bare && out->n_part++ == 0)
        (void)snprintf(out->part, sizeof out->part, "%.40s of line %d of %.40s", bare->words, line, step);
}

/* What was added besides the recipe, water aside. */
static void of_added(const struct st_batch_made *planned, const struct book_weighing *w, struct st_batch_cost *out)
{
    struct st_line l;
    struct st_problem p;
    if (w->line != 0 || w->lot_id != BOOK_NO)
        return;
    if (st_line_parse(w->words, planned->file.recipe.measures, planned->catalogue, &l, &p) == 0 && l.what &&
        l.what->kind == ST_KIND_WATER)
        return;
    if (out->n_part++ == 0)
        (void)snprintf(out->part, sizeof out->part, "%.60s, added to %.40s", w->words, w->step);
}

/* By the recipe as planned: as made, a lot of another thing has a line of its own. */
static void of_lines(const struct st_batch_made *planned, const struct book_weighing w[], int n,
                     struct st_batch_cost *out)
{
    const struct st_recipe *r = &planned->file.recipe;
    for (int i = 0; i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++) {
            const struct st_line *l = &r->step[i].line[k];
            if (l->what && l->what->kind != ST_KIND_WATER)
                of_line(w, n, r->step[i].id, k + 1, l->text, out);
        }
    for (int i = 0; i < n; i++)
        of_added(planned, &w[i], out);
}

enum book_status st_cost_in(const struct st_batch_ask *a, const struct book_batch *batch,
                            const struct st_batch_made *planned, const struct st_cost_uses *uses,
                            struct st_batch_cost *out)
{
    const struct book_weighing *w;
    int n = 0;
    enum book_status s = weighings(a, batch, &w, &n);
    if (s == BOOK_OK)
        s = of_lots(a, uses, w, n, out);
    if (s == BOOK_OK && planned->whole)
        of_lines(planned, w, n, out);
    out->batch.known = planned->whole && out->n_used > 0 && !out->mixed && out->n_unpriced == 0 && out->n_no_lot == 0 &&
                       out->n_part == 0;
    return s;
}
