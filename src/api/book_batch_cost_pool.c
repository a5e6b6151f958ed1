/* Who bears what a batch cost: each departure what of the money was in it on its day. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_cost_inside.h"
#include "api/book_batch_rest.h"
#include "api/book_batch_since.h"
#include "util/memory.h"

/* ---- what left ---- */

static double loss_ml(const struct book_loss *l)
{
    return isfinite(l->volume_ml) ? l->volume_ml : isfinite(l->mass_g) ? l->mass_g : 0.0;
}

static void leave(struct st_cost_pool *out, const struct st_batch_moment *at, double ml)
{
    struct st_cost_off *x = &out->off[out->n_off++];
    *x = (struct st_cost_off){ .at = *at, .code = "", .ml = ml };
    if (!x->at.day)
        x->at.day = "9999-12-31"; /* nobody said when: last */
}

/* Bottles, lots and what was drawn off the drink; of what was weighed g count as mL. */
static void all_that_left(const struct st_batch_ask *a, const struct st_batch_past *past, const struct st_recipe *r,
                          struct st_cost_pool *out)
{
    const int most = past->n_filled + past->n_drawn + past->n_loss;
    out->n_off = 0;
    out->off = st_arena_alloc(a->arena, (size_t)(most + 1) * sizeof *out->off);
    for (int i = 0; i < past->n_filled; i++) {
        const struct book_bottling *f = &past->filled[i];
        leave(out, &(struct st_batch_moment){ .table = BOOK_BOTTLING, .id = f->id, .day = f->on_day },
              (double)f->count * f->size_ml);
        out->off[i].code = f->code;
        out->off[i].bottle_ml = f->size_ml;
    }
    for (int i = 0; i < past->n_drawn; i++) {
        const struct book_lot *l = &past->drawn[i];
        leave(out, &(struct st_batch_moment){ .table = BOOK_LOT, .id = l->id, .day = l->since }, l->amount);
    }
    for (int i = 0; r && i < past->n_loss; i++) {
        const struct book_loss *l = &past->loss[i];
        if (strcmp(l->why, "drawn") == 0 && st_batch_of_drink(r, l->step))
            leave(out, &(struct st_batch_moment){ .table = BOOK_LOSS, .id = l->id, .day = l->on_day, .drawn = true },
                  loss_ml(l));
    }
}

static enum book_status put_in_order(const struct st_batch_ask *a, struct st_cost_pool *out)
{
    enum book_status s = BOOK_OK;
    for (int i = 1; i < out->n_off; i++) {
        const struct st_cost_off x = out->off[i];
        int k = i;
        for (; k > 0; k--) {
            bool later = false;
            s = st_batch_later(a, &out->off[k - 1].at, &x.at, &later);
            if (s != BOOK_OK)
                return s;
            if (!later)
                break;
            out->off[k] = out->off[k - 1];
        }
        out->off[k] = x;
    }
    return s;
}

/* ---- one moment ---- */

/* The batch as it was made by a moment: made anew only where something was added between two. */
struct making {
    const struct book_batch *batch;
    const struct st_batch_made *planned, *now;
    const struct st_cost_uses *uses;
    struct st_batch_made *then; /* NULL: not made */
    int n_now, n_then;          /* weighings in it */
};

static enum book_status weighings(const struct st_batch_ask *a, const struct book_batch *batch, int *n)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    const struct book_weighing *w;
    struct book_weighing *row;
    const enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &row, n);
    w = row;
    return s == BOOK_OK ? st_batch_until(a, &w, n) : s;
}

static void drop(struct making *k)
{
    if (k->then)
        st_batch_made_done(k->then);
    free(k->then);
    k->then = NULL;
}

/* *m: as it was at a->until, with n weighings in it. */
static enum book_status made_then(const struct st_batch_ask *a, struct making *k, int n, const struct st_batch_made **m)
{
    enum book_status s = BOOK_OK;
    *m = k->now;
    if (n == k->n_now)
        return s;
    if (!k->then || k->n_then != n) {
        drop(k);
        k->then = x_calloc(1, sizeof *k->then); /* large */
        k->n_then = n;
        s = st_batch_made(a, k->batch, true, true, k->then);
    }
    *m = k->then;
    return s;
}

/* What there is: of a batch that is over, nothing. */
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

/* ---- the walk ---- */

struct walk {
    double money[ST_COST_WAYS], before[ST_COST_WAYS]; /* in the drink; all that came until the moment before */
    double per_ml[ST_COST_WAYS];
    bool known;
};

static void come(struct walk *w, const struct st_range *cost)
{
    const double in[ST_COST_WAYS] = { cost->value, cost->high, cost->low };
    w->known = w->known && cost->known;
    for (int k = 0; k < ST_COST_WAYS; k++) {
        w->money[k] += in[k] - w->before[k];
        w->before[k] = in[k];
    }
}

/* What a mL costs of what is there, at least so many mL; where nothing is, as before. */
static void price(struct walk *w, const struct st_range *ml, double least)
{
    const double there[ST_COST_WAYS] = { ml->value, ml->low, ml->high };
    w->known = w->known && ml->known;
    for (int k = 0; k < ST_COST_WAYS; k++)
        if (fmax(there[k], least) > 0.0)
            w->per_ml[k] = w->money[k] / fmax(there[k], least);
}

static enum book_status walk_to(const struct st_batch_ask *a, struct making *k, struct st_cost_off *off, struct walk *w)
{
    struct st_batch_ask then = *a;
    struct st_batch_cost in = { .currency = "", .unpriced_code = "" };
    const struct st_batch_made *m;
    struct st_range ml;
    then.until = &off->at;
    enum book_status s = weighings(&then, k->batch, &off->n_in);
    if (s == BOOK_OK)
        s = st_cost_in(&then, k->batch, k->planned, k->uses, &in);
    if (s == BOOK_OK)
        s = made_then(&then, k, off->n_in, &m);
    if (s == BOOK_OK)
        s = still_there(&then, k->batch, m, &ml);
    if (s != BOOK_OK)
        return s;
    come(w, &in.batch);
    price(w, &ml, off->ml);
    off->known = w->known;
    for (int i = 0; i < ST_COST_WAYS; i++) {
        off->per_ml[i] = w->per_ml[i];
        w->money[i] -= w->per_ml[i] * off->ml;
    }
    return s;
}

/* What nobody has of a batch that is over is borne by what left since the last addition. */
static void bear_the_rest(struct st_cost_pool *out, struct walk *w, int n_in)
{
    double ml = 0.0;
    for (int i = 0; i < out->n_off; i++)
        ml += out->off[i].n_in == n_in ? out->off[i].ml : 0.0;
    for (int k = 0; k < ST_COST_WAYS && ml > 0.0; k++) {
        const double more = w->money[k] / ml;
        for (int i = 0; i < out->n_off; i++)
            if (out->off[i].n_in == n_in)
                w->per_ml[k] = out->off[i].per_ml[k] += more;
        w->money[k] = 0.0;
    }
}

static enum book_status walk_all(const struct st_batch_ask *a, struct making *k, const struct st_batch_cost *in,
                                 struct st_cost_pool *out, struct st_range *left_ml)
{
    struct walk w = { .known = true };
    enum book_status s = still_there(a, k->batch, k->now, left_ml);
    for (int i = 0; i < out->n_off && s == BOOK_OK; i++)
        s = walk_to(a, k, &out->off[i], &w);
    if (s != BOOK_OK)
        return s;
    come(&w, &in->batch);
    price(&w, left_ml, 0.0);
    if (k->batch->ended_on && !a->until)
        bear_the_rest(out, &w, k->n_now);
    out->known = w.known;
    memcpy(out->per_ml, w.per_ml, sizeof out->per_ml);
    memcpy(out->money, w.money, sizeof out->money);
    return s;
}

enum book_status st_cost_pool(const struct st_batch_ask *a, const struct book_batch *batch,
                              const struct st_batch_made *planned, const struct st_batch_made *m,
                              const struct st_cost_uses *uses, const struct st_batch_cost *in, struct st_cost_pool *out,
                              struct st_range *left_ml)
{
    struct making k = { .batch = batch, .planned = planned, .now = m, .uses = uses };
    struct st_batch_past past;
    *out = (struct st_cost_pool){ .known = false };
    enum book_status s = st_batch_past(a, batch, &past);
    if (s == BOOK_OK)
        s = weighings(a, batch, &k.n_now);
    if (s != BOOK_OK)
        return s;
    all_that_left(a, &past, m->whole ? &m->file.recipe : NULL, out);
    s = put_in_order(a, out);
    if (s == BOOK_OK && !in->batch.known)
        return still_there(a, batch, m, left_ml);
    if (s == BOOK_OK)
        s = walk_all(a, &k, in, out, left_ml);
    drop(&k);
    return s;
}

struct st_range st_cost_of_ml(const double per_ml[ST_COST_WAYS], bool known, double ml)
{
    struct st_range x = { .known = known && ml > 0.0 };
    for (int k = 0; k < ST_COST_WAYS; k++)
        x.known = x.known && isfinite(per_ml[k]);
    if (x.known) {
        x.value = per_ml[0] * ml;
        x.low = fmin(x.value, fmin(per_ml[1], per_ml[2]) * ml);
        x.high = fmax(x.value, fmax(per_ml[1], per_ml[2]) * ml);
    }
    return x;
}
