#include <math.h>

#include "correct_task.h"
#include "text/clearing_words.h"
#include "text/correct_words.h"
#include "text/kitchen_words.h"

/* The document of a correction. */

static json_t *real(double x)
{
    return isfinite(x) ? json_real(x) : json_null();
}

typedef void say_fn(char *buf, size_t size, const struct st_correct_task *t, const struct st_correct_option *o, int i);

static json_t *all_of(say_fn *say, const struct st_correct_task *t, const struct st_correct_option *o)
{
    json_t *all = json_array();
    char text[ST_CORRECT_TEXT];
    for (int i = 0; i < 16; i++) {
        say(text, sizeof text, t, o, i);
        if (!*text)
            break;
        json_array_append_new(all, st_doc_text(text));
    }
    return all;
}

static void say_haze(char *buf, size_t size, const struct st_correct_task *t, const struct st_correct_option *o, int i)
{
    char code[40];
    st_correct_task_code(t, code);
    st_correct_haze_words(buf, size, &t->ask, &t->found, &o->made, code, i);
}

static void say_how(char *buf, size_t size, const struct st_correct_task *t, const struct st_correct_option *o, int i)
{
    st_correct_how_words(buf, size, &t->ask, o, i);
}

static void say_why(char *buf, size_t size, const struct st_correct_task *t, const struct st_correct_option *o, int i)
{
    (void)o;
    st_correct_why_words(buf, size, &t->ask, &t->found, i);
}

static void figures(json_t *o, const struct st_correct_task *t, const struct st_correct_made *m)
{
    const bool acid = t->ask.batch.is.acid_known || m->fig[ST_CORRECT_ACID].value > 0.0;
    json_object_set_new(o, "strength_pct_vol", st_doc_interval(&m->fig[ST_CORRECT_STRENGTH]));
    json_object_set_new(o, "sugar_g_l", st_doc_interval(&m->fig[ST_CORRECT_SUGAR]));
    json_object_set_new(o, "acid_g_l", acid ? st_doc_interval(&m->fig[ST_CORRECT_ACID]) : json_null());
    json_object_set_new(o, "volume_ml", st_doc_interval(&m->fig[ST_CORRECT_VOLUME]));
    json_object_set_new(o, "inside", real(m->all));
    json_object_set_new(o, "met", json_boolean(m->met));
}

static json_t *amount(const struct st_correct_task *t, int i, double units)
{
    const struct st_correct_thing *thing = &t->ask.thing[i];
    double g = 0.0;
    char text[80];
    for (int c = 0; c < ST_NCOMP; c++)
        g += units * thing->g[c];
    st_correct_amount_words(text, sizeof text, thing, units);
    return json_pack("{s:o, s:o, s:o, s:o}", "name", st_doc_text(thing->name), "mass_g", real(g), "volume_ml",
                     thing->by_weight ? json_null() : real(units), "words", st_doc_text(text));
}

static json_t *amounts(const struct st_correct_task *t, const struct st_correct_option *o,
                       const struct st_correct_made *m, bool kitchen)
{
    json_t *all = json_array();
    char text[80];
    for (int k = 0; k < o->n_order; k++) {
        json_t *one = amount(t, o->order[k], m->amount[o->order[k]]);
        if (kitchen) {
            st_kitchen_words(&o->item[o->order[k]], text, sizeof text);
            json_object_set_new(one, "measured", st_doc_text(text));
        }
        json_array_append_new(all, one);
    }
    return all;
}

static json_t *made(const struct st_correct_task *t, const struct st_correct_option *o, const struct st_correct_made *m,
                    bool kitchen)
{
    json_t *doc = json_object();
    json_object_set_new(doc, "draw_off_ml", real(m->draw_ml));
    json_object_set_new(doc, "add", amounts(t, o, m, kitchen));
    figures(doc, t, m);
    json_object_set_new(doc, "added_g", real(m->g));
    json_object_set_new(doc, "stands_ml", real(m->stands_ml));
    json_object_set_new(doc, "stands_high_ml", real(m->stands_high_ml));
    json_object_set_new(doc, "cost", real(m->cost));
    json_object_set_new(doc, "sugar_of_what_dissolves", m->sugar_full > 0.0 ? real(m->sugar_full) : json_null());
    json_object_set_new(
        doc, "clear_verdict",
        json_string(t->ask.batch.oil_known && m->clear.index.known ? st_clearness_code(m->clear.is) : "not_known"));
    return doc;
}

static json_t *option(const struct st_correct_task *t, const struct st_correct_option *o)
{
    char moves[ST_CORRECT_TEXT];
    json_t *doc = made(t, o, &o->made, false);
    st_correct_moved_words(moves, sizeof moves, &t->ask, &t->found.before, &o->made);
    json_object_set_new(doc, "moves", st_doc_text(moves));
    json_object_set_new(doc, "kitchen", o->has_kitchen ? made(t, o, &o->kitchen, true) : json_null());
    json_object_set_new(doc, "haze", all_of(say_haze, t, o));
    json_object_set_new(doc, "how", all_of(say_how, t, o));
    return doc;
}

static json_t *options(const struct st_correct_task *t)
{
    json_t *all = json_array();
    for (int by = 0; by < ST_CORRECT_NBY; by++) {
        const struct st_correct_option *o = &t->found.option[by];
        json_t *one = st_correct_shown(o) ? option(t, o) : json_object();
        json_object_set_new(one, "way", json_string(st_correct_way_code((enum st_correct_by)by)));
        json_object_set_new(one, "state", json_string(st_correct_none_code(o->none)));
        if (o->none == ST_NONE_SAME)
            json_object_set_new(one, "same_as", json_string(st_correct_way_code(o->same)));
        json_array_append_new(all, one);
    }
    return all;
}

static json_t *needs(const struct st_correct_task *t)
{
    static const char *const CODE[] = {
        [ST_NEED_MORE] = "more",   [ST_NEED_DRAW] = "draw_off", [ST_NEED_JAR] = "jar",  [ST_NEED_SPIRIT] = "spirit",
        [ST_NEED_WATER] = "water", [ST_NEED_SUGAR] = "sugar",   [ST_NEED_ACID] = "acid"
    };
    json_t *all = json_array();
    for (int i = 0; i < t->found.n_need; i++) {
        const struct st_correct_need *n = &t->found.need[i];
        const bool weighed = n->of == ST_NEED_SUGAR || n->of == ST_NEED_ACID ||
                             (n->of == ST_NEED_MORE && t->ask.thing[n->index].by_weight);
        json_array_append_new(
            all, json_pack("{s:s, s:o, s:o, s:s, s:o, s:o, s:o, s:b}", "of", CODE[n->of], "name",
                           n->index >= 0 ? st_doc_text(t->ask.thing[n->index].name) : json_null(), "amount",
                           real(n->amount), "unit", weighed ? "g" : "mL", "strength_pct_vol",
                           n->of == ST_NEED_SPIRIT ? real(n->strength) : json_null(), "draw_off_ml", real(n->draw_ml),
                           "scale_g", n->digit_g > 0.0 ? real(n->digit_g) : json_null(), "surer_readings", n->sharp));
    }
    return all;
}

static json_t *doubt(const struct st_correct_found *f)
{
    static const char *const CODE[ST_NDOUBT] = { "reading_strength", "reading_sugar", "reading_acid", "volume",
                                                 "poured_in" };
    json_t *o = json_object();
    for (int k = 0; k < ST_NDOUBT; k++)
        json_object_set_new(o, CODE[k], real(f->share[k]));
    return o;
}

static json_t *wishes(const struct st_correct_ask *a)
{
    static const char *const KEY[ST_CORRECT_NFIG] = { "strength_pct_vol", "sugar_g_l", "acid_g_l", "volume_ml" };
    json_t *o = json_object();
    for (int f = 0; f < ST_CORRECT_NFIG; f++)
        if (a->wish[f].asked)
            json_object_set_new(o, KEY[f],
                                json_pack("{s:o, s:o}", "low", real(a->wish[f].low), "high", real(a->wish[f].high)));
    return o;
}

json_t *st_doc_correct(const struct st_correct_task *t)
{
    if (*t->unsure)
        return json_pack("{s:o, s:b, s:o}", "title", st_doc_text(t->title), "met", false, "unsure",
                         st_doc_text(t->unsure));
    const struct st_correct_found *f = &t->found;
    json_t *doc = json_object(), *now = json_object(), *assumed = json_array();
    char text[ST_CORRECT_TEXT];
    figures(now, t, &f->before);
    for (int i = 0; i < t->n_assumed; i++)
        json_array_append_new(assumed, st_doc_text(t->assumed[i]));
    json_object_set_new(doc, "title", st_doc_text(t->title));
    json_object_set_new(doc, "met", json_boolean(f->met));
    json_object_set_new(doc, "cautions", st_doc_cautions(&t->cautions));
    json_object_set_new(doc, "now", now);
    json_object_set_new(doc, "wishes", wishes(&t->ask));
    json_object_set_new(doc, "strength_held", json_boolean(t->held));
    json_object_set_new(doc, "certainty", real(t->ask.certainty));
    json_object_set_new(doc, "jar_ml", t->ask.jar_ml > 0.0 ? real(t->ask.jar_ml) : json_null());
    json_object_set_new(doc, "options", options(t));
    json_object_set_new(doc, "nearest", f->met ? json_null() : option(t, &f->nearest));
    json_object_set_new(doc, "because", all_of(say_why, t, NULL));
    json_object_set_new(doc, "needs", needs(t));
    json_object_set_new(doc, "doubt", doubt(f));
    st_correct_doubt_words(text, sizeof text, &t->ask, f);
    json_object_set_new(doc, "doubt_words", st_doc_text(text));
    json_object_set_new(doc, "assumed", assumed);
    json_object_set_new(doc, "not_yet", st_doc_text(t->not_yet));
    json_object_set_new(doc, "larder_reckoned_with", st_doc_text(t->reckoned));
    json_object_set_new(doc, "larder_left_out", st_doc_text(t->left_out));
    json_object_set_new(doc, "currency", st_doc_text(t->currency));
    json_object_set_new(doc, "status", json_string(st_status_text(t->status)));
    json_object_set_new(doc, "source", st_doc_sources("[oiml1975], [sps4], [crc102]"));
    return doc;
}
