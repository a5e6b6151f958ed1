#include "doc_cautions.h"

#include <math.h>

#include "doc_label.h"

#include "text/ledger_words.h"
#include "text/stops.h"

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

/* A worst case has no low end: "value" with the amounts as written, "high" with the most they may be. */
static json_t *at_most(double is, double high)
{
    return json_pack("{s:o, s:o}", "value", real(is), "high", real(high));
}

static json_t *mark_word(char mark)
{
    return st_doc_text(mark == 'r'   ? "read"
                       : mark == 's' ? "read in a secondary source"
                       : mark == 'u' ? "the recipe's own"
                                     : "unverified figure");
}

static const char *verdict_word(enum st_verdict v)
{
    static const char *const WORD[ST_NVERDICT] = { [ST_WITHIN] = "within",
                                                   [ST_PASSES] = "over",
                                                   [ST_MAY_PASS] = "may be over",
                                                   [ST_NOT_ASSESSED] = "not assessed",
                                                   [ST_IF_OPENED] = "over if stones are opened" };
    return (unsigned)v < ST_NVERDICT ? WORD[v] : "";
}

static json_t *rule(const struct st_rule *r)
{
    char place[120];
    return json_pack("{s:o, s:o, s:o, s:o, s:i, s:b, s:b, s:o, s:o, s:o}", "id", st_doc_text(r->id), "places",
                     st_doc_text(st_law_place_words(r->places, place, sizeof place)), "document",
                     st_doc_text(r->document), "article", st_doc_text(r->article), "year", r->year, "in_force",
                     r->in_force, "declaration", r->at_least, "says", st_doc_text(r->says), "source",
                     st_doc_text(r->source), "figure", mark_word(r->mark));
}

static json_t *tests(const struct st_ledger_entry *e, const struct st_drinker *who)
{
    json_t *all = json_array();
    char text[500];
    for (int i = 0; i < e->n_test; i++) {
        const struct st_test *t = &e->test[i];
        json_array_append_new(all,
                              json_pack("{s:s, s:o, s:o, s:s, s:b, s:o, s:o}", "verdict", verdict_word(t->verdict),
                                        "at_most", at_most(t->is, t->high), "limit", real(t->limit), "unit",
                                        st_limit_words(t->rule->unit), "counts", st_test_counts(t), "text",
                                        st_doc_text(st_test_words(t, who, text, sizeof text)), "rule", rule(t->rule)));
    }
    return all;
}

static json_t *carriers(const struct st_recipe *r, const struct st_ledger_entry *e)
{
    json_t *all = json_array();
    for (int i = 0; i < e->n_carrier; i++) {
        const struct st_carrier *c = &e->carrier[i];
        const struct st_ingredient *in = r->step[c->step].line[c->line].what;
        json_t *o = json_pack("{s:i, s:o, s:i, s:o, s:o, s:o, s:o}", "step", c->step + 1, "step_name",
                              st_doc_text(r->step[c->step].id), "line", c->line + 1, "ingredient",
                              st_doc_text(in ? in->name : ""), "weight_g", at_most(c->source_g, c->source_high_g),
                              "share_at_most", real(c->share), "in_drink_mg", at_most(c->mg, c->high_mg));
        json_object_set_new(o, "stones_shut", json_boolean(c->shut));
        if (c->content) {
            json_object_set_new(o, "ceiling_mg_kg", real(c->assay ? c->assay->mg_kg : c->content->ceiling_mg_kg));
            json_object_set_new(o, "through", st_doc_text(c->content->through));
            json_object_set_new(o, "note", st_doc_text(c->content->note));
            json_object_set_new(o, "source", st_doc_text(c->content->source));
            json_object_set_new(o, "figure", mark_word(c->content->mark));
        } else
            json_object_set_new(o, "ceiling_mg_kg", json_null());
        if (c->assay)
            json_object_set_new(o, "assay",
                                json_pack("{s:o, s:o, s:o}", "found_mg_kg", real(c->assay->mg_kg), "laboratory",
                                          st_doc_text(c->assay->laboratory), "date", st_doc_text(c->assay->date)));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *entry(const struct st_recipe *r, const struct st_ledger_entry *e, const struct st_watch *w)
{
    char most[300], dense[400];
    const double none = (double)NAN;
    const bool known = st_entry_is_known(e);
    return json_pack(
        "{s:o, s:o, s:o, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "toxicant", st_doc_text(e->toxicant->name),
        "harm", st_doc_text(e->toxicant->harm), "harm_source", st_doc_text(e->toxicant->source), "verdict",
        verdict_word(e->verdict), "at_most_mg_kg", known ? at_most(e->mg_kg, e->high_mg_kg) : at_most(none, none),
        "at_most_mg_l", known ? at_most(e->mg_l, e->high_mg_l) : at_most(none, none), "at_most_mg_serving",
        known ? at_most(e->serving_mg, e->high_serving_mg) : at_most(none, none), "why_so_much",
        st_doc_text(known ? st_entry_dense_words(e, dense, sizeof dense) : ""), "most_g_l", real(e->most_g_l), "most",
        st_doc_text(st_most_words(r, e, most, sizeof most)), "carriers", carriers(r, e), "tests", tests(e, &w->who));
}

void st_doc_ledger(json_t *doc, const struct st_recipe *r, const struct st_ledger *l, const struct st_watch *w)
{
    json_t *all = json_array();
    if (!w->books)
        return;
    for (int i = 0; i < l->n_entry; i++)
        json_array_append_new(all, entry(r, &l->entry[i], w));
    json_object_set_new(doc, "held_against",
                        json_pack("{s:o, s:o, s:i, s:o, s:o, s:o, s:o, s:o}", "place", st_doc_text(w->place->code),
                                  "name", st_doc_text(w->place->name), "year_of_data", w->place->year, "known",
                                  st_doc_text(w->place->known), "unknown", st_doc_text(w->place->unknown), "first",
                                  st_doc_text(w->place->first), "serving_ml", real(w->who.serving_ml), "body_weight_kg",
                                  real(w->who.body_weight_kg)));
    json_object_set_new(doc, "worst_cases", all);
    json_object_set_new(doc, "all_reckoned", json_boolean(!l->cut));
}

json_t *st_doc_watched(const struct st_watched *w)
{
    json_t *doc = json_object();
    const struct st_ingredient *stop = st_recipe_stop(w->recipe);
    json_object_set_new(doc, "title", st_doc_text(w->recipe->title ? w->recipe->title : ""));
    json_object_set_new(doc, "stop", stop ? st_doc_text(stop->name) : json_null());
    json_object_set_new(doc, "because", st_doc_text(w->because));
    json_object_set_new(doc, "cautions", st_doc_cautions(w->list));
    st_doc_ledger(doc, w->recipe, w->ledger, w->watch);
    json_object_set_new(doc, "label", st_doc_label(w->facts));
    json_object_set_new(doc, "guest",
                        w->asked ? st_doc_guest(w->asked, w->answer, w->n_answer, w->answers_cut) : json_null());
    return doc;
}
