#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/aim.h"
#include "text/amount_fine.h"
#include "text/quantity.h"
#include "text/recipe_edit.h"
#include "util/file.h"

enum { MOST_BYTES = 1 << 20, MOST_EDITS = 64 };

/* ---- reading ---- */

static int cannot_read(const char *name, int error)
{
    const bool system = error != ENOENT && error != EISDIR && error != EFBIG && error != EACCES && error != ENOTDIR &&
                        error != ENAMETOOLONG;
    cli_error(*name ? name : "\"\"",
              error == ENOENT   ? "there is no such file"
              : error == EISDIR ? "it is a folder"
              : error == EFBIG  ? "it is larger than 1 MiB"
                                : strerror(error),
              error == ENOENT   ? "look at the name, or see examples/ for recipes to begin with"
              : error == EISDIR ? "name the recipe file in it"
              : error == EFBIG  ? "a recipe is a short text file"
                                : "look at the name, the disk, and who may read it");
    return system ? ST_EXIT_SYSTEM : ST_EXIT_INPUT;
}

int aim_read(struct cli *c, const char *name, struct st_catalogue *catalogue, struct st_buf *text,
             struct st_recipe_file *file)
{
    const char *shown = strcmp(name, "-") == 0 ? "standard input" : name;
    const int error = st_file_read(name, MOST_BYTES, text);
    if (error)
        return cannot_read(name, error);
    const int read = st_recipe_read_as(shown, st_buf_text(text), text->length, catalogue, c->units, file);
    for (int i = 0; i < file->n_problem; i++)
        cli_problem(shown, &file->problem[i]);
    if (read == 0)
        return ST_EXIT_DONE;
    st_recipe_done(file);
    return ST_EXIT_INPUT;
}

/* ---- the recipe as it would be written ---- */

static const struct st_line *line_of(const struct st_recipe *r, const struct st_dial *d)
{
    return &r->step[d->step].line[d->line];
}

static enum st_measures measures(const struct aim_task *t)
{
    return t->file->recipe.measures != ST_MEASURES_NONE ? t->file->recipe.measures : t->cli->units;
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
static int make_edits(const struct aim_task *t, const struct st_aim *a, const double exact[], struct st_edit *edit,
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
static bool edit_text(const struct aim_task *t, const struct st_aim *a, const double exact[], double value[],
                      struct st_buf *out, struct st_problem *problem)
{
    struct st_edit edit[MOST_EDITS];
    char amount[ST_MAX_DIALS][64];
    int n = make_edits(t, a, exact, edit, amount, value);
    for (int s = 0; *t->jar && s < t->file->recipe.n_step && n < MOST_EDITS; s++)
        if (t->file->recipe.step[s].kind == ST_DO_STEEP)
            edit[n++] = (struct st_edit){ .step = &t->file->recipe.step[s], .vessel = t->jar };
    return st_recipe_edit(st_buf_text(&t->text), t->text.length, measures(t), edit, n, out, problem) == 0;
}

/* A range ("100-120 g"), "about", or a heaped spoon must not have become a sharp figure. */
static bool keeps_doubt(const struct st_amount *was, const struct st_amount *now, double by)
{
    const double near = 0.02 * now->value;
    return was->heaped == now->heaped && was->scant == now->scant && fabs(now->low - by * was->low) <= near &&
           fabs(now->high - by * was->high) <= near;
}

/* What was read again must be what was meant. */
static bool is_as_meant(const struct aim_task *t, const struct st_recipe *r)
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

static int foretell(struct aim_task *t, const struct st_recipe *r)
{
    struct st_problem problem = { .what = "" };
    struct st_plan *p = st_plan_create(r, &problem);
    if (!p) {
        cli_problem(t->name, &problem);
        return ST_EXIT_INPUT;
    }
    const struct st_options o = { .seed = t->cli->seed, .draws = t->cli->draws, .effects = false };
    const enum st_status s = st_plan_run(p, &o, &t->out);
    st_plan_free(p);
    if (s < 0) {
        cli_error(t->name, st_status_text(s), "look for an amount that is far too large or too small");
        return ST_EXIT_INPUT;
    }
    t->recipe = r;
    st_cautions_collect(r, &t->out, &t->cautions);
    st_aim_odds(&t->aim, &t->out, &t->odds);
    t->met = t->times > 0.0 || t->aim.n_wish > 0;
    for (int i = 0; i < t->aim.n_wish; i++) {
        t->miss[i] = st_wish_miss(&t->aim.wish[i], t->out.fig[t->aim.wish[i].of].value);
        t->met = t->met && t->miss[i] == 0.0;
    }
    return ST_EXIT_DONE;
}

int aim_write(struct aim_task *t)
{
    static struct st_recipe_file again; /* large; lives as long as the task */
    if (edit_text(t, &t->aim, t->found.value, t->value, &t->changed, &t->why_not)) {
        t->again_catalogue = cli_catalogue(); /* its own: definitions of the recipe are read again too */
        if (!t->again_catalogue)
            return ST_EXIT_SYSTEM;
        t->again = &again;
        const int read = st_recipe_read_as(t->name, st_buf_text(&t->changed), t->changed.length, t->again_catalogue,
                                           t->cli->units, &again);
        if (read == 0 && is_as_meant(t, &again.recipe))
            return foretell(t, &again.recipe);
        if (read != 0 && again.n_problem > 0)
            t->why_not = again.problem[0];
        else
            t->why_not =
                (struct st_problem){ .what = "the changed recipe does not read as it was meant",
                                     .why = "a range, a heaped spoon or an amount told twice stands in a changed line",
                                     .try_ = "write these amounts as single figures, or change the file by hand" };
        st_buf_clear(&t->changed);
    }
    struct st_recipe *r = t->own = st_aim_recipe(&t->aim, t->value);
    for (int s = 0; r && *t->jar && s < r->n_step; s++)
        if (r->step[s].kind == ST_DO_STEEP)
            r->step[s].vessel_ml = t->jar_ml;
    if (!r) {
        cli_error(t->name, "memory ran out", "close other programs");
        return ST_EXIT_SYSTEM;
    }
    return foretell(t, r);
}

void aim_write_done(struct aim_task *t)
{
    st_foretold_done(&t->out);
    st_aim_recipe_free(t->own);
    if (t->again)
        st_recipe_done(t->again);
    st_catalogue_free(t->again_catalogue);
}

void aim_write_ways(struct aim_task *t)
{
    for (int i = 0; i < t->n_way; i++) {
        double value[ST_MAX_DIALS];
        struct st_problem problem;
        (void)edit_text(t, &t->way[i].aim, t->way[i].found.value, value, &t->way_recipe[i], &problem);
    }
}

int aim_save(const struct aim_task *t, const char *output, bool over)
{
    if (t->changed.length == 0) {
        cli_problem(t->name, &t->why_not);
        return ST_EXIT_INPUT;
    }
    if (!over && strcmp(output, "-") != 0 && access(output, F_OK) == 0) {
        cli_error(output, "there is a file of this name", "choose another name, or add --force to write over it");
        return ST_EXIT_INPUT;
    }
    const int error = st_file_write(output, st_buf_text(&t->changed), t->changed.length);
    if (!error)
        return ST_EXIT_DONE;
    cli_error(output, strerror(error), "look at the name, the disk, and who may write there");
    return ST_EXIT_SYSTEM;
}
