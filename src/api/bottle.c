#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "doc_cautions.h"
#include "inside.h"
#include "model/aim.h"
#include "text/amount_fine.h"
#include "text/figure_words.h"
#include "text/quantity.h"
#include "text/stops.h"
#include "util/memory.h"

/* ---- what only the server adds to the document of a bottle ---- */

static void set_words(json_t *words, const char *name, const struct st_interval *x, const char *unit)
{
    char text[200];
    st_figure_words(text, sizeof text, x, unit);
    json_object_set_new(words, name, st_doc_text(text));
}

static json_t *words_of(const struct st_bottle *p)
{
    const struct st_foretold *f = p->out;
    json_t *words = json_object();
    char text[240] = "";

    set_words(words, "strength", &f->fig[ST_FIG_STRENGTH], "% vol");
    set_words(words, "sugar", &f->fig[ST_FIG_SUGAR], "g/L");
    st_volume_words(text, sizeof text, &f->fig[ST_FIG_VOLUME], p->units);
    json_object_set_new(words, "volume", st_doc_text(text));
    const bool stopped = st_recipe_stop(p->recipe) != NULL;
    if (!stopped && f->bottle_ml > 0.0 && f->fig[ST_FIG_BOTTLES].known) {
        st_bottles_words(text, sizeof text, f->fig[ST_FIG_BOTTLES].value * f->bottle_ml, f->bottle_ml);
        json_object_set_new(words, "bottles", st_doc_text(text));
    } else
        json_object_set_new(words, "bottles", json_null());
    char said[600] = "";
    if (!stopped)
        st_tip_page_words(p->recipe, f, said, sizeof said);
    json_object_set_new(words, "tip", st_doc_text(said));
    return words;
}

static json_t *pips_of(const struct st_foretold *f, bool stopped)
{
    static const enum st_figure WITH[] = { ST_FIG_STRENGTH, ST_FIG_SUGAR, ST_FIG_VOLUME, ST_FIG_BOTTLES };
    json_t *all = json_object();
    double pip[ST_PIPS];
    for (size_t i = 0; i < sizeof WITH / sizeof *WITH; i++)
        if (!(stopped && WITH[i] == ST_FIG_BOTTLES) && st_pips(f, WITH[i], pip))
            json_object_set_new(all, st_figure_info(WITH[i])->key, st_pips_json(pip));
    return all;
}

/* ---- lines and dials ---- */

static const char *unit_of(const struct st_line *l)
{
    switch (l->amount.dim) {
    case ST_DIM_MASS: return "g";
    case ST_DIM_VOLUME: return "mL";
    case ST_DIM_PIECE: return l->what ? "piece" : "share";
    default: return "";
    }
}

static const char *name_of(const struct st_recipe *r, const struct st_line *l)
{
    return l->what ? l->what->name : l->from_step >= 0 ? r->step[l->from_step].id : l->text;
}

/* Where the amount of a line ends and its name begins; a line that begins with its name has no amount there. */
static void split_text(const struct st_recipe *r, const struct st_line *l, json_t *o)
{
    struct st_amount amount;
    struct st_problem problem;
    size_t used = 0;
    const enum st_measures m = r->measures != ST_MEASURES_NONE ? r->measures : ST_MEASURES_METRIC;

    if (l->amount.open != ST_CLOSED || st_quantity_parse(l->text, strlen(l->text), m, &amount, &used, &problem) < 0 ||
        used >= strlen(l->text))
        used = 0;
    const char *name = l->text + used;
    name += strspn(name, " ");
    if (used > 0 && strncmp(name, "of ", 3) == 0)
        name += 3;
    while (used > 0 && l->text[used - 1] == ' ')
        used--;
    json_object_set_new(o, "amount_text", json_stringn(l->text, used));
    json_object_set_new(o, "name_text", st_doc_text(name));
}

static bool can_change(const struct st_kept *k, int step, int line)
{
    return st_kept_slider(k, step, line, ST_DIAL_AMOUNT) >= 0 || st_kept_slider(k, step, line, ST_DIAL_STRENGTH) >= 0;
}

static json_t *line_of(const struct st_kept *k, int i, int m)
{
    const struct st_recipe *r = &k->file.recipe;
    const struct st_line *l = &r->step[i].line[m];
    const struct st_range *q = l->strength.known || !l->what ? &l->strength : &l->what->strength;
    const bool measured = l->amount.open == ST_CLOSED && l->amount.dim != ST_DIM_OPEN;
    json_t *o = json_object();

    json_object_set_new(o, "step", json_integer(i + 1));
    json_object_set_new(o, "line", json_integer(m + 1));
    json_object_set_new(o, "step_kind", st_doc_text(st_do_name(r->step[i].kind)));
    json_object_set_new(o, "step_name", st_doc_text(r->step[i].id));
    json_object_set_new(o, "text", st_doc_text(l->text));
    split_text(r, l, o);
    json_object_set_new(o, "said", l->said && *l->said ? st_doc_text(l->said) : json_null());
    json_object_set_new(o, "name", st_doc_text(name_of(r, l)));
    json_object_set_new(o, "amount", measured ? json_real(l->amount.value) : json_null());
    json_object_set_new(o, "unit", measured ? st_doc_text(unit_of(l)) : json_null());
    json_object_set_new(o, "strength_pct_vol", q->known && q->value > 0.0 ? json_real(q->value) : json_null());
    json_object_set_new(o, "can_change", json_boolean(can_change(k, i, m)));
    return o;
}

json_t *st_bottle_lines(const struct st_kept *k)
{
    json_t *all = json_array();
    for (int i = 0; i < k->file.recipe.n_step; i++)
        for (int m = 0; m < k->file.recipe.step[i].n_line; m++)
            json_array_append_new(all, line_of(k, i, m));
    return all;
}

void st_slider_words(const struct st_kept *k, int i, double value, char *buf, size_t size)
{
    const struct st_slider *s = &k->slider[i];
    const struct st_recipe *r = &k->file.recipe;
    if (s->dial.of == ST_DIAL_STRENGTH)
        snprintf(buf, size, "%.4g %% vol", value);
    else
        st_amount_fine(&r->step[s->dial.step].line[s->dial.line].amount, value, r->measures, buf, size);
}

void st_slider_place(const struct st_kept *k, int i, json_t *o)
{
    const struct st_dial *d = &k->slider[i].dial;
    json_object_set_new(o, "step", json_integer(d->step + 1));
    json_object_set_new(o, "line", json_integer(d->line + 1));
    json_object_set_new(o, "of", json_string(d->of == ST_DIAL_STRENGTH ? "strength" : "amount"));
}

const char *st_slider_unit(const struct st_kept *k, int i)
{
    const struct st_dial *d = &k->slider[i].dial;
    return d->of == ST_DIAL_STRENGTH ? "% vol" : unit_of(&k->file.recipe.step[d->step].line[d->line]);
}

const char *st_slider_name(const struct st_kept *k, int i)
{
    const struct st_dial *d = &k->slider[i].dial;
    return name_of(&k->file.recipe, &k->file.recipe.step[d->step].line[d->line]);
}

/* Does an aim change it where nobody says what may change? */
static bool is_free(const struct st_aim *a, const struct st_dial *d)
{
    for (int i = 0; i < a->n_dial; i++)
        if (a->dial[i].dial.step == d->step && a->dial[i].dial.line == d->line && a->dial[i].dial.of == d->of)
            return true;
    return false;
}

json_t *st_bottle_dials(const struct st_kept *k, const double value[])
{
    json_t *all = json_array();
    char text[120];
    struct st_aim usual;
    st_aim_init(&usual, &k->file.recipe);
    (void)st_aim_free_usual(&usual);
    for (int n = 0; n < k->n_on; n++) {
        const int i = k->on[n];
        const struct st_slider *s = &k->slider[i];
        const double at = value ? value[n] : s->written;
        json_t *o = json_object();
        st_slider_place(k, i, o);
        json_object_set_new(o, "value", json_real(at));
        json_object_set_new(o, "low", json_real(s->low));
        json_object_set_new(o, "high", json_real(s->high));
        json_object_set_new(o, "tick", json_real(s->tick));
        json_object_set_new(o, "unit", st_doc_text(st_slider_unit(k, i)));
        st_slider_words(k, i, at, text, sizeof text);
        json_object_set_new(o, "text", st_doc_text(text));
        json_object_set_new(o, "name", st_doc_text(st_slider_name(k, i)));
        json_object_set_new(o, "free", json_boolean(is_free(&usual, &s->dial)));
        json_array_append_new(all, o);
    }
    return all;
}

/* ---- the whole ---- */

static void add_ledger(json_t *doc, const struct st_recipe *r, const struct st_foretold *f, const struct st_watch *w)
{
    struct st_ledger *ledger = x_calloc(1, sizeof *ledger); /* large */
    if (w->books && st_ledger_make(r, f, w->books, w->place->places, &w->who, r->assay, r->n_assay, ledger) >= 0)
        st_doc_ledger(doc, r, ledger, w);
    free(ledger);
}

json_t *st_bottle_document(const struct st_recipe_file *file, const struct st_recipe *recipe,
                           const struct st_foretold *f, const struct st_options *o, const struct st_watch *w,
                           enum st_measures units)
{
    struct st_cautions *cautions = x_calloc(1, sizeof *cautions);
    const struct st_bottle p = { .file = file,
                                 .recipe = recipe,
                                 .out = f,
                                 .cautions = cautions,
                                 .seed = o->seed,
                                 .draws = o->draws,
                                 .units = units };
    st_cautions_collect(recipe, f, w, cautions);
    json_t *doc = st_doc_foresee(&p);
    json_object_set_new(doc, "pips", pips_of(f, st_recipe_stop(recipe) != NULL));
    json_object_set_new(doc, "words", words_of(&p));
    json_object_set_new(doc, "sources", st_bottle_sources(recipe, cautions));
    add_ledger(doc, recipe, f, w);
    free(cautions);
    return doc;
}

static bool refuse_plan(struct st_call *c, const struct st_recipe *recipe, const char *field,
                        const struct st_problem *first)
{
    struct st_problem all[ST_MAX_PROBLEMS];
    const int n = st_stop_plan_problems(recipe, all, ST_MAX_PROBLEMS);
    for (int i = 0; i < n; i++)
        st_call_problem(c, field, &all[i]);
    return n > 0 ? false : st_call_problem(c, field, first);
}

bool st_bottle_run(struct st_call *c, const struct st_recipe *recipe, const struct st_options *o, const char *field,
                   struct st_foretold *f)
{
    struct st_problem problem = { .what = "" };
    struct st_plan *plan = st_plan_create(recipe, &problem);
    if (!plan)
        return refuse_plan(c, recipe, field, &problem);
    const enum st_status s = st_plan_run(plan, o, f);
    st_plan_free(plan);
    return s >= 0 || st_call_refuse(c, 422, field, "these amounts give no figures", st_status_text(s),
                                    "look for an amount that is far too large or too small");
}

json_t *st_bottle_foretell(struct st_call *c, const struct st_kept *k, const struct st_options *o)
{
    struct st_foretold *f = x_calloc(1, sizeof *f);
    json_t *doc = NULL;
    struct st_watch w;

    if (st_call_watch(c, &k->file.recipe, &w) && st_bottle_run(c, &k->file.recipe, o, "recipe", f))
        doc = st_bottle_document(&k->file, &k->file.recipe, f, o, &w, k->units);
    st_foretold_done(f);
    free(f);
    return doc;
}
