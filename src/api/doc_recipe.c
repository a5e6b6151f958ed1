#include "api/doc_recipe.h"

#include "api/doc_larder.h"

static json_t *foreseen(const struct st_try *t)
{
    json_t *o = json_object();
    if (!t->program) {
        json_decref(o);
        return json_null();
    }
    for (int i = 0; i < ST_NFIG; i++)
        if (t->fig[i].known)
            json_object_set_new(o, st_figure_info((enum st_figure)i)->key, st_doc_interval(&t->fig[i]));
    json_object_set_new(o, "program", st_doc_text(t->program));
    return o;
}

json_t *st_doc_try(const struct st_try *t, bool text)
{
    json_t *o = json_object();
    json_object_set_new(o, "recipe", st_doc_text(t->recipe));
    json_object_set_new(o, "side", st_doc_text(t->row.side));
    json_object_set_new(o, "number", json_integer((json_int_t)t->row.number));
    json_object_set_new(o, "try", st_doc_text(t->ref));
    json_object_set_new(o, "from", st_doc_known(t->from));
    json_object_set_new(o, "on", st_doc_text(t->row.on_day));
    json_object_set_new(o, "note", st_doc_text(t->row.note));
    json_object_set_new(o, "foreseen", foreseen(t));
    if (text) {
        json_object_set_new(o, "text", st_doc_text(t->row.text));
        json_object_set_new(o, "said", st_doc_text(t->row.said));
    }
    return o;
}

json_t *st_doc_kept_recipe(const struct st_kept_recipe *r)
{
    json_t *o = json_object(), *sides = json_array();
    for (int i = 0; i < r->n_side; i++)
        json_array_append_new(sides,
                              json_pack("{s:o, s:i}", "side", st_doc_text(r->side[i].name), "tries", r->side[i].n));
    json_object_set_new(o, "name", st_doc_text(r->row.name));
    json_object_set_new(o, "since", st_doc_text(r->row.since));
    json_object_set_new(o, "note", st_doc_text(r->row.note));
    json_object_set_new(o, "tries", json_integer(r->n_try));
    json_object_set_new(o, "sides", sides);
    json_object_set_new(o, "last_on", st_doc_known(r->last_day));
    json_object_set_new(o, "last", r->n_try > 0 ? st_doc_try(&r->last, false) : json_null());
    return o;
}

json_t *st_doc_keep_told(const struct st_keep_told *t)
{
    json_t *remarks = json_array();
    for (int i = 0; i < t->n_remark; i++)
        json_array_append_new(remarks, st_doc_text(t->remark[i]));
    return json_pack("{s:o, s:o, s:o}", "done", t->nothing ? json_null() : st_doc_text(t->words), "try",
                     st_doc_try(&t->now, false), "remarks", remarks);
}

json_t *st_doc_compared(const struct st_compared *c)
{
    json_t *changes = json_array(), *together = json_array();

    if (!c->done) {
        json_decref(changes);
        json_decref(together);
        return json_null();
    }
    for (int i = 0; i < c->changes.n; i++) {
        const struct st_try_change *x = &c->changes.change[i];
        if (st_try_said_before(&c->changes, i))
            continue;
        json_array_append_new(changes, json_pack("{s:s, s:o, s:o}", "what", st_try_what_name(x->what), "text",
                                                 st_doc_text(x->text), "does", st_doc_known(x->does)));
    }
    for (int i = 0; i < c->changes.n_figure; i++) {
        const struct st_try_figure *f = &c->changes.figure[i];
        json_array_append_new(
            together, json_pack("{s:s, s:s, s:o, s:o, s:o, s:b, s:o}", "figure", st_figure_info(f->of)->key, "unit",
                                f->of == ST_FIG_COST ? c->changes.recipe[1]->currency : st_figure_info(f->of)->unit,
                                "before", st_doc_interval(&f->is[0]), "after", st_doc_interval(&f->is[1]), "difference",
                                st_doc_interval(&f->by), "told_apart", f->told, "text", st_doc_text(f->text)));
    }
    return json_pack("{s:o, s:o}", "changes", changes, "together", together);
}
