#include "aim_kitchen.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "text/amount_fine.h"
#include "text/caution_heat.h"
#include "text/quantity.h"
#include "text/recipe_edit.h"
#include "text/stops.h"

enum { MOST_EDITS = 64 };

static const struct st_line *line_of(const struct st_recipe *r, const struct st_dial *d)
{
    return &r->step[d->step].line[d->line];
}

static enum st_measures measures(const struct st_aim_task *t)
{
    return t->file->recipe.measures != ST_MEASURES_NONE ? t->file->recipe.measures : t->units;
}

/* One edit for a line, whichever of its dials asks for it. */
static struct st_edit *edit_for(struct st_edit *edit, int *n, const struct st_line *line)
{
    for (int i = 0; i < *n; i++)
        if (edit[i].line == line)
            return &edit[i];
    if (*n == MOST_EDITS)
        return NULL;
    edit[*n] = (struct st_edit){ .line = line };
    return &edit[(*n)++];
}

static bool same_spirit(const struct st_line *a, const struct st_line *b)
{
    return a->what && a->what == b->what && a->strength.known == b->strength.known &&
           (!a->strength.known || a->strength.value == b->strength.value);
}

static void edit_strength(const struct st_recipe *r, const struct st_dial *d, double value, struct st_edit *edit,
                          int *n)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            struct st_edit *e =
                same_spirit(&r->step[s].line[i], line_of(r, d)) ? edit_for(edit, n, &r->step[s].line[i]) : NULL;
            if (e)
                e->strength = value;
        }
}

/* Round every dial to what can be measured; edits of the text, and the dials so rounded. */
static int make_edits(const struct st_aim_task *t, const struct st_aim *a, const double exact[], struct st_edit *edit,
                      char (*amount)[64], double value[])
{
    int n = 0;
    const struct st_recipe *r = a->recipe;
    for (int k = 0; k < a->n_dial; k++) {
        const struct st_dial *d = &a->dial[k].dial;
        const struct st_amount *m = &line_of(r, d)->amount;
        value[k] = exact[k];
        if (d->of == ST_DIAL_STRENGTH) {
            value[k] = a->dial[k].low == a->dial[k].high ? exact[k] : round(10.0 * exact[k]) / 10.0;
            edit_strength(r, d, value[k], edit, &n);
            continue;
        }
        if (fabs(exact[k] - 1.0) < 1e-6) {
            value[k] = 1.0;
            continue;
        }
        struct st_amount back;
        struct st_problem problem;
        size_t used;
        st_amount_fine(m, exact[k] * m->value, measures(t), amount[k], sizeof amount[k]);
        if (st_quantity_parse(amount[k], strlen(amount[k]), measures(t), &back, &used, &problem) == 0 &&
            back.dim == m->dim)
            value[k] = back.value / m->value;
        struct st_edit *e = value[k] == 1.0 ? NULL : edit_for(edit, &n, line_of(r, d));
        if (e)
            e->amount = amount[k];
    }
    return n;
}

/* The text with these edits; false and *problem when it cannot be changed in place. */
static bool edit_text(const struct st_aim_task *t, const struct st_aim *a, const double exact[], double value[],
                      struct st_buf *out, struct st_problem *problem)
{
    struct st_edit edit[MOST_EDITS];
    char amount[ST_MAX_DIALS][64];
    int n = make_edits(t, a, exact, edit, amount, value);
    for (int s = 0; *t->jar && s < t->file->recipe.n_step && n < MOST_EDITS; s++)
        if (t->file->recipe.step[s].kind == ST_DO_STEEP)
            edit[n++] = (struct st_edit){ .step = &t->file->recipe.step[s], .vessel = t->jar };
    return st_recipe_edit(t->text, t->size, measures(t), edit, n, out, problem) == 0;
}

/* A range ("100-120 g"), "about", or a heaped spoon must not have become a sharp figure. */
static bool keeps_doubt(const struct st_amount *was, const struct st_amount *now, double by)
{
    const double near = 0.02 * now->value;
    return was->heaped == now->heaped && was->scant == now->scant && fabs(now->low - by * was->low) <= near &&
           fabs(now->high - by * was->high) <= near;
}

/* What was read again must be what was meant. */
static bool is_as_meant(const struct st_aim_task *t, const struct st_recipe *r)
{
    for (int k = 0; k < t->aim.n_dial; k++) {
        const struct st_dial *d = &t->aim.dial[k].dial;
        if (d->step >= r->n_step || d->line >= r->step[d->step].n_line)
            return false;
        const struct st_line *now = line_of(r, d), *was = line_of(&t->file->recipe, d);
        const double is = d->of == ST_DIAL_STRENGTH ? now->strength.value : now->amount.value / was->amount.value;
        if (!(fabs(is - t->value[k]) <= 1e-6 * fabs(t->value[k]) + 1e-9))
            return false;
        if (d->of == ST_DIAL_AMOUNT && !keeps_doubt(&was->amount, &now->amount, is))
            return false;
    }
    return true;
}

static bool refuse(struct st_problem *problem, const char *why)
{
    *problem = (struct st_problem){ .what = "these amounts give no figures",
                                    .try_ = "look for an amount that is far too large or too small" };
    snprintf(problem->why, sizeof problem->why, "%s", why);
    return false;
}

static void judge(struct st_aim_task *t)
{
    st_cautions_collect(t->recipe, &t->out, &t->watch, &t->cautions);
    st_aim_odds(&t->aim, &t->out, &t->odds);
    t->met = t->times > 0.0 || t->aim.n_wish > 0;
    for (int i = 0; i < t->aim.n_wish; i++) {
        t->miss[i] = st_wish_miss(&t->aim.wish[i], t->out.fig[t->aim.wish[i].of].value);
        t->met = t->met && t->miss[i] == 0.0;
    }
}

bool st_aim_foretell(struct st_aim_task *t, const struct st_recipe *r, struct st_problem *problem)
{
    struct st_plan *p = st_plan_create(r, problem);
    if (!p)
        return false;
    const struct st_options o = { .seed = t->seed, .draws = t->draws, .effects = false };
    const enum st_status s = st_plan_run(p, &o, &t->out);
    st_plan_free(p);
    if (s < 0)
        return refuse(problem, st_status_text(s));
    t->recipe = r;
    judge(t);
    return true;
}

bool st_aim_stopped(struct st_aim_task *t, struct st_problem *problem)
{
    t->stop = st_recipe_stop(&t->file->recipe);
    if (!t->stop || !st_aim_foretell(t, &t->file->recipe, problem))
        return false;
    t->met = false;
    return true;
}

double st_aim_poured(const struct st_aim_task *t, int k)
{
    const struct st_dial *d = &t->aim.dial[k].dial;
    return d->of == ST_DIAL_STRENGTH ? t->value[k] : st_line_strength(line_of(t->recipe, d));
}

double st_aim_way_poured(const struct st_aim_way *w)
{
    double q = 0.0;
    for (int k = 0; k < w->aim.n_dial; k++)
        if (w->aim.dial[k].dial.of == ST_DIAL_STRENGTH && w->found.value[k] > q)
            q = w->found.value[k];
    return q;
}

/* The changed text, read again: what it says is what counts. */
static bool is_written(struct st_aim_task *t, struct st_catalogue *catalogue)
{
    if (!edit_text(t, &t->aim, t->found.value, t->value, &t->changed, &t->why_not))
        return false;
    const int read =
        st_recipe_read_as("recipe", st_buf_text(&t->changed), t->changed.length, catalogue, t->units, &t->again);
    if (read == 0 && is_as_meant(t, &t->again.recipe))
        return true;
    if (read != 0 && t->again.n_problem > 0)
        t->why_not = t->again.problem[0];
    else
        t->why_not =
            (struct st_problem){ .what = "the changed recipe does not read as it was meant",
                                 .why = "a range, a heaped spoon or an amount told twice stands in a changed line",
                                 .try_ = "write these amounts as single figures, or change the file by hand" };
    st_buf_clear(&t->changed);
    return false;
}

bool st_aim_write(struct st_aim_task *t, struct st_catalogue *catalogue, struct st_problem *problem)
{
    if (is_written(t, catalogue))
        return st_aim_foretell(t, &t->again.recipe, problem);
    t->made = st_aim_recipe(&t->aim, t->value);
    for (int s = 0; t->made && *t->jar && s < t->made->n_step; s++)
        if (t->made->step[s].kind == ST_DO_STEEP)
            t->made->step[s].vessel_ml = t->jar_ml;
    return t->made ? st_aim_foretell(t, t->made, problem) : refuse(problem, "memory ran out");
}

void st_aim_write_ways(struct st_aim_task *t)
{
    for (int i = 0; i < t->n_way; i++) {
        double value[ST_MAX_DIALS];
        struct st_problem problem;
        (void)edit_text(t, &t->way[i].aim, t->way[i].found.value, value, &t->way_recipe[i], &problem);
    }
}

void st_aim_task_done(struct st_aim_task *t)
{
    free(t->written);
    st_foretold_done(&t->out);
    st_recipe_done(&t->again);
    if (t->made)
        st_aim_recipe_free(t->made);
    for (int i = 0; i < ST_AIM_WAYS; i++)
        st_buf_done(&t->way_recipe[i]);
    st_buf_done(&t->changed);
    st_aim_kitchen_free(t->kitchen);
    st_catalogue_free(t->own);
}
