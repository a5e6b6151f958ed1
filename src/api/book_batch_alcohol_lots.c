#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_alcohol_inside.h"
#include "api/book_batch_fill.h"
#include "api/book_batch_rest.h"
#include "core/strength.h"
#include "util/memory.h"

/* ---- how much is in it ---- */

/* mL of liquor in so much of a lot, by its dim; NAN for pieces. */
static double ml_of(const struct book_lot *lot, double amount, const struct st_alcohol_lot *l)
{
    double rho = 1000.0 * l->g_ml;
    if (strcmp(lot->dim, "mL") == 0)
        return amount * l->share;
    if (strcmp(lot->dim, "g") != 0 || !isfinite(l->q) || (rho == 0.0 && st_spirit_density(l->q, &rho) < 0))
        return (double)NAN;
    return amount * l->share / (rho / 1000.0);
}

/* Spent fruit: as foreseen of the batch it came from; share 0 where nothing is known. */
static enum book_status spent(struct st_alcohol_ledger *k, const struct book_lot *lot, struct st_alcohol_lot *l)
{
    struct st_batch_spent x = { .drained_g = 0.0 };
    struct st_problem p = { .what = "" };
    const struct st_alcohol_told *t;
    const int at = st_alcohol_batch_at(k, lot->from_batch);
    l->share = 0.0;
    if (at < 0)
        return BOOK_OK;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    struct st_batch_ask few = *k->a;
    few.draws = 0; /* only the balance is asked for */
    enum book_status s = st_batch_made(&few, &k->batch[at], true, true, m);
    if (s == BOOK_OK && m->told)
        s = st_batch_spent_lot(k->a, &k->batch[at], m, lot, &x, &p);
    st_batch_made_done(m);
    free(m);
    if (s == BOOK_OK)
        s = st_alcohol_told(k, at, true, &t);
    if (s != BOOK_OK || !x.step || !(x.drained_g > 0.0))
        return s;
    l->share = fmin(1.0, x.liquor_g / x.drained_g);
    l->share_u = t->known && t->fruit > 0.0 ? t->fruit_u / t->fruit : 0.0;
    if (!isfinite(l->q))
        l->q = x.strength_pct_vol;
    for (int i = 0; i < t->n_step; i++)
        if (strcmp(t->step[i].step, x.step) == 0)
            l->g_ml = t->step[i].g_ml;
    return s;
}

/* A drink that was taken off a batch without a word of its strength: that of the drink. */
static enum book_status drawn(struct st_alcohol_ledger *k, const struct book_lot *lot, struct st_alcohol_lot *l)
{
    const struct st_alcohol_figures *f;
    const struct st_batch_moment then = { .table = BOOK_LOT, .id = lot->id, .day = lot->since };
    struct st_interval q = { .known = false };
    const int at = st_alcohol_batch_at(k, lot->from_batch);
    enum book_status s = at >= 0 ? st_alcohol_figures(k, at, &f) : BOOK_OK;
    if (at >= 0 && s == BOOK_OK && isfinite(f->strength)) {
        l->q = f->strength;
        l->q_u = isfinite(f->strength_u) ? f->strength_u : ST_ALCOHOL_LABEL_U;
        l->cause = f->cause;
    }
    if (at >= 0 && s == BOOK_OK && lot->since) /* what was added to it later is not in it */
        s = st_batch_strength_then(k->a, &k->batch[at], &then, &q);
    if (q.known) {
        l->q = q.value;
        l->q_u = (q.high - q.low) / 3.92;
        l->cause = st_alcohol_cause(k, ST_ALC_OF_ALL_STRENGTHS, 0);
    }
    return s;
}

static enum book_status liquid_of(struct st_alcohol_ledger *k, const struct book_lot *lot, struct st_alcohol_lot *l)
{
    if (l->has_liquid)
        return BOOK_OK;
    l->has_liquid = true;
    l->q_u = isfinite(lot->strength_u) ? lot->strength_u : ST_ALCOHOL_LABEL_U;
    l->share = 1.0;
    l->cause = st_alcohol_cause(k, ST_ALC_OF_LOT_STRENGTH, (int)(lot - k->lot));
    if (strcmp(lot->kind, "spent") == 0)
        return spent(k, lot, l);
    return isfinite(l->q) ? BOOK_OK : drawn(k, lot, l);
}

/* L of so much of a lot; known false where its strength or volume is not.  measured: whose doubt the amount is. */
static enum book_status of_lot(struct st_alcohol_ledger *k, const struct book_lot *lot, double amount,
                               enum st_alcohol_cause measured, struct st_alcohol_entry *e)
{
    const int at = (int)(lot - k->lot);
    struct st_alcohol_lot *l = &k->of_lot[at];
    const enum book_status s = liquid_of(k, lot, l);
    if (s != BOOK_OK)
        return s;
    const double ml = ml_of(lot, amount, l);
    e->known = isfinite(l->q) && isfinite(ml) && l->share > 0.0;
    if (!e->known)
        return BOOK_OK;
    const struct st_alcohol_liquid x = {
        .ml = ml, .q = l->q, .q_u = l->q_u, .of_q = l->cause, .of_ml = st_alcohol_cause(k, measured, at)
    };
    st_alcohol_litres(&x, e);
    e->doubt[2] = (struct st_alcohol_doubt){ st_alcohol_cause(k, ST_ALC_OF_LOT_SHARE, at), e->litres * l->share_u };
    return BOOK_OK;
}

static bool is_spirit(const struct st_ingredient *what)
{
    return what->kind == ST_KIND_SPIRIT || what->kind == ST_KIND_WINE;
}

/* Whether nothing is known that speaks against alcohol: a spirit, a wine, what came of a batch; a liquid that the sheet does not
 * know, unless it was told for its sugar or acid, as a syrup or a juice is. */
static bool may_be_strong(const struct st_alcohol_ledger *k, const struct book_lot *lot)
{
    const struct st_ingredient *what = st_catalogue_find(k->catalogue, lot->slug, strlen(lot->slug));
    if (lot->from_batch != BOOK_NO)
        return true;
    return what ? is_spirit(what)
                : strcmp(lot->dim, "mL") == 0 && !isfinite(lot->sugar_g_l) && !isfinite(lot->acid_g_l);
}

/* A lot that holds no alcohol by what is known of it is no entry. */
static enum book_status may_hold(struct st_alcohol_ledger *k, const struct book_lot *lot, bool *may)
{
    struct st_alcohol_lot *l = &k->of_lot[lot - k->lot];
    const enum book_status s = l->has ? BOOK_OK : st_batch_lot_strength(k->a, lot, &l->q);
    if (!l->has && s == BOOK_OK)
        l->strong = isfinite(l->q) ? l->q > 0.0 : may_be_strong(k, lot);
    l->has = s == BOOK_OK;
    *may = l->strong;
    return s;
}

/* ---- lots ---- */

static enum book_status enter_lot(struct st_alcohol_ledger *k, const struct book_lot *lot)
{
    const bool inside = lot->from_batch != BOOK_NO, spent = strcmp(lot->kind, "spent") == 0;
    struct st_alcohol_entry e = {
        .is_lot = true, .id = lot->id, .way = inside ? ST_ALC_MOVED_IN : ST_ALC_IN, .day = lot->since
    };
    const enum book_status s = of_lot(k, lot, lot->amount, ST_ALC_OF_LOT_AMOUNT, &e);
    if (s != BOOK_OK)
        return s;
    st_alcohol_enter(k, e);
    if (!inside)
        return BOOK_OK;
    e.is_lot = false;
    e.id = lot->from_batch;
    e.way = ST_ALC_MOVED_OUT;
    e.kind = spent ? ST_ALC_FRUIT : ST_ALC_PLAIN;
    e.of_drink = !spent;
    st_alcohol_enter(k, e);
    return BOOK_OK;
}

enum book_status st_alcohol_lots(struct st_alcohol_ledger *k)
{
    enum book_status s = BOOK_OK;
    for (int i = 0; i < k->n_lot && s == BOOK_OK; i++) {
        bool may = false;
        s = may_hold(k, &k->lot[i], &may);
        if (s == BOOK_OK && may)
            s = enter_lot(k, &k->lot[i]);
    }
    return s;
}

/* ---- what was taken of them ---- */

/* What left a lot goes into a batch. */
static void enter_step(struct st_alcohol_ledger *k, const struct book_lot *lot, int64_t batch,
                       struct st_alcohol_entry e)
{
    st_alcohol_step(k, lot->code, batch, &e);
    e.is_lot = false;
    e.id = batch;
    e.way = ST_ALC_MOVED_IN;
    st_alcohol_enter(k, e);
}

/* Of a spirit, a wine or a liqueur from outside: such a lot may be what the recipe plans.  Spent fruit and what was poured off
 * another batch come on top of it. */
static bool is_planned_kind(const struct st_alcohol_ledger *k, const struct book_lot *lot)
{
    const struct st_ingredient *what = st_catalogue_find(k->catalogue, lot->slug, strlen(lot->slug));
    if (lot->from_batch != BOOK_NO || strcmp(lot->kind, "spent") == 0)
        return false;
    return what ? is_spirit(what) : strcmp(lot->dim, "mL") == 0;
}

static enum book_status enter_use(struct st_alcohol_ledger *k, const struct book_lot *lot,
                                  const struct book_lot_use *use)
{
    const int at = strcmp(use->why, "batch") == 0 ? st_alcohol_batch_at(k, use->batch_id) : -1;
    const bool given = strcmp(use->why, "given") == 0 || strcmp(use->why, "poured") == 0;
    struct st_alcohol_entry e = { .is_lot = true,
                                  .id = lot->id,
                                  .way = at >= 0 ? ST_ALC_MOVED_OUT
                                         : given ? ST_ALC_OUT
                                                 : ST_ALC_LOST,
                                  .day = use->on_day };
    const enum book_status s = of_lot(k, lot, use->amount, ST_ALC_OF_LOT_TAKEN, &e);
    if (s != BOOK_OK)
        return s;
    st_alcohol_enter(k, e);
    if (at < 0)
        return BOOK_OK;
    if (use->weighing_id == BOOK_NO && e.known && is_planned_kind(k, lot))
        k->of[at].took += e.litres;
    enter_step(k, lot, use->batch_id, e);
    return BOOK_OK;
}

/* An amount in the measure of a lot; NAN: open, or nobody can turn one into the other. */
static double in_measure_of(const struct book_lot *lot, const struct st_amount *x, const struct st_alcohol_lot *l)
{
    const bool ml = strcmp(lot->dim, "mL") == 0, g = strcmp(lot->dim, "g") == 0;
    double rho = 1000.0 * l->g_ml;
    if (x->open != ST_CLOSED || !(ml || g))
        return (double)NAN;
    if (x->dim == (ml ? ST_DIM_VOLUME : ST_DIM_MASS))
        return x->value;
    if ((x->dim != ST_DIM_VOLUME && x->dim != ST_DIM_MASS) || !isfinite(l->q) ||
        (rho == 0.0 && st_spirit_density(l->q, &rho) < 0))
        return (double)NAN;
    return ml ? x->value / (rho / 1000.0) : x->value * (rho / 1000.0);
}

enum book_status st_alcohol_by_line(struct st_alcohol_ledger *k, int lot, int at, const struct st_amount *x,
                                    const char *day)
{
    const struct book_lot *of = &k->lot[lot];
    struct st_alcohol_entry e = { .is_lot = true, .id = of->id, .way = ST_ALC_MOVED_OUT, .day = day, .by_line = true };
    bool may = false;
    enum book_status s = may_hold(k, of, &may);
    if (s == BOOK_OK && may)
        s = liquid_of(k, of, &k->of_lot[lot]);
    if (s != BOOK_OK || !may || (x->open == ST_CLOSED && x->value == 0.0))
        return s;
    s = of_lot(k, of, in_measure_of(of, x, &k->of_lot[lot]), ST_ALC_OF_LOT_TAKEN, &e);
    if (s != BOOK_OK)
        return s;
    st_alcohol_enter(k, e);
    enter_step(k, of, k->batch[at].id, e);
    return BOOK_OK;
}

enum book_status st_alcohol_uses(struct st_alcohol_ledger *k)
{
    struct book_lot_use *use;
    int n;
    enum book_status s = book_list(k->a->book, BOOK_LOT_USE, NULL, k->a->arena, &use, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const int at = st_alcohol_lot_at(k, use[i].lot_id);
        const struct book_lot *lot = at >= 0 ? &k->lot[at] : NULL;
        bool may = false;
        if (lot)
            s = may_hold(k, lot, &may);
        if (s == BOOK_OK && may)
            s = enter_use(k, lot, &use[i]);
    }
    return s;
}
