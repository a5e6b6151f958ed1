/* What went out of a batch: bottles and losses. */
#include <math.h>
#include <string.h>

#include "api/book_batch_alcohol_inside.h"
#include "api/book_batch_bottles.h"
#include "api/book_batch_pour.h"
#include "api/book_batch_rest.h"

/* What it was: of a step before the drink with the strength of what stands there, else the drink. */
struct liquid {
    double q, q_u, g_ml;
    int cause; /* of the strength's doubt */
    bool of_drink;
};

static void enter(struct st_alcohol_ledger *k, int at, enum st_alcohol_way way, enum st_alcohol_kind kind, double ml,
                  const struct liquid *l, const char *day)
{
    struct st_alcohol_entry e = { .id = k->batch[at].id,
                                  .way = way,
                                  .kind = kind,
                                  .day = day,
                                  .of_drink = l->of_drink,
                                  .known = isfinite(ml) && isfinite(l->q) };
    const struct st_alcohol_liquid x = { .ml = ml,
                                         .q = l->q,
                                         .q_u = isfinite(l->q_u) ? l->q_u : ST_ALCOHOL_LABEL_U,
                                         .of_q = l->cause,
                                         .of_ml = st_alcohol_cause(k, ST_ALC_OF_WENT, at) };
    if (e.known)
        st_alcohol_litres(&x, &e);
    st_alcohol_enter(k, e);
}

/* Whether anything that is not in its recipe was added to a batch: asked once for all that went out of it. */
static enum book_status look_for_added(const struct st_alcohol_ledger *k, int at, bool *added)
{
    struct book_weighing *w;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = k->batch[at].id };
    const enum book_status s = book_list(k->a->book, BOOK_WEIGHING, &of, k->a->arena, &w, &n);
    *added = false;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        *added = *added || w[i].line == 0;
    return s;
}

/* As it was when it went: what was added to the drink later is not in that. */
static enum book_status as_it_was(struct st_alcohol_ledger *k, int at, const struct st_batch_moment *then,
                                  struct liquid *l)
{
    struct st_interval q;
    const enum book_status s = st_batch_strength_then(k->a, &k->batch[at], then, &q);
    if (s != BOOK_OK || !q.known)
        return s;
    l->q = q.value;
    l->q_u = (q.high - q.low) / 3.92;
    l->cause = st_alcohol_cause(k, ST_ALC_OF_ALL_STRENGTHS, 0);
    return s;
}

/* ---- bottles ---- */

static enum book_status bottles(struct st_alcohol_ledger *k, int at, const struct st_alcohol_figures *drink, bool added)
{
    struct book_bottling *f;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = k->batch[at].id };
    enum book_status s = book_list(k->a->book, BOOK_BOTTLING, &of, k->a->arena, &f, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        const bool own = isfinite(f[i].strength_pct_vol);
        const struct st_batch_moment then = { .table = BOOK_BOTTLING, .id = f[i].id, .day = f[i].on_day };
        struct liquid l = { own ? f[i].strength_pct_vol : drink->strength, own ? ST_ALCOHOL_LABEL_U : drink->strength_u,
                            1.0, own ? st_alcohol_cause(k, ST_ALC_OF_STRENGTH, at) : drink->cause, true };
        if (!own && added)
            s = as_it_was(k, at, &then, &l);
        int64_t back = 0; /* poured into other batches: that is the entry of the lots they became */
        if (s == BOOK_OK)
            s = st_batch_bottles_back(k->a, &f[i], &back);
        if (s == BOOK_OK && back < f[i].count)
            enter(k, at, ST_ALC_OUT, ST_ALC_PLAIN, f[i].size_ml * (double)(f[i].count - back), &l, f[i].on_day);
    }
    return s;
}

/* ---- losses ---- */

/* What was drawn off for a lot is that lot's entry already. */
static bool is_poured(const struct st_alcohol_ledger *k, const struct book_loss *loss)
{
    for (int i = 0; i < k->n_lot; i++)
        if (st_batch_pour_lost(k->a, &k->lot[i], loss))
            return true;
    return false;
}

/* A liqueur of which nothing is foretold is near 1 g/mL. */
static enum book_status liquid_of(struct st_alcohol_ledger *k, int at, const struct book_loss *loss,
                                  const struct st_alcohol_figures *drink, bool added, struct liquid *l)
{
    const struct st_alcohol_told *t;
    const struct st_batch_moment then = {
        .table = BOOK_LOSS, .id = loss->id, .day = loss->on_day, .drawn = strcmp(loss->why, "drawn") == 0
    };
    *l = (struct liquid){ drink->strength, drink->strength_u, 1.0, drink->cause, true };
    enum book_status s = *loss->step ? st_alcohol_told(k, at, true, &t) : BOOK_OK;
    for (int i = 0; *loss->step && s == BOOK_OK && i < t->n_step; i++)
        if (strcmp(t->step[i].step, loss->step) == 0 && !t->step[i].of_drink)
            *l = (struct liquid){ t->step[i].q, t->step[i].q_u, t->step[i].g_ml,
                                  st_alcohol_cause(k, ST_ALC_OF_ALL_STRENGTHS, 0), false };
    if (s == BOOK_OK && added && l->of_drink && !isfinite(loss->strength_pct_vol))
        s = as_it_was(k, at, &then, l);
    if (isfinite(loss->strength_pct_vol)) {
        l->q = loss->strength_pct_vol;
        l->q_u = ST_ALCOHOL_LABEL_U;
        l->cause = st_alcohol_cause(k, ST_ALC_OF_STRENGTH, at);
    }
    return s;
}

static enum st_alcohol_kind kind_of(const char *why)
{
    return strcmp(why, "lees") == 0 || strcmp(why, "filter") == 0 || strcmp(why, "evaporated") == 0 ? ST_ALC_LEES
                                                                                                    : ST_ALC_PLAIN;
}

static enum book_status losses(struct st_alcohol_ledger *k, int at, const struct st_alcohol_figures *drink, bool added)
{
    struct book_loss *x;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = k->batch[at].id };
    enum book_status s = book_list(k->a->book, BOOK_LOSS, &of, k->a->arena, &x, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++) {
        struct liquid l;
        if (is_poured(k, &x[i]))
            continue;
        s = liquid_of(k, at, &x[i], drink, added, &l);
        if (s == BOOK_OK)
            enter(k, at, ST_ALC_LOST, kind_of(x[i].why),
                  isfinite(x[i].volume_ml) ? x[i].volume_ml : x[i].mass_g / l.g_ml, &l, x[i].on_day);
    }
    return s;
}

enum book_status st_alcohol_gone(struct st_alcohol_ledger *k, int at)
{
    const struct st_alcohol_figures *drink;
    bool added = false;
    enum book_status s = st_alcohol_figures(k, at, &drink);
    if (s == BOOK_OK)
        s = look_for_added(k, at, &added);
    if (s == BOOK_OK)
        s = bottles(k, at, drink, added);
    return s == BOOK_OK ? losses(k, at, drink, added) : s;
}
