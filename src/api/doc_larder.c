#include "api/doc_larder.h"

#include <limits.h>
#include <math.h>
#include <string.h>

json_t *st_doc_number(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

json_t *st_doc_known(const char *text)
{
    return text && *text ? st_doc_text(text) : json_null();
}

static json_t *days(long n)
{
    return n == LONG_MIN ? json_null() : json_integer(n);
}

/* What was entered: known as well as it was written, u its standard uncertainty. */
static json_t *entered(double x, double u)
{
    const double half = isfinite(u) ? 1.96 * u : 0.0;
    const struct st_interval i = { x, x - half, x + half, ST_OK, isfinite(x) };
    return st_doc_interval(&i);
}

static json_t *uses(const struct st_lot *l)
{
    json_t *all = json_array();
    for (int i = 0; i < l->n_use; i++) {
        const struct book_lot_use *u = &l->use[i];
        json_array_append_new(all, json_pack("{s:o, s:o, s:o, s:o, s:o}", "on", st_doc_text(u->on_day), "amount",
                                             st_doc_number(u->amount), "why", st_doc_text(u->why), "batch",
                                             st_doc_known(l->use_batch ? l->use_batch[i] : NULL), "note",
                                             st_doc_text(u->note)));
    }
    return all;
}

static json_t *readings(const struct st_lot *l)
{
    json_t *all = json_array();
    for (int i = 0; i < l->n_reading; i++) {
        const struct book_reading *r = &l->reading[i];
        json_array_append_new(all, json_pack("{s:o, s:o, s:o, s:o, s:o}", "kind", st_doc_text(r->kind), "value",
                                             st_doc_number(r->value), "sd", st_doc_number(r->sd), "at",
                                             st_doc_text(r->at), "by", st_doc_known(r->by_whom)));
    }
    return all;
}

json_t *st_doc_lot(const struct st_lot *l)
{
    const struct book_lot *r = &l->row;
    json_t *o = json_object();

    json_object_set_new(o, "code", st_doc_text(r->code));
    json_object_set_new(o, "kind", st_doc_text(r->kind));
    json_object_set_new(o, "name", st_doc_text(r->name));
    json_object_set_new(o, "ingredient", st_doc_known(r->slug));
    json_object_set_new(o, "words", st_doc_text(r->words));
    json_object_set_new(o, "unit", st_doc_text(r->dim));
    json_object_set_new(o, "amount", st_doc_number(r->amount));
    json_object_set_new(o, "left", st_doc_number(l->left));
    json_object_set_new(o, "weighed",
                        r->gross == BOOK_NO ? json_null() : st_doc_text(r->gross ? "as bought" : "trimmed"));
    json_object_set_new(o, "strength_pct_vol", entered(r->strength_pct_vol, r->strength_u));
    json_object_set_new(o, "sugar_g_l", entered(r->sugar_g_l, 0.0));
    json_object_set_new(o, "acid_g_l", entered(r->acid_g_l, 0.0));
    json_object_set_new(o, "potency", st_doc_number(r->potency));
    json_object_set_new(o, "since", st_doc_known(r->since));
    json_object_set_new(o, "age_days", days(l->age));
    json_object_set_new(o, "opened_on", st_doc_known(r->opened_on));
    json_object_set_new(o, "use_by", st_doc_known(r->use_by));
    json_object_set_new(o, "use_by_days", days(l->use_by));
    json_object_set_new(o, "place", st_doc_known(r->place));
    json_object_set_new(o, "from", st_doc_known(r->bought_at));
    json_object_set_new(o, "price", st_doc_number(r->price));
    json_object_set_new(o, "currency", st_doc_known(r->currency));
    json_object_set_new(o, "from_batch", st_doc_known(l->from_batch));
    json_object_set_new(o, "ended_on", st_doc_known(r->ended_on));
    json_object_set_new(o, "over", json_boolean(l->over));
    json_object_set_new(o, "note", st_doc_text(r->note));
    json_object_set_new(o, "uses", uses(l));
    json_object_set_new(o, "readings", readings(l));
    return o;
}

json_t *st_doc_vessel(const struct book_vessel *v, const char *stands_in)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "name", st_doc_text(v->name), "volume_ml",
                     st_doc_number(v->volume_ml), "empty_g", st_doc_number(v->empty_g), "holds",
                     st_doc_known(stands_in), "note", st_doc_text(v->note));
}

static json_t *stock(const struct st_stock *s)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:I, s:I, s:o, s:o, s:o}", "code", st_doc_text(s->row.code), "batch",
                     st_doc_known(s->batch), "name", st_doc_text(s->name), "size_ml", st_doc_number(s->row.size_ml),
                     "bottles", (json_int_t)s->row.count, "left", (json_int_t)s->left, "strength_pct_vol",
                     entered(s->row.strength_pct_vol, 0.0), "since", st_doc_text(s->row.on_day), "use_by",
                     st_doc_known(s->row.use_by));
}

json_t *st_doc_larder(const struct st_larder *l)
{
    json_t *lots = json_array(), *vessels = json_array(), *bottles = json_array();

    for (int i = 0; i < l->n_lot; i++)
        json_array_append_new(lots, st_doc_lot(&l->lot[i]));
    for (int i = 0; i < l->n_vessel; i++)
        json_array_append_new(vessels, st_doc_vessel(&l->vessel[i], l->stands_in[i]));
    for (int i = 0; i < l->n_stock; i++)
        json_array_append_new(bottles, stock(&l->stock[i]));
    return json_pack("{s:o, s:o, s:o, s:i}", "lots", lots, "vessels", vessels, "bottles", bottles, "used_up",
                     l->n_over);
}

json_t *st_doc_lot_told(const struct st_lot_told *t)
{
    json_t *remarks = json_array();
    for (int i = 0; i < t->n_remark; i++)
        json_array_append_new(remarks, st_doc_text(t->remark[i]));
    return json_pack("{s:o, s:o, s:o}", "done", t->nothing ? json_null() : st_doc_text(t->words), "lot",
                     st_doc_lot(&t->lot), "remarks", remarks);
}
