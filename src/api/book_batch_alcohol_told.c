#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "api/book_batch_agree.h"
#include "api/book_batch_alcohol_inside.h"
#include "api/book_batch_fill.h"
#include "api/book_batch_since.h"
#include "core/strength.h"
#include "util/memory.h"

enum { DRAWS = 200 }; /* for a standard uncertainty: good to 5 % of itself */

/* ---- the drink ---- */

static enum book_status foreseen(const struct st_alcohol_ledger *k, int64_t batch, struct st_alcohol_figures *f)
{
    struct book_foreseen *x;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch };
    const enum book_status s = book_list(k->a->book, BOOK_FORESEEN, &of, k->a->arena, &x, &n);
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (strcmp(x[i].key, "strength_pct_vol") == 0) {
            f->strength = x[i].value;
            f->strength_u = (x[i].high - x[i].low) / 3.92;
        }
    return s;
}

static double sd_of(const struct book_reading *r, enum st_seen usual)
{
    return isfinite(r->sd) ? r->sd : st_seen_usual_sd(usual, r->value);
}

/* One reading of the finished drink, when nothing was added after it. */
static enum book_status take_reading(const struct st_alcohol_ledger *k, int at, const struct st_batch_past *past,
                                     const struct st_recipe *recipe, const struct book_reading *r,
                                     struct st_alcohol_figures *f)
{
    const struct book_weighing *by = NULL;
    const enum book_status s = recipe ? st_batch_outdated(k->a, past, recipe, r, &by) : BOOK_OK;
    if (s != BOOK_OK || by)
        return s;
    if (strcmp(r->kind, "strength_pct_vol") == 0) {
        f->strength = r->value;
        f->strength_u = sd_of(r, ST_SEEN_STRENGTH);
        f->cause = st_alcohol_cause(k, ST_ALC_OF_STRENGTH, at);
    } else if (strcmp(r->kind, ST_READ_VOLUME) == 0) {
        f->volume = r->value;
        f->volume_u = sd_of(r, ST_SEEN_LIQUOR_ML);
        (void)snprintf(f->read_on, sizeof f->read_on, "%.10s", r->at);
    }
    return s;
}

static bool is_of_the_drink(const struct st_alcohol_ledger *k, const struct book_reading *r)
{
    return r->doubted != 1 && strncmp(r->at, k->until, 10) <= 0 &&
           (strcmp(r->kind, "strength_pct_vol") == 0 || strcmp(r->kind, ST_READ_VOLUME) == 0);
}

/* What was read while the fruit lay in it is no measurement of the drink. */
static enum book_status measured(struct st_alcohol_ledger *k, int at, struct st_alcohol_figures *f)
{
    const struct book_batch *batch = &k->batch[at];
    struct book_reading *r;
    struct st_batch_past past;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id, .order = "at" };
    enum book_status s = book_list(k->a->book, BOOK_READING, &of, k->a->arena, &r, &n);
    if (s == BOOK_OK)
        s = st_batch_past(k->a, batch, &past);
    bool any = false;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        any = any || is_of_the_drink(k, &r[i]);
    if (s != BOOK_OK || !any)
        return s;
    const struct st_batch_made *m = st_alcohol_read(k, batch->text);
    const bool whole = m->whole;
    for (int i = 0; i < n && s == BOOK_OK; i++)
        if (is_of_the_drink(k, &r[i]) && (!whole || st_batch_of_drink(&m->file.recipe, r[i].step)))
            s = take_reading(k, at, &past, whole ? &m->file.recipe : NULL, &r[i], f);
    return s;
}

enum book_status st_alcohol_figures(struct st_alcohol_ledger *k, int at, const struct st_alcohol_figures **f)
{
    struct st_alcohol_batch *of = &k->of[at];
    struct st_alcohol_figures *x = &of->figures;
    const struct st_alcohol_told *t;
    *f = x;
    if (of->has_figures)
        return BOOK_OK;
    *x = (struct st_alcohol_figures){
        (double)NAN, (double)NAN, (double)NAN, (double)NAN, st_alcohol_cause(k, ST_ALC_OF_ALL_STRENGTHS, 0), ""
    };
    enum book_status s = foreseen(k, k->batch[at].id, x);
    if (s == BOOK_OK)
        s = measured(k, at, x);
    if (s == BOOK_OK && !isfinite(x->strength)) { /* a book that was imported may tell none */
        s = st_alcohol_told(k, at, true, &t);
        for (int i = 0; s == BOOK_OK && i < t->n_step; i++)
            if (t->step[i].of_drink && isfinite(t->step[i].q)) {
                x->strength = t->step[i].q;
                x->strength_u = t->step[i].q_u;
            }
    }
    of->has_figures = true;
    return s;
}

/* ---- foretold ---- */

/* Sums over the draws. */
struct sums {
    double x, xx;
    int n;
};

static void add(struct sums *s, double x)
{
    s->x += x;
    s->xx += x * x;
    s->n++;
}

static double sd(const struct sums *s)
{
    const double mean = s->n ? s->x / s->n : 0.0;
    return s->n > 1 ? sqrt(fmax(0.0, (s->xx - s->n * mean * mean) / (s->n - 1))) : 0.0;
}

/* Of each step what is spent, what that holds of alcohol, what is lost of alcohol, what pieces hold that still lie in it, and how
 * strong it is. */
enum { SPENT, HELD, LOST, LYING, STRONG, OF_STEP };

/* A recipe under way: its plan, and the weights of what was strained off each step, as weighed; NAN. */
struct room {
    const struct st_recipe *recipe;
    struct st_plan *plan;
    struct st_balance *balance; /* [n_step] */
    double *drained_g, litre_g;
    double (*x)[OF_STEP][DRAWS]; /* [n_step] */
    struct sums fruit, lees, *q; /* [n_step] */
};

static double total(const double g[ST_NCOMP])
{
    double sum = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        sum += g[c];
    return sum;
}

/* Share of the solids of a step that later steps take ("fruit of first"). */
static double taken(const struct st_recipe *recipe, int step, double spent_g)
{
    double share = 0.0;
    for (int i = step + 1; i < recipe->n_step; i++)
        for (int n = 0; n < recipe->step[i].n_line; n++) {
            const struct st_line *l = &recipe->step[i].line[n];
            if (l->what || l->from_step != step || l->part != ST_SPENT)
                continue;
            share += l->amount.dim == ST_DIM_MASS && spent_g > 0.0 ? l->amount.value / spent_g
                     : l->amount.dim == ST_DIM_PIECE               ? l->amount.value
                                                                   : 1.0;
        }
    return fmin(share, 1.0);
}

/* L of what is strained off a step, of which so many g hold so many of alcohol; where the drained solids were weighed, of so much
 * of them. */
static double held(const struct room *r, int step, double spent_g, double alcohol_g)
{
    const double share = isfinite(r->drained_g[step]) && spent_g > 0.0 ? r->drained_g[step] / spent_g : 1.0;
    return share * (1.0 - taken(r->recipe, step, spent_g)) * alcohol_g / r->litre_g;
}

/* L in what is strained off, lies in it still, and is lost, nominally. */
static void keeps(const struct room *r, struct st_alcohol_told *t)
{
    t->fruit = t->lees = t->lying = 0.0;
    for (int i = 0; i < r->recipe->n_step; i++) {
        const struct st_balance *b = &r->balance[i];
        t->fruit += held(r, i, total(b->spent_g), b->spent_g[ST_ETHANOL]);
        t->lees += b->lost_g[ST_ETHANOL] / r->litre_g;
        t->lying += b->lying_ethanol_g / r->litre_g;
    }
}

static double strength_in(const struct st_balance *b)
{
    return b->strength_in_steep > 0.0 ? b->strength_in_steep : b->strength;
}

static bool make_room(const struct st_recipe *recipe, struct room *r)
{
    struct st_problem p;
    const size_t n = (size_t)recipe->n_step;
    memset(r, 0, sizeof *r);
    r->plan = st_plan_create(recipe, &p);
    if (!r->plan || st_spirit_density(100.0, &r->litre_g) < 0)
        return false;
    r->recipe = recipe;
    r->balance = x_calloc(n + 1, sizeof *r->balance);
    r->drained_g = x_calloc(n + 1, sizeof *r->drained_g);
    r->q = x_calloc(n + 1, sizeof *r->q);
    r->x = x_calloc(n + 1, sizeof *r->x);
    return true;
}

static void drop_room(struct room *r)
{
    st_plan_free(r->plan);
    free(r->balance);
    free(r->drained_g);
    free(r->q);
    free(r->x);
}

static bool run_draws(const struct st_alcohol_ledger *k, struct room *r, bool strengths)
{
    static const enum st_drawn_of OF[OF_STEP] = { ST_DRAWN_SPENT_G, ST_DRAWN_SPENT_ETHANOL_G, ST_DRAWN_LOST_ETHANOL_G,
                                                  ST_DRAWN_LYING_ETHANOL_G, ST_DRAWN_STRENGTH };
    struct st_drawn *want = x_calloc((size_t)r->recipe->n_step * OF_STEP + 1, sizeof *want);
    int n = 0;
    for (int i = 0; i < r->recipe->n_step; i++)
        for (int w = 0; w < (strengths ? OF_STEP : STRONG); w++)
            want[n++] = (struct st_drawn){ r->x[i][w], i, OF[w] };
    const bool done = st_plan_drawn(r->plan, k->a->seed, DRAWS, want, n) >= 0;
    free(want);
    return done;
}

static void draw(const struct st_alcohol_ledger *k, struct room *r, bool strengths)
{
    if (!run_draws(k, r, strengths))
        return;
    for (int d = 0; d < DRAWS; d++) {
        double fruit = 0.0, lees = 0.0;
        for (int i = 0; i < r->recipe->n_step; i++) {
            double(*const x)[DRAWS] = r->x[i];
            fruit += held(r, i, x[SPENT][d], x[HELD][d]) + x[LYING][d] / r->litre_g;
            lees += x[LOST][d] / r->litre_g;
        }
        if (!isfinite(fruit) || !isfinite(lees))
            continue;
        add(&r->fruit, fruit);
        add(&r->lees, lees);
        for (int i = 0; i < r->recipe->n_step; i++)
            add(&r->q[i], r->x[i][STRONG][d]);
    }
}

static void stands(const struct st_alcohol_ledger *k, const struct room *r, struct st_alcohol_told *t)
{
    t->n_step = r->recipe->n_step;
    t->step = st_arena_alloc(k->a->arena, (size_t)(t->n_step + 1) * sizeof *t->step);
    for (int i = 0; i < t->n_step; i++) {
        const struct st_balance *b = &r->balance[i];
        const double g = total(b->mass_g);
        const char *id = st_arena_strdup(k->a->arena, r->recipe->step[i].id);
        t->step[i] =
            (struct st_alcohol_stands){ id, g > 0.0 ? strength_in(b) : (double)NAN, sd(&r->q[i]),
                                        b->volume_ml > 0.0 ? g / b->volume_ml : 1.0, st_batch_of_drink(r->recipe, id) };
    }
}

static enum book_status foretell(const struct st_alcohol_ledger *k, const struct book_batch *batch, struct room *r,
                                 struct st_alcohol_told *t)
{
    enum book_status s = BOOK_OK;
    for (int i = 0; i < r->recipe->n_step && s == BOOK_OK; i++)
        s = st_batch_drained(k->a, batch, r->recipe->step[i].id, &r->drained_g[i]);
    if (s != BOOK_OK)
        return s;
    draw(k, r, t->strengths);
    if (st_plan_balance(r->plan, NULL, r->balance) < 0 || r->fruit.n < DRAWS / 2)
        return BOOK_OK;
    t->known = true;
    keeps(r, t);
    t->fruit_u = sd(&r->fruit);
    t->lees_u = sd(&r->lees);
    if (t->strengths)
        stands(k, r, t);
    return BOOK_OK;
}

enum book_status st_alcohol_told(struct st_alcohol_ledger *k, int at, bool strengths, const struct st_alcohol_told **t)
{
    struct st_alcohol_told *x = &k->of[at].told;
    struct st_batch_made *m;
    struct room r = { .plan = NULL };
    *t = x;
    if (x->tried && (x->strengths || !strengths))
        return BOOK_OK;
    x->tried = true;
    x->strengths = strengths;
    enum book_status s = st_alcohol_really(k, at, &m);
    if (s == BOOK_OK && m->whole && make_room(&m->file.recipe, &r))
        s = foretell(k, &k->batch[at], &r, x);
    drop_room(&r);
    return s;
}
