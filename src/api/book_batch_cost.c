#include "api/book_batch_cost.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_bottles.h"
#include "api/book_batch_cost_inside.h"
#include "api/book_batch_own.h"
#include "api/doc_larder.h"
#include "text/figure_words.h"
#include "text/reach_words.h"
#include "util/memory.h"

/* ---- who bears it ---- */

static enum book_status bottles(const struct st_batch_ask *a, const struct st_cost_pool *pool,
                                struct st_batch_cost *out)
{
    out->filled = st_arena_alloc(a->arena, (size_t)(pool->n_off + 1) * sizeof *out->filled);
    for (int i = 0; i < pool->n_off; i++) {
        const struct st_cost_off *x = &pool->off[i];
        if (x->at.table != BOOK_BOTTLING) {
            out->poured_ml += x->ml;
            continue;
        }
        out->filled_ml += x->ml;
        out->filled[out->n_filled++] =
            (struct st_batch_cost_filled){ x->code, x->bottle_ml,
                                           st_cost_of_ml(x->per_ml, x->known && pool->known, x->bottle_ml) };
    }
    out->bottled = out->n_filled > 0;
    return BOOK_OK;
}

/* What it cost by lots, and who bears it. */
static enum book_status cost_of(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *planned, const struct st_batch_made *m,
                                struct st_batch_cost *out, struct st_cost_pool *pool)
{
    struct st_cost_uses uses;
    *out = (struct st_batch_cost){ .currency = "", .unpriced_code = "" };
    *pool = (struct st_cost_pool){ .known = false };
    enum book_status s = st_cost_uses(a, batch, &uses);
    if (s == BOOK_OK)
        s = st_cost_in(a, batch, planned, &uses, out);
    out->batch.known = out->batch.known && m->whole;
    if (s == BOOK_OK)
        s = st_cost_pool(a, batch, planned, m, &uses, out, pool, &out->left_ml);
    return s == BOOK_OK ? bottles(a, pool, out) : s;
}

enum book_status st_batch_cost(const struct st_batch_ask *a, const struct book_batch *batch,
                               const struct st_batch_made *planned, const struct st_batch_made *m, double serving_ml,
                               struct st_batch_cost *out)
{
    static const double WHOLE = 1.0;
    struct st_cost_pool pool;
    const enum book_status s = cost_of(a, batch, planned, m, out, &pool);
    const struct st_recipe *r = &m->file.recipe;
    if (s != BOOK_OK)
        return s;
    out->serving_ml = serving_ml > 0.0 ? serving_ml : m->whole ? r->serving_ml : 40.0;
    out->bottle_ml = out->bottled                ? out->filled[0].bottle_ml
                     : m->whole && r->n_step > 0 ? r->step[r->n_step - 1].bottle_ml
                                                 : 0.0;
    out->bottle = out->bottled ? out->filled[0].bottle : st_cost_of_ml(pool.per_ml, pool.known, out->bottle_ml);
    out->pour = st_cost_of_ml(pool.per_ml, pool.known, out->serving_ml);
    out->left = st_cost_of_ml(pool.money, pool.known, WHOLE);
    return s;
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
                                 const struct st_batch_made *m, struct st_cost_price *out)
{
    struct st_batch_cost cost;
    struct st_cost_pool pool;
    struct st_text_room o = { out->why, sizeof out->why, 0 };
    const enum book_status s = cost_of(a, batch, planned, m, &cost, &pool);
    if (s != BOOK_OK)
        return s;
    out->all = st_cost_of_ml(pool.per_ml, pool.known, lot_ml(lot, m));
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

enum book_status st_cost_of_batch(const struct st_batch_ask *a, const struct book_lot *lot, struct st_cost_price *out)
{
    struct st_batch_ask deeper = *a;
    struct st_batch_moment then;
    struct book_batch batch;
    enum book_status s = st_batch_lot_moment(a, lot, &then); /* of bottles when they were filled */
    if (s == BOOK_OK)
        s = book_get(a->book, BOOK_BATCH, lot->from_batch, a->arena, &batch);
    if (s != BOOK_OK)
        return s;
    if (++deeper.deep > ST_BATCH_DEEP) {
        out->code = batch.code;
        (void)snprintf(out->why, sizeof out->why, "more than %d batches lie behind it", ST_BATCH_DEEP);
        return s;
    }
    deeper.until = then.day ? &then : NULL;
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
        st_text_put(o, "%sof %d line%s no lot is told (%s", then, c->n_no_lot, c->n_no_lot > 1 ? "s" : "", c->no_lot);
        if (c->n_no_lot > 1)
            st_text_put(o, ", and %d more", c->n_no_lot - 1);
        st_text_put(o, ")");
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

/* Bottles of other fillings, where what was in the drink on their days was not the same. */
static bool fillings_differ(const struct st_batch_cost *c)
{
    for (int i = 1; i < c->n_filled; i++) {
        const struct st_batch_cost_filled *x = &c->filled[0], *y = &c->filled[i];
        const double a = x->bottle.value * y->bottle_ml, b = y->bottle.value * x->bottle_ml;
        if (fabs(a - b) > 1e-6 * fabs(a))
            return true;
    }
    return false;
}

static void other_fillings(struct st_text_room *o, const struct st_batch_cost *c)
{
    enum { TOLD = 4 };
    if (!c->bottle.known || !fillings_differ(c))
        return;
    st_text_put(o, " (%.40s)", c->filled[0].code);
    for (int i = 1; i < c->n_filled && i < TOLD; i++) {
        st_text_put(o, ", ");
        st_reach_money(o, &c->filled[i].bottle, c->currency);
        put_ml(o, " a bottle of", c->filled[i].bottle_ml, 4, "");
        st_text_put(o, " (%.40s)", c->filled[i].code);
    }
    if (c->n_filled > TOLD)
        st_text_put(o, ", and %d fillings more", c->n_filled - TOLD);
}

/* By what a bottle and a pour are reckoned. */
static void basis(struct st_text_room *o, const struct st_batch_cost *c)
{
    if (!c->left_ml.known) {
        st_text_put(o, "; of a bottle or a pour not known: what there is still is not");
        return;
    }
    st_text_put(o, "; each by its share of what was in the drink on its day:");
    if (c->bottled)
        put_ml(o, "", c->filled_ml, 4, " bottled,");
    if (c->poured_ml > 0.0)
        put_ml(o, "", c->poured_ml, 4, " poured or drawn off,");
    put_ml(o, "", c->left_ml.value, 3, " still there");
    if (c->left.known && c->left_ml.value > 0.0) {
        st_text_put(o, " (");
        st_reach_money(o, &c->left, c->currency);
        st_text_put(o, ")");
    }
    st_text_put(o, "; what was lost or added is borne by what was there then");
    if (c->left.known && !(c->left_ml.value > 0.0) && c->left.value >= 0.005) {
        st_text_put(o, "; ");
        st_reach_money(o, &c->left, c->currency);
        st_text_put(o, " of it lay in what nobody bottled, and no bottle bears that");
    }
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
        other_fillings(&o, c);
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

static json_t *fillings(const struct st_batch_cost *c)
{
    json_t *all = json_array();
    for (int i = 0; i < c->n_filled; i++)
        json_array_append_new(all, json_pack("{s:s, s:f, s:o}", "code", c->filled[i].code, "bottle_ml",
                                             c->filled[i].bottle_ml, "bottle", range(&c->filled[i].bottle)));
    return all;
}

json_t *st_doc_batch_cost(const struct st_batch_cost *c)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:f, s:f, s:b, s:i, s:i, s:i, s:f, s:f, s:o, s:o, s:o}", "batch",
                     range(&c->batch), "bottle", range(&c->bottle), "pour", range(&c->pour), "at_least",
                     st_doc_number(c->at_least), "currency", st_doc_known(c->currency), "bottle_ml", c->bottle_ml,
                     "serving_ml", c->serving_ml, "bottled", c->bottled, "lots_without_price", c->n_unpriced,
                     "lines_without_lot", c->n_no_lot, "parts_without_lot", c->n_part, "filled_ml", c->filled_ml,
                     "poured_ml", c->poured_ml, "left_ml", range(&c->left_ml), "left", range(&c->left), "fillings",
                     fillings(c));
}
