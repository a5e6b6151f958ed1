#include "api/doc_batch_alcohol.h"

#include <math.h>

#include "api/doc_larder.h"

const char ST_ALCOHOL_NOT_ADVICE[] =
    "Not tax advice; your authority decides what counts, how it is measured and what is owed.";

const char ST_ALCOHOL_BELOW[] = "more went out than the book says came in";

/* null where nothing can be said. */
static json_t *interval(bool known, double value, double u)
{
    const struct st_interval x = { value, value - 1.96 * u, value + 1.96 * u, ST_OK, known };
    return st_doc_interval(&x);
}

/* Never below 0. */
static json_t *kept(const struct st_alcohol_account *x)
{
    const struct st_interval kept = st_alcohol_kept(x);
    return st_doc_interval(&kept);
}

/* A sum; null where nothing can be said of it. */
static json_t *sum(const struct st_alcohol_sums *x, enum st_alcohol_way w)
{
    const struct st_interval told = st_alcohol_told_sum(x, w);
    json_t *o = st_doc_interval(&told);
    if (json_is_object(o))
        json_object_set_new(o, "incomplete", json_boolean(x->unsure & 1u << w));
    return o;
}

static json_t *account_json(const struct st_alcohol_account *x)
{
    static const char *const WAY[ST_ALC_WAYS] = { "in_l",   "moved_in_l", "moved_out_l", "out_l",
                                                  "lost_l", "kept_l",     "missing_l" };
    json_t *o = json_pack("{s:s, s:o, s:o, s:o, s:o, s:o, s:i}", "kind", x->is_lot ? "lot" : "batch", "code",
                          st_doc_text(x->code), "name", st_doc_text(x->name), "from", st_doc_text(x->whence),
                          "opening_l", sum(&x->sum, ST_ALC_OPENING), "closing_l", sum(&x->sum, ST_ALC_CLOSING),
                          "without_strength", x->unknown);
    json_object_set_new(o, "below_zero", json_boolean(x->below));
    for (int w = 0; w < ST_ALC_WAYS; w++)
        json_object_set_new(o, WAY[w], sum(&x->sum, (enum st_alcohol_way)w));
    json_object_set_new(o, "moved_l", sum(&x->sum, ST_ALC_MOVED));
    if (x->is_lot)
        return o;
    json_object_set_new(o, "over", json_boolean(x->over));
    json_object_set_new(o, "found_l", sum(&x->sum, ST_ALC_FOUND));
    json_object_set_new(o, "foretold_kept_l", kept(x));
    json_object_set_new(o, "not_accounted_l", interval(x->checked, x->missing, x->missing_u));
    json_object_set_new(o, "marked", json_boolean(x->marked));
    return o;
}

static json_t *step_json(const struct st_alcohol_step *x)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:b}", "lot", st_doc_text(x->lot), "batch", st_doc_text(x->batch), "on_day",
                     st_doc_text(x->on_day), "litres", interval(isfinite(x->litres), x->litres, x->u), "by_line",
                     x->by_line);
}

static void add_check(json_t *o, const struct st_alcohol *x)
{
    json_object_set_new(o, "not_accounted_l", interval(x->checked > 0, x->gap, x->gap_u));
    json_object_set_new(o, "checked_batches", json_integer(x->checked));
    json_object_set_new(o, "marked_batches", json_integer(x->marked));
    json_object_set_new(o, "below_zero", json_boolean(x->below));
    json_object_set_new(o, "below_zero_accounts", json_integer(x->n_below));
    if (x->below || x->n_below)
        json_object_set_new(o, "below_zero_note", json_string(ST_ALCOHOL_BELOW));
    json_object_set_new(o, "not_known_entries", json_integer(x->unknown));
    json_object_set_new(o, "not_known_batches", json_integer(x->untold));
    json_object_set_new(o, "volume_not_read_l", sum(&x->sum, ST_ALC_UNFOUND));
    json_object_set_new(o, "volume_not_read_batches", json_integer(x->not_found));
}

json_t *st_doc_batch_alcohol(const struct st_alcohol *x, const char *since, const char *until)
{
    static const struct {
        const char *key;
        enum st_alcohol_way way;
    } ALL[] = { { "opening_l", ST_ALC_OPENING }, { "in_l", ST_ALC_IN },
                { "out_l", ST_ALC_OUT },         { "lost_l", ST_ALC_LOST },
                { "kept_l", ST_ALC_KEPT },       { "missing_l", ST_ALC_MISSING },
                { "closing_l", ST_ALC_CLOSING }, { "still_there_l", ST_ALC_FOUND } };
    json_t *accounts = json_array(), *steps = json_array();
    for (int i = 0; i < x->n; i++)
        json_array_append_new(accounts, account_json(&x->account[i]));
    for (int i = 0; i < x->n_step; i++)
        json_array_append_new(steps, step_json(&x->step[i]));
    json_t *o = json_pack("{s:o, s:s}", "since", *since ? json_string(since) : json_null(), "until", until);
    for (size_t i = 0; i < sizeof ALL / sizeof *ALL; i++)
        json_object_set_new(o, ALL[i].key, sum(&x->sum, ALL[i].way));
    add_check(o, x);
    json_object_set_new(o, "accounts", accounts);
    json_object_set_new(o, "steps", steps);
    json_object_set_new(o, "note", json_string(ST_ALCOHOL_NOT_ADVICE));
    return o;
}
