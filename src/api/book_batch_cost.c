#include "api/book_batch_cost.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_own.h"
#include "api/book_batch_rest.h"
#include "api/book_batch_since.h"
#include "api/doc_larder.h"
#include "text/figure_words.h"
#include "text/line.h"
#include "text/reach_words.h"
#include "util/memory.h"

/* ---- lots ---- */

/* What a lot cost, all of it; not known: no price. */
struct lot_price {
    struct st_range all;
    const char *currency;
    const char *code; /* of a batch whose cost is not known, and so not the lot's; NULL */
    char why[240];
};

/* One lot's share of its price into the sum. */
static void add(struct st_batch_cost *out, const struct book_lot *lot, const struct lot_price *price, double amount)
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

static enum book_status of_batch(const struct st_batch_ask *a, const struct book_lot *lot, struct lot_price *out);

static enum book_status price_of(const struct st_batch_ask *a, const struct book_lot *lot, struct lot_price *out)
{
    *out = (struct lot_price){ .currency = lot->currency };
    if (isnan(lot->price) && lot->from_batch != BOOK_NO && strcmp(lot->kind, "spent") != 0)
        return of_batch(a, lot, out);
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

static enum book_status of_lots(const struct st_batch_ask *a, const struct book_batch *batch, struct st_batch_cost *out)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    const struct book_weighing *w;
    struct book_lot_use *use;
    int n = 0, n_w = 0;
    enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n);
    if (s == BOOK_OK)
        s = weighings(a, batch, &w, &n_w);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct book_lot lot;
        struct lot_price price;
        bool is;
        s = was_in(a, &use[i], w, n_w, &is);
        if (s != BOOK_OK || !is)
            continue;
        s = book_get(a->book, BOOK_LOT, use[i].lot_id, a->arena, &lot);
        if (s == BOOK_OK)
            s = price_of(a, &lot, &price);
        if (s == BOOK_OK)
            add(out, &lot, &price, use[i].amount);
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
static void of_line(const struct book_weighing w[], int n, const char *step, int line, struct st_batch_cost *out)
{
    const struct book_weighing *bare = NULL;
    int with = 0;
    for (int i = 0; i < n; i++)
        if (w[i].line == line && strcmp(w[i].step, step) == 0) {
            with += w[i].lot_id != BOOK_NO;
            bare = w[i].lot_id == BOOK_NO ? &w[i] : bare;
        }
    out->n_no_lot += with == 0;
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
static enum book_status of_lines(const struct st_batch_ask *a, const struct book_batch *batch,
                                 const struct st_batch_made *planned, struct st_batch_cost *out)
{
    const struct st_recipe *r = &planned->file.recipe;
    const struct book_weighing *w;
    int n = 0;
    const enum book_status s = weighings(a, batch, &w, &n);
    for (int i = 0; s == BOOK_OK && i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++) {
            const struct st_line *l = &r->step[i].line[k];
            if (l->what && l->what->kind != ST_KIND_WATER)
                of_line(w, n, r->step[i].id, k + 1, out);
        }
    for (int i = 0; s == BOOK_OK && i < n; i++)
        of_added(planned, &w[i], out);
    return s;
}

/* ---- by volume ---- */

/* What went off the drink and is no loss: lots of it, and what was drawn; of what was weighed g count as mL. */
static double poured(const struct st_batch_past *past, const struct st_recipe *r)
{
    double ml = 0.0;
    for (int i = 0; i < past->n_drawn; i++)
        ml += past->drawn[i].amount;
    for (int i = 0; i < past->n_loss; i++) {
        const struct book_loss *l = &past->loss[i];
        if (strcmp(l->why, "drawn") == 0 && st_batch_of_drink(r, l->step))
            ml += isfinite(l->volume_ml) ? l->volume_ml : isfinite(l->mass_g) ? l->mass_g : 0.0;
    }
    return ml;
}

/* What is there still: of a batch that is over, nothing. */
static enum book_status still_there(const struct st_batch_ask *a, const struct book_batch *batch,
                                    const struct st_batch_made *m, struct st_range *ml)
{
    struct st_batch_left left;
    *ml = (struct st_range){ .known = true };
    if (batch->ended_on && !a->until)
        return BOOK_OK;
    const enum book_status s = st_batch_left(a, batch, m, &left);
    const double gone = left.lost_ml + left.bottled_ml;
    ml->known = s == BOOK_OK && isfinite(left.spare_ml);
    if (ml->known) {
        ml->value = left.spare_ml;
        ml->low = fmax(left.low_ml - gone, 0.0);
        ml->high = fmax(left.high_ml - gone, 0.0);
    }
    return s;
}

static enum book_status volume(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *m, struct st_batch_cost *out, struct st_range *ml)
{
    struct st_batch_past past;
    enum book_status s = st_batch_past(a, batch, &past);
    if (s == BOOK_OK)
        s = still_there(a, batch, m, &out->left_ml);
    if (s != BOOK_OK)
        return s;
    const struct st_recipe *r = &m->file.recipe;
    for (int i = 0; i < past.n_filled; i++)
        out->filled_ml += (double)past.filled[i].count * past.filled[i].size_ml;
    out->poured_ml = m->whole ? poured(&past, r) : 0.0;
    out->bottled = out->filled_ml > 0.0;
    out->bottle_ml = past.n_filled > 0           ? past.filled[0].size_ml
                     : m->whole && r->n_step > 0 ? r->step[r->n_step - 1].bottle_ml
                                                 : 0.0;
    const double went = out->filled_ml + out->poured_ml;
    *ml = out->left_ml;
    ml->value += went;
    ml->low += went;
    ml->high += went;
    return BOOK_OK;
}

static struct st_range share(const struct st_range *cost, const struct st_range *ml, double part_ml)
{
    struct st_range x = { .known = cost->known && ml->known && ml->low > 0.0 && part_ml > 0.0 };
    if (x.known) {
        x.value = cost->value * part_ml / ml->value;
        x.low = cost->low * part_ml / ml->high;
        x.high = cost->high * part_ml / ml->low;
    }
    return x;
}

/* The whole, with *ml all that was made. */
static enum book_status cost_of(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *planned, const struct st_batch_made *m,
                                struct st_batch_cost *out, struct st_range *ml)
{
    *ml = (struct st_range){ .known = false };
    *out = (struct st_batch_cost){ .currency = "", .unpriced_code = "" };
    enum book_status s = of_lots(a, batch, out);
    if (s == BOOK_OK && planned->whole)
        s = of_lines(a, batch, planned, out);
    if (s == BOOK_OK)
        s = volume(a, batch, m, out, ml);
    out->batch.known = planned->whole && m->whole && out->n_used > 0 && !out->mixed && out->n_unpriced == 0 &&
                       out->n_no_lot == 0 && out->n_part == 0;
    return s;
}

enum book_status st_batch_cost(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *planned, const struct st_batch_made *m, double serving_ml,
                               struct st_batch_cost *out)
{
    struct st_range ml;
    const enum book_status s = cost_of(a, batch, planned, m, out, &ml);
    if (s != BOOK_OK)
        return s;
    out->serving_ml = serving_ml > 0.0 ? serving_ml : m->whole ? m->file.recipe.serving_ml : 40.0;
    out->bottle = share(&out->batch, &ml, out->bottle_ml);
    out->pour = share(&out->batch, &ml, out->serving_ml);
    return BOOK_OK;
}

/* ---- what came of another batch ---- */

static void reasons(struct st_text_room *o, const struct st_batch_cost *c);

/* mL of a lot that was made of a batch; what was weighed by the density foretold; NAN. */
static double lot_ml(const struct book_lot *lot, const struct st_batch_made *m)
{
    if (strcmp(lot->dim, "mL") == 0)
        return lot->amount;
    const struct st_interval *rho = &m->out.fig[ST_FIG_DENSITY];
    return strcmp(lot->dim, "g") == 0 && m->told && rho->known ? lot->amount * 1e3 / rho->value : (double)NAN;
}

static enum book_status share_of(const struct st_batch_ask *a, const struct book_lot *lot,
                                 const struct book_batch *batch, const struct st_batch_made *planned,
                                 const struct st_batch_made *m, struct lot_price *out)
{
    struct st_batch_cost cost;
    struct st_range ml;
    struct st_text_room o = { out->why, sizeof out->why, 0 };
    const enum book_status s = cost_of(a, batch, planned, m, &cost, &ml);
    if (s != BOOK_OK)
        return s;
    out->all = share(&cost.batch, &ml, lot_ml(lot, m));
    out->currency = cost.currency;
    if (out->all.known)
        return s;
    if (cost.batch.known)
        st_text_put(&o, "how much of it there was is not known");
    else
        reasons(&o, &cost);
    out->code = batch->code;
    return s;
}

static enum book_status of_batch(const struct st_batch_ask *a, const struct book_lot *lot, struct lot_price *out)
{
    struct st_batch_ask deeper = *a;
    const struct st_batch_moment then = { .table = BOOK_LOT, .id = lot->id, .day = lot->since };
    struct book_batch batch;
    enum book_status s = book_get(a->book, BOOK_BATCH, lot->from_batch, a->arena, &batch);
    if (s != BOOK_OK)
        return s;
    if (++deeper.deep > ST_BATCH_DEEP) {
        out->code = batch.code;
        (void)snprintf(out->why, sizeof out->why, "more than %d batches lie behind it", ST_BATCH_DEEP);
        return s;
    }
    deeper.until = lot->since ? &then : NULL;
    struct st_batch_made *m = x_calloc(2, sizeof *m); /* planned, really; large */
    s = st_batch_made(&deeper, &batch, false, false, &m[0]);
    if (s == BOOK_OK)
        s = st_batch_made(&deeper, &batch, true, true, &m[1]);
    if (s == BOOK_OK)
        s = share_of(&deeper, lot, &batch, &m[0], &m[1], out);
    st_batch_made_done(&m[0]);
    st_batch_made_done(&m[1]);
    free(m);
    return s;
}

/* ---- words, document ---- */

/* Why it is not known, parted by "; ", with no more than one batch behind it. */
static void reasons(struct st_text_room *o, const struct st_batch_cost *c)
{
    const int bought = c->n_unpriced - c->n_unknown;
    const char *then = "";
    if (bought > 0) {
        st_text_put(o, "%d of the lots used %s no price", bought, bought > 1 ? "have" : "has");
        then = "; ";
    }
    if (c->n_unknown > 0) {
        st_text_put(o, "%swhat went in of %.40s is not known (%s)", then, c->unpriced_code, c->unpriced_why);
        then = "; ";
    }
    if (c->n_no_lot > 0) {
        st_text_put(o, "%sof %d line%s no lot is told", then, c->n_no_lot, c->n_no_lot > 1 ? "s" : "");
        then = "; ";
    }
    if (c->n_part > 0) {
        st_text_put(o, "%sno lot is told of %s", then, c->part);
        then = "; ";
    }
    if (c->n_part > 1)
        st_text_put(o, " and of %d more", c->n_part - 1);
    if (c->mixed)
        st_text_put(o, "%s%s", then,
                    c->bare ? "some prices have a currency and some have none" : "prices are in several currencies");
    else if (!*then && c->n_used == 0)
        st_text_put(o, "nothing by lot went into it");
    else if (!*then)
        st_text_put(o, "its recipe cannot be read");
}

static void why_not(struct st_text_room *o, const struct st_batch_cost *c)
{
    st_text_put(o, "not known; ");
    reasons(o, c);
    if (!c->mixed && c->at_least > 0.0)
        st_text_put(o, "; at least %.2f%s%s", c->at_least, *c->currency ? " " : "", c->currency);
}

static void put_ml(struct st_text_room *o, const char *before, double ml, int figures, const char *behind)
{
    char n[24];
    st_plain_figure(n, sizeof n, ml, figures);
    st_text_put(o, "%s %s mL%s", before, n, behind);
}

/* By which volume a bottle and a pour are reckoned. */
static void basis(struct st_text_room *o, const struct st_batch_cost *c)
{
    if (!c->left_ml.known) {
        st_text_put(o, "; of a bottle or a pour not known: what there is still is not");
        return;
    }
    st_text_put(o, "; by the share of all that was made:");
    if (c->bottled)
        put_ml(o, "", c->filled_ml, 4, " bottled,");
    if (c->poured_ml > 0.0)
        put_ml(o, "", c->poured_ml, 4, " poured or drawn off,");
    put_ml(o, "", c->left_ml.value, 3, " still there; what was lost is borne by these");
}

void st_batch_cost_words(const struct st_batch_cost *c, char *buf, size_t size)
{
    struct st_text_room o = { buf, size, 0 };
    buf[0] = '\0';
    if (!c->batch.known) {
        why_not(&o, c);
        return;
    }
    st_reach_money(&o, &c->batch, c->currency);
    st_text_put(&o, " the batch");
    if (c->bottle.known) {
        st_text_put(&o, ", ");
        st_reach_money(&o, &c->bottle, c->currency);
        put_ml(&o, " a bottle of", c->bottle_ml, 4, "");
    }
    if (c->pour.known) {
        st_text_put(&o, ", ");
        st_reach_money(&o, &c->pour, c->currency);
        put_ml(&o, " a pour of", c->serving_ml, 4, "");
    }
    basis(&o, c);
}

static json_t *range(const struct st_range *x)
{
    const struct st_interval i = { x->value, x->low, x->high, ST_OK, x->known };
    return st_doc_interval(&i);
}

json_t *st_doc_batch_cost(const struct st_batch_cost *c)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:f, s:f, s:b, s:i, s:i, s:i, s:f, s:f, s:o}", "batch",
                     range(&c->batch), "bottle", range(&c->bottle), "pour", range(&c->pour), "at_least",
                     st_doc_number(c->at_least), "currency", st_doc_known(c->currency), "bottle_ml", c->bottle_ml,
                     "serving_ml", c->serving_ml, "bottled", c->bottled, "lots_without_price", c->n_unpriced,
                     "lines_without_lot", c->n_no_lot, "parts_without_lot", c->n_part, "filled_ml", c->filled_ml,
                     "poured_ml", c->poured_ml, "left_ml", range(&c->left_ml));
}
