#include "api/book_batch_since.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_bottles.h"
#include "api/book_batch_pour.h"
#include "api/book_batch_rest.h"
#include "util/memory.h"

/* Of the lots of a batch those that left its jar without an entry there: not the drained fruit, and not what was drawn off. */
static void take_drawn(const struct st_batch_ask *a, struct st_batch_past *out)
{
    int n = 0;
    for (int i = 0; i < out->n_drawn; i++) {
        const struct book_lot *lot = &out->drawn[i];
        bool is = strcmp(lot->kind, "spent") != 0 && (strcmp(lot->dim, "mL") == 0 || strcmp(lot->dim, "g") == 0);
        for (int k = 0; k < out->n_loss && is; k++)
            is = !st_batch_pour_lost(a, lot, &out->loss[k]);
        bool bottles = false; /* they left the jar when they were filled */
        if (is && st_batch_lot_bottles(a, lot, &bottles, NULL, NULL) == BOOK_OK && bottles)
            is = false;
        if (is)
            out->drawn[n++] = *lot;
    }
    out->n_drawn = n;
}

enum book_status st_batch_past_rows(const struct st_batch_ask *a, int64_t batch, struct st_batch_past *out)
{
    const struct book_wanted of = { .column = "batch_id", .integer = batch };
    out->rests = NULL;
    out->beyond = NULL;
    out->n_beyond = 0;
    struct book_weighing *weighed;
    enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &weighed, &out->n_weighed);
    out->weighed = weighed;
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_LOSS, &of, a->arena, &out->loss, &out->n_loss);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_BOTTLING, &of, a->arena, &out->filled, &out->n_filled);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_LOT, &(struct book_wanted){ .column = "from_batch", .integer = batch }, a->arena,
                      &out->drawn, &out->n_drawn);
    if (s == BOOK_OK)
        take_drawn(a, out);
    return s;
}

/* Whether that was not yet so at a->until: it came later, or is itself what is asked about, or was drawn off for it. */
static enum book_status not_yet(const struct st_batch_ask *a, const struct st_batch_moment *x, bool *is)
{
    *is = x->table == a->until->table && x->id == a->until->id;
    return *is || !x->day ? BOOK_OK : st_batch_later(a, x, a->until, is);
}

static enum book_status losses_until(const struct st_batch_ask *a, struct st_batch_past *out)
{
    struct book_lot lot = { .from_batch = BOOK_NO };
    enum book_status s = BOOK_OK;
    int n = 0;
    if (a->until->table == BOOK_LOT)
        s = book_get(a->book, BOOK_LOT, a->until->id, a->arena, &lot);
    if (s == BOOK_NONE) { /* of a pour that is looked at before it is written */
        lot.from_batch = BOOK_NO;
        s = BOOK_OK;
    }
    for (int i = 0; i < out->n_loss && s == BOOK_OK; i++) {
        const struct book_loss *l = &out->loss[i];
        const struct st_batch_moment x = {
            .table = BOOK_LOSS, .id = l->id, .day = l->on_day, .drawn = strcmp(l->why, "drawn") == 0
        };
        bool later = lot.from_batch != BOOK_NO && st_batch_pour_lost(a, &lot, l);
        if (!later)
            s = not_yet(a, &x, &later);
        if (!later)
            out->loss[n++] = *l;
    }
    out->n_loss = n;
    return s;
}

/* Of what left the drink that which had left it at a->until. */
static enum book_status left_until(const struct st_batch_ask *a, struct st_batch_past *out)
{
    enum book_status s = losses_until(a, out);
    bool later = false;
    int n = 0;
    for (int i = 0; i < out->n_drawn && s == BOOK_OK; i++) {
        const struct book_lot *l = &out->drawn[i];
        s = not_yet(a, &(struct st_batch_moment){ .table = BOOK_LOT, .id = l->id, .day = l->since }, &later);
        if (!later)
            out->drawn[n++] = *l;
    }
    out->n_drawn = n;
    n = 0;
    for (int i = 0; i < out->n_filled && s == BOOK_OK; i++) {
        const struct book_bottling *f = &out->filled[i];
        s = not_yet(a, &(struct st_batch_moment){ .table = BOOK_BOTTLING, .id = f->id, .day = f->on_day }, &later);
        if (!later)
            out->filled[n++] = *f;
    }
    out->n_filled = n;
    return s;
}

enum book_status st_batch_past(const struct st_batch_ask *a, const struct book_batch *batch, struct st_batch_past *out)
{
    struct st_batch_rests *rests = st_arena_alloc(a->arena, sizeof *rests);
    enum book_status s = st_batch_past_rows(a, batch->id, out);
    if (s == BOOK_OK)
        s = st_batch_until(a, &out->weighed, &out->n_weighed);
    if (s == BOOK_OK && a->until)
        s = left_until(a, out);
    if (s == BOOK_OK)
        st_batch_find_beyond(a, batch->text, out);
    if (s == BOOK_OK)
        s = st_batch_rests_of(a, batch->text, out, rests);
    if (s == BOOK_OK)
        out->rests = rests;
    return s;
}

static bool is_off(const struct st_batch_past *past, enum book_table t, int64_t id)
{
    return past->rests && st_batch_left_before(past->rests, t, id);
}

/* Whether the row of that table and day came later than r was read. */
static enum book_status came_later(const struct st_batch_ask *a, enum book_table t, int64_t id, const char *day,
                                   const struct book_reading *r, bool *later)
{
    int64_t entered = 0, read = 0;
    const int order = strncmp(day, r->at, 10);
    *later = order >= 0;
    if (order != 0)
        return BOOK_OK;
    enum book_status s = book_entered(a->book, t, id, &entered);
    if (s == BOOK_OK)
        s = book_entered(a->book, BOOK_READING, r->id, &read);
    if (s == BOOK_OK)
        *later = entered >= read;
    return s < 0 ? s : BOOK_OK;
}

static double loss_ml(const struct book_loss *l)
{
    return isfinite(l->volume_ml) ? l->volume_ml : isfinite(l->mass_g) ? l->mass_g : 0.0;
}

double st_batch_beyond_ml(const struct st_batch_past *past, const struct book_loss *l)
{
    for (int i = 0; i < past->n_beyond; i++)
        if (past->beyond[i].loss == l->id)
            return past->beyond[i].ml;
    return loss_ml(l);
}

/* 0 lees, 1 filter, -1 else. */
static int foretold_by(const struct st_recipe *r, const struct book_loss *l)
{
    const int by = strcmp(l->why, "lees") == 0 ? 0 : strcmp(l->why, "filter") == 0 ? 1 : -1;
    return by >= 0 && r && !st_batch_of_drink(r, l->step) ? -1 : by;
}

static double lost_of(const struct st_balance *b)
{
    double lost = 0.0, g = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        lost += b->lost_g[c];
        g += b->mass_g[c];
    }
    return g > 0.0 ? lost * b->volume_ml / g : 0.0;
}

/* mL that the steps of the drink lose by lees and by filters, as foretold. */
static void foretold_losses(const struct st_batch_made *m, double ml[2])
{
    const struct st_recipe *r = &m->file.recipe;
    for (int i = 0; i < m->out.n_balance; i++) {
        const struct st_step *s = &r->step[m->out.balance[i].step];
        const int by = s->kind == ST_DO_RACK || s->kind == ST_DO_FINE ? 0 : s->kind == ST_DO_FILTER ? 1 : -1;
        if (by >= 0 && st_batch_of_drink(r, s->id))
            ml[by] += lost_of(&m->out.balance[i]);
    }
}

void st_batch_find_beyond(const struct st_batch_ask *a, const char *text, struct st_batch_past *past)
{
    struct st_batch_ask few = *a;
    double left[2] = { 0.0, 0.0 };
    bool any = false;
    for (int i = 0; i < past->n_loss; i++)
        any = any || foretold_by(NULL, &past->loss[i]) >= 0;
    if (!any || !*text)
        return;
    few.draws = 0;                                    /* the middle of all */
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    if (st_batch_made_of(&few, text, true, m)) {
        foretold_losses(m, left);
        past->beyond = st_arena_alloc(a->arena, (size_t)past->n_loss * sizeof *past->beyond);
        for (int i = 0; i < past->n_loss; i++) {
            const int by = foretold_by(&m->file.recipe, &past->loss[i]);
            const double ml = loss_ml(&past->loss[i]), within = by < 0 ? 0.0 : fmin(left[by], ml);
            if (by < 0)
                continue;
            left[by] -= within;
            /* the foretold figure has rounding of its own */
            past->beyond[past->n_beyond++] =
                (struct st_batch_beyond){ past->loss[i].id, ml - within > 1e-6 * ml ? ml - within : 0.0 };
        }
    }
    st_batch_made_done(m);
    free(m);
}

enum book_status st_batch_went(const struct st_batch_ask *a, const struct st_batch_past *past,
                               const struct book_reading *r, bool later, double *lost_ml, double *bottled_ml)
{
    enum book_status s = BOOK_OK;
    bool is = later;
    *lost_ml = *bottled_ml = 0.0;
    for (int i = 0; i < past->n_loss && s == BOOK_OK; i++) {
        const struct book_loss *l = &past->loss[i];
        s = r ? came_later(a, BOOK_LOSS, l->id, l->on_day, r, &is) : BOOK_OK;
        const double ml = r && later ? loss_ml(l) : st_batch_beyond_ml(past, l);
        *lost_ml += is == later && !is_off(past, BOOK_LOSS, l->id) ? ml : 0.0;
    }
    for (int i = 0; i < past->n_drawn && s == BOOK_OK; i++) {
        const struct book_lot *l = &past->drawn[i];
        s = r ? came_later(a, BOOK_LOT, l->id, l->since, r, &is) : BOOK_OK;
        *lost_ml += is == later && !is_off(past, BOOK_LOT, l->id) ? l->amount : 0.0;
    }
    for (int i = 0; i < past->n_filled && s == BOOK_OK; i++) {
        const struct book_bottling *f = &past->filled[i];
        s = r ? came_later(a, BOOK_BOTTLING, f->id, f->on_day, r, &is) : BOOK_OK;
        *bottled_ml += is == later && !is_off(past, BOOK_BOTTLING, f->id) ? f->size_ml * (double)f->count : 0.0;
    }
    return s;
}

/* Whether what the recipe plans for that step lies in the jar from the beginning. */
static bool from_the_beginning(const struct st_recipe *recipe, const char *step)
{
    for (int i = 0; i < recipe->n_step; i++)
        if (strcmp(recipe->step[i].id, step) == 0)
            return recipe->step[i].kind == ST_DO_STEEP || recipe->step[i].kind == ST_DO_TOAST;
    return true;
}

/* What came after r was read and makes it one of another drink. */
static enum book_status makes_old(const struct st_batch_ask *a, const struct st_recipe *recipe,
                                  const struct book_weighing *w, const struct book_reading *r, bool *later)
{
    if (w->line == 0)
        return came_later(a, BOOK_WEIGHING, w->id, w->on_day, r, later);
    *later = !from_the_beginning(recipe, w->step) && strncmp(w->on_day, r->at, 10) > 0;
    return BOOK_OK;
}

enum book_status st_batch_outdated(const struct st_batch_ask *a, const struct st_batch_past *past,
                                   const struct st_recipe *recipe, const struct book_reading *r,
                                   const struct book_weighing **by)
{
    enum book_status s = BOOK_OK;
    *by = NULL;
    for (int i = 0; i < past->n_weighed && s == BOOK_OK && !*by; i++) {
        bool later = false;
        s = makes_old(a, recipe, &past->weighed[i], r, &later);
        *by = later ? &past->weighed[i] : NULL;
    }
    return s;
}

enum book_status st_batch_added_since(const struct st_batch_ask *a, const struct st_batch_past *past,
                                      const struct st_recipe *recipe, const struct book_reading *r, int *added,
                                      bool *of_recipe)
{
    enum book_status s = BOOK_OK;
    *added = 0;
    *of_recipe = false;
    for (int i = 0; i < past->n_weighed && s == BOOK_OK; i++) {
        bool later = false;
        s = makes_old(a, recipe, &past->weighed[i], r, &later);
        *added += later && past->weighed[i].line == 0;
        *of_recipe = *of_recipe || (later && past->weighed[i].line > 0);
    }
    return s;
}
