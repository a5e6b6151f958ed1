#include "api/book_batch_alcohol.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_alcohol_inside.h"

static const double SIGN[ST_ALC_WAYS] = { 1.0, 1.0, -1.0, -1.0, -1.0, -1.0, -1.0 };

/* ---- the entries of an account ---- */

/* Lots before batches, each by its id: the order of the accounts, so that one walk through both does. */
static int by_account(const void *x, const void *y)
{
    const struct st_alcohol_entry *a = x, *b = y;
    if (a->is_lot != b->is_lot)
        return a->is_lot ? -1 : 1;
    return (a->id > b->id) - (a->id < b->id);
}

/* They are k->from up to k->to. */
static void entries_of(struct st_alcohol_ledger *k, const struct st_alcohol_account *x)
{
    const struct st_alcohol_entry key = { .is_lot = x->is_lot, .id = x->id };
    k->from = k->to;
    while (k->from < k->n && by_account(&k->e[k->from], &key) < 0)
        k->from++;
    for (k->to = k->from; k->to < k->n && by_account(&k->e[k->to], &key) == 0; k->to++)
        ;
}

static bool is_in_time(const struct st_alcohol_ledger *k, const struct st_alcohol_entry *e)
{
    return strcmp(e->day, k->until) <= 0;
}

/* An account in the making: its sums' doubts, kept apart. */
struct making {
    struct st_alcohol_account x;
    struct st_alcohol_doubts of[ST_ALC_SUMS], kept, missing;
};

static void add(struct making *m, enum st_alcohol_way w, double sign, const struct st_alcohol_entry *e)
{
    m->x.sum.l[w] += sign * e->litres;
    st_alcohol_doubts_add(&m->of[w], e->doubt, ST_ALCOHOL_DOUBTS, sign);
}

static void sum_up(struct st_alcohol_ledger *k, struct making *m)
{
    struct st_alcohol_account *x = &m->x;
    entries_of(k, x);
    for (int i = k->from; i < k->to; i++) {
        const struct st_alcohol_entry *e = &k->e[i];
        const bool before = strcmp(e->day, k->since) < 0;
        const enum st_alcohol_way w = before ? ST_ALC_OPENING : e->way;
        if (!is_in_time(k, e))
            continue;
        if (!e->known) {
            x->unknown++;
            x->sum.unsure |= 1u << ST_ALC_CLOSING | 1u << w;
        }
        k->out->unknown += !e->known && e->way != ST_ALC_MOVED_IN; /* what moved inside stands in two accounts */
        add(m, w, before ? SIGN[e->way] : 1.0, e);
        add(m, ST_ALC_CLOSING, SIGN[e->way], e);
        if (w == ST_ALC_MOVED_IN || w == ST_ALC_MOVED_OUT)
            add(m, ST_ALC_MOVED, SIGN[w], e);
    }
    if (x->sum.unsure & (1u << ST_ALC_MOVED_IN | 1u << ST_ALC_MOVED_OUT))
        x->sum.unsure |= 1u << ST_ALC_MOVED;
}

/* Whether an entry is later than the volume that was read.  Of one day: a drink is measured, then bottled; what was lost that
 * day was gone when it was measured. */
static bool is_later(const struct st_alcohol_entry *e, const char *read_on)
{
    const int day = strcmp(e->day, read_on);
    return e->way == ST_ALC_OUT ? day >= 0 : day > 0;
}

/* ---- what is there, and what was kept ---- */

static bool is_found(const struct st_alcohol_account *x)
{
    return x->over || isfinite(x->sum.l[ST_ALC_FOUND]);
}

/* What must be in the jar: the last volume that was read, and its strength, less what went out of it since then. */
static enum book_status find(struct st_alcohol_ledger *k, int at, struct making *m)
{
    const struct st_alcohol_figures *f;
    struct st_alcohol_account *x = &m->x;
    const enum book_status s = st_alcohol_figures(k, at, &f);
    x->sum.l[ST_ALC_FOUND] = (double)NAN;
    if (s != BOOK_OK || x->over || !isfinite(f->volume) || !isfinite(f->strength))
        return s;
    memcpy(x->read_on, f->read_on, sizeof x->read_on);
    x->sum.l[ST_ALC_FOUND] = f->volume / 1000.0 * f->strength / 100.0;
    const struct st_alcohol_doubt own[] = {
        { f->cause, f->volume / 1000.0 * f->strength_u / 100.0 },
        { st_alcohol_cause(k, ST_ALC_OF_VOLUME, at), f->volume_u / 1000.0 * f->strength / 100.0 },
    };
    st_alcohol_doubts_add(&m->of[ST_ALC_FOUND], own, 2, 1.0);
    for (int i = k->from; i < k->to; i++)
        if (k->e[i].of_drink && is_in_time(k, &k->e[i]) && is_later(&k->e[i], x->read_on))
            add(m, ST_ALC_FOUND, -1.0, &k->e[i]);
    x->sum.l[ST_ALC_FOUND] = fmax(0.0, x->sum.l[ST_ALC_FOUND]);
    return s;
}

/* What of a kind of keeping stands in entries. */
static double entered(const struct st_alcohol_ledger *k, enum st_alcohol_kind kind)
{
    double sum = 0.0;
    for (int i = k->from; i < k->to; i++)
        if (k->e[i].kind == kind && is_in_time(k, &k->e[i]))
            sum += k->e[i].litres;
    return sum;
}

/* What lies in the drink still is as doubtful as the spent fruit was that brought it: the same liquor, wrong together. */
static void doubt_lying(const struct st_alcohol_ledger *k, double lying, struct making *m)
{
    double brought = 0.0;
    for (int pass = 0; pass < 2; pass++)
        for (int i = k->from; i < k->to; i++) {
            const struct st_alcohol_entry *e = &k->e[i];
            if (e->way != ST_ALC_MOVED_IN || !e->known || !(e->doubt[2].u > 0.0) || !is_in_time(k, e))
                continue;
            if (pass == 0)
                brought += e->litres;
            else if (brought > 0.0)
                st_alcohol_doubts_add(&m->kept, e->doubt, ST_ALCOHOL_DOUBTS, fmin(1.0, lying / brought));
        }
}

static enum book_status keeps(struct st_alcohol_ledger *k, int at, struct making *m)
{
    const struct st_alcohol_told *t;
    const enum book_status s = st_alcohol_told(k, at, false, &t);
    if (s != BOOK_OK || !t->known)
        return s;
    m->x.kept =
        fmax(0.0, t->fruit - entered(k, ST_ALC_FRUIT)) + fmax(0.0, t->lees - entered(k, ST_ALC_LEES)) + t->lying;
    const struct st_alcohol_doubt kept = { st_alcohol_cause(k, ST_ALC_OF_ALL_KEPT, 0), t->fruit_u + t->lees_u };
    st_alcohol_doubts_add(&m->kept, &kept, 1, 1.0);
    if (t->lying > 0.0)
        doubt_lying(k, t->lying, m);
    m->x.kept_u = st_alcohol_doubts_u(&m->kept);
    return s;
}

/* Of a batch that is over nothing stands any more: what it closed with was kept or is missing. */
static void end(struct making *m)
{
    struct st_alcohol_sums *x = &m->x.sum;
    st_alcohol_doubts_join(&m->of[ST_ALC_KEPT], &m->kept, 1.0);
    st_alcohol_doubts_join(&m->of[ST_ALC_MISSING], &m->of[ST_ALC_CLOSING], 1.0);
    st_alcohol_doubts_join(&m->of[ST_ALC_MISSING], &m->kept, -1.0);
    m->of[ST_ALC_CLOSING].n = 0;
    x->l[ST_ALC_KEPT] = m->x.checked ? m->x.kept : 0.0;
    x->l[ST_ALC_MISSING] = x->l[ST_ALC_CLOSING] - x->l[ST_ALC_KEPT];
    x->l[ST_ALC_CLOSING] = 0.0;
    if (!m->x.checked)
        x->unsure |= 1u << ST_ALC_KEPT | 1u << ST_ALC_MISSING;
    x->unsure &= ~(1u << ST_ALC_CLOSING);
}

/* A batch: find what is missing, where that can be known. */
static enum book_status check(struct st_alcohol_ledger *k, int at, struct making *m)
{
    struct st_alcohol_account *x = &m->x;
    x->kept = x->kept_u = (double)NAN;
    enum book_status s = find(k, at, m);
    if (s == BOOK_OK && is_found(x))
        s = keeps(k, at, m);
    if (s != BOOK_OK)
        return s;
    x->checked = is_found(x) && x->unknown == 0 && isfinite(x->kept);
    if (!x->checked)
        m->kept.n = 0;
    if (x->checked) {
        x->missing = x->sum.l[ST_ALC_CLOSING] - x->kept - (x->over ? 0.0 : x->sum.l[ST_ALC_FOUND]);
        st_alcohol_doubts_join(&m->missing, &m->of[ST_ALC_CLOSING], 1.0);
        st_alcohol_doubts_join(&m->missing, &m->kept, -1.0);
        st_alcohol_doubts_join(&m->missing, &m->of[ST_ALC_FOUND], -1.0);
        x->missing_u = st_alcohol_doubts_u(&m->missing);
        x->marked = fabs(x->missing) > 1.96 * x->missing_u;
    }
    if (x->over)
        end(m);
    if (!is_found(x)) {
        x->sum.l[ST_ALC_UNFOUND] = x->sum.l[ST_ALC_CLOSING];
        st_alcohol_doubts_join(&m->of[ST_ALC_UNFOUND], &m->of[ST_ALC_CLOSING], 1.0);
    }
    return s;
}

/* ---- all together ---- */

static bool moved(const struct st_alcohol_account *x)
{
    bool any = fabs(x->sum.l[ST_ALC_OPENING]) > 5e-7 || x->unknown > 0;
    for (int w = 0; w < ST_ALC_WAYS; w++)
        any = any || fabs(x->sum.l[w]) > 5e-7;
    return any;
}

static void total_checked(struct st_alcohol *out, const struct st_alcohol_account *x)
{
    out->checked += x->checked;
    out->marked += x->marked;
    out->untold += is_found(x) && !x->checked;
    out->not_found += !is_found(x);
    if (x->checked)
        out->gap += x->missing;
}

static bool is_inside(int w)
{
    return w == ST_ALC_MOVED_IN || w == ST_ALC_MOVED_OUT || w == ST_ALC_MOVED;
}

/* The accounts' sums, but what moved inside. */
static void total(struct st_alcohol *out, struct making *all, struct making *m)
{
    for (int w = 0; w < ST_ALC_SUMS; w++) {
        if (is_inside(w) || isnan(m->x.sum.l[w]))
            continue;
        out->sum.l[w] += m->x.sum.l[w];
        st_alcohol_doubts_join(&all->of[w], &m->of[w], 1.0);
    }
    st_alcohol_doubts_join(&all->missing, &m->missing, 1.0);
    out->sum.unsure |= m->x.sum.unsure;
    if (m->x.sum.unsure & 1u << ST_ALC_CLOSING)
        out->sum.unsure |= 1u << ST_ALC_FOUND | 1u << ST_ALC_UNFOUND;
    if (!m->x.is_lot)
        total_checked(out, &m->x);
}

static void measure(struct making *m, struct st_alcohol_sums *sum)
{
    for (int w = 0; w < ST_ALC_SUMS; w++)
        sum->u[w] = st_alcohol_doubts_u(&m->of[w]);
}

/* Below 0 by more than chance, whatever lacks its strength among what went out. */
static bool closes_below(const struct st_alcohol_sums *x)
{
    const unsigned came = 1u << ST_ALC_OPENING | 1u << ST_ALC_IN | 1u << ST_ALC_MOVED_IN;
    return !(x->unsure & came) && x->l[ST_ALC_CLOSING] + 1.96 * x->u[ST_ALC_CLOSING] < -5e-7;
}

/* Keep it when anything moved. */
static void keep(struct st_alcohol_ledger *k, struct making *all, struct making *m)
{
    if (!moved(&m->x))
        return;
    measure(m, &m->x.sum);
    m->x.below = closes_below(&m->x.sum);
    k->out->n_below += m->x.below;
    total(k->out, all, m);
    k->out->account[k->out->n++] = m->x;
}

/* For the next account: room for doubts stays. */
static void clear(struct making *m, const struct st_alcohol_account *x)
{
    m->x = *x;
    for (int w = 0; w < ST_ALC_SUMS; w++)
        m->of[w].n = 0;
    m->kept.n = m->missing.n = 0;
}

static void done(struct making *m)
{
    for (int w = 0; w < ST_ALC_SUMS; w++)
        st_alcohol_doubts_done(&m->of[w]);
    st_alcohol_doubts_done(&m->kept);
    st_alcohol_doubts_done(&m->missing);
}

/* ---- which accounts ---- */

static const char *whence(const struct st_alcohol_ledger *k, const struct book_lot *lot)
{
    const int at = st_alcohol_batch_at(k, lot->from_batch);
    return at >= 0 ? k->batch[at].code : lot->bought_at;
}

/* Over before the first day. */
static bool is_past(const struct st_alcohol_ledger *k, const struct book_batch *batch)
{
    return batch->ended_on && strcmp(batch->ended_on, k->since) < 0;
}

static bool is_over(const struct st_alcohol_ledger *k, const char *ended)
{
    return ended && strcmp(ended, k->until) <= 0;
}

static void settle_lot(struct st_alcohol_ledger *k, const struct book_lot *lot, struct making *all, struct making *m)
{
    const struct st_alcohol_account x = { .is_lot = true,
                                          .id = lot->id,
                                          .code = lot->code,
                                          .name = lot->name,
                                          .whence = whence(k, lot),
                                          .kept = (double)NAN,
                                          .over = is_over(k, lot->ended_on) };
    clear(m, &x);
    sum_up(k, m);
    m->x.sum.l[ST_ALC_FOUND] = m->x.sum.l[ST_ALC_CLOSING];
    st_alcohol_doubts_join(&m->of[ST_ALC_FOUND], &m->of[ST_ALC_CLOSING], 1.0);
    keep(k, all, m);
}

static enum book_status settle_batch(struct st_alcohol_ledger *k, int at, struct making *all, struct making *m)
{
    const struct book_batch *batch = &k->batch[at];
    const struct st_alcohol_account x = {
        .id = batch->id, .code = batch->code, .name = batch->name, .whence = "", .over = is_over(k, batch->ended_on)
    };
    if (is_past(k, batch))
        return BOOK_OK;
    clear(m, &x);
    sum_up(k, m);
    const enum book_status s = check(k, at, m);
    keep(k, all, m);
    return s;
}

static enum book_status settle(struct st_alcohol_ledger *k)
{
    struct st_alcohol *out = k->out;
    struct making all, one;
    enum book_status s = BOOK_OK;
    memset(&all, 0, sizeof all);
    memset(&one, 0, sizeof one);
    if (k->n)
        qsort(k->e, (size_t)k->n, sizeof *k->e, by_account);
    out->account = st_arena_alloc(k->a->arena, (size_t)(k->n_lot + k->n_batch + 1) * sizeof *out->account);
    for (int i = 0; i < k->n_lot; i++)
        settle_lot(k, &k->lot[i], &all, &one);
    for (int i = 0; i < k->n_batch && s == BOOK_OK; i++)
        s = settle_batch(k, i, &all, &one);
    measure(&all, &out->sum);
    out->below = closes_below(&out->sum);
    out->gap_u = st_alcohol_doubts_u(&all.missing);
    done(&all);
    done(&one);
    return s;
}

/* A batch that was over before the first day still took of the lots that its lines name. */
static bool names_a_lot(const char *text)
{
    return strstr(text, "poured ") || strstr(text, "spent ") || strstr(text, "tincture ");
}

static enum book_status enter_all(struct st_alcohol_ledger *k)
{
    k->of = st_arena_alloc(k->a->arena, (size_t)(k->n_batch + 1) * sizeof *k->of);
    memset(k->of, 0, (size_t)(k->n_batch + 1) * sizeof *k->of);
    k->of_lot = st_arena_alloc(k->a->arena, (size_t)(k->n_lot + 1) * sizeof *k->of_lot);
    memset(k->of_lot, 0, (size_t)(k->n_lot + 1) * sizeof *k->of_lot);
    enum book_status s = st_alcohol_lots(k);
    if (s == BOOK_OK)
        s = st_alcohol_uses(k);
    for (int i = 0; s == BOOK_OK && i < k->n_batch; i++) {
        if (k->tick)
            k->tick(k->arg, i, k->n_batch);
        const bool past = is_past(k, &k->batch[i]);
        if (!past || names_a_lot(k->batch[i].text))
            s = st_alcohol_spirits(k, i);
        if (!past && s == BOOK_OK)
            s = st_alcohol_gone(k, i);
    }
    return s;
}

enum book_status st_batch_alcohol(const struct st_batch_ask *a, const char *since, const char *until,
                                  st_book_tick *tick, void *arg, struct st_alcohol *out)
{
    struct st_catalogue *spare = NULL;
    struct st_batch_ask lending = *a;
    lending.spare = &spare; /* every batch's recipe is read */
    struct st_alcohol_ledger k = {
        .a = &lending, .since = since ? since : "", .until = until ? until : "9999-12-31", .out = out
    };
    memset(out, 0, sizeof *out);
    k.catalogue = a->catalogue();
    if (!k.catalogue)
        return BOOK_E_SYSTEM;
    k.tick = tick;
    k.arg = arg;
    enum book_status s = book_list(a->book, BOOK_LOT, NULL, a->arena, &k.lot, &k.n_lot);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_BATCH, NULL, a->arena, &k.batch, &k.n_batch);
    if (s == BOOK_OK)
        s = enter_all(&k);
    if (s == BOOK_OK)
        s = settle(&k);
    st_alcohol_read_done(&k);
    st_catalogue_free(k.catalogue);
    st_catalogue_free(spare);
    return s;
}

struct st_interval st_alcohol_told_sum(const struct st_alcohol_sums *x, enum st_alcohol_way w)
{
    /* to a billionth of a millilitre: what sums leave over behind that is no alcohol */
    const double l = round(x->l[w] * 1e12) / 1e12 + 0.0, half = 1.96 * x->u[w];
    const bool nothing = (x->unsure & 1u << w) && fabs(l) < 5e-7;
    const bool goes = w < ST_ALC_MISSING && l >= 0.0;
    return (struct st_interval){ l, goes ? fmax(0.0, l - half) : l - half, l + half, ST_OK, isfinite(l) && !nothing };
}

struct st_interval st_alcohol_kept(const struct st_alcohol_account *x)
{
    return (struct st_interval){ x->kept, fmax(0.0, x->kept - 1.96 * x->kept_u), x->kept + 1.96 * x->kept_u, ST_OK,
                                 isfinite(x->kept) };
}
