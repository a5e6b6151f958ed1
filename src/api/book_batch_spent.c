#include "api/book_batch_fill.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum book_status st_batch_next_lot(const struct st_batch_ask *a, char code[40])
{
    struct book_lot last, taken;
    const struct book_wanted newest = { .order = "id", .backward = true, .most = 1 };
    enum book_status s = book_find(a->book, BOOK_LOT, &newest, a->arena, &last);
    if (s < 0)
        return s;
    for (int64_t k = s == BOOK_OK ? last.id + 1 : 1;; k++) {
        (void)snprintf(code, 40, "L%lld", (long long)k);
        s = book_find(a->book, BOOK_LOT, &(struct book_wanted){ .column = "code", .text = code }, a->arena, &taken);
        if (s != BOOK_OK)
            return s == BOOK_NONE ? BOOK_OK : s;
    }
}

/* The steep that is meant; the last that strains off solids when none is said. */
static int steep_of(const struct st_recipe *r, const char *said, struct st_problem *problem)
{
    int at = -1;
    if (said) {
        at = st_batch_step(r, said, problem);
        if (at >= 0 && r->step[at].kind != ST_DO_STEEP)
            return st_batch_refuse(problem, "that step strains nothing off", "say the step that steeps",
                                   "step \"%.60s\"", said);
        return at;
    }
    for (int i = 0; i < r->n_step; i++)
        if (r->step[i].kind == ST_DO_STEEP)
            at = i;
    return at >= 0 ? at
                   : st_batch_refuse(problem, "nothing is steeped in its recipe",
                                     "what else is kept is a lot of the larder", "no spent fruit");
}

/* What lies in it most, by its weight as put in. */
static const struct st_ingredient *heaviest(const struct st_step *s)
{
    const struct st_ingredient *best = NULL;
    double most = -1.0;
    for (int i = 0; i < s->n_line; i++) {
        const struct st_line *l = &s->line[i];
        if (!l->what || !st_kind_is_solid(l->what->kind))
            continue;
        const double g = l->amount.dim == ST_DIM_MASS ? l->amount.value : 0.0;
        if (g > most) {
            most = g;
            best = l->what;
        }
    }
    return best;
}

static const struct st_balance *balance_of(const struct st_foretold *f, int step)
{
    for (int i = 0; i < f->n_balance; i++)
        if (f->balance[i].step == step)
            return &f->balance[i];
    return NULL;
}

enum book_status st_batch_drained(const struct st_batch_ask *a, const struct book_batch *batch, const char *step,
                                  double *g)
{
    struct book_reading *r;
    int n;
    const struct book_wanted of = { .column = "batch_id", .integer = batch->id };
    const enum book_status s = book_list(a->book, BOOK_READING, &of, a->arena, &r, &n);
    *g = (double)NAN;
    for (int i = 0; s == BOOK_OK && i < n; i++)
        if (!r[i].doubted && strcmp(r[i].kind, "drained_g") == 0 && (strcmp(r[i].step, step) == 0 || !*r[i].step))
            *g = r[i].value;
    return s;
}

/* The liquor that was drained off has the composition of what the solids keep: a steep at its end is one liquid. */
static void liquor(const struct st_balance *x, struct st_batch_spent *out)
{
    double whole = 0.0, spent = 0.0;
    for (int c = 0; c < ST_NCOMP; c++) {
        whole += x->mass_g[c];
        spent += x->spent_g[c];
    }
    /* ethanol comes in by the liquor alone, water also by the fruit */
    const double ethanol = x->mass_g[ST_ETHANOL], share = ethanol > 0.0 ? x->spent_g[ST_ETHANOL] / ethanol : 0.0;
    out->liquor_g = fmin(share * whole, spent);
    out->strength_pct_vol = x->strength;
    out->drained_g = spent;
}

enum book_status st_batch_spent(const struct st_batch_ask *a, const struct book_batch *batch,
                                const struct st_batch_made *made, const char *step, struct st_batch_spent *out,
                                struct st_problem *problem)
{
    const struct st_recipe *r = &made->file.recipe;
    const int at = steep_of(r, step, problem);
    double weighed;
    *out = (struct st_batch_spent){ .name = "", .slug = "" };
    if (at < 0)
        return BOOK_OK;
    const struct st_balance *x = balance_of(&made->out, at);
    const struct st_ingredient *what = heaviest(&r->step[at]);
    if (!x || !what) {
        st_batch_refuse(problem, "nothing is strained off there", "say another step", "step %.60s", r->step[at].id);
        return BOOK_OK;
    }
    liquor(x, out);
    /* spent fruit that is spent again is still that fruit */
    const bool again = strncmp(what->name, "spent ", 6) == 0 && what->like && *what->like;
    out->name = st_arena_printf(a->arena, "spent %s", again ? what->like : what->name);
    out->slug = st_arena_strdup(a->arena, again ? what->like : what->slug);
    out->step = st_arena_strdup(a->arena, r->step[at].id);
    const enum book_status s = st_batch_drained(a, batch, r->step[at].id, &weighed);
    out->weighed = isfinite(weighed);
    if (out->weighed) { /* the liquor in proportion */
        out->liquor_g *= weighed / out->drained_g;
        out->drained_g = weighed;
    }
    return s;
}

/* ---- a lot of before ---- */

const char *st_batch_spent_words(struct st_arena *arena, const char *step)
{
    return st_arena_printf(arena, "drained from step \"%.80s\"", step);
}

/* How far a steep is from what is written of the lot; infinite: nothing is strained off there. */
static double far_from(const struct book_lot *lot, const struct st_batch_spent *x)
{
    const double other = strcmp(lot->slug, x->slug) == 0 ? 0.0 : 1000.0; /* more than strengths are apart */
    return other + (isfinite(lot->strength_pct_vol) ? fabs(lot->strength_pct_vol - x->strength_pct_vol) : 0.0);
}

enum book_status st_batch_spent_lot(const struct st_batch_ask *a, const struct book_batch *batch,
                                    const struct st_batch_made *made, const struct book_lot *lot,
                                    struct st_batch_spent *out, struct st_problem *problem)
{
    const struct st_recipe *r = &made->file.recipe;
    double least = HUGE_VAL;
    struct st_batch_spent x;
    enum book_status s = BOOK_OK;
    for (int i = 0; i < r->n_step && s == BOOK_OK; i++) {
        struct st_problem none = { .what = "" };
        if (r->step[i].kind != ST_DO_STEEP)
            continue;
        s = st_batch_spent(a, batch, made, r->step[i].id, &x, &none);
        if (s != BOOK_OK || none.what[0])
            continue;
        if (strcmp(lot->words, st_batch_spent_words(a->arena, r->step[i].id)) == 0) {
            *out = x;
            return BOOK_OK;
        }
        const double far = far_from(lot, &x);
        if (far <= least) {
            least = far;
            *out = x;
        }
    }
    return s == BOOK_OK && !(least < HUGE_VAL) ? st_batch_spent(a, batch, made, NULL, out, problem) : s;
}
