#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "aim_kitchen.h"
#include "inside.h"
#include "text/aim_words.h"
#include "util/memory.h"

/* A recipe turned round: which amounts give the bottle that is wished for. */

/* Which slider an entry of a list means. */
static bool read_place(struct st_call *c, const struct st_kept *k, const char *list, size_t i, const json_t *o,
                       bool valued, const struct st_slider **s, double *value)
{
    char path[40];
    int at;
    snprintf(path, sizeof path, "%s[%zu].", list, i);
    if (!st_dial_read(c, k, o, path, valued, &at, value))
        return false;
    *s = &k->slider[at];
    return true;
}

static bool free_one(struct st_call *c, struct st_aim *a, const struct st_slider *s)
{
    const struct st_dial *d = &s->dial;
    for (int k = 0; k < a->n_dial; k++)
        if (a->dial[k].dial.step == d->step && a->dial[k].dial.line == d->line && a->dial[k].dial.of == d->of)
            return true;
    if (d->of == ST_DIAL_STRENGTH ? st_aim_free_strength(a, d->step, d->line, 5.0, 96.0, ST_BOUND_NATURE)
                                  : st_aim_free(a, d->step, d->line))
        return true;
    return st_call_refuse(c, 422, "free", "too many amounts are free", "there is room for sixteen",
                          "keep some of them");
}

static bool read_free(struct st_call *c, const struct st_kept *k, struct st_aim *a)
{
    json_t *list = NULL;
    const struct st_slider *s;

    if (!st_call_list(c, c->in, "", "free", ST_MAX_DIALS, &list))
        return false;
    if (!list)
        (void)st_aim_free_usual(a);
    for (size_t i = 0; i < json_array_size(list); i++)
        if (!read_place(c, k, "free", i, json_array_get(list, i), false, &s, NULL) || !free_one(c, a, s))
            return false;
    list = NULL;
    if (!st_call_list(c, c->in, "", "keep", 100, &list))
        return false;
    for (size_t i = 0; i < json_array_size(list); i++) {
        if (!read_place(c, k, "keep", i, json_array_get(list, i), false, &s, NULL))
            return false;
        st_aim_keep(a, s->dial.step, s->dial.line);
    }
    if (a->n_dial == 0)
        return st_call_refuse(c, 422, "free", "nothing may be changed",
                              "no line of spirit, sugar, syrup or water has an amount",
                              "name lines in \"free\"; see \"dials\" of /api/foresee");
    return true;
}

/* "I have no more than that of it". */
static bool read_most(struct st_call *c, const struct st_kept *k, struct st_aim *a)
{
    json_t *list = NULL;
    if (!st_call_list(c, c->in, "", "at_most", 100, &list))
        return false;
    for (size_t i = 0; i < json_array_size(list); i++) {
        const struct st_slider *s;
        double value = (double)NAN;
        if (!read_place(c, k, "at_most", i, json_array_get(list, i), true, &s, &value))
            return false;
        if (!(value > 0.0))
            return st_call_refuse(c, 422, "at_most", "there is nothing of it", "a line cannot be made of nothing",
                                  "leave the line out of the recipe");
        for (int n = 0; n < a->n_dial; n++) {
            struct st_aim_dial *d = &a->dial[n];
            if (d->dial.step != s->dial.step || d->dial.line != s->dial.line || d->dial.of != s->dial.of)
                continue;
            d->high = s->dial.of == ST_DIAL_STRENGTH ? value : value / s->written;
            d->low = fmin(d->low, d->high);
            d->high_by = ST_BOUND_HAVE;
        }
    }
    return true;
}

static bool read_jar(struct st_call *c, struct st_aim_task *t)
{
    const struct st_recipe *r = t->aim.recipe;
    if (!st_call_number(c, c->in, "", "jar_ml", 50.0, 1e5, &t->jar_ml))
        return false;
    if (t->jar_ml > 0.0)
        snprintf(t->jar, sizeof t->jar, t->jar_ml >= 1000.0 ? "%.6g L" : "%.6g mL",
                 t->jar_ml >= 1000.0 ? t->jar_ml * 1e-3 : t->jar_ml);
    for (int i = 0; i < r->n_step; i++) {
        const double ml = t->jar_ml > 0.0 && r->step[i].kind == ST_DO_STEEP ? t->jar_ml : r->step[i].vessel_ml;
        if (ml > 0.0)
            (void)st_aim_jar(&t->aim, i, ST_AIM_BRIM * ml);
    }
    st_aim_makeable(&t->aim);
    return true;
}

static bool read_wishes(struct st_call *c, struct st_aim_task *t, double bottle_ml)
{
    if (!st_wish_read(c, bottle_ml, &t->wished))
        return false;
    if (t->wished.n == 0)
        return st_call_refuse(c, 400, "wish", "nothing is wished for", "amounts are sought that give a certain bottle",
                              "send for example \"wish\": {\"strength_pct_vol\": [22, 24]}");
    for (int i = 0; i < t->wished.n; i++) {
        const struct st_wish *w = &t->wished.of[i].wish;
        (void)st_aim_wish(&t->aim, w->of, w->low, w->high, w->tolerance);
    }
    return true;
}

/* ---- the answer ---- */

/* In the usual kitchen's amounts; where that has none, they are rounded and what may be weighed is told. */
static bool measured(struct st_aim_task *t)
{
    struct st_kitchen usual;
    struct st_problem problem;
    st_kitchen_usual(&usual, t->file->recipe.measures != ST_MEASURES_NONE ? t->file->recipe.measures : t->units);
    if (st_aim_in_kitchen(t, &usual, &problem))
        return true;
    st_aim_kitchen_free(t->kitchen);
    t->kitchen = NULL;
    st_aim_recipe_free(t->made);
    t->made = NULL;
    st_buf_clear(&t->changed);
    return false;
}

static bool write_it(struct st_call *c, struct st_aim_task *t, bool kitchen)
{
    struct st_problem problem = { .what = "" };
    if (kitchen && measured(t))
        return true;
    struct st_catalogue *catalogue = st_api_catalogue(c);
    if (!catalogue)
        return false;
    const bool written = st_aim_write(t, catalogue, &problem);
    t->own = st_api_catalogue_own(c->api);
    return written || st_call_problem(c, "recipe", &problem);
}

/* What passes a limit that it could keep is solved again. */
static bool solve(struct st_call *c, struct st_aim_task *t, bool kitchen)
{
    struct st_problem problem = { .what = "" };
    do {
        const enum st_status s = st_aim_solve(&t->aim, &t->found, &problem);
        if (s < 0 && s != ST_E_NOCONV)
            return st_call_problem(c, "recipe", &problem);
        if (!write_it(c, t, kitchen))
            return false;
    } while (st_aim_watch(t));
    st_aim_find_ways(t);
    return true;
}

static void answer(struct st_call *c, const struct st_kept *k, struct st_aim_task *t, bool kitchen)
{
    struct st_problem problem = { .what = "" };
    if (!read_wishes(c, t, k->file.recipe.step[k->file.recipe.n_step - 1].bottle_ml) || !read_free(c, k, &t->aim) ||
        !read_most(c, k, &t->aim) || !read_jar(c, t))
        return;
    if (st_aim_stopped(t, &problem)) {
        c->out = st_doc_aim(t);
        if (kitchen)
            json_object_set_new(c->out, "alternatives", json_array());
        return;
    }
    if (t->stop) {
        st_call_problem(c, "recipe", &problem);
        return;
    }
    if (!solve(c, t, kitchen))
        return;
    st_aim_write_ways(t);
    c->out = st_doc_aim(t);
    if (kitchen && !t->kitchen)
        json_object_set_new(c->out, "alternatives", st_aim_alternatives(c, t));
}

void st_route_aim(struct st_call *c)
{
    static const char *const KNOWN[] = { "recipe", "units", "wish",  "free",    "keep",           "at_most",
                                         "jar_ml", "seed",  "draws", "kitchen", ST_WATCH_MEMBERS, NULL };
    enum st_measures units = ST_MEASURES_NONE;
    struct st_options o;
    const char *text;
    bool kitchen = false;

    if (!st_call_known(c, c->in, "", KNOWN) || !st_call_measures(c, "units", &units) || !st_call_options(c, 4000, &o) ||
        !st_call_flag(c, c->in, "", "kitchen", &kitchen) ||
        !st_call_must(c, "recipe", ST_TEXT_RECIPE, "\"schema_version: 1\\n...\", \"wish\": {\"strength_pct_vol\": 24}",
                      &text))
        return;
    struct st_kept *k = st_kept_recipe(c, text, units);
    if (!k)
        return;
    struct st_watch watch;
    if (!st_call_watch(c, &k->file.recipe, &watch))
        return;
    struct st_aim_task *t = x_calloc(1, sizeof *t); /* large */
    t->watch = watch;
    t->text = k->text;
    t->size = k->size;
    t->file = &k->file;
    t->units = units;
    t->seed = o.seed;
    t->draws = o.draws;
    st_aim_init(&t->aim, &k->file.recipe);
    answer(c, k, t, kitchen);
    st_aim_task_done(t);
    free(t);
}
