#include "api/book_batch_alcohol.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_fill.h"
#include "api/book_batch_pour.h"
#include "core/strength.h"
#include "text/line.h"
#include "text/quantity.h"
#include "util/memory.h"

static const double LABEL_U = 0.3 / 1.96, VOLUME_U = 0.01, MEASURE = 0.05; /* common practice, no source */

/* One entry of the account. */
struct entry {
    bool is_lot;
    int64_t id;
    enum st_alcohol_way way;
    double litres, u;
    const char *day; /* "": nobody said */
    bool known;
    bool of_drink; /* of a batch: it went out of the finished drink, into bottles, lost or poured off */
};

/* A line of a recipe with a spirit or a wine on it, and all of one recipe. */
struct spirit {
    const char *step;
    int line;
    struct st_amount amount;
    double q; /* % vol */
};
struct spirits {
    const char *text;
    struct spirit *spirit;
    int n;
    enum st_measures measures;
};

struct ledger {
    const struct st_batch_ask *a;
    const char *since, *until;
    struct entry *e;
    int n, room;
    struct book_lot *lot;
    struct book_batch *batch;
    int n_lot, n_batch;
    double *took; /* [n_batch] L that a batch took from lots of which no weighing tells */
    struct st_alcohol *out;
    int room_step, from, to;
    struct spirits *spirits;
    int n_spirits, room_spirits;
    struct st_catalogue *catalogue;
};

/* ---- entries ---- */

static void *grow(const struct st_batch_ask *a, void *old, int n, int *room, size_t size)
{
    if (n < *room)
        return old;
    *room = *room ? 2 * *room : 64;
    void *new = st_arena_alloc(a->arena, (size_t)*room * size);
    if (n)
        memcpy(new, old, (size_t)n * size);
    return new;
}

static void enter(struct ledger *k, struct entry e)
{
    k->e = grow(k->a, k->e, k->n, &k->room, sizeof *k->e);
    if (!e.day)
        e.day = "";
    k->e[k->n++] = e;
}

/* Litres of pure alcohol in so much of a liquid; uncertain by its strength and 1 % of its volume. */
static double litres(double ml, double q, double q_u, double *u)
{
    const double l = ml / 1000.0 * q / 100.0;
    *u = hypot(l * VOLUME_U, ml / 1000.0 * q_u / 100.0);
    return l;
}

/* mL of so much of a lot, by its dim; NAN for pieces. */
static double ml_of(const struct book_lot *lot, double amount, double q)
{
    double rho;
    if (strcmp(lot->dim, "mL") == 0)
        return amount;
    if (strcmp(lot->dim, "g") == 0 && st_spirit_density(q, &rho) >= 0)
        return amount / (rho / 1000.0);
    return (double)NAN;
}

/* ---- lots ---- */

static const struct book_lot *lot_of(const struct ledger *k, int64_t id)
{
    for (int i = 0; i < k->n_lot; i++)
        if (k->lot[i].id == id)
            return &k->lot[i];
    return NULL;
}

/* Share of a spent lot's weight that is liquor, as foreseen of the batch it came from. */
static enum book_status spent_share(const struct ledger *k, const struct book_lot *lot, double *share)
{
    struct book_batch batch;
    struct st_batch_spent spent = { .drained_g = 0.0 };
    struct st_problem p = { .what = "" };
    *share = 0.0;
    if (lot->from_batch == BOOK_NO)
        return BOOK_OK;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    enum book_status s = book_get(k->a->book, BOOK_BATCH, lot->from_batch, k->a->arena, &batch);
    if (s == BOOK_OK)
        s = st_batch_made(k->a, &batch, true, true, m);
    if (s == BOOK_OK && m->told)
        s = st_batch_spent(k->a, &batch, m, NULL, &spent, &p);
    if (s == BOOK_OK && spent.drained_g > 0.0)
        *share = fmin(1.0, spent.liquor_g / spent.drained_g);
    st_batch_made_done(m);
    free(m);
    return s;
}

/* L and u of so much of a lot; known false where its strength or volume is not. */
static enum book_status of_lot(const struct ledger *k, const struct book_lot *lot, double amount, struct entry *e)
{
    double q, share = 1.0;
    enum book_status s = st_batch_lot_strength(k->a, lot, &q);
    if (s == BOOK_OK && strcmp(lot->kind, "spent") == 0)
        s = spent_share(k, lot, &share);
    if (s != BOOK_OK)
        return s;
    const double ml = ml_of(lot, amount * share, isfinite(q) ? q : 0.0);
    e->known = isfinite(q) && isfinite(ml);
    e->litres = e->known ? litres(ml, q, isfinite(lot->strength_u) ? lot->strength_u : LABEL_U, &e->u) : 0.0;
    return BOOK_OK;
}

/* A lot that holds no alcohol by what is known of it is no entry. */
static bool may_hold(const struct book_lot *lot)
{
    return lot->strength_pct_vol > 0.0;
}

static enum book_status enter_lots(struct ledger *k)
{
    for (int i = 0; i < k->n_lot; i++) {
        const struct book_lot *lot = &k->lot[i];
        const bool inside = lot->from_batch != BOOK_NO;
        struct entry e = {
            .is_lot = true, .id = lot->id, .way = inside ? ST_ALC_MOVED_IN : ST_ALC_IN, .day = lot->since
        };
        if (!may_hold(lot))
            continue;
        const enum book_status s = of_lot(k, lot, lot->amount, &e);
        if (s != BOOK_OK)
            return s;
        enter(k, e);
        if (inside) {
            e.is_lot = false;
            e.id = lot->from_batch;
            e.way = ST_ALC_MOVED_OUT;
            e.of_drink = strcmp(lot->kind, "spent") != 0;
            enter(k, e);
        }
    }
    return BOOK_OK;
}

static void step_of(struct ledger *k, const char *lot, int64_t batch, const char *day, double l)
{
    struct st_alcohol *out = k->out;
    out->step = grow(k->a, out->step, out->n_step, &k->room_step, sizeof *out->step);
    for (int i = 0; i < k->n_batch; i++)
        if (k->batch[i].id == batch && strcmp(day, k->since) >= 0 && strcmp(day, k->until) <= 0)
            out->step[out->n_step++] = (struct st_alcohol_step){ lot, k->batch[i].code, day, l };
}

/* Of a spirit, a wine or a liqueur from outside: such a lot may be what the recipe plans.  Spent fruit and what was poured off
 * another batch come on top of it. */
static bool is_planned_kind(const struct ledger *k, const struct book_lot *lot)
{
    const struct st_ingredient *what = st_catalogue_find(k->catalogue, lot->slug, strlen(lot->slug));
    if (lot->from_batch != BOOK_NO || strcmp(lot->kind, "spent") == 0)
        return false;
    return what ? what->kind == ST_KIND_SPIRIT || what->kind == ST_KIND_WINE : strcmp(lot->dim, "mL") == 0;
}

static void took(struct ledger *k, int64_t batch, double l)
{
    for (int i = 0; i < k->n_batch; i++)
        if (k->batch[i].id == batch)
            k->took[i] += l;
}

static enum book_status enter_uses(struct ledger *k)
{
    struct book_lot_use *use;
    int n;
    enum book_status s = book_list(k->a->book, BOOK_LOT_USE, NULL, k->a->arena, &use, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const struct book_lot *lot = lot_of(k, use[i].lot_id);
        const bool batch = use[i].batch_id != BOOK_NO && strcmp(use[i].why, "batch") == 0;
        const bool given = strcmp(use[i].why, "given") == 0 || strcmp(use[i].why, "poured") == 0;
        struct entry e = { .is_lot = true,
                           .id = use[i].lot_id,
                           .way = batch   ? ST_ALC_MOVED_OUT
                                  : given ? ST_ALC_OUT
                                          : ST_ALC_LOST,
                           .day = use[i].on_day };
        if (!lot || !may_hold(lot))
            continue;
        s = of_lot(k, lot, use[i].amount, &e);
        enter(k, e);
        if (batch && use[i].weighing_id == BOOK_NO && e.known && is_planned_kind(k, lot))
            took(k, use[i].batch_id, e.litres);
        if (batch) {
            step_of(k, lot->code, use[i].batch_id, use[i].on_day, e.litres);
            e.is_lot = false;
            e.id = use[i].batch_id;
            e.way = ST_ALC_MOVED_IN;
            enter(k, e);
        }
    }
    return s;
}

/* ---- spirits in batches of which no lot is told ---- */

static bool holds_alcohol(const struct st_line *l)
{
    return l->what && (l->what->kind == ST_KIND_SPIRIT || l->what->kind == ST_KIND_WINE || l->strength.known);
}

/* mL of an amount of a spirit; NAN when it is open or counted. */
static double ml_of_amount(const struct st_amount *x, double q)
{
    double rho;
    if (x->open != ST_CLOSED)
        return (double)NAN;
    if (x->dim == ST_DIM_VOLUME)
        return x->value;
    if (x->dim == ST_DIM_MASS && st_spirit_density(q, &rho) >= 0)
        return x->value / (rho / 1000.0);
    return (double)NAN;
}

/* Read a recipe for its spirits; the same text only once. */
static const struct spirits *spirits_of(struct ledger *k, const char *text)
{
    for (int i = 0; i < k->n_spirits; i++)
        if (strcmp(k->spirits[i].text, text) == 0)
            return &k->spirits[i];
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    struct spirits x = { .text = text };
    int room = 0;
    if (*text && st_batch_made_of(k->a, text, false, m)) {
        const struct st_recipe *r = &m->file.recipe;
        for (int st = 0; st < r->n_step; st++)
            for (int i = 0; i < r->step[st].n_line; i++) {
                const struct st_line *l = &r->step[st].line[i];
                if (!holds_alcohol(l))
                    continue;
                x.spirit = grow(k->a, x.spirit, x.n, &room, sizeof *x.spirit);
                x.spirit[x.n++] = (struct spirit){ st_arena_strdup(k->a->arena, r->step[st].id), i + 1, l->amount,
                                                   l->strength.known         ? l->strength.value
                                                   : l->what->strength.known ? l->what->strength.value
                                                                             : (double)NAN };
            }
        x.measures = r->measures;
    }
    st_batch_made_done(m);
    free(m);
    k->spirits = grow(k->a, k->spirits, k->n_spirits, &k->room_spirits, sizeof *k->spirits);
    k->spirits[k->n_spirits] = x;
    return &k->spirits[k->n_spirits++];
}

/* covered: L of it that lots gave already; the rest is an entry when it is more than a measure may be wrong by. */
static void enter_spirit(struct ledger *k, const struct book_batch *batch, double q, const struct st_amount *x,
                         const char *day, double *covered)
{
    struct entry e = { .id = batch->id, .way = ST_ALC_IN, .day = day };
    const double ml = isfinite(q) ? ml_of_amount(x, q) : (double)NAN;
    e.known = isfinite(ml);
    e.litres = e.known ? litres(ml, q, LABEL_U, &e.u) : 0.0;
    if (!e.known && *covered > 0.0)
        return; /* "until covered", and what was poured is told by its lot */
    const double whole = e.litres, by_lots = fmin(*covered, whole);
    *covered -= by_lots;
    e.litres -= by_lots;
    if (by_lots > 0.0 && e.litres <= MEASURE * whole)
        return;
    enter(k, e);
    if (e.known)
        step_of(k, "", batch->id, day, e.litres);
}

/* Planned where nothing was weighed of it; else what was weighed without a lot. */
static void enter_line(struct ledger *k, const struct book_batch *batch, const struct spirits *of,
                       const struct spirit *l, const struct book_weighing w[], int n, double *covered)
{
    bool weighed = false;
    double none = 0.0;
    for (int i = 0; i < n; i++) {
        struct st_amount x;
        struct st_problem why;
        size_t used;
        if (w[i].line != l->line || strcmp(w[i].step, l->step) != 0)
            continue;
        weighed = true;
        if (w[i].lot_id == BOOK_NO &&
            st_quantity_parse(w[i].words, strlen(w[i].words), of->measures, &x, &used, &why) == 0)
            enter_spirit(k, batch, l->q, &x, w[i].on_day, &none);
    }
    if (!weighed)
        enter_spirit(k, batch, l->q, &l->amount, batch->begun_on, covered);
}

/* What is not in the recipe, and of no lot: "100 mL vodka 40 %". */
static void enter_added(struct ledger *k, const struct book_batch *batch, enum st_measures measures,
                        const struct book_weighing *w)
{
    struct st_line l;
    struct st_problem p = { .what = "" };
    double none = 0.0;
    if (w->line != 0 || w->lot_id != BOOK_NO || st_line_parse(w->words, measures, k->catalogue, &l, &p) != 0 ||
        !holds_alcohol(&l))
        return;
    const double q = l.strength.known         ? l.strength.value
                     : l.what->strength.known ? l.what->strength.value
                                              : (double)NAN;
    enter_spirit(k, batch, q, &l.amount, w->on_day, &none);
}

static enum book_status enter_spirits(struct ledger *k, int at)
{
    const struct book_batch *batch = &k->batch[at];
    struct book_weighing *w;
    int n;
    const struct spirits *of = spirits_of(k, batch->text);
    const struct book_wanted own = { .column = "batch_id", .integer = batch->id };
    const enum book_status s = book_list(k->a->book, BOOK_WEIGHING, &own, k->a->arena, &w, &n);
    for (int i = 0; s == BOOK_OK && i < of->n; i++)
        enter_line(k, batch, of, &of->spirit[i], w, n, &k->took[at]);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        enter_added(k, batch, of->measures, &w[i]);
    return s;
}

/* ---- bottles and losses ---- */

/* What was foretold of a batch when it was last weighed. */
struct figures {
    double strength, strength_u, volume, volume_u;
    bool measured;
    char read_on[11]; /* the day of the last volume of the drink; "" none */
};

static enum book_status foreseen(const struct ledger *k, int64_t batch, struct figures *f)
{
    struct book_foreseen *x;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch };
    const enum book_status s = book_list(k->a->book, BOOK_FORESEEN, &of, k->a->arena, &x, &n);
    *f = (struct figures){ (double)NAN, (double)NAN, (double)NAN, (double)NAN, false, "" };
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const double u = (x[i].high - x[i].low) / 3.92;
        if (strcmp(x[i].key, "strength_pct_vol") == 0) {
            f->strength = x[i].value;
            f->strength_u = u;
        } else if (strcmp(x[i].key, "volume_ml") == 0) {
            f->volume = x[i].value;
            f->volume_u = u;
        }
    }
    return s;
}

static double sd_of(const struct book_reading *r, enum st_seen usual)
{
    return isfinite(r->sd) ? r->sd : st_seen_usual_sd(usual, r->value);
}

/* The last measurements of the finished drink in the place of what was foretold; what was read while the fruit lay in it, or
 * before something was added, is none. */
static enum book_status measured(const struct ledger *k, const struct book_batch *batch, struct figures *f)
{
    struct book_reading *r;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id, .order = "at" };
    const enum book_status s = book_list(k->a->book, BOOK_READING, &of, k->a->arena, &r, &n);
    if (s != BOOK_OK || n == 0)
        return s;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    const bool whole = *batch->text && st_batch_made_of(k->a, batch->text, false, m);
    for (int i = 0; i < n; i++) {
        if (r[i].doubted == 1 || strncmp(r[i].at, k->until, 10) > 0 ||
            (whole && !st_batch_of_drink(&m->file.recipe, r[i].step)))
            continue;
        if (strcmp(r[i].kind, "strength_pct_vol") == 0) {
            f->strength = r[i].value;
            f->strength_u = sd_of(&r[i], ST_SEEN_STRENGTH);
        } else if (strcmp(r[i].kind, ST_READ_VOLUME) == 0) {
            f->volume = r[i].value;
            f->volume_u = sd_of(&r[i], ST_SEEN_LIQUOR_ML);
            f->measured = true;
            (void)snprintf(f->read_on, sizeof f->read_on, "%.10s", r[i].at);
        }
    }
    st_batch_made_done(m);
    free(m);
    return s;
}

static void enter_out(struct ledger *k, int64_t batch, enum st_alcohol_way way, double ml, double q, double q_u,
                      const char *day)
{
    struct entry e = { .id = batch, .way = way, .day = day, .of_drink = true };
    e.known = isfinite(ml) && isfinite(q);
    e.litres = e.known ? litres(ml, q, isfinite(q_u) ? q_u : LABEL_U, &e.u) : 0.0;
    enter(k, e);
}

/* What was drawn off for a lot is that lot's entry already. */
static bool is_poured(const struct ledger *k, const struct book_loss *loss)
{
    for (int i = 0; i < k->n_lot && strcmp(loss->why, "drawn") == 0; i++)
        if (k->lot[i].from_batch == loss->batch_id && strcmp(st_batch_pour_note(k->a, k->lot[i].code), loss->note) == 0)
            return true;
    return false;
}

static enum book_status enter_gone(struct ledger *k, const struct book_batch *batch)
{
    struct book_bottling *f;
    struct book_loss *l;
    struct figures fig;
    int n = 0;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    enum book_status s = foreseen(k, batch->id, &fig);
    if (s == BOOK_OK)
        s = measured(k, batch, &fig);
    if (s == BOOK_OK)
        s = book_list(k->a->book, BOOK_BOTTLING, &of, k->a->arena, &f, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const bool own = isfinite(f[i].strength_pct_vol);
        enter_out(k, batch->id, ST_ALC_OUT, f[i].size_ml * (double)f[i].count,
                  own ? f[i].strength_pct_vol : fig.strength, own ? LABEL_U : fig.strength_u, f[i].on_day);
    }
    if (s == BOOK_OK)
        s = book_list(k->a->book, BOOK_LOSS, &of, k->a->arena, &l, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const bool own = isfinite(l[i].strength_pct_vol);
        if (is_poured(k, &l[i]))
            continue;
        const double ml = isfinite(l[i].volume_ml) ? l[i].volume_ml : l[i].mass_g; /* a liqueur is near 1 g/mL */
        enter_out(k, batch->id, ST_ALC_LOST, ml, own ? l[i].strength_pct_vol : fig.strength,
                  own ? LABEL_U : fig.strength_u, l[i].on_day);
    }
    return s;
}

/* ---- accounts ---- */

/* Lots before batches, each by its id: the order of the accounts, so that one walk through both does. */
static int by_account(const void *x, const void *y)
{
    const struct entry *a = x, *b = y;
    if (a->is_lot != b->is_lot)
        return a->is_lot ? -1 : 1;
    return (a->id > b->id) - (a->id < b->id);
}

/* The entries of an account: k->from up to k->to. */
static void entries_of(struct ledger *k, const struct st_alcohol_account *x)
{
    const struct entry key = { .is_lot = x->is_lot, .id = x->id };
    k->from = k->to;
    while (k->from < k->n && by_account(&k->e[k->from], &key) < 0)
        k->from++;
    for (k->to = k->from; k->to < k->n && by_account(&k->e[k->to], &key) == 0; k->to++)
        ;
}

static void sum_up(struct ledger *k, struct st_alcohol_account *x, double *var)
{
    static const double SIGN[ST_ALC_WAYS] = { 1.0, 1.0, -1.0, -1.0, -1.0, -1.0 };
    entries_of(k, x);
    for (int i = k->from; i < k->to; i++) {
        const struct entry *e = &k->e[i];
        if (strcmp(e->day, k->until) > 0)
            continue;
        x->unknown += !e->known;
        if (e->way != ST_ALC_MOVED_IN && e->way != ST_ALC_MOVED_OUT)
            *var += e->u * e->u;
        if (strcmp(e->day, k->since) < 0)
            x->opening += SIGN[e->way] * e->litres;
        else
            x->way[e->way] += e->litres;
    }
    x->closing = x->opening;
    for (int w = 0; w < ST_ALC_WAYS; w++)
        x->closing += SIGN[w] * x->way[w];
    if (x->over && !x->is_lot) { /* nothing of it stands any more */
        x->way[ST_ALC_KEPT] = x->closing;
        x->closing = 0.0;
    }
}

static bool moved(const struct st_alcohol_account *x)
{
    bool any = fabs(x->opening) > 5e-7 || x->unknown > 0;
    for (int w = 0; w < ST_ALC_WAYS; w++)
        any = any || fabs(x->way[w]) > 5e-7;
    return any;
}

/* Whether an entry is later than the volume that was read.  Of one day: a drink is measured, then bottled; what was lost that
 * day was gone when it was measured. */
static bool is_later(const struct entry *e, const char *read_on)
{
    const int day = strcmp(e->day, read_on);
    return e->way == ST_ALC_OUT ? day >= 0 : day > 0;
}

/* What must be in the jar: the last volume that was read, and its strength.  Nobody knows it where no volume was read. */
static enum book_status find(struct ledger *k, const struct book_batch *batch, struct st_alcohol_account *x)
{
    struct figures f;
    if (x->over)
        return BOOK_OK;
    enum book_status s = foreseen(k, batch->id, &f);
    if (s == BOOK_OK)
        s = measured(k, batch, &f);
    x->measured = f.measured;
    if (!f.measured)
        f.volume = (double)NAN;
    x->found = f.volume / 1000.0 * f.strength / 100.0;
    x->found_u = hypot(f.volume_u / 1000.0 * f.strength / 100.0, f.volume / 1000.0 * f.strength_u / 100.0);
    memcpy(x->read_on, f.read_on, sizeof x->read_on);
    return s;
}

/* ... less what went out of it since then, up to the last day. */
static void less_what_went(const struct ledger *k, struct st_alcohol_account *x)
{
    for (int i = k->from; i < k->to && !x->over; i++)
        if (k->e[i].of_drink && strcmp(k->e[i].day, k->until) <= 0 && is_later(&k->e[i], x->read_on))
            x->found -= k->e[i].litres;
    if (x->found < 0.0)
        x->found = 0.0;
}

static void total(struct st_alcohol *out, const struct st_alcohol_account *x)
{
    out->opening += x->opening;
    out->in += x->way[ST_ALC_IN];
    out->out += x->way[ST_ALC_OUT];
    out->lost += x->way[ST_ALC_LOST];
    out->kept += x->way[ST_ALC_KEPT];
    out->closing += x->closing;
    out->unknown += x->unknown;
    if (x->is_lot)
        out->found += x->closing;
    else if (isfinite(x->found)) {
        out->found += x->found;
        out->found_u += x->found_u; /* batches of one recipe are wrong together */
    } else {
        out->not_found++;
        out->unfound += x->closing;
    }
}

static const char *whence(const struct ledger *k, const struct book_lot *lot)
{
    for (int i = 0; i < k->n_batch; i++)
        if (k->batch[i].id == lot->from_batch)
            return k->batch[i].code;
    return lot->bought_at;
}

/* Over before the first day. */
static bool is_past(const struct ledger *k, const struct book_batch *batch)
{
    return batch->ended_on && strcmp(batch->ended_on, k->since) < 0;
}

static bool is_over(const struct ledger *k, const char *ended)
{
    return ended && strcmp(ended, k->until) <= 0;
}

/* Sum it up, and keep it when anything moved. */
static void keep(struct ledger *k, const struct st_alcohol_account *of, double *var)
{
    struct st_alcohol_account x = *of;
    sum_up(k, &x, var);
    if (!x.is_lot)
        less_what_went(k, &x);
    if (!moved(&x))
        return;
    total(k->out, &x);
    k->out->account[k->out->n++] = x;
}

static enum book_status settle(struct ledger *k)
{
    struct st_alcohol *out = k->out;
    double var = 0.0;
    enum book_status s = BOOK_OK;
    if (k->n)
        qsort(k->e, (size_t)k->n, sizeof *k->e, by_account);
    out->account = st_arena_alloc(k->a->arena, (size_t)(k->n_lot + k->n_batch + 1) * sizeof *out->account);
    for (int i = 0; i < k->n_lot; i++) {
        const struct book_lot *lot = &k->lot[i];
        keep(k,
             &(struct st_alcohol_account){ .is_lot = true,
                                           .id = lot->id,
                                           .code = lot->code,
                                           .name = lot->name,
                                           .whence = whence(k, lot),
                                           .over = is_over(k, lot->ended_on) },
             &var);
    }
    for (int i = 0; i < k->n_batch && s == BOOK_OK; i++) {
        const struct book_batch *batch = &k->batch[i];
        struct st_alcohol_account x = {
            .id = batch->id, .code = batch->code, .name = batch->name, .whence = "", .over = is_over(k, batch->ended_on)
        };
        if (is_past(k, batch))
            continue;
        s = find(k, batch, &x);
        keep(k, &x, &var);
    }
    out->u = sqrt(var);
    return s;
}

enum book_status st_batch_alcohol(const struct st_batch_ask *a, const char *since, const char *until,
                                  struct st_alcohol *out)
{
    struct ledger k = { .a = a, .since = since ? since : "", .until = until ? until : "9999-12-31", .out = out };
    memset(out, 0, sizeof *out);
    k.catalogue = a->catalogue();
    if (!k.catalogue)
        return BOOK_E_SYSTEM;
    enum book_status s = book_list(a->book, BOOK_LOT, NULL, a->arena, &k.lot, &k.n_lot);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_BATCH, NULL, a->arena, &k.batch, &k.n_batch);
    if (s == BOOK_OK)
        k.took = st_arena_alloc(a->arena, (size_t)(k.n_batch + 1) * sizeof *k.took);
    if (s == BOOK_OK)
        s = enter_lots(&k);
    if (s == BOOK_OK)
        s = enter_uses(&k);
    for (int i = 0; s == BOOK_OK && i < k.n_batch; i++) {
        if (is_past(&k, &k.batch[i]))
            continue;
        s = enter_spirits(&k, i);
        if (s == BOOK_OK)
            s = enter_gone(&k, &k.batch[i]);
    }
    if (s == BOOK_OK)
        s = settle(&k);
    st_catalogue_free(k.catalogue);
    return s;
}

double st_alcohol_gap(const struct st_alcohol *x)
{
    const double gap = x->closing - x->unfound - x->found;
    return fabs(gap) < 5e-10 ? 0.0 : gap; /* rounding, and no minus before nought */
}
