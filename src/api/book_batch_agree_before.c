#include "api/book_batch_agree_before.h"

#include <stdlib.h>
#include <string.h>

#include "api/book_batch_lost.h"
#include "api/book_batch_rest.h"
#include "model/unweighed.h"
#include "util/memory.h"

/* ---- readings ---- */

enum book_status st_batch_agree_back(const struct st_batch_ask *a, const struct st_batch_past *past,
                                     const struct st_batch_made *made, const struct book_reading *row,
                                     struct st_observation *o, double *back_ml)
{
    double lost, bottled;
    *back_ml = 0.0;
    if (o->what != ST_SEEN_LIQUOR_ML && o->what != ST_SEEN_LIQUOR_G)
        return BOOK_OK;
    const enum book_status s = st_batch_went(a, past, row, false, &lost, &bottled);
    if (s != BOOK_OK || !(lost + bottled > 0.0))
        return s;
    const struct st_interval *density = &made->out.fig[ST_FIG_DENSITY];
    *back_ml = lost + bottled;
    o->sd = o->sd > 0.0 ? o->sd : st_seen_usual_sd(o->what, o->value);
    o->value += *back_ml * (o->what == ST_SEEN_LIQUOR_ML ? 1.0 : density->known ? density->value / 1000.0 : 1.0);
    return BOOK_OK;
}

const char *st_batch_old_why(enum st_batch_old_use use)
{
    switch (use) {
    case ST_OLD_GOES_ON: return "";
    case ST_OLD_NOT_DRINK: return "it was not the finished drink yet";
    case ST_OLD_DISAGREES: return "it does not agree with the recipe, or with what else was read of it then";
    case ST_OLD_SAYS_NOTHING: return "it says nothing of strength, sugar, acid or volume";
    case ST_OLD_IN_REST: return "what was left of the drink then is reckoned from it already";
    case ST_OLD_NOT_FORETOLD: return "the drink of then cannot be foretold";
    }
    return "";
}

static int rests_in(const struct st_recipe *r)
{
    int n = 0;
    for (int i = 0; i < r->n_step; i++)
        n += st_batch_is_rest(&r->step[i]);
    return n;
}

/* Whether the first rest after so many is reckoned from a volume that was read. */
static bool next_is_read(const struct st_recipe *r, int rests)
{
    for (int i = 0, n = 0; i < r->n_step; i++)
        if (st_batch_is_rest(&r->step[i]) && n++ == rests)
            return r->step[i].line[0].amount.dim == ST_DIM_VOLUME;
    return false;
}

struct looking {
    const struct st_batch_ask *a;
    const struct book_batch *batch;
    const struct st_batch_made *now;
    struct st_batch_agree *out;
};

/* Those of e[n] that count, with what had gone added back. */
static enum book_status readings_of(const struct looking *k, const struct st_batch_ask *as_of,
                                    const struct st_batch_earlier e[], int n, struct st_batch_then *then)
{
    struct st_batch_past past;
    const struct st_recipe *r = &then->made->file.recipe;
    enum book_status s = st_batch_past(as_of, k->batch, &past);
    const bool rest = next_is_read(&k->now->file.recipe, rests_in(r));
    if (s == BOOK_OK && then->made->lost_in)
        st_batch_lost_out(r, &past);
    for (int i = 0; i < n && s == BOOK_OK; i++) {
        double back;
        if (rest && e[i].seen.what == ST_SEEN_LIQUOR_ML) {
            k->out->old[e[i].at].use = ST_OLD_IN_REST;
            continue;
        }
        then->seen[then->n] = e[i].seen;
        then->at[then->n] = e[i].at;
        s = st_batch_agree_back(as_of, &past, then->made, e[i].row, &then->seen[then->n++], &back);
    }
    return s;
}

/* Of one drink of before. */
static enum book_status look_at(const struct looking *k, const struct st_batch_earlier e[], int n,
                                struct st_batch_thens *all)
{
    const struct book_reading *last = e[n - 1].row;
    const struct st_batch_moment moment = { .table = BOOK_READING, .id = last->id, .day = last->at };
    struct st_batch_ask as_of = *k->a;
    struct st_batch_then *then = all->of[all->n++] = x_calloc(1, sizeof *then); /* large */
    then->made = x_calloc(1, sizeof *then->made);
    as_of.until = &moment;
    enum book_status s = st_batch_made(&as_of, k->batch, true, true, then->made);
    for (int i = 0; i < n; i++)
        k->out->old[e[i].at].use = ST_OLD_NOT_FORETOLD;
    if (s == BOOK_OK && then->made->told)
        s = readings_of(k, &as_of, e, n, then);
    return s;
}

enum book_status st_batch_thens_of(const struct st_batch_ask *a, const struct book_batch *batch,
                                   const struct st_batch_made *made, const struct st_batch_earlier e[], int n,
                                   struct st_batch_agree *out, struct st_batch_thens *then)
{
    const struct looking k = { .a = a, .batch = batch, .now = made, .out = out };
    struct st_batch_earlier of[ST_AGREE_MOST];
    enum book_status s = BOOK_OK;
    int m = 0;
    for (int i = 0; i < n; i++) {
        out->old[e[i].at].use = ST_OLD_NOT_DRINK;
        if (!e[i].of_recipe)
            of[m++] = e[i];
    }
    for (int i = 0, end; i < m && s == BOOK_OK; i = end) {
        for (end = i + 1; end < m && of[end].since == of[i].since;)
            end++;
        s = look_at(&k, of + i, end - i, then);
    }
    return s;
}

void st_batch_thens_done(struct st_batch_thens *then)
{
    for (int i = 0; i < then->n; i++) {
        st_batch_made_done(then->of[i]->made);
        free(then->of[i]->made);
        free(then->of[i]);
    }
    then->n = 0;
}

/* ---- held against what is foretold ---- */

/* A reading is held against what is foretold without it. */
struct foretold {
    struct st_unweighed *plain;
    struct st_agree_drained solids;
};

static void foretell(const struct st_batch_ask *a, const struct st_batch_made *made, bool drained, struct foretold *f,
                     struct st_agree_part *part)
{
    f->plain = st_unweighed_create(&made->file.recipe, a->seed, made->out.draws);
    const struct st_recipe *r = f->plain ? &f->plain->recipe : &made->file.recipe;
    struct st_problem why = { .what = "" };
    struct st_plan *plan = drained ? st_plan_create(r, &why) : NULL;
    part->told = f->plain ? &f->plain->out : &made->out;
    if (plan && st_agree_drained_of(plan, r, a->seed, part->told->draws, &f->solids) >= 0)
        part->drained = &f->solids;
    st_plan_free(plan);
}

/* Whether anybody weighed drained solids: what no reading is of moves no figure, and its draws cost more than all the rest. */
static bool weighed_drained(const struct st_batch_agree *out)
{
    for (int i = 0; i < out->n; i++)
        if (out->seen[i].what == ST_SEEN_DRAINED_G)
            return true;
    return false;
}

static void tell_uses(const struct st_agreement *g, const struct st_batch_then *then, struct st_batch_agree *out)
{
    for (int i = 0; i < g->n; i++) {
        struct st_batch_old *o = &out->old[then->at[i]];
        o->use = g->reading[i].use != ST_AGREE_USED ? ST_OLD_SAYS_NOTHING
                 : st_agree_goes_on(g, i)           ? ST_OLD_GOES_ON
                                                    : ST_OLD_DISAGREES;
        out->n_on += o->use == ST_OLD_GOES_ON;
    }
}

/* In part[] those of before of which something is known, then now. */
static int parts_of(const struct st_batch_ask *a, const struct st_batch_thens *then, const struct st_batch_made *made,
                    const struct st_batch_agree *out, struct foretold f[], struct st_agree_part part[], int of[])
{
    const bool drained = weighed_drained(out);
    int n = 0;
    for (int k = 0; k < then->n; k++) {
        const struct st_batch_then *t = then->of[k];
        if (t->n == 0 || t->made->out.draws != made->out.draws)
            continue;
        part[n] = (struct st_agree_part){ .seen = t->seen, .n = t->n };
        foretell(a, t->made, drained, &f[n], &part[n]);
        of[n++] = k;
    }
    part[n] = (struct st_agree_part){ .seen = out->seen, .n = out->n };
    foretell(a, made, drained, &f[n], &part[n]);
    return n + 1;
}

enum st_status st_batch_agree_hold(const struct st_batch_ask *a, const struct st_batch_thens *then,
                                   const struct st_batch_made *made, struct st_batch_agree *out)
{
    struct foretold f[ST_AGREE_PARTS] = { { .plain = NULL } };
    struct st_agree_part part[ST_AGREE_PARTS];
    int of[ST_AGREE_PARTS];
    const int n = parts_of(a, then, made, out, f, part, of);
    struct st_agreement *g = x_calloc((size_t)n, sizeof *g); /* large */
    enum st_status s = st_agree_on(part, n, g);
    for (int k = 0; k + 1 < n && s >= 0; k++)
        tell_uses(&g[k], then->of[of[k]], out);
    if (s < 0 && n > 1) /* one of them cannot be held against anything: now it is, as if nothing had been read before */
        s = st_agree_on(&part[n - 1], 1, &g[n - 1]);
    if (s >= 0)
        out->out = g[n - 1];
    for (int k = 0; k < n; k++) {
        st_agree_drained_done(&f[k].solids);
        st_unweighed_free(f[k].plain);
    }
    free(g);
    return s;
}
