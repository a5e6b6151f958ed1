#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "aim_kitchen.h"
#include "text/kitchen_words.h"
#include "text/recipe_edit.h"
#include "util/embedded.h"
#include "util/memory.h"

/* An aim in amounts that a kitchen can measure, instead of rounded ones. */

static enum st_measures measures(const struct st_aim_task *t)
{
    return t->file->recipe.measures != ST_MEASURES_NONE ? t->file->recipe.measures : t->units;
}

/* Definitions of the recipe are read again with it, so each reading has a sheet of its own. */
static struct st_catalogue *fresh_catalogue(void)
{
    struct st_problem problem;
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    return sheet ? st_catalogue_create((const char *)sheet->bytes, sheet->size, &problem) : NULL;
}

static const struct st_line *line_of(const struct st_recipe *r, const struct st_dial *d)
{
    return &r->step[d->step].line[d->line];
}

/* Cups are written only where the file says whose they are; else what they hold. */
static void written(const struct st_aim_task *t, const struct st_kitchen_item *item, char *buf, size_t size)
{
    const bool whose = item->tool == ST_TOOL_CUP || item->tool == ST_TOOL_TABLESPOON || item->tool == ST_TOOL_TEASPOON;
    if (whose && t->file->recipe.measures != t->kitchen->kitchen.measures)
        snprintf(buf, size, "%.4g mL", item->amount);
    else
        st_kitchen_written(item, buf, size);
}

static bool means_the_same(const struct st_aim_task *t, const struct st_making *m, const struct st_recipe *r)
{
    for (int k = 0; k < t->aim.n_dial; k++) {
        const struct st_dial *d = &t->aim.dial[k].dial;
        const struct st_kitchen_item *item = &m->item[k];
        if (d->step >= r->n_step || d->line >= r->step[d->step].n_line)
            return false;
        const struct st_line *now = line_of(r, d);
        if (d->of == ST_DIAL_STRENGTH
                ? fabs(now->strength.value - item->factor) > 1e-6
                : item->tool != ST_TOOL_NONE &&
                      (now->amount.dim != item->dim || fabs(now->amount.value - item->amount) > 1e-3 * item->amount))
            return false;
    }
    return true;
}

static int edits(const struct st_aim_task *t, const struct st_making *m, struct st_edit edit[], char (*amount)[64])
{
    int n = 0;
    for (int k = 0; k < t->aim.n_dial; k++) {
        const struct st_dial *d = &t->aim.dial[k].dial;
        const struct st_line *line = line_of(&t->file->recipe, d);
        int i = 0;
        while (i < n && edit[i].line != line)
            i++;
        struct st_edit e = i < n ? edit[i] : (struct st_edit){ .line = line };
        if (d->of == ST_DIAL_STRENGTH) {
            e.strength = m->item[k].factor;
        } else if (m->item[k].tool != ST_TOOL_NONE) {
            written(t, &m->item[k], amount[k], sizeof amount[k]);
            e.amount = amount[k];
            if (m->item[k].dim != line->amount.dim && !isnan(line->price) && !line->amount.make_up_to)
                e.price = m->item[k].factor * line->price;
        }
        edit[i] = e;
        n += i == n && (e.amount || e.strength > 0.0);
    }
    for (int s = 0; *t->jar && s < t->file->recipe.n_step && n < 2 * ST_MAX_DIALS; s++)
        if (t->file->recipe.step[s].kind == ST_DO_STEEP)
            edit[n++] = (struct st_edit){ .step = &t->file->recipe.step[s], .vessel = t->jar };
    return n;
}

static bool edit_text(const struct st_aim_task *t, const struct st_making *m, struct st_buf *out,
                      struct st_problem *why_not)
{
    struct st_recipe_file *again = NULL;
    struct st_edit edit[2 * ST_MAX_DIALS];
    char amount[ST_MAX_DIALS][64];
    const int n = edits(t, m, edit, amount);
    if (st_recipe_edit(t->text, t->size, measures(t), edit, n, out, why_not) != 0)
        return false;
    struct st_catalogue *c = fresh_catalogue();
    if (!c) {
        st_buf_clear(out);
        return false;
    }
    again = x_calloc(1, sizeof *again);
    const int read = st_recipe_read_as("recipe", st_buf_text(out), out->length, c, t->units, again);
    const bool same = read == 0 && means_the_same(t, m, &again->recipe);
    if (!same) {
        *why_not =
            read != 0 && again->n_problem > 0
                ? again->problem[0]
                : (struct st_problem){ .what = "the changed recipe does not read as it was meant",
                                       .why = "an amount in a changed line is told twice, or is no plain figure",
                                       .try_ = "write these amounts as single figures, or change the file by hand" };
        st_buf_clear(out);
    }
    st_recipe_done(again);
    free(again);
    st_catalogue_free(c);
    return same;
}

static bool write_it(struct st_aim_task *t, struct st_problem *problem)
{
    const struct st_making *best = &t->kitchen->choice.best;
    struct st_problem unused;
    for (int k = 0; k < t->aim.n_dial; k++)
        t->value[k] = best->item[k].factor;
    (void)edit_text(t, best, &t->changed, &t->why_not);
    for (int i = 0; i < ST_NALT; i++)
        if (t->kitchen->choice.has[i])
            (void)edit_text(t, &t->kitchen->choice.other[i], &t->kitchen->other_recipe[i], &unused);
    struct st_recipe *r = t->made = st_kitchen_recipe(&t->aim, &t->kitchen->kitchen, best->item);
    for (int s = 0; r && *t->jar && s < r->n_step; s++)
        if (r->step[s].kind == ST_DO_STEEP)
            r->step[s].vessel_ml = t->jar_ml;
    if (r)
        return st_aim_foretell(t, r, problem);
    *problem = (struct st_problem){ .what = "memory ran out",
                                    .why = "these amounts could not be written",
                                    .try_ = "close other programs" };
    return false;
}

bool st_aim_in_kitchen(struct st_aim_task *t, const struct st_kitchen *kitchen, struct st_problem *problem)
{
    const struct st_options o = { .seed = t->seed, .draws = t->draws, .effects = false };
    *problem = (struct st_problem){ .what = "amounts for a kitchen are found for a wish, by drawing",
                                    .why = "there is no wish, nothing that may change, or nothing to draw",
                                    .try_ = "wish for a strength or a sugar, and draw 400 times or more" };
    if (t->aim.n_wish == 0 || t->aim.n_dial == 0 || t->draws <= 0)
        return false;
    t->kitchen = x_calloc(1, sizeof *t->kitchen);
    t->kitchen->kitchen = *kitchen;
    const enum st_status s = st_kitchen_choose(&t->aim, kitchen, t->found.value, &o, &t->kitchen->choice, problem);
    return s == ST_E_REFUSED ? false : write_it(t, problem);
}

void st_aim_kitchen_free(struct st_aim_kitchen *k)
{
    if (!k)
        return;
    st_kitchen_choice_done(&k->choice);
    for (int i = 0; i < ST_NALT; i++)
        st_buf_done(&k->other_recipe[i]);
    free(k);
}
