#include <math.h>

#include "aim_kitchen.h"
#include "text/aim_words.h"
#include "text/kitchen_words.h"

static bool differs(const struct st_aim_task *t, const struct st_making *m, int k)
{
    const struct st_kitchen_item *a = &m->item[k], *b = &t->kitchen->choice.best.item[k];
    return a->tool != b->tool || fabs(a->factor - b->factor) > 1e-9;
}

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static json_t *amounts(const struct st_aim_task *t, const struct st_making *m)
{
    static const char *const UNIT[] = { "g", "mL", "piece" };
    json_t *all = json_array();
    char name[96], text[64], old[64];
    for (int k = 0; k < t->aim.n_dial; k++) {
        const struct st_dial *d = &t->aim.dial[k].dial;
        const struct st_kitchen_item *item = &m->item[k];
        json_t *o = json_object();
        const struct st_line *l = &t->aim.recipe->step[d->step].line[d->line];
        const bool amount = d->of == ST_DIAL_AMOUNT;
        const double before = amount ? 1.0 : l->strength.known ? l->strength.value : l->what->strength.value;
        st_kitchen_item_words(&t->aim, m, k, text, sizeof text);
        st_aim_dial_words(t->aim.recipe, d, before, old, sizeof old);
        json_object_set_new(o, "step", json_integer(d->step + 1));
        json_object_set_new(o, "line", json_integer(d->line + 1));
        json_object_set_new(o, "of", st_doc_text(amount ? "amount" : "strength"));
        json_object_set_new(o, "name", st_doc_text(st_aim_dial_name(t->aim.recipe, d, name, sizeof name)));
        json_object_set_new(o, "text_before", st_doc_text(old));
        json_object_set_new(o, "text_after", st_doc_text(text));
        json_object_set_new(o, "before",
                            real(amount ? l->amount.value : before)); /* in the unit of the line as it is */
        json_object_set_new(o, "after", real(amount ? item->factor * l->amount.value : item->factor));
        json_object_set_new(o, "measured", real(item->amount)); /* in the unit it is measured in */
        json_object_set_new(o, "unit",
                            st_doc_text(d->of == ST_DIAL_STRENGTH   ? "% vol"
                                        : item->dim <= ST_DIM_PIECE ? UNIT[item->dim]
                                                                    : ""));
        json_object_set_new(o, "tool", st_doc_text(item->tool == ST_TOOL_NONE ? "" : st_tool_name(item->tool)));
        json_object_set_new(o, "changed", json_boolean(differs(t, m, k)));
        json_array_append_new(all, o);
    }
    return all;
}

static json_t *making(const struct st_aim_task *t, const struct st_making *m)
{
    json_t *o = json_object(), *f = json_object();
    for (int i = 0; i < t->aim.n_wish; i++)
        json_object_set_new(f, st_figure_info(t->aim.wish[i].of)->key, real(m->y[t->aim.wish[i].of]));
    json_object_set_new(f, st_figure_info(ST_FIG_VOLUME)->key, real(m->y[ST_FIG_VOLUME]));
    json_object_set_new(o, "amounts", amounts(t, m));
    json_object_set_new(o, "figures", f);
    json_object_set_new(o, "joint", real(m->joint));
    json_object_set_new(o, "score", real(m->score));
    json_object_set_new(o, "drift", real(m->drift));
    json_object_set_new(o, "tools", json_integer(m->tools));
    json_object_set_new(o, "met", json_boolean(m->met));
    return o;
}

static json_t *unasked(const struct st_stays *s)
{
    json_t *all = json_array();
    for (int i = 0; i < s->n; i++)
        json_array_append_new(all, json_pack("{s:s, s:f, s:f}", "figure", st_figure_info(s->of[i].of)->key, "before",
                                             s->of[i].at, "step", s->of[i].step));
    return all;
}

void st_doc_kitchen(json_t *doc, const struct st_aim_task *t)
{
    static const char *const KIND[ST_NALT] = { "fewer_tools", "weigh_one", "rounder", "whole" };
    const struct st_kitchen_choice *c = &t->kitchen->choice;
    json_t *others = json_array(), *none = json_array(), *k = making(t, &c->best);
    char text[200];
    for (int i = 0; i < ST_NALT; i++) {
        st_kitchen_none_words((enum st_alternative)i, c->why[i], text, sizeof text);
        if (!c->has[i]) {
            json_array_append_new(none, json_pack("{s:s, s:s}", "kind", KIND[i], "text", text));
            continue;
        }
        json_t *o = making(t, &c->other[i]);
        st_kitchen_other_words(&t->aim, c, (enum st_alternative)i, text, sizeof text);
        json_object_set_new(o, "kind", st_doc_text(KIND[i]));
        json_object_set_new(o, "text", st_doc_text(text));
        st_kitchen_sure_words(&c->other[i], &c->best, text, sizeof text);
        json_object_set_new(o, "certainty", st_doc_text(text));
        json_object_set_new(o, "joint_change", real(c->other[i].joint - c->best.joint));
        json_object_set_new(o, "volume_let_go", json_boolean(c->volume_let_go[i]));
        json_object_set_new(o, "recipe",
                            t->kitchen->other_recipe[i].length ? st_doc_text(st_buf_text(&t->kitchen->other_recipe[i]))
                                                               : json_null());
        json_array_append_new(others, o);
    }
    json_object_set_new(k, "unasked", unasked(&c->stays));
    json_object_set_new(k, "points", real(c->search.points));
    json_object_set_new(k, "nodes", json_integer(c->search.nodes));
    json_object_set_new(k, "evaluations", json_integer(c->search.evaluations));
    json_object_set_new(k, "best_score", real(c->search.point[0].score));
    json_object_set_new(k, "best_distance", real(c->search.point[0].far));
    json_object_set_new(k, "bound", real(c->search.bound));
    json_object_set_new(k, "proven", json_boolean(c->search.proven));
    st_kitchen_proof_words(&c->search, text, sizeof text);
    json_object_set_new(k, "proof", st_doc_text(text));
    json_object_set_new(k, "none", none);
    json_object_set_new(k, "kept", json_integer(c->search.n_point));
    json_object_set_new(k, "nearest", making(t, &c->second));
    json_object_set_new(k, "rounded_one_by_one", making(t, &c->rounded));
    json_object_set_new(doc, "kitchen", k);
    json_object_set_new(doc, "alternatives", others);
}
