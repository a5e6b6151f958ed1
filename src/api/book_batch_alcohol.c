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

static void sum_up(struct st_alcohol_ledger *k, struct st_alcohol_account *x)
{
    entries_of(k, x);
    for (int i = k->from; i < k->to; i++) {
        const struct st_alcohol_entry *e = &k->e[i];
        if (!is_in_time(k, e))
            continue;
        if (!e->known) {
            x->unknown++;
            x->unsure |= ST_ALC_CLOSING | (strcmp(e->day, k->since) < 0 ? ST_ALC_OPENING : 1u << e->way);
        }
        k->out->unknown += !e->known && e->way != ST_ALC_MOVED_IN; /* what moved inside stands in two accounts */
        if (strcmp(e->day, k->since) < 0)
            x->opening += SIGN[e->way] * e->litres;
        else
            x->way[e->way] += e->litres;
    }
    x->closing = x->opening;
    for (int w = 0; w < ST_ALC_WAYS; w++)
        x->closing += SIGN[w] * x->way[w];
}

/* Whether an entry is later than the volume that was read.  Of one day: a drink is measured, then bottled; what was lost that
 * day was gone when it was measured. */
static bool is_later(const struct st_alcohol_entry *e, const char *read_on)
{
    const int day = strcmp(e->day, read_on);
    return e->way == ST_ALC_OUT ? day >= 0 : day > 0;
}

/* ---- what is there, and what was kept ---- */

/* What must be in the jar: the last volume that was read, and its strength, less what went out of it since then. */
static enum book_status find(struct st_alcohol_ledger *k, int at, struct st_alcohol_account *x)
{
    const struct st_alcohol_figures *f;
    const enum book_status s = st_alcohol_figures(k, at, &f);
    x->found = x->found_u = (double)NAN;
    if (s != BOOK_OK || x->over || !isfinite(f->volume))
        return s;
    memcpy(x->read_on, f->read_on, sizeof x->read_on);
    x->found = f->volume / 1000.0 * f->strength / 100.0;
    x->found_u = hypot(f->volume_u / 1000.0 * f->strength / 100.0, f->volume / 1000.0 * f->strength_u / 100.0);
    for (int i = k->from; i < k->to; i++)
        if (k->e[i].of_drink && is_in_time(k, &k->e[i]) && is_later(&k->e[i], x->read_on))
            x->found -= k->e[i].litres;
    if (x->found < 0.0)
        x->found = 0.0;
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

static enum book_status keeps(struct st_alcohol_ledger *k, int at, struct st_alcohol_account *x)
{
    const struct st_alcohol_told *t;
    const enum book_status s = st_alcohol_told(k, at, &t);
    if (s != BOOK_OK || !t->known)
        return s;
    x->kept = fmax(0.0, t->fruit - entered(k, ST_ALC_FRUIT)) + fmax(0.0, t->lees - entered(k, ST_ALC_LEES));
    x->kept_u = t->fruit_u + t->lees_u;
    return s;
}

/* Standard uncertainty of all entries: what went out of one batch has one reading of its strength and one measure. */
static double u_of_entries(const struct st_alcohol_ledger *k)
{
    double var = 0.0, sum[ST_ALC_WAYS] = { 0.0 };
    for (int i = k->from; i < k->to; i++) {
        const struct st_alcohol_entry *e = &k->e[i];
        if (!is_in_time(k, e))
            continue;
        if (e->way == ST_ALC_OUT || e->way == ST_ALC_LOST)
            sum[e->way] += e->u;
        else
            var += e->u * e->u;
    }
    return sqrt(var + sum[ST_ALC_OUT] * sum[ST_ALC_OUT] + sum[ST_ALC_LOST] * sum[ST_ALC_LOST]);
}

/* A batch: find what is missing, where that can be known; of one that is over nothing stands any more. */
static enum book_status check(struct st_alcohol_ledger *k, int at, struct st_alcohol_account *x)
{
    x->kept = x->kept_u = (double)NAN;
    enum book_status s = find(k, at, x);
    const bool there = x->over || isfinite(x->found);
    if (s == BOOK_OK && there)
        s = keeps(k, at, x);
    if (s != BOOK_OK)
        return s;
    x->checked = there && x->unknown == 0 && isfinite(x->kept);
    if (x->checked) {
        const double found = x->over ? 0.0 : x->found, found_u = x->over ? 0.0 : x->found_u;
        x->missing = x->closing - x->kept - found;
        x->missing_u = sqrt(pow(u_of_entries(k), 2.0) + x->kept_u * x->kept_u + found_u * found_u);
        x->marked = fabs(x->missing) > 1.96 * x->missing_u;
    }
    if (x->over) {
        x->way[ST_ALC_KEPT] = x->checked ? x->kept : 0.0;
        x->way[ST_ALC_MISSING] = x->closing - x->way[ST_ALC_KEPT];
        x->closing = 0.0;
        if (!x->checked)
            x->unsure |= 1u << ST_ALC_KEPT | 1u << ST_ALC_MISSING;
        x->unsure &= ~(unsigned)ST_ALC_CLOSING;
    }
    return s;
}

/* ---- all together ---- */

static bool moved(const struct st_alcohol_account *x)
{
    bool any = fabs(x->opening) > 5e-7 || x->unknown > 0;
    for (int w = 0; w < ST_ALC_WAYS; w++)
        any = any || fabs(x->way[w]) > 5e-7;
    return any;
}

static void total_checked(struct st_alcohol *out, const struct st_alcohol_account *x, double *var)
{
    const bool there = x->over || isfinite(x->found);
    out->checked += x->checked;
    out->marked += x->marked;
    out->untold += there && !x->checked;
    out->not_found += !there;
    if (x->checked) {
        const double found_u = x->over ? 0.0 : x->found_u;
        out->gap += x->missing;
        out->gap_u += x->kept_u + found_u; /* batches of one recipe are wrong together */
        *var += fmax(0.0, x->missing_u * x->missing_u - x->kept_u * x->kept_u - found_u * found_u);
    }
    if (!x->over && isfinite(x->found))
        out->found += x->found;
    else if (!x->over)
        out->unfound += x->closing;
}

static void total(struct st_alcohol *out, const struct st_alcohol_account *x, double *var)
{
    out->opening += x->opening;
    out->in += x->way[ST_ALC_IN];
    out->out += x->way[ST_ALC_OUT];
    out->lost += x->way[ST_ALC_LOST];
    out->kept += x->way[ST_ALC_KEPT];
    out->missing += x->way[ST_ALC_MISSING];
    out->closing += x->closing;
    out->unsure |= x->unsure;
    if (x->is_lot)
        out->found += x->closing;
    else
        total_checked(out, x, var);
}

/* Keep it when anything moved. */
static void keep(struct st_alcohol_ledger *k, const struct st_alcohol_account *x, double *var)
{
    if (!moved(x))
        return;
    total(k->out, x, var);
    k->out->account[k->out->n++] = *x;
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

static void settle_lot(struct st_alcohol_ledger *k, const struct book_lot *lot, double *var)
{
    struct st_alcohol_account x = { .is_lot = true,
                                    .id = lot->id,
                                    .code = lot->code,
                                    .name = lot->name,
                                    .whence = whence(k, lot),
                                    .kept = (double)NAN,
                                    .over = is_over(k, lot->ended_on) };
    sum_up(k, &x);
    keep(k, &x, var);
}

static enum book_status settle_batch(struct st_alcohol_ledger *k, int at, double *var)
{
    const struct book_batch *batch = &k->batch[at];
    struct st_alcohol_account x = {
        .id = batch->id, .code = batch->code, .name = batch->name, .whence = "", .over = is_over(k, batch->ended_on)
    };
    if (is_past(k, batch))
        return BOOK_OK;
    sum_up(k, &x);
    const enum book_status s = check(k, at, &x);
    keep(k, &x, var);
    return s;
}

static enum book_status settle(struct st_alcohol_ledger *k)
{
    struct st_alcohol *out = k->out;
    double var = 0.0;
    enum book_status s = BOOK_OK;
    if (k->n)
        qsort(k->e, (size_t)k->n, sizeof *k->e, by_account);
    out->account = st_arena_alloc(k->a->arena, (size_t)(k->n_lot + k->n_batch + 1) * sizeof *out->account);
    for (int i = 0; i < k->n_lot; i++)
        settle_lot(k, &k->lot[i], &var);
    for (int i = 0; i < k->n_batch && s == BOOK_OK; i++)
        s = settle_batch(k, i, &var);
    out->gap_u = hypot(out->gap_u, sqrt(var));
    return s;
}

static enum book_status enter_all(struct st_alcohol_ledger *k)
{
    k->of = st_arena_alloc(k->a->arena, (size_t)(k->n_batch + 1) * sizeof *k->of);
    memset(k->of, 0, (size_t)(k->n_batch + 1) * sizeof *k->of);
    enum book_status s = st_alcohol_lots(k);
    if (s == BOOK_OK)
        s = st_alcohol_uses(k);
    for (int i = 0; s == BOOK_OK && i < k->n_batch; i++) {
        if (is_past(k, &k->batch[i]))
            continue;
        s = st_alcohol_spirits(k, i);
        if (s == BOOK_OK)
            s = st_alcohol_gone(k, i);
    }
    return s;
}

enum book_status st_batch_alcohol(const struct st_batch_ask *a, const char *since, const char *until,
                                  struct st_alcohol *out)
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
    enum book_status s = book_list(a->book, BOOK_LOT, NULL, a->arena, &k.lot, &k.n_lot);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_BATCH, NULL, a->arena, &k.batch, &k.n_batch);
    if (s == BOOK_OK)
        s = enter_all(&k);
    if (s == BOOK_OK)
        s = settle(&k);
    st_catalogue_free(k.catalogue);
    st_catalogue_free(spare);
    return s;
}

double st_alcohol_figure(double x, unsigned unsure, unsigned bit)
{
    return (unsure & bit) && fabs(x) < 5e-7 ? (double)NAN : x;
}

struct st_interval st_alcohol_kept(const struct st_alcohol_account *x)
{
    return (struct st_interval){ x->kept, fmax(0.0, x->kept - 1.96 * x->kept_u), x->kept + 1.96 * x->kept_u, ST_OK,
                                 isfinite(x->kept) };
}
