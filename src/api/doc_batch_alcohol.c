#include "api/doc_batch_alcohol.h"

#include <math.h>

const char ST_ALCOHOL_NOT_ADVICE[] =
    "Not tax advice; your authority decides what counts, how it is measured and what is owed.";

static json_t *account_json(const struct st_alcohol_account *x)
{
    static const char *const WAY[ST_ALC_WAYS] = { "in_l", "moved_in_l", "moved_out_l", "out_l", "lost_l", "kept_l" };
    json_t *o = json_pack("{s:s, s:o, s:o, s:o, s:f, s:f, s:i}", "kind", x->is_lot ? "lot" : "batch", "code",
                          st_doc_text(x->code), "name", st_doc_text(x->name), "from", st_doc_text(x->whence),
                          "opening_l", x->opening, "closing_l", x->closing, "without_strength", x->unknown);
    for (int w = 0; w < ST_ALC_WAYS; w++)
        json_object_set_new(o, WAY[w], json_real(x->way[w]));
    return o;
}

json_t *st_doc_batch_alcohol(const struct st_alcohol *x, const char *since, const char *until)
{
    json_t *accounts = json_array(), *steps = json_array();
    for (int i = 0; i < x->n; i++)
        json_array_append_new(accounts, account_json(&x->account[i]));
    for (int i = 0; i < x->n_step; i++)
        json_array_append_new(steps, json_pack("{s:o, s:o, s:o, s:f}", "lot", st_doc_text(x->step[i].lot), "batch",
                                               st_doc_text(x->step[i].batch), "on_day", st_doc_text(x->step[i].on_day),
                                               "litres", x->step[i].litres));
    const double gap = st_alcohol_gap(x), u = hypot(x->u, x->found_u);
    json_t *o =
        json_pack("{s:o, s:s, s:f, s:f, s:f, s:f, s:f, s:f, s:f}", "since", *since ? json_string(since) : json_null(),
                  "until", until, "opening_l", x->opening, "in_l", x->in, "out_l", x->out, "lost_l", x->lost, "kept_l",
                  x->kept, "closing_l", x->closing, "still_there_l", x->found);
    json_object_set_new(
        o, "not_accounted_l",
        json_pack("{s:f, s:f, s:f, s:s}", "value", gap, "low", gap - 1.96 * u, "high", gap + 1.96 * u, "status", "ok"));
    json_object_set_new(o, "volume_not_read_l", json_real(x->unfound));
    json_object_set_new(o, "volume_not_read_batches", json_integer(x->not_found));
    json_object_set_new(o, "accounts", accounts);
    json_object_set_new(o, "steps", steps);
    json_object_set_new(o, "note", json_string(ST_ALCOHOL_NOT_ADVICE));
    return o;
}
