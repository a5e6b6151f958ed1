#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "aim_task.h"
#include "inside.h"
#include "text/quantity.h"
#include "text/recipe_edit.h"
#include "util/memory.h"

/* Other tools for the same bottle. */

enum { MOST_OTHERS = 24, SHOWN_OTHERS = 3 };
#define WORTH_TELLING 0.005 /* of all makings */

struct other {
    int step, line;
    char amount[32];
    double grams, joint;
    int tools;
    struct st_buf recipe;
};

/* A line whose volume was taken with a tool that shows it roughly, of something that can be weighed. */
static bool can_be_weighed(const struct st_line *l, double *grams)
{
    const struct st_amount *a = &l->amount;
    const bool rough = a->tool == ST_TOOL_CUP || a->tool == ST_TOOL_TABLESPOON || a->tool == ST_TOOL_TEASPOON ||
                       a->tool == ST_TOOL_JIGGER || a->tool == ST_TOOL_JUG;
    if (!l->what || !rough || a->dim != ST_DIM_VOLUME || a->open != ST_CLOSED || a->make_up_to || a->low != a->high)
        return false;
    const struct st_range g = st_ingredient_g_per_ml(l->what, a->fills > 0.0 ? a->value / a->fills : a->value);
    *grams = g.known ? g.value * a->value : 0.0;
    return *grams > 0.0 && l->what->kind != ST_KIND_SPIRIT; /* a strength on the label is by volume */
}

static int count_tools(const struct st_recipe *r)
{
    bool used[ST_NTOOL] = { false };
    int n = 0;
    for (int i = 0; i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++) {
            const struct st_amount *a = &r->step[i].line[k].amount;
            if (a->open == ST_CLOSED && a->dim != ST_DIM_OPEN && r->step[i].line[k].what && a->tool != ST_TOOL_NONE)
                used[a->tool] = true;
        }
    for (int i = 0; i < ST_NTOOL; i++)
        n += used[i];
    return n;
}

static double joint_of(const struct st_aim_task *t, const struct st_recipe *r)
{
    struct st_problem problem;
    struct st_aim_odds odds = { .all = (double)NAN };
    struct st_plan *plan = st_plan_create(r, &problem);
    struct st_foretold *f = x_calloc(1, sizeof *f);
    const struct st_options o = { .seed = t->seed, .draws = t->draws };

    if (plan && st_plan_run(plan, &o, f) >= 0)
        st_aim_odds(&t->aim, f, &odds);
    st_foretold_done(f);
    free(f);
    st_plan_free(plan);
    return odds.all;
}

/* The recipe with one line weighed; the lines of its step are in *lines, to be freed. */
static bool weighed(const struct st_aim_task *t, const struct other *x, struct st_recipe *r, struct st_step **steps,
                    struct st_line **lines)
{
    struct st_amount amount;
    struct st_problem problem;
    size_t used;
    const struct st_step *s = &t->recipe->step[x->step];

    if (st_quantity_parse(x->amount, strlen(x->amount), ST_MEASURES_METRIC, &amount, &used, &problem) != 0)
        return false;
    *r = *t->recipe;
    *steps = x_calloc((size_t)r->n_step, sizeof **steps);
    *lines = x_calloc((size_t)s->n_line, sizeof **lines);
    memcpy(*steps, t->recipe->step, (size_t)r->n_step * sizeof **steps);
    memcpy(*lines, s->line, (size_t)s->n_line * sizeof **lines);
    (*lines)[x->line].amount = amount;
    (*steps)[x->step].line = *lines;
    r->step = *steps;
    return true;
}

/* Its text, where it can be written in place and reads again (a price for so many cups does not). */
static void write_it(struct st_call *c, const struct st_aim_task *t, struct other *x)
{
    const struct st_edit edit = { .line = &t->recipe->step[x->step].line[x->line], .amount = x->amount };
    const enum st_measures m = t->recipe->measures != ST_MEASURES_NONE ? t->recipe->measures : t->units;
    struct st_problem problem;
    struct st_catalogue *catalogue = st_api_catalogue(c);

    if (!catalogue || t->changed.length == 0 ||
        st_recipe_edit(st_buf_text(&t->changed), t->changed.length, m, &edit, 1, &x->recipe, &problem) != 0)
        return;
    struct st_recipe_file *file = x_calloc(1, sizeof *file);
    if (st_recipe_read_as("recipe", st_buf_text(&x->recipe), x->recipe.length, catalogue, t->units, file) != 0)
        st_buf_clear(&x->recipe);
    st_recipe_done(file);
    free(file);
    st_catalogue_free(st_api_catalogue_own(c->api));
}

static bool try_it(struct st_call *c, const struct st_aim_task *t, struct other *x)
{
    struct st_recipe r;
    struct st_step *steps = NULL;
    struct st_line *lines = NULL;

    if (weighed(t, x, &r, &steps, &lines)) {
        x->joint = joint_of(t, &r);
        x->tools = count_tools(&r);
    }
    free(steps);
    free(lines);
    if (!(x->joint > t->odds.all + WORTH_TELLING))
        return false;
    write_it(c, t, x);
    return true;
}

static int by_joint(const void *a, const void *b)
{
    const struct other *x = a, *y = b;
    if (x->joint != y->joint)
        return x->joint < y->joint ? 1 : -1;
    return x->step != y->step ? x->step - y->step : x->line - y->line;
}

static json_t *one(const struct st_aim_task *t, const struct other *x)
{
    const struct st_line *l = &t->recipe->step[x->step].line[x->line];
    json_t *o = json_object(), *amount = json_object(), *amounts = json_array();
    char text[240];

    snprintf(text, sizeof text, "Weigh the %s (%s) instead of taking it by the %s", l->what->name, x->amount,
             st_tool_name(l->amount.tool));
    json_object_set_new(amount, "step", json_integer(x->step + 1));
    json_object_set_new(amount, "line", json_integer(x->line + 1));
    json_object_set_new(amount, "of", json_string("amount"));
    json_object_set_new(amount, "name", st_doc_text(l->what->name));
    json_object_set_new(amount, "before", json_real(l->amount.value));
    json_object_set_new(amount, "after", json_real(x->grams));
    json_object_set_new(amount, "unit", json_string("g"));
    json_object_set_new(amount, "text_before", st_doc_text(l->text));
    json_object_set_new(amount, "text_after", st_doc_text(x->amount));
    json_array_append_new(amounts, amount);
    json_object_set_new(o, "text", st_doc_text(text));
    json_object_set_new(o, "amounts", amounts);
    json_object_set_new(o, "joint", json_real(x->joint));
    json_object_set_new(o, "tools", json_integer(x->tools));
    json_object_set_new(o, "recipe", x->recipe.length ? st_doc_text(st_buf_text(&x->recipe)) : json_null());
    return o;
}

static bool next(struct st_call *c, const struct st_aim_task *t, int step, int line, struct other *x)
{
    double grams;
    if (!can_be_weighed(&t->recipe->step[step].line[line], &grams))
        return false;
    *x = (struct other){ .step = step, .line = line, .grams = grams < 20.0 ? 0.1 * round(10.0 * grams) : round(grams) };
    snprintf(x->amount, sizeof x->amount, "%.6g g", x->grams);
    if (try_it(c, t, x))
        return true;
    st_buf_done(&x->recipe);
    return false;
}

json_t *st_aim_alternatives(struct st_call *c, const struct st_aim_task *t)
{
    struct other all[MOST_OTHERS];
    json_t *list = json_array();
    int n = 0;

    if (!isfinite(t->odds.all))
        return list;
    for (int i = 0; i < t->recipe->n_step; i++)
        for (int k = 0; k < t->recipe->step[i].n_line && n < MOST_OTHERS; k++)
            n += next(c, t, i, k, &all[n]);
    qsort(all, (size_t)n, sizeof *all, by_joint);
    for (int i = 0; i < n; i++) {
        if (i < SHOWN_OTHERS)
            json_array_append_new(list, one(t, &all[i]));
        st_buf_done(&all[i].recipe);
    }
    return list;
}
