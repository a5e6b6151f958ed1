#include "api/book_batch_rest.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_larder.h"
#include "text/line.h"
#include "util/memory.h"

/* ---- what happened, in its order ---- */

/* Of one day and one deed what was read comes first, then what was drawn off, what was added, what went, and what was strained. */
enum rank { READ, DRAWN, CAME, WENT, STRAINED };

struct event {
    struct st_batch_moment of;
    enum rank rank;
    int64_t deed;       /* 0: the journal does not know */
    double ml, g, sd;   /* what left beyond what is foretold, or was read */
    double foretold;    /* mL that left besides, and are foretold: of what was read before they are less */
    const char *step;   /* it came into, or was strained */
    bool shows_a_drink; /* that there was one */
    bool pieces;        /* what came may lie in it */
};

struct events {
    struct event *e;
    int n;
};

static int by_order(const void *x, const void *y)
{
    const struct event *a = x, *b = y;
    const int day = strncmp(a->of.day, b->of.day, 10);
    if (day != 0)
        return day;
    if (a->deed != b->deed)
        return a->deed < b->deed ? -1 : 1;
    if (a->rank != b->rank)
        return a->rank < b->rank ? -1 : 1;
    return (a->of.id > b->of.id) - (a->of.id < b->of.id);
}

/* What is not in the book yet comes last of its day. */
static enum book_status find_deed(const struct st_batch_ask *a, struct event *e)
{
    e->deed = 0;
    if (e->of.id <= 0) {
        e->deed = INT64_MAX;
        return BOOK_OK;
    }
    const enum book_status s = e->rank == STRAINED ? book_changed(a->book, e->of.table, e->of.id, &e->deed)
                                                   : book_entered(a->book, e->of.table, e->of.id, &e->deed);
    return s < 0 ? s : BOOK_OK;
}

/* Only of a day on which different things happened the journal is asked: that takes long in a large one. */
static enum book_status put_in_order(const struct st_batch_ask *a, struct events *x)
{
    enum book_status s = BOOK_OK;
    if (x->n > 1)
        qsort(x->e, (size_t)x->n, sizeof *x->e, by_order);
    for (int i = 0, end; i < x->n && s == BOOK_OK; i = end) {
        bool differ = false;
        for (end = i + 1; end < x->n && strncmp(x->e[end].of.day, x->e[i].of.day, 10) == 0; end++)
            differ = differ || x->e[end].rank != x->e[i].rank;
        for (int k = i; k < end && differ && s == BOOK_OK; k++)
            s = find_deed(a, &x->e[k]);
    }
    if (x->n > 1)
        qsort(x->e, (size_t)x->n, sizeof *x->e, by_order);
    return s;
}

static void enter(struct events *x, enum book_table t, int64_t id, const char *day, const struct event *e)
{
    if (!day)
        return;
    x->e[x->n] = *e;
    x->e[x->n++].of = (struct st_batch_moment){ .table = t, .id = id, .day = day };
}

static void enter_left(const struct st_batch_past *past, const struct st_recipe *r, struct events *x)
{
    for (int i = 0; i < past->n_loss; i++) {
        const struct book_loss *l = &past->loss[i];
        const bool by_ml = isfinite(l->volume_ml), drawn = strcmp(l->why, "drawn") == 0;
        const double whole = by_ml ? l->volume_ml : isfinite(l->mass_g) ? l->mass_g : 0.0;
        const double beyond = st_batch_beyond_ml(past, l);
        const struct event e = { .rank = drawn ? DRAWN : WENT,
                                 .ml = by_ml ? beyond : 0.0,
                                 .g = by_ml ? 0.0 : beyond,
                                 .foretold = whole - beyond,
                                 .shows_a_drink = drawn };
        if (strcmp(l->why, "evaporated") != 0 && whole > 0.0 && st_batch_of_drink(r, l->step))
            enter(x, BOOK_LOSS, l->id, l->on_day, &e);
    }
    for (int i = 0; i < past->n_drawn; i++) {
        const struct book_lot *l = &past->drawn[i];
        const bool by_ml = strcmp(l->dim, "mL") == 0;
        const struct event e = {
            .rank = WENT, .ml = by_ml ? l->amount : 0.0, .g = by_ml ? 0.0 : l->amount, .shows_a_drink = true
        };
        enter(x, BOOK_LOT, l->id, l->since, &e);
    }
    for (int i = 0; i < past->n_filled; i++) {
        const struct book_bottling *f = &past->filled[i];
        const struct event e = { .rank = WENT, .ml = f->size_ml * (double)f->count, .shows_a_drink = true };
        enter(x, BOOK_BOTTLING, f->id, f->on_day, &e);
    }
}

static void enter_read(const struct st_recipe *r, const struct book_reading row[], int n, struct events *x)
{
    for (int i = 0; i < n; i++) {
        const struct event e = { .rank = READ,
                                 .ml = row[i].value,
                                 .sd = isfinite(row[i].sd) ? row[i].sd
                                                           : st_seen_usual_sd(ST_SEEN_LIQUOR_ML, row[i].value) };
        if (row[i].doubted != 1 && strcmp(row[i].kind, ST_READ_VOLUME) == 0 && st_batch_of_drink(r, row[i].step))
            enter(x, BOOK_READING, row[i].id, row[i].at, &e);
    }
}

/* What is a liquid, or dissolves, does not lie in it; what cannot be read may. */
static bool may_lie(const struct st_batch_ask *a, const struct st_batch_made *m, const struct book_weighing *w)
{
    struct st_problem p = { .what = "" };
    struct st_line line = { .what = NULL };
    struct book_lot lot = { .from_batch = BOOK_NO };
    if (w->lot_id != BOOK_NO) {
        const struct st_ingredient *in =
            book_get(a->book, BOOK_LOT, w->lot_id, a->arena, &lot) == BOOK_OK && lot.from_batch == BOOK_NO
                ? st_lot_ingredient(m->catalogue, &lot)
                : NULL;
        if (!in || st_kind_is_solid(in->kind))
            return true;
    }
    return st_line_parse(w->words, m->file.recipe.measures, m->catalogue, &line, &p) != 0 || !line.what ||
           st_kind_is_solid(line.what->kind);
}

static void enter_came(const struct st_batch_ask *a, const struct st_batch_made *m, const struct st_batch_past *past,
                       struct events *x)
{
    for (int i = 0; i < past->n_weighed; i++) {
        const struct book_weighing *w = &past->weighed[i];
        if (w->line != 0)
            continue;
        const struct event e = { .rank = CAME, .step = w->step, .pieces = may_lie(a, m, w) };
        enter(x, BOOK_WEIGHING, w->id, w->on_day, &e);
    }
}

static bool strains(const struct st_recipe *r, const char *step)
{
    for (int i = 0; i < r->n_step; i++)
        if (strcmp(r->step[i].id, step) == 0)
            return r->step[i].kind == ST_DO_STEEP || r->step[i].kind == ST_DO_FILTER;
    return false;
}

/* A step of which no jar stands is strained when its last jar was over. */
static void enter_strained(const struct st_recipe *r, const struct book_jar jar[], int n, struct events *x)
{
    for (int i = 0; i < n; i++) {
        bool last = jar[i].ended_on && strains(r, jar[i].step);
        for (int k = 0; k < n && last; k++)
            if (strcmp(jar[k].step, jar[i].step) == 0)
                last = jar[k].ended_on && (k == i || strcmp(jar[k].ended_on, jar[i].ended_on) < (k > i ? 1 : 0));
        const struct event e = { .rank = STRAINED, .step = jar[i].step };
        if (last)
            enter(x, BOOK_JAR, jar[i].id, jar[i].ended_on, &e);
    }
}

static enum book_status events_of(const struct st_batch_ask *a, const struct st_batch_past *past,
                                  const struct st_batch_made *m, struct events *x)
{
    const struct st_recipe *r = &m->file.recipe;
    struct book_reading *row;
    struct book_jar *jar;
    int n, n_jar;
    const struct book_wanted of = { .column = "batch_id", .integer = past->weighed[0].batch_id };
    enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &row, &n);
    if (s == BOOK_OK)
        s = book_list(a->book, BOOK_JAR, &of, a->arena, &jar, &n_jar);
    if (s != BOOK_OK)
        return s;
    const int most = past->n_weighed + past->n_loss + past->n_drawn + past->n_filled + n + n_jar;
    x->e = st_arena_alloc(a->arena, (size_t)(most + 1) * sizeof *x->e);
    enter_left(past, r, x);
    enter_came(a, m, past, x);
    enter_read(r, row, n, x);
    enter_strained(r, jar, n_jar, x);
    return put_in_order(a, x);
}

/* ---- where it is cut ---- */

/* What happened since the last cut. */
struct since {
    double ml, g, read, sd; /* read NAN: nothing was, or something came in after that */
    double after_ml;        /* what left after that was read; g count as mL */
    bool drink;             /* there was one */
    const char *read_on;    /* its day */
    bool lay;               /* pieces lay in it when the first of that left */
};

/* What lies in the drink. */
struct lying {
    bool any;
    int step;               /* the last that it came into */
    const struct event *of; /* that which came last; NULL: by the recipe */
};

static int step_called(const struct st_recipe *r, const char *id)
{
    for (int s = 0; s < r->n_step; s++)
        if (strcmp(r->step[s].id, id) == 0)
            return s;
    return -1;
}

static void leave(struct since *k, const struct event *e, bool lies, struct st_batch_rests *out)
{
    if (k->ml + k->g == 0.0)
        k->lay = lies;
    k->ml += e->ml;
    k->g += e->g;
    k->after_ml += e->ml + e->g + e->foretold;
    k->drink = k->drink || e->shows_a_drink;
    out->left[out->n_left] = e->of.id;
    out->left_of[out->n_left++] = e->of.table;
}

static void cut(struct since *k, enum st_do kind, bool lies, struct st_batch_rests *out)
{
    out->cut[out->n++] = (struct st_batch_cut){ .kind = kind,
                                                .ml = k->ml,
                                                .g = k->g,
                                                .rest_ml = k->read - k->after_ml,
                                                .rest_sd = k->sd,
                                                .read_ml = k->read,
                                                .read_on = k->read_on,
                                                .lies = k->ml + k->g > 0.0 ? k->lay : lies };
    *k = (struct since){ .read = (double)NAN, .drink = k->drink };
}

static void read_it(struct since *k, const struct event *e)
{
    k->read = e->ml;
    k->sd = e->sd;
    k->read_on = e->of.day;
    k->after_ml = 0.0;
}

/* Strained is what lay in that step or before it; not what came in one deed, or on a day of unknown order. */
static void strain(struct lying *lying, const struct st_recipe *r, const struct event *e)
{
    const bool together = lying->of && lying->of->deed == e->deed && strncmp(lying->of->of.day, e->of.day, 10) == 0;
    if (step_called(r, e->step) >= lying->step && !together)
        lying->any = false;
}

static void lay(struct lying *lying, int step, const struct event *e)
{
    lying->step = lying->any && lying->step > step ? lying->step : step;
    lying->any = true;
    lying->of = e;
}

/* Something came: into the whole, or into the rest, of then or of the last cut.  Returns whether it was cut. */
static bool come(struct since *k, const struct st_recipe *r, const struct event *e, bool lies,
                 struct st_batch_rests *out)
{
    const int step = step_called(r, e->step);
    const enum st_do kind = step >= 0 && r->step[step].kind == ST_DO_STEEP ? ST_DO_STEEP : ST_DO_BLEND;
    const bool less = k->ml + k->g > 0.0;
    const bool whole = out->n == 0 && (!less || (!k->drink && !st_batch_of_drink(r, e->step) && step != r->n_step - 1));
    const bool now = !whole && (less || out->cut[out->n - 1].kind != kind);
    if (now)
        cut(k, kind, lies, out);
    k->read = (double)NAN; /* of a drink without what came now */
    if (!whole) {
        out->added[out->n_added] = e->of.id;
        out->cut_of[out->n_added++] = out->n - 1;
    }
    return now;
}

/* In the order of what happened: returns how much of what left is before the last cut. */
static int walk(const struct st_recipe *r, const struct events *x, struct st_batch_rests *out)
{
    struct since k = { .read = (double)NAN };
    struct lying lying = { .any = r->n_step > 0 && r->step[r->n_step - 1].kind == ST_DO_STEEP, .step = r->n_step - 1 };
    int before = 0;
    for (int i = 0; i < x->n; i++) {
        const struct event *e = &x->e[i];
        switch (e->rank) {
        case READ: read_it(&k, e); break;
        case STRAINED: strain(&lying, r, e); break;
        case CAME:
            if (come(&k, r, e, lying.any, out))
                before = out->n_left;
            if (e->pieces)
                lay(&lying, step_called(r, e->step), e);
            break;
        default: leave(&k, e, lying.any, out);
        }
    }
    return before;
}

static bool has_added(const struct st_batch_past *past)
{
    for (int i = 0; i < past->n_weighed; i++)
        if (past->weighed[i].line == 0)
            return true;
    return false;
}

static enum book_status rests_in(const struct st_batch_ask *a, const struct st_batch_past *past,
                                 const struct st_batch_made *m, struct st_batch_rests *out)
{
    struct events x = { .n = 0 };
    const enum book_status s = events_of(a, past, m, &x);
    if (s != BOOK_OK)
        return s;
    out->cut = st_arena_alloc(a->arena, (size_t)(x.n + 1) * sizeof *out->cut);
    out->added = st_arena_alloc(a->arena, (size_t)(x.n + 1) * sizeof *out->added);
    out->cut_of = st_arena_alloc(a->arena, (size_t)(x.n + 1) * sizeof *out->cut_of);
    out->left = st_arena_alloc(a->arena, (size_t)(x.n + 1) * sizeof *out->left);
    out->left_of = st_arena_alloc(a->arena, (size_t)(x.n + 1) * sizeof *out->left_of);
    out->n_left = walk(&m->file.recipe, &x, out);
    return BOOK_OK;
}

enum book_status st_batch_rests_of(const struct st_batch_ask *a, const char *text, const struct st_batch_past *past,
                                   struct st_batch_rests *out)
{
    enum book_status s = BOOK_OK;
    *out = (struct st_batch_rests){ .n = 0 };
    if (a->whole_drink || !*text || past->n_loss + past->n_drawn + past->n_filled == 0 || !has_added(past))
        return s;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    if (st_batch_made_of(a, text, false, m))
        s = rests_in(a, past, m, out);
    st_batch_made_done(m);
    free(m);
    return s;
}

int st_batch_cut_of(const struct st_batch_rests *r, int64_t weighing)
{
    for (int i = 0; i < r->n_added; i++)
        if (r->added[i] == weighing)
            return r->cut_of[i];
    return -1;
}

bool st_batch_left_before(const struct st_batch_rests *r, enum book_table t, int64_t id)
{
    for (int i = 0; i < r->n_left; i++)
        if (r->left[i] == id && r->left_of[i] == t)
            return true;
    return false;
}

/* ---- until a moment ---- */

static enum rank rank_of(const struct st_batch_moment *m)
{
    return m->table == BOOK_READING ? READ : m->table == BOOK_WEIGHING ? CAME : m->drawn ? DRAWN : WENT;
}

enum book_status st_batch_later(const struct st_batch_ask *a, const struct st_batch_moment *x,
                                const struct st_batch_moment *than, bool *later)
{
    struct event e[2] = { { .of = *x, .rank = rank_of(x) }, { .of = *than, .rank = rank_of(than) } };
    enum book_status s = BOOK_OK;
    if (strncmp(x->day, than->day, 10) ==
        0) { /* the journal is asked also where both went: which of two did is of moment here */
        s = find_deed(a, &e[0]);
        if (s == BOOK_OK)
            s = find_deed(a, &e[1]);
    }
    *later = by_order(&e[0], &e[1]) > 0;
    return s;
}

enum book_status st_batch_until(const struct st_batch_ask *a, const struct book_weighing **w, int *n)
{
    struct book_weighing *kept;
    enum book_status s = BOOK_OK;
    int m = 0;
    if (!a->until || *n == 0)
        return s;
    kept = st_arena_alloc(a->arena, (size_t)*n * sizeof *kept);
    for (int i = 0; i < *n && s == BOOK_OK; i++) {
        const struct st_batch_moment came = { .table = BOOK_WEIGHING, .id = (*w)[i].id, .day = (*w)[i].on_day };
        bool later = false;
        if ((*w)[i].line == 0)
            s = st_batch_later(a, &came, a->until, &later);
        if (!later)
            kept[m++] = (*w)[i];
    }
    *w = kept;
    *n = m;
    return s;
}

/* Whether anything that is not in the recipe was added later. */
static enum book_status added_since(const struct st_batch_ask *a, int64_t batch, const struct st_batch_moment *then,
                                    bool *later)
{
    struct book_weighing *w;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch };
    enum book_status s = book_list(a->book, BOOK_WEIGHING, &of, a->arena, &w, &n);
    *later = false;
    for (int i = 0; s == BOOK_OK && i < n && !*later; i++) {
        const struct st_batch_moment came = { .table = BOOK_WEIGHING, .id = w[i].id, .day = w[i].on_day };
        if (w[i].line == 0)
            s = st_batch_later(a, &came, then, later);
    }
    return s;
}

enum book_status st_batch_strength_then(const struct st_batch_ask *a, const struct book_batch *batch,
                                        const struct st_batch_moment *then, struct st_interval *q)
{
    struct st_batch_ask of_then = *a;
    bool later;
    *q = (struct st_interval){ .known = false };
    enum book_status s = added_since(a, batch->id, then, &later);
    if (s != BOOK_OK || !later)
        return s;
    of_then.until = then;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    s = st_batch_made(&of_then, batch, true, true, m);
    if (s == BOOK_OK && m->told)
        *q = m->out.fig[ST_FIG_STRENGTH];
    st_batch_made_done(m);
    free(m);
    return s;
}

enum book_status st_batch_foreseen_again(const struct st_batch_ask *a, const struct book_batch *batch,
                                         const char *program)
{
    struct st_batch_past past;
    enum book_status s = st_batch_past(a, batch, &past);
    if (s != BOOK_OK || past.rests->n == 0)
        return s;
    struct st_batch_made *m = x_calloc(1, sizeof *m); /* large */
    s = st_batch_made(a, batch, true, true, m);
    if (s == BOOK_OK && m->told)
        s = st_batch_keep_foreseen(a, batch->id, &m->out, program);
    st_batch_made_done(m);
    free(m);
    return s;
}
