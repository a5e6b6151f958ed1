#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "inside.h"
#include "text/amount_fine.h"
#include "text/recipe_edit.h"
#include "text/stops.h"
#include "util/buf.h"
#include "util/memory.h"

/* Sliders: amounts and strengths changed, the bottle at once. */

/* ---- the request ---- */

bool st_dial_read(struct st_call *c, const struct st_kept *k, const json_t *o, const char *path, bool valued,
                  int *slider, double *value)
{
    static const char *const PLACE[] = { "step", "line", "of", NULL };
    static const char *const VALUED[] = { "step", "line", "of", "value", NULL };
    int step = 0, line = 0;
    const char *of = "amount";
    char field[80];

    snprintf(field, sizeof field, "%.70s", path);
    if (strlen(field) > 0)
        field[strlen(field) - 1] = '\0'; /* "dials[0]." without the point */
    if (!json_is_object(o))
        return st_call_refuse(c, 400, field, "this is no place in the recipe", "a place is an object",
                              "write {\"step\": 1, \"line\": 2}");
    if (!st_call_known(c, o, path, valued ? VALUED : PLACE) || !st_call_whole(c, o, path, "step", 1, 1000, &step) ||
        !st_call_whole(c, o, path, "line", 1, 1000, &line) || !st_call_text(c, o, path, "of", ST_TEXT_WORD, &of) ||
        (valued && !st_call_number(c, o, path, "value", 0.0, 1e6, value)))
        return false;
    if (step == 0 || line == 0 || (valued && isnan(*value)))
        return st_call_refuse(c, 400, field, "this place is not whole",
                              valued ? "it needs \"step\", \"line\" and \"value\"" : "it needs \"step\" and \"line\"",
                              "number steps from 1, and lines from 1 within their step");
    if (strcmp(of, "amount") != 0 && strcmp(of, "strength") != 0)
        return st_call_refuse(c, 422, field, "there is no such thing to turn",
                              "a line has an amount, and a spirit a strength",
                              "write \"of\": \"amount\" or \"of\": \"strength\"");
    *slider = st_kept_slider(k, step - 1, line - 1, *of == 's' ? ST_DIAL_STRENGTH : ST_DIAL_AMOUNT);
    if (*slider >= 0)
        return true;
    char what[120];
    snprintf(what, sizeof what, "the %s of line %d of step %d cannot be changed", of, line, step);
    return st_call_refuse(c, 422, field, what,
                          *of == 's' ? "it is no spirit, or one that is set by another line"
                                     : "there is no such line, or it has no amount that is measured",
                          "see \"lines\" and \"dials\" of /api/foresee");
}

struct turned {
    int want[ST_MAX_DIALS], n; /* sliders that are not as written */
    double at[ST_MAX_DIALS];
};

static bool read_dials(struct st_call *c, const struct st_kept *k, const json_t *list, struct turned *t)
{
    bool *seen = x_calloc((size_t)k->n_slider + 1, sizeof *seen), good = true;
    for (size_t i = 0; good && i < json_array_size(list); i++) {
        char path[40];
        double value = (double)NAN;
        int s = -1;
        snprintf(path, sizeof path, "dials[%zu].", i);
        good = st_dial_read(c, k, json_array_get(list, i), path, true, &s, &value);
        if (!good || s < 0)
            break;
        if (seen[s])
            good = st_call_refuse(c, 422, "dials", "one place is turned twice", "it can have only one value",
                                  "leave one out");
        else if (value != k->slider[s].written) {
            if (t->n == ST_MAX_DIALS)
                good =
                    st_call_refuse(c, 422, "dials", "too many amounts are changed at once", "there is room for sixteen",
                                   "write the recipe anew with some of them (\"write\": true), and go on from there");
            else {
                t->want[t->n] = s;
                t->at[t->n++] = value;
            }
        }
        seen[s] = true;
    }
    free(seen);
    return good;
}

/* ---- the answer ---- */

/* Values of what is shown, as written or as asked, and of the plan's dials. */
static void place(const struct st_kept *k, const struct turned *t, double value[], double factor[])
{
    for (int n = 0; n < k->n_on; n++) {
        const struct st_slider *s = &k->slider[k->on[n]];
        value[n] = s->written;
        for (int i = 0; i < t->n; i++)
            if (t->want[i] == k->on[n])
                value[n] = t->at[i];
    }
    for (int d = 0; d < k->n_dial; d++) {
        const struct st_slider *s = &k->slider[k->on[k->dial[d]]];
        factor[d] = value[k->dial[d]] / (s->dial.of == ST_DIAL_STRENGTH ? 1.0 : s->written);
    }
}

json_t *st_notes_out(const struct st_recipe *r, const struct st_foretold *f)
{
    json_t *all = json_array();
    char text[500];
    for (int i = 0; i < f->n_note; i++)
        if (!st_note_words(r, &f->note[i], text, sizeof text))
            json_array_append_new(all, st_doc_text(text));
    return all;
}

static struct st_edit *edit_of(struct st_edit *edit, int *n, const struct st_line *line)
{
    int e = 0;
    while (e < *n && edit[e].line != line)
        e++;
    if (e == *n)
        edit[(*n)++] = (struct st_edit){ .line = line };
    return &edit[e];
}

/* The same spirit at the same strength, wherever it is poured: one dial turns them all. */
static void edit_strength(const struct st_recipe *r, const struct st_line *of, double value, struct st_edit *edit,
                          int *n)
{
    for (int i = 0; i < r->n_step; i++)
        for (int k = 0; k < r->step[i].n_line; k++) {
            const struct st_line *l = &r->step[i].line[k];
            if (l->what == of->what && l->strength.known == of->strength.known &&
                (!l->strength.known || l->strength.value == of->strength.value))
                edit_of(edit, n, l)->strength = value;
        }
}

static size_t count_lines(const struct st_recipe *r)
{
    size_t n = 0;
    for (int i = 0; i < r->n_step; i++)
        n += (size_t)r->step[i].n_line;
    return n;
}

static bool write_recipe(struct st_call *c, const struct st_kept *k, const struct turned *t)
{
    const struct st_recipe *r = &k->file.recipe;
    struct st_edit *edit = x_calloc(count_lines(r), sizeof *edit);
    char amount[ST_MAX_DIALS][120];
    struct st_problem problem = { .what = "" };
    struct st_buf out = { 0 };
    int n = 0;

    if (st_stop_problem(st_recipe_stop(r), &problem)) {
        free(edit);
        return st_call_problem(c, "recipe", &problem);
    }
    for (int i = 0; i < t->n; i++) {
        const struct st_slider *s = &k->slider[t->want[i]];
        const struct st_line *l = &r->step[s->dial.step].line[s->dial.line];
        if (s->dial.of == ST_DIAL_STRENGTH)
            edit_strength(r, l, t->at[i], edit, &n);
        else {
            st_amount_fine(&l->amount, t->at[i], r->measures, amount[i], sizeof amount[i]);
            edit_of(edit, &n, l)->amount = amount[i];
        }
    }
    if (st_recipe_edit(k->text, k->size, r->measures, edit, n, &out, &problem) == 0)
        json_object_set_new(c->out, "recipe", st_doc_text(st_buf_text(&out)));
    else
        st_call_problem(c, "recipe", &problem);
    st_buf_done(&out);
    free(edit);
    return !c->errors;
}

static void refuse_values(struct st_call *c, const struct st_kept *k, const double factor[], enum st_status s)
{
    struct st_problem problem = { .what = "" };
    if (st_plan_dial_problem(k->plan, factor, &problem))
        st_call_problem(c, "dials", &problem);
    else
        st_call_refuse(c, 422, "dials", "these amounts give no figures", st_status_text(s),
                       "turn the last one back some way");
}

static void answer(struct st_call *c, struct st_kept *k, const struct turned *t, const struct st_wished *w,
                   const struct st_options *o, bool write)
{
    double value[ST_MAX_DIALS], factor[ST_MAX_DIALS];
    struct st_foretold *f = x_calloc(1, sizeof *f);

    place(k, t, value, factor);
    const enum st_status s = st_plan_run_at(k->plan, o, factor, f);
    if (s < 0)
        refuse_values(c, k, factor, s);
    else {
        c->out = json_object();
        st_figures_out(c->out, &k->file.recipe, f, w, false);
        json_object_set_new(c->out, "dials", st_bottle_dials(k, value));
        json_object_set_new(c->out, "notes", st_notes_out(&k->file.recipe, f));
        const struct st_ingredient *stop = st_recipe_stop(&k->file.recipe);
        json_object_set_new(c->out, "stop", stop ? st_doc_text(stop->name) : json_null());
        if (write)
            write_recipe(c, k, t);
    }
    st_foretold_done(f);
    free(f);
}

static double bottle_of(const struct st_recipe *r)
{
    return r->n_step > 0 ? r->step[r->n_step - 1].bottle_ml : 0.0;
}

void st_route_turn(struct st_call *c)
{
    static const char *const KNOWN[] = { "recipe", "units", "dials",          "wish", "seed",
                                         "draws",  "write", ST_WATCH_MEMBERS, NULL };
    enum st_measures units = ST_MEASURES_NONE;
    struct st_options o;
    struct st_wished wish;
    struct turned t = { .n = 0 };
    const char *text;
    json_t *list = NULL;
    bool write = false;

    if (!st_call_known(c, c->in, "", KNOWN) || !st_call_measures(c, "units", &units) || !st_call_options(c, 1000, &o) ||
        !st_call_flag(c, c->in, "", "write", &write) || !st_call_list(c, c->in, "", "dials", 100, &list) ||
        !st_call_must(c, "recipe", ST_TEXT_RECIPE, "\"schema_version: 1\\n...\", \"dials\": []", &text))
        return;
    struct st_kept *k = st_kept_recipe(c, text, units);
    struct st_watch watch; /* what is barred hangs on the place */
    if (k && st_call_watch(c, &k->file.recipe, &watch) && read_dials(c, k, list, &t) &&
        st_wish_read(c, bottle_of(&k->file.recipe), &wish) && st_kept_dials(c, k, t.want, t.n))
        answer(c, k, &t, &wish, &o, write);
}
