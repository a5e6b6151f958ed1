#include "api/book_batch_cost.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_since.h"
#include "api/doc_larder.h"
#include "text/line.h"
#include "text/reach_words.h"

/* ---- lots ---- */

/* One lot's share of its price into the sum. */
static void add(struct st_batch_cost *out, const struct book_lot *lot, double amount)
{
    out->n_used++;
    if (isnan(lot->price) || !(lot->amount > 0.0)) {
        const bool counts = strcmp(lot->kind, "spent") != 0;
        out->n_unpriced += counts;
        if (counts && lot->from_batch != BOOK_NO)
            out->unpriced_of = lot->from_batch;
        return;
    }
    out->bare |= !*lot->currency;
    out->mixed |= *out->currency && *lot->currency && strcmp(out->currency, lot->currency) != 0;
    if (*lot->currency)
        out->currency = lot->currency;
    out->mixed |= out->bare && *out->currency;
    out->at_least += lot->price * amount / lot->amount;
}

static enum book_status of_lots(const struct st_batch_ask *a, const struct book_batch *batch, struct st_batch_cost *out)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    struct book_lot_use *use;
    int n = 0;
    enum book_status s = book_list(a->book, BOOK_LOT_USE, &of, a->arena, &use, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct book_lot lot;
        s = book_get(a->book, BOOK_LOT, use[i].lot_id, a->arena, &lot);
        if (s == BOOK_OK)
            add(out, &lot, use[i].amount);
    }
    if (s == BOOK_OK && out->unpriced_of > 0) {
        struct book_batch of_batch;
        s = book_get(a->book, BOOK_BATCH, out->unpriced_of, a->arena, &of_batch);
        out->unpriced_code = s == BOOK_OK ? of_batch.code : "";
    }
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
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    const struct st_recipe *r = &planned->file.recipe;
    struct book_weighing *w;
    int n = 0;
    const enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &w, &n);
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
    if (batch->ended_on)
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

enum book_status st_batch_cost(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *planned, const struct st_batch_made *m, double serving_ml,
                               struct st_batch_cost *out)
{
    struct st_range ml = { .known = false };
    *out = (struct st_batch_cost){ .currency = "", .unpriced_code = "" };
    enum book_status s = of_lots(a, batch, out);
    if (s == BOOK_OK && planned->whole)
        s = of_lines(a, batch, planned, out);
    if (s == BOOK_OK)
        s = volume(a, batch, m, out, &ml);
    if (s != BOOK_OK)
        return s;
    out->serving_ml = serving_ml > 0.0 ? serving_ml : m->whole ? m->file.recipe.serving_ml : 40.0;
    out->batch = (struct st_range){ .value = out->at_least, .low = out->at_least, .high = out->at_least };
    out->batch.known = planned->whole && m->whole && out->n_used > 0 && !out->mixed && out->n_unpriced == 0 &&
                       out->n_no_lot == 0 && out->n_part == 0;
    out->bottle = share(&out->batch, &ml, out->bottle_ml);
    out->pour = share(&out->batch, &ml, out->serving_ml);
    return BOOK_OK;
}

/* ---- words, document ---- */

static void why_not(struct st_text_room *o, const struct st_batch_cost *c)
{
    st_text_put(o, "not known");
    if (c->n_unpriced > 0)
        st_text_put(o, "; %d of the lots used %s no price", c->n_unpriced, c->n_unpriced > 1 ? "have" : "has");
    if (*c->unpriced_code)
        st_text_put(o, "; a lot of %s has no price here", c->unpriced_code);
    if (c->n_no_lot > 0)
        st_text_put(o, "; of %d line%s no lot is told", c->n_no_lot, c->n_no_lot > 1 ? "s" : "");
    if (c->n_part > 0)
        st_text_put(o, "; no lot is told of %s", c->part);
    if (c->n_part > 1)
        st_text_put(o, " and of %d more", c->n_part - 1);
    if (c->mixed)
        st_text_put(o, c->bare ? "; some prices have a currency and some have none"
                               : "; prices are in several currencies");
    else if (c->at_least > 0.0)
        st_text_put(o, "; at least %.2f%s%s", c->at_least, *c->currency ? " " : "", c->currency);
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
        st_text_put(o, " %.4g mL bottled,", c->filled_ml);
    if (c->poured_ml > 0.0)
        st_text_put(o, " %.4g mL poured or drawn off,", c->poured_ml);
    st_text_put(o, " %.3g mL still there; what was lost is borne by these", c->left_ml.value);
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
        st_text_put(&o, " a bottle of %.4g mL", c->bottle_ml);
    }
    if (c->pour.known) {
        st_text_put(&o, ", ");
        st_reach_money(&o, &c->pour, c->currency);
        st_text_put(&o, " a pour of %.4g mL", c->serving_ml);
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
