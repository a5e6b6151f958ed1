#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "aim_kitchen.h"
#include "model/aim_carry.h"
#include "text/aim_words.h"
#include "text/ledger_words.h"
#include "util/memory.h"

/* What was written, held against the limits in force: solved again until it keeps those that it could keep. */

enum { MOST_ROUNDS = 6, DRAWS_FOR_OTHERS = 1000 };

static struct st_ledger *ledger_of(const struct st_aim_task *t, const struct st_recipe *r, const struct st_foretold *f)
{
    struct st_ledger *l = x_calloc(1, sizeof *l);
    if (st_ledger_make(r, f, t->watch.books, t->watch.place->places, &t->watch.who, r->assay, r->n_assay, l) >= 0)
        return l;
    free(l);
    return NULL;
}

static bool foretell(const struct st_aim_task *t, const struct st_recipe *r, int draws, struct st_foretold *f)
{
    struct st_problem problem;
    const struct st_options o = { .seed = t->seed, .draws = draws, .effects = false };
    struct st_plan *p = st_plan_create(r, &problem);
    const bool done = p && st_plan_run(p, &o, f) >= 0;
    st_plan_free(p);
    return done;
}

/* NULL where it gives no figures. */
static struct st_ledger *ledger_drawn(const struct st_aim_task *t, const struct st_recipe *r, int draws)
{
    struct st_foretold *f = x_calloc(1, sizeof *f);
    struct st_ledger *l = foretell(t, r, draws, f) ? ledger_of(t, r, f) : NULL;
    st_foretold_done(f);
    free(f);
    return l;
}

/* What the solving wrote, thrown away. */
static void unwrite(struct st_aim_task *t)
{
    st_foretold_done(&t->out);
    memset(&t->out, 0, sizeof t->out);
    st_recipe_done(&t->again);
    memset(&t->again, 0, sizeof t->again);
    st_aim_recipe_free(t->made);
    t->made = NULL;
    st_aim_kitchen_free(t->kitchen);
    t->kitchen = NULL;
    st_catalogue_free(t->own);
    t->own = NULL;
    st_buf_clear(&t->changed);
    memset(&t->why_not, 0, sizeof t->why_not);
    t->recipe = NULL;
}

/* ---- what binds ---- */

static bool binds(const struct st_aim_task *t, const struct st_ledger_entry *e, const struct st_test *x,
                  bool *as_written)
{
    for (int i = 0; i < t->aim.n_limit; i++) {
        const struct st_aim_limit *l = &t->aim.limit[i];
        *as_written = l->as_written;
        if (l->of == ST_LIMIT_CARRY && l->toxicant == e->toxicant && l->rule == x->rule)
            return t->found.fill[i] > 0.97; /* what rounding may have left */
    }
    return false;
}

static void hold_one(struct st_aim_task *t, const struct st_ledger_entry *e, const struct st_test *x)
{
    bool as_written = false;
    const bool bound = binds(t, e, x, &as_written), passed = st_carry_counts(x);
    if ((!bound && !passed) || t->n_held == ST_AIM_HELD)
        return;
    struct st_aim_held *h = &t->held[t->n_held++];
    *h = (struct st_aim_held){ .toxicant = e->toxicant, .rule = x->rule, .high = x->high, .limit = x->limit };
    h->passed = passed;
    if (passed)
        (void)st_carry_allowed(e->toxicant, x, t->written, &h->as_written);
    st_test_words(x, &t->watch.who, h->text, sizeof h->text);
    st_most_words(t->recipe, e, h->most, sizeof h->most);
}

static void hold_all(struct st_aim_task *t, const struct st_ledger *l)
{
    t->n_held = 0;
    for (int i = 0; i < l->n_entry; i++)
        for (int k = 0; k < l->entry[i].n_test; k++)
            hold_one(t, &l->entry[i], &l->entry[i].test[k]);
}

/* ---- other ways to measure it ---- */

/* How near the nearest limit is. */
static double nearest(const struct st_ledger *l)
{
    double most = 0.0;
    for (int i = 0; i < l->n_entry; i++)
        for (int k = 0; k < l->entry[i].n_test; k++) {
            const struct st_test *x = &l->entry[i].test[k];
            if (x->rule->in_force && !x->rule->at_least && x->high / x->limit > most)
                most = x->high / x->limit;
        }
    return most;
}

/* One that would pass a limit is none. */
static void drop_others(struct st_aim_task *t, const struct st_ledger *made)
{
    struct st_kitchen_choice *c = &t->kitchen->choice;
    if (nearest(made) < 0.3)
        return;
    for (int i = 0; i < ST_NALT; i++) {
        struct st_recipe *r = c->has[i] ? st_kitchen_recipe(&t->aim, &t->kitchen->kitchen, c->other[i].item) : NULL;
        struct st_ledger *l = r ? ledger_drawn(t, r, t->draws < DRAWS_FOR_OTHERS ? t->draws : DRAWS_FOR_OTHERS) : NULL;
        if (l && st_carry_is_worse(l, t->written)) {
            c->has[i] = false;
            c->why[i] = ST_WHY_LIMIT;
            st_buf_clear(&t->kitchen->other_recipe[i]);
        }
        free(l);
        st_aim_recipe_free(r);
    }
}

/* ---- the whole ---- */

static void find_written(struct st_aim_task *t)
{
    if (!t->written)
        t->written = ledger_drawn(t, &t->file->recipe, t->draws);
}

bool st_aim_watch(struct st_aim_task *t)
{
    struct st_ledger *made = t->watch.books && t->watch.place ? ledger_of(t, t->recipe, &t->out) : NULL;
    if (!made)
        return false;
    t->over = st_ledger_passes(made);
    if (t->over)
        find_written(t);
    const bool again = t->over && t->aim.n_wish > 0 && t->watched < MOST_ROUNDS &&
                       st_aim_carry(&t->aim, t->value, &t->out, made, t->written, t->watched) > 0;
    t->watched++;
    if (again) {
        free(made);
        unwrite(t);
        return true;
    }
    t->met = t->met && !(t->over && st_carry_is_worse(made, t->written));
    hold_all(t, made);
    if (t->kitchen)
        drop_others(t, made);
    free(made);
    return false;
}

/* ---- ways round ---- */

static bool solve_again(struct st_aim_way *w)
{
    struct st_problem problem;
    if (st_aim_solve(&w->aim, &w->found, &problem) < 0 || !w->found.met)
        return false;
    if (w->way == ST_WAY_FREE)
        w->to = w->found.value[w->index];
    return true;
}

/* A way that passes a limit is solved again within it; false where that is none. */
static bool way_keeps(struct st_aim_task *t, struct st_aim_way *w)
{
    for (int round = 0; round < MOST_ROUNDS; round++) {
        struct st_foretold *f = x_calloc(1, sizeof *f);
        struct st_recipe *r = st_aim_recipe(&w->aim, w->found.value);
        struct st_ledger *l = r && foretell(t, r, t->draws, f) ? ledger_of(t, r, f) : NULL;
        if (l && st_ledger_passes(l))
            find_written(t);
        const bool worse = !l || st_carry_is_worse(l, t->written);
        const bool moved = worse && l && st_aim_carry(&w->aim, w->found.value, f, l, t->written, round) > 0;
        free(l);
        st_aim_recipe_free(r);
        st_foretold_done(f);
        free(f);
        if (!worse)
            return true;
        if (!moved || !solve_again(w))
            return false;
    }
    return false;
}

/* Something in the recipe has a limit. */
static bool has_limits(const struct st_aim_task *t)
{
    struct st_ledger *l = t->watch.books && t->watch.place ? ledger_of(t, t->recipe, &t->out) : NULL;
    const bool any = l && nearest(l) > 0.0;
    free(l);
    return any;
}

void st_aim_find_ways(struct st_aim_task *t)
{
    int n = 0;
    if (t->found.met)
        return;
    const int most = st_aim_ways(&t->aim, &t->found, t->way, ST_AIM_WAYS);
    const bool watched = most > 0 && has_limits(t);
    for (int i = 0; i < most; i++)
        if (!watched || way_keeps(t, &t->way[i])) {
            if (n != i)
                t->way[n] = t->way[i];
            n++;
        }
    t->n_way = n;
}
