#include "doc_clear.h"

#include <math.h>
#include <stdio.h>

#include "text/stops.h"

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

static json_t *verdicts(const struct st_clearing *c)
{
    json_t *all = json_object();
    char text[ST_CLEARING_TEXT];
    for (int i = 0; i < ST_NPLACES; i++) {
        const struct st_clear_verdict *v = &c->at[i];
        st_clear_index_words(text, sizeof text, c, (enum st_place_of_drink)i);
        json_object_set_new(all, st_place_code((enum st_place_of_drink)i),
                            json_pack("{s:s, s:o, s:o, s:o, s:o, s:o}", "verdict", st_clearness_code(v->is), "index",
                                      st_doc_interval(&v->index), "temperature_K", real(v->T_K), "strength_pct_vol",
                                      real(v->strength), "sugar_g_l", real(v->sugar), "because", st_doc_text(text)));
    }
    return all;
}

static json_t *oils(const struct st_clearing *c)
{
    json_t *all = json_array();
    for (int i = 0; i < c->n_oil; i++) {
        const struct st_oil_source *o = &c->oil[i];
        json_array_append_new(all,
                              json_pack("{s:o, s:s, s:o, s:o, s:b, s:i, s:i}", "ingredient", st_doc_text(o->what->name),
                                        "known", st_oil_known_code(o->known), "oil_g_l", st_doc_interval(&o->g_l), "as",
                                        o->as ? st_doc_text(o->as->name) : json_null(), "jar_full", o->full, "step",
                                        o->step + 1, "line", o->line + 1));
    }
    return all;
}

static json_t *jar(const struct st_recipe *r, const struct st_settling_jar *j)
{
    if (!j->known)
        return json_null();
    json_t *grains = json_array();
    for (int i = 0; i < ST_GRAINS; i++)
        json_array_append_new(grains, json_pack("{s:s, s:o, s:b, s:o}", "what", st_grain[i].name, "diameter_m",
                                                real(st_grain[i].d_m), "rises", st_grain[i].oil, "days_for_10_cm",
                                                st_doc_interval(&j->day[i])));
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:s, s:o}", "step", st_doc_text(r->step[j->step].id),
                     "strength_pct_vol", real(j->strength), "sugar_g_l", real(j->sugar), "density_kg_m3",
                     real(j->density), "viscosity_Pa_s", real(j->eta), "status", st_status_text(j->status), "grains",
                     grains);
}

typedef void say_fn(char *buf, size_t size, const struct st_clear_told *t, int i);

static json_t *all_of(say_fn *say, const struct st_clear_told *t)
{
    json_t *all = json_array();
    char text[ST_CLEARING_TEXT];
    for (int i = 0;; i++) {
        say(text, sizeof text, t, i);
        if (!*text)
            return all;
        json_array_append_new(all, st_doc_text(text));
    }
}

static void remark(char *buf, size_t size, const struct st_clear_told *t, int i)
{
    st_clear_remark(buf, size, t->clearing, i);
}

static void remedy(char *buf, size_t size, const struct st_clear_told *t, int i)
{
    st_clear_remedy(buf, size, t->clearing, i);
}

static void pectin(char *buf, size_t size, const struct st_clear_told *t, int i)
{
    st_pectin_words(buf, size, t->clearing, i);
}

static void standing(char *buf, size_t size, const struct st_clear_told *t, int i)
{
    st_standing_words(buf, size, t->recipe, t->clearing, t->ph, t->T_K, i);
}

static void wash(char *buf, size_t size, const struct st_clear_told *t, int i)
{
    if (t->agent && t->agent->role == ST_AGENT_WASH && st_agent_is_tried(t->agent, t->clearing))
        st_wash_words(buf, size, t->clearing, t->agent, i);
    else
        *buf = '\0';
}

static void way(char *buf, size_t size, const struct st_clear_told *t, int i)
{
    st_ways_words(buf, size, t->clearing, t->agents, i);
}

/* "oil", "pulp" ... */
static json_t *clouds(unsigned haze)
{
    json_t *all = json_array();
    const char *name;
    for (int i = 0; (name = st_cloud_name(haze, i)) != NULL; i++)
        json_array_append_new(all, json_string(name));
    return all;
}

static json_t *agent(const struct st_agent *a, const struct st_clearing *c)
{
    static const char *const ROLE[ST_NAGENT_ROLE] = { [ST_AGENT_FINE] = "fining",
                                                      [ST_AGENT_NEAT] = "fining",
                                                      [ST_AGENT_FRUIT] = "on_fruit",
                                                      [ST_AGENT_WASH] = "wash",
                                                      [ST_AGENT_FILTER] = "filter" };
    const char *unit = a->role == ST_AGENT_FILTER ? "um" : a->by_volume ? "mL/L" : "mg/L";
    char label[ST_CLEARING_TEXT], trust[ST_CLEARING_TEXT], no_use[ST_CLEARING_TEXT];
    st_agent_no_use_words(no_use, sizeof no_use, c, a);
    st_agent_label_words(label, sizeof label, a);
    st_dose_trust_words(trust, sizeof trust, a, c->strength);
    return json_pack("{s:s, s:o, s:s, s:o, s:o, s:o, s:s, s:o, s:b, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "key",
                     a->key, "name", st_doc_text(a->name), "role", ROLE[a->role], "low", real(a->low), "high",
                     real(a->high), "most", real(a->most), "unit", unit, "acts_on", clouds(a->acts), "helps",
                     st_agent_acts(a, c), "because", st_doc_text(no_use), "against", st_doc_text(a->against), "prepare",
                     st_doc_text(a->prepare), "allergen", *a->allergen ? st_doc_text(a->allergen) : json_null(),
                     "label", st_doc_text(label), "dose_holds", st_doc_text(trust), "source", st_doc_text(a->source),
                     "note", st_doc_text(a->note));
}

void st_clear_trial(const struct st_clear_told *t, struct st_clear_trial *trial)
{
    const struct st_agent *a = t->agent;
    const struct st_interval *batch = &t->batch_ml;
    *trial = (struct st_clear_trial){ .because = "" };
    if ((a->role == ST_AGENT_FINE || a->role == ST_AGENT_NEAT) && !st_agent_is_tried(a, t->clearing))
        snprintf(trial->because, sizeof trial->because, "So no glasses are laid out for it.");
    else if (a->role == ST_AGENT_FINE || a->role == ST_AGENT_NEAT) {
        trial->is_laid_out = st_bench_plan(a, st_bench_sample(batch), ST_BENCH_STOCK_PCT, batch, &trial->bench) >= 0;
        if (!trial->is_laid_out)
            snprintf(trial->because, sizeof trial->because,
                     "There is too little of it for a trial: five glasses of 20 mL would be more than half of it.");
    }
    if (trial->is_laid_out)
        batch = &trial->bench.left_ml;
    if (a->role == ST_AGENT_FRUIT || !st_agent_is_tried(a, t->clearing))
        return;
    /* of a filter the loss is in each; of a fining by its middle dose */
    const double g = a->role == ST_AGENT_FILTER ? 1.0 : a->by_volume ? 0.0 : 0.5e-6 * (a->low + a->high) * batch->value;
    st_agent_loss(a, batch, g, &trial->loss_ml);
    if (a->role != ST_AGENT_WASH) /* whose milk comes to it */
        trial->after_ml = st_volume_after(a, batch, g);
}

static json_t *glasses(const struct st_clear_told *t, const struct st_bench *b)
{
    json_t *all = json_array();
    for (int i = 0; i < ST_BENCH_GLASSES; i++) {
        const struct st_bench_glass *g = &b->glass[i];
        json_array_append_new(all, json_pack("{s:o, s:o, s:o, s:o, s:o, s:o}", "times", real(g->times), "dose",
                                             real(g->dose), "stock_ml", real(g->stock_ml),
                                             t->agent->by_volume ? "batch_ml" : "batch_g", st_doc_interval(&g->batch_g),
                                             "batch_stock_ml", st_doc_interval(&g->batch_stock_ml), "thinner_by",
                                             real(g->thinner)));
    }
    return all;
}

static json_t *trial(const struct st_clear_told *t)
{
    struct st_clear_trial trial;
    char words[ST_CLEARING_TEXT] = "";
    if (!t->agent)
        return json_null();
    st_clear_trial(t, &trial);
    const bool laid = trial.is_laid_out;
    if (laid)
        st_bench_words(words, sizeof words, &trial.bench);
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "agent", agent(t->agent, t->clearing), "because",
        st_doc_text(trial.because), "sample_ml", laid ? real(trial.bench.sample_ml) : json_null(), "stock_pct",
        t->agent->role == ST_AGENT_FINE ? json_integer(ST_BENCH_STOCK_PCT) : json_null(), "glasses",
        laid ? glasses(t, &trial.bench) : json_null(), "taken_ml", laid ? real(trial.bench.taken_ml) : json_null(),
        "left_ml", laid ? st_doc_interval(&trial.bench.left_ml) : json_null(), "words", st_doc_text(words), "loss_ml",
        st_doc_interval(&trial.loss_ml), "after_ml", st_doc_interval(&trial.after_ml), "how", all_of(wash, t));
}

static json_t *colours(const struct st_clear_told *t)
{
    json_t *all = json_array();
    for (int i = 0; i < t->clearing->n_colour; i++)
        json_array_append_new(all, json_pack("{s:o, s:o}", "step",
                                             st_doc_text(t->recipe->step[t->clearing->colour[i].step].id), "share",
                                             st_doc_interval(&t->clearing->colour[i].share)));
    return all;
}

json_t *st_doc_clear(const struct st_clear_told *t)
{
    const struct st_clearing *c = t->clearing;
    const struct st_ingredient *stop = st_recipe_stop(t->recipe);
    char settle[ST_CLEARING_TEXT];
    json_t *doc = json_object(), *agents = json_array(), *others = json_array();
    json_object_set_new(doc, "title", st_doc_text(t->recipe->title ? t->recipe->title : ""));
    json_object_set_new(doc, "stop", stop ? st_doc_text(stop->name) : json_null());
    json_object_set_new(doc, "cautions", st_doc_cautions(t->cautions));
    if (stop || st_cautions_stop(t->cautions)) {
        json_decref(agents);
        json_decref(others);
        return doc; /* how it would be cleared is not told */
    }
    for (int i = 0; i < t->agents->n; i++) {
        const struct st_agent *a = &t->agents->row[i];
        json_array_append_new(st_agent_acts(a, c) ? agents : others, agent(a, c));
    }
    json_object_set_new(doc, "strength_pct_vol", real(c->strength));
    json_object_set_new(doc, "sugar_g_l", real(c->sugar));
    json_object_set_new(doc, "volume_ml", st_doc_interval(&t->batch_ml));
    json_object_set_new(doc, "clear", verdicts(c));
    json_object_set_new(doc, "clear_from_pct_vol", st_doc_interval(&c->clear_from));
    json_object_set_new(doc, "oils", oils(c));
    json_object_set_new(doc, "remarks", all_of(remark, t));
    json_object_set_new(doc, "remedies", all_of(remedy, t));
    st_settle_first_words(settle, sizeof settle, c);
    json_object_set_new(doc, "settling",
                        json_pack("{s:o, s:o, s:o}", "before_sugar", jar(t->recipe, &c->jar[ST_BEFORE_SUGAR]),
                                  "after_sugar", jar(t->recipe, &c->jar[ST_AFTER_SUGAR]), "words",
                                  st_doc_text(settle)));
    json_object_set_new(doc, "pectin", all_of(pectin, t));
    json_object_set_new(doc, "clouded_by", clouds(c->haze));
    json_object_set_new(doc, "ways", all_of(way, t));
    json_object_set_new(doc, "agents", agents);
    json_object_set_new(doc, "not_for_this", others);
    json_object_set_new(doc, "trial", trial(t));
    json_object_set_new(doc, "colour", colours(t));
    json_object_set_new(doc, "standing", all_of(standing, t));
    return doc;
}
