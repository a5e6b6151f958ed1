#include <math.h>
#include <stdio.h>

#include "doc.h"
#include "text/line_told.h"
#include "text/stops.h"

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static json_t *grams(const double g[ST_NCOMP])
{
    json_t *o = json_object();
    for (int i = 0; i < ST_NCOMP; i++)
        json_object_set_new(o, st_component_name((enum st_component)i), real(g[i]));
    return o;
}

static json_t *steps(const struct st_bottle *p)
{
    json_t *all = json_array();
    for (int i = 0; i < p->out->n_balance; i++) {
        const struct st_balance *b = &p->out->balance[i];
        const struct st_step *s = &p->recipe->step[b->step];
        json_t *o = json_object();
        json_object_set_new(o, "step", st_doc_text(s->id));
        json_object_set_new(o, "do", st_doc_text(st_do_name(s->kind)));
        json_object_set_new(o, "in_g", grams(b->in_g));
        json_object_set_new(o, "on_g", grams(b->mass_g));
        json_object_set_new(o, "kept_g", grams(b->spent_g));
        json_object_set_new(o, "lost_g", grams(b->lost_g));
        json_object_set_new(o, "closure", real(b->closure));
        json_object_set_new(o, "strength_pct_vol", real(b->strength));
        json_object_set_new(o, "sugar_g_l", real(b->sugar));
        json_object_set_new(o, "volume_ml", real(b->volume_ml));
        json_object_set_new(o, "density_kg_m3", real(b->density));
        json_object_set_new(o, "steep_strength_pct_vol",
                            s->kind == ST_DO_STEEP ? real(b->strength_in_steep) : json_null());
        json_object_set_new(o, "status", st_doc_text(st_status_text(b->status)));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *three(const double x[3])
{
    return json_pack("{s:o, s:o, s:o}", "strength_pct_vol", real(x[0]), "sugar_g_l", real(x[1]), "volume_ml",
                     real(x[2]));
}

static const char *cause_name(enum st_cause c)
{
    static const char *const NAME[] = {
        [ST_CAUSE_TOOL] = "tool", [ST_CAUSE_RANGE] = "range", [ST_CAUSE_RETENTION] = "retention",
        [ST_CAUSE_LOSS] = "loss", [ST_CAUSE_OPEN] = "open",   [ST_CAUSE_LABEL] = "label"
    };
    return NAME[c];
}

static json_t *what_matters(const struct st_bottle *p)
{
    json_t *all = json_array();
    for (int i = 0; i < p->out->n_effect; i++) {
        const struct st_effect *e = &p->out->effect[i];
        json_array_append_new(all, json_pack("{s:o, s:s, s:o, s:o, s:o}", "what", st_doc_text(e->what), "cause",
                                             cause_name(e->cause), "share", three(e->total), "half", three(e->half),
                                             "half_without", three(e->half_without)));
    }
    return all;
}

/* Lines that are reckoned otherwise than their words say: drained fruit as fresh. */
static void notes_of_drained(const struct st_recipe *r, json_t *all)
{
    char told[200], text[400];
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (!st_line_is_drained(l->text, l->what))
                continue;
            st_line_told(l, told, sizeof told);
            snprintf(text, sizeof text, "%.150s%s", l->text, told);
            json_array_append_new(all, st_doc_text(text));
        }
}

static json_t *notes(const struct st_bottle *p, bool questions)
{
    json_t *all = json_array();
    char text[500];
    if (!questions)
        notes_of_drained(p->recipe, all);
    for (int i = 0; i < p->out->n_note; i++)
        if (st_note_words(p->recipe, &p->out->note[i], text, sizeof text) == questions)
            json_array_append_new(all, st_doc_text(text));
    for (int i = 0; p->file && i < p->file->n_note && !questions; i++) {
        const struct st_problem *n = &p->file->note[i];
        char said[720];
        snprintf(said, sizeof said, "line %d: %s: %s; %s", n->at.line, n->what, n->why, n->try_);
        json_array_append_new(all, st_doc_text(said));
    }
    return all;
}

static json_t *markers(const struct st_bottle *p)
{
    json_t *o = json_object();
    for (int i = 0; i < p->out->n_marker; i++)
        if (st_marker_is_flavour(p->out->marker[i]))
            json_object_set_new(o, p->out->marker[i], st_doc_interval(&p->out->marker_mg_l[i]));
    return o;
}

static json_t *two(double low, double high)
{
    return json_pack("[o, o]", real(low), real(high));
}

/* The recipe's own wish, and whether the figures meet it; as it could be asked of /api/turn. */
static json_t *wish(const struct st_bottle *p)
{
    const struct st_recipe *r = p->recipe;
    char text[600];
    const int missed = st_wish_words(r, p->out, text, sizeof text);
    json_t *asked;

    if (!*text)
        return json_null();
    asked = json_object();
    if (r->wish.has_strength)
        json_object_set_new(asked, "strength_pct_vol", two(r->wish.strength_low, r->wish.strength_high));
    if (r->wish.has_sugar)
        json_object_set_new(asked, "sugar_g_l", two(r->wish.sugar_low, r->wish.sugar_high));
    return json_pack("{s:b, s:o, s:o}", "met", missed == 0, "text", st_doc_text(text), "asked", asked);
}

json_t *st_doc_foresee(const struct st_bottle *p)
{
    const struct st_recipe *r = p->recipe;
    const struct st_ingredient *stop = st_recipe_stop(r);
    json_t *doc = json_object();
    char text[600] = "";

    json_object_set_new(doc, "stop", stop ? st_doc_text(stop->name) : json_null());
    json_object_set_new(doc, "title", st_doc_text(r->title ? r->title : ""));
    st_doc_figures(doc, p->out);
    if (!st_recipe_is_priced(r))
        json_object_set_new(doc, "cost", json_null());
    json_object_set_new(doc, "bottle_ml", p->out->bottle_ml > 0.0 ? real(p->out->bottle_ml) : json_null());
    json_object_set_new(doc, "serving_ml", real(r->serving_ml));
    json_object_set_new(doc, "currency", r->currency ? st_doc_text(r->currency) : json_null());
    if (stop)
        json_object_set_new(doc, st_figure_info(ST_FIG_BOTTLES)->key, json_null());
    json_object_set_new(doc, "wish", stop ? json_null() : wish(p));
    json_object_set_new(doc, "cautions", st_doc_cautions(p->cautions));
    json_object_set_new(doc, "markers_mg_l", markers(p));
    if (!stop)
        st_tip_words(p->recipe, p->out, text, sizeof text);
    json_object_set_new(doc, "tip", st_doc_text(text));
    json_object_set_new(doc, "notes", notes(p, false));
    json_object_set_new(doc, "questions", notes(p, true));
    json_object_set_new(doc, "steps", steps(p));
    json_object_set_new(doc, "what_matters", stop ? json_array() : what_matters(p));
    json_object_set_new(doc, "seed", json_integer((json_int_t)p->seed));
    json_object_set_new(doc, "draws", json_integer(p->draws));
    return doc;
}
