#include "api/book_reach.h"
#include "api/doc_larder.h"
#include "text/reach_words.h"

static json_t *range(const struct st_range *x)
{
    const struct st_interval i = { x->value, x->low, x->high, ST_OK, x->known };
    return st_doc_interval(&i);
}

static const char *unit_of(enum st_dimension dim)
{
    return dim == ST_DIM_MASS ? "g" : dim == ST_DIM_VOLUME ? "mL" : "pieces";
}

static json_t *uses(const struct st_within *w, const struct st_reach_line *l)
{
    json_t *all = json_array();
    for (int i = l->first_use; i < l->first_use + l->n_use; i++) {
        const struct st_reach_use *u = &w->reach.use[i];
        const struct st_lot *lot = &w->larder.lot[u->holding];
        json_array_append_new(all, json_pack("{s:o, s:o, s:o, s:o, s:s, s:o, s:o, s:o}", "lot",
                                             st_doc_text(lot->row.code), "name", st_doc_text(lot->row.name), "amount",
                                             range(&u->amount), "not_cut_before", range(&u->anew), "unit",
                                             unit_of(w->held[u->holding].dim), "strength_pct_vol",
                                             u->other_strength ? st_doc_number(u->strength) : json_null(), "water_ml",
                                             u->other_strength ? st_doc_number(u->water_ml) : json_null(), "price",
                                             st_doc_number(u->price)));
    }
    return all;
}

static json_t *lines(const struct st_recipe *r, const struct st_within *w)
{
    json_t *all = json_array();
    char words[ST_REACH_WORDS];
    for (int i = 0; i < w->reach.n_line; i++) {
        const struct st_reach_line *l = &w->reach.line[i];
        st_reach_line_words(words, sizeof words, r, &w->reach, i, w->shown);
        json_array_append_new(
            all, json_pack("{s:i, s:i, s:o, s:o, s:s, s:s, s:o, s:o, s:o}", "step", l->step + 1, "line", l->line + 1,
                           "text", st_doc_text(r->step[l->step].line[l->line].text), "words", st_doc_text(words),
                           "state", st_reach_state_name(l->state), "unit", unit_of(l->dim), "need", range(&l->need),
                           "missing", range(&l->missing), "from", uses(w, l)));
    }
    return all;
}

static json_t *shopping(const struct st_shopping *s)
{
    json_t *all = json_array();
    for (int i = 0; i < s->n; i++)
        json_array_append_new(all, json_pack("{s:o, s:o, s:s, s:o, s:o}", "shelf", st_doc_text(s->item[i].shelf),
                                             "text", st_doc_text(s->item[i].text), "unit", unit_of(s->item[i].dim),
                                             "needed", range(&s->item[i].needed), "bought",
                                             s->item[i].amount_known ? st_doc_number(s->item[i].bought) : json_null()));
    return all;
}

json_t *st_doc_margin(double price, double tax_share, const struct st_margin *m)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "price", st_doc_number(price), "tax_share", st_doc_number(tax_share),
                     "net", st_doc_number(m->net), "kept", range(&m->margin), "share", range(&m->share));
}

static json_t *cost(const struct st_within *w)
{
    const struct st_reach_cost *c = &w->reach.cost;
    json_t *o =
        json_pack("{s:o, s:o, s:o, s:o, s:o, s:i, s:i}", "batch", range(&c->batch), "bottle", range(&c->bottle), "pour",
                  range(&c->pour), "at_least", st_doc_number(c->at_least), "currency", st_doc_known(c->currency),
                  "lots_without_price", c->n_unpriced, "lines_not_covered", c->n_uncovered);
    json_object_set_new(o, "margin", w->priced ? st_doc_margin(w->pour_price, w->tax, &w->margin) : json_null());
    return o;
}

json_t *st_doc_within(const struct st_recipe *r, const struct st_within *w)
{
    return json_pack("{s:o, s:b, s:o, s:o, s:o}", "recipe", st_doc_text(r->title ? r->title : ""), "within_reach",
                     w->n_short == 0, "lines", lines(r, w), "shopping", shopping(&w->list), "cost", cost(w));
}
