#include "api/doc_batch_who.h"

static json_t *link_json(const struct st_chain_link *l)
{
    return json_pack("{s:o, s:o}", l->is_lot ? "lot" : "batch", st_doc_text(l->code), "name", st_doc_text(l->name));
}

/* Lots or batches that it came to, with how they were reached. */
static json_t *reached(const struct st_batch_ask *a, const struct st_batch_who *x, bool lots)
{
    json_t *list = json_array();
    for (int i = 0; i < x->n_link; i++) {
        if (x->link[i].is_lot != lots)
            continue;
        json_t *o = link_json(&x->link[i]);
        json_object_set_new(o, "way", st_doc_text(st_batch_chain_way(a, x->link, i)));
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *one_step(const struct st_chain_link link[], int n)
{
    json_t *list = json_array();
    for (int i = 0; i < n; i++)
        if (link[i].from == 0)
            json_array_append_new(list, link_json(&link[i]));
    return list;
}

static json_t *liked_json(int64_t liked)
{
    return liked == BOOK_NO ? json_null() : json_string(liked > 0 ? "yes" : liked < 0 ? "no" : "so-so");
}

static json_t *holder_json(const struct st_batch_holder *p)
{
    json_t *o =
        json_pack("{s:o, s:o, s:I, s:o, s:o, s:b}", "person", st_doc_text(p->gone.person), "code", st_doc_text(p->code),
                  "bottles", (json_int_t)p->has, "on_day", st_doc_text(p->gone.on_day), "told_on",
                  p->gone.told_on ? st_doc_text(p->gone.told_on) : json_null(), "told", p->gone.told_on != NULL);
    json_object_set_new(o, "returned", json_integer((json_int_t)p->gone.returned));
    json_object_set_new(o, "returned_on", p->gone.returned_on ? st_doc_text(p->gone.returned_on) : json_null());
    json_object_set_new(o, "liked", liked_json(p->gone.liked));
    return o;
}

static json_t *given_json(const struct st_batch_given *g)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", g->of_lot ? "lot" : "batch", st_doc_text(g->code), "name",
                     st_doc_text(g->name), "on_day", st_doc_text(g->on_day), "why", st_doc_text(g->why), "note",
                     *g->note ? st_doc_text(g->note) : json_null());
}

static json_t *home_json(const struct st_batch_who *x)
{
    json_t *list = json_array();
    for (int i = 0; i < x->n_home; i++)
        json_array_append_new(list, json_pack("{s:o, s:i, s:i}", "code", st_doc_text(x->home[i].code), "bottles",
                                              x->home[i].n, "brought_back", x->home[i].back));
    return list;
}

json_t *st_doc_batch_who(const struct st_batch_ask *a, const char *about, const struct st_batch_who *x)
{
    json_t *who = json_array();
    for (int h = 0; h < x->n; h++)
        json_array_append_new(who, holder_json(&x->holder[h]));
    json_t *o = json_pack("{s:s, s:o, s:o, s:i}", "about", about, "batches", reached(a, x, false), "who", who,
                          "at_home", x->at_home);
    json_t *given = json_array();
    for (int i = 0; i < x->n_given; i++)
        json_array_append_new(given, given_json(&x->given[i]));
    json_object_set_new(o, "given", given);
    json_object_set_new(o, "home", home_json(x));
    json_t *before = json_array();
    for (int i = 0; i < x->n_before; i++)
        json_array_append_new(before, st_doc_text(x->before[i]));
    json_object_set_new(o, "left_before", before);
    json_t *unclear = json_array();
    for (int i = 0; i < x->n_unclear; i++)
        json_array_append_new(unclear,
                              json_pack("{s:o, s:o, s:o}", "batch", st_doc_text(x->unclear[i].batch), "line",
                                        st_doc_text(x->unclear[i].line), "lots", st_doc_text(x->unclear[i].lots)));
    json_object_set_new(o, "not_known", unclear);
    json_object_set_new(o, "lots", reached(a, x, true));
    json_object_set_new(o, "one_step_back", one_step(x->back, x->n_back));
    json_object_set_new(o, "one_step_forward", one_step(x->link, x->n_link));
    return o;
}
