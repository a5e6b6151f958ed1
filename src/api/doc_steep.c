#include <math.h>
#include <string.h>

#include "doc_toast.h"
#include "steep_task.h"
#include "text/calendar_day.h"
#include "text/steep_words.h"
#include "text/stops.h"

static const double DAY_S = 86400.0;

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static json_t *series(const struct st_jar_series *s, int n, double times)
{
    json_t *all = json_array();
    for (int i = 0; i < n; i++) {
        struct st_interval x = s->at[i];
        x.value *= times;
        x.low *= times;
        x.high *= times;
        json_array_append_new(all, st_doc_interval(&x));
    }
    return all;
}

/* In days; an end that lies beyond what was looked at is null. */
static json_t *days(const struct st_interval *s)
{
    return json_pack("{s:o, s:o, s:o, s:s}", "value", real(s->value / DAY_S), "low", real(s->low / DAY_S), "high",
                     real(s->high / DAY_S), "status", st_status_text(s->status));
}

static json_t *habit(const struct st_jar *j, const struct st_jar_curve *c)
{
    struct st_habit h;
    if (c->piece < 0 || st_jar_habit(j, c->piece, c->of, &h) < 0)
        return json_null();
    static const char *const BODY[] = {
        [ST_BODY_SPHERE] = "sphere", [ST_BODY_CYLINDER] = "cylinder", [ST_BODY_SLAB] = "slab"
    };
    const struct st_jar_piece *p = &j->piece[c->piece];
    const char mark[2] = { h.mark, '\0' };
    return json_pack("{s:s, s:s, s:b, s:o, s:o, s:o, s:o, s:s, s:o}", "body", BODY[h.body], "cut", st_cut_name(p->cut),
                     "cut_said", p->cut_said, "half_size_mm", real(p->size_mm > 0.0 ? p->size_mm : 1e3 * h.a_m.value),
                     "washed_share", real(h.w), "diffusivity_m2_s", real(h.d.value), "diffusivity_times",
                     real(h.d.times), "mark", mark, "source", st_doc_text(h.source));
}

static json_t *curve(const struct st_jar *j, const struct st_jar_told *t, const struct st_jar_curve *c, bool family)
{
    json_t *o = json_object();
    if (!family) {
        json_object_set_new(o, "ingredient", c->piece >= 0 ? st_doc_text(j->piece[c->piece].name) : json_null());
        json_object_set_new(o, "marker", c->what ? st_doc_text(c->what->name) : json_null());
    }
    json_object_set_new(o, "name", st_doc_text(c->name));
    json_object_set_new(o, "family", st_doc_text(c->family));
    json_object_set_new(o, "late", json_boolean(c->late));
    json_object_set_new(o, "share", series(&c->share, t->n_time, 1.0));
    json_object_set_new(o, "given", c->fades ? series(&c->given, t->n_time, 1.0) : json_null());
    json_object_set_new(o, "faded", c->fades ? series(&c->faded, t->n_time, 1.0) : json_null());
    json_object_set_new(o, "half_faded_days", c->fades ? days(&c->fade_s) : json_null());
    json_object_set_new(o, "mg_l", c->known ? series(&c->mg_l, t->n_time, 1.0) : json_null());
    json_object_set_new(o, "mostly_out_days", days(&c->most_s));
    json_object_set_new(o, "half_out_days", days(&c->half_s));
    json_object_set_new(o, "came_before", st_doc_interval(&c->before));
    json_object_set_new(o, "share_at_plan", st_doc_interval(&c->at_plan));
    json_object_set_new(o, "share_at_last", st_doc_interval(&c->at_last));
    json_object_set_new(o, "offered_over_held", c->full > 0.0 ? real(c->full) : json_null());
    if (!family)
        json_object_set_new(o, "how", habit(j, c));
    return o;
}

static json_t *ends(const struct st_jar *j, const struct st_jar_told *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->n_end; i++) {
        const struct st_jar_end *e = &t->end[i];
        json_array_append_new(
            all, json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "stage", st_doc_text(j->stage[e->stage].id),
                           "start_days", real(e->start_s / DAY_S), "end_days", real(e->end_s / DAY_S), "liquor_g",
                           st_doc_interval(&e->liquor_g.at[0]), "liquor_ml", st_doc_interval(&e->liquor_ml.at[0]),
                           "strength_pct_vol", st_doc_interval(&e->strength.at[0]), "sugar_g_l",
                           st_doc_interval(&e->sugar.at[0]), "solids_g", st_doc_interval(&e->solids_g.at[0])));
    }
    return all;
}

/* The name of the curve that one waits for. */
static json_t *headline(const struct st_jar *j, const struct st_jar_told *t)
{
    char name[160];
    const struct st_jar_curve *c = st_steep_headline(t);
    if (!c)
        return json_null();
    st_curve_name(name, sizeof name, j, c);
    return st_doc_text(name);
}

static json_t *warmth(const struct st_jar *j)
{
    char words[200];
    st_stage_warmth_words(words, sizeof words, j);
    return st_doc_text(words);
}

static json_t *told(const struct st_jar *j, const struct st_jar_told *t)
{
    json_t *o = json_object(), *time = json_array(), *curves = json_array(), *families = json_array();
    for (int i = 0; i < t->n_time; i++)
        json_array_append_new(time, real(t->t_s[i] / DAY_S));
    for (int i = 0; i < t->n_curve; i++)
        json_array_append_new(curves, curve(j, t, &t->curve[i], false));
    for (int i = 0; i < t->n_family; i++)
        json_array_append_new(families, curve(j, t, &t->family[i], true));
    json_object_set_new(o, "planned_days", real(t->plan_s / DAY_S));
    json_object_set_new(o, "look_days", real(t->look_s / DAY_S));
    json_object_set_new(o, "filled_days", real(t->filled_s / DAY_S));
    json_object_set_new(o, "headline", headline(j, t));
    json_object_set_new(o, "warmth", warmth(j));
    json_object_set_new(o, "time_days", time);
    json_object_set_new(o, "strength_pct_vol", series(&t->strength, t->n_time, 1.0));
    json_object_set_new(o, "sugar_g_l", series(&t->sugar, t->n_time, 1.0));
    json_object_set_new(o, "acid_g_l", series(&t->acid, t->n_time, 1.0));
    json_object_set_new(o, "volume_ml", series(&t->volume_ml, t->n_time, 1.0));
    json_object_set_new(o, "undissolved_sugar_g", series(&t->undissolved_g, t->n_time, 1.0));
    json_object_set_new(o, "curves", curves);
    json_object_set_new(o, "families", families);
    json_object_set_new(o, "stages", ends(j, t));
    json_object_set_new(o, "closure", real(t->closure));
    return o;
}

/* In words, the things of which more, less or nothing goes in. */
static json_t *amounts(const struct st_steep_task *t)
{
    json_t *all = json_array();
    char words[200];
    for (int p = 0; p < t->jar->n_piece; p++) {
        st_amount_words(words, sizeof words, &t->jar->piece[p], &t->other.piece[p]);
        if (*words)
            json_array_append_new(all, st_doc_text(words));
    }
    return all;
}

json_t *st_doc_steep(const struct st_steep_task *t, const struct st_cautions *cautions, const long *begun)
{
    json_t *o = told(t->jar, &t->told);
    char date[11];
    json_object_set_new(o, "title", st_doc_text(t->recipe->title ? t->recipe->title : ""));
    json_object_set_new(o, "jar", st_doc_text(t->recipe->step[t->step].id));
    if (begun) {
        st_day_write(*begun, date);
        json_object_set_new(o, "filled", json_string(date));
        st_day_write(*begun - (long)floor(t->told.filled_s / DAY_S + 1e-6), date);
        json_object_set_new(o, "begun", json_string(date));
    }
    json_object_set_new(o, "mostly_out", st_doc_text(ST_MOSTLY_OUT_WORDS));
    json_object_set_new(o, "seed", json_integer((json_int_t)t->seed));
    json_object_set_new(o, "draws", json_integer(t->draws));
    json_object_set_new(o, "cautions", cautions ? st_doc_cautions(cautions) : json_array());
    json_object_set_new(o, "toasting", st_doc_toasting(&t->books->jar, t->recipe, t->step, t->seed));
    if (t->has_learnt)
        json_object_set_new(o, "learnt", st_doc_learnt(t));
    if (t->has_other) {
        json_t *asked = json_array();
        for (int i = 0; i < t->n_what_if; i++)
            json_array_append_new(asked, st_doc_text(t->understood[i].words));
        json_t *other = told(&t->other, &t->other_told);
        json_object_set_new(other, "asked", asked);
        json_object_set_new(other, "amounts", amounts(t));
        json_object_set_new(o, "what_if", other);
    }
    return o;
}

json_t *st_doc_steep_nothing(const struct st_recipe *r, const struct st_cautions *cautions)
{
    const struct st_ingredient *stop = st_recipe_stop(r);
    json_t *o = json_object();
    json_object_set_new(o, "title", st_doc_text(r->title ? r->title : ""));
    json_object_set_new(o, "stop", stop ? st_doc_text(stop->name) : json_null());
    json_object_set_new(o, "jar", json_null());
    json_object_set_new(o, "cautions", st_doc_cautions(cautions));
    json_object_set_new(o, "tip", st_doc_text(""));
    static const char *const EMPTY[] = { "time_days", "curves", "families", "stages", "offers" };
    for (size_t i = 0; i < sizeof EMPTY / sizeof *EMPTY; i++)
        json_object_set_new(o, EMPTY[i], json_array());
    return o;
}
