#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "inside.h"
#include "steep_task.h"
#include "text/caution_heat.h"
#include "text/steep_words.h"
#include "text/stops.h"
#include "util/memory.h"

/* A jar over time, as it is written and otherwise, with the words that a page shows. */

/* Each draw is a jar over weeks; enough for the ends of 95 %.  More is refused, and the document says how many. */
enum { LEAST_DRAWS = 100, MOST_DRAWS = 200 };
enum { MOST_OFFERS = 60 };
static const double DAY_S = 86400.0;

static struct st_steep_books *books_of(struct st_call *c)
{
    struct st_problem problem = { .what = "" };
    if (!c->api->books)
        c->api->books = st_steep_books_create(&problem);
    if (!c->api->books)
        st_call_problem(c, "request", &problem);
    return c->api->books;
}

/* ---- the request ---- */

static void name_of_if(char *buf, size_t size, size_t i)
{
    snprintf(buf, size, "what_if[%zu]", i);
}

static bool read_ifs(struct st_call *c, struct st_steep_task *t)
{
    json_t *list = NULL;
    if (!st_call_list(c, c->in, "", "what_if", ST_STEEP_IFS, &list))
        return false;
    for (size_t i = 0; i < json_array_size(list); i++) {
        const json_t *v = json_array_get(list, i);
        char field[40], what[80];
        name_of_if(field, sizeof field, i);
        snprintf(what, sizeof what, "cannot read \"%s\"", field);
        if (!json_is_string(v))
            return st_call_refuse(c, 400, field, what, "it is no text",
                                  "write it in quotation marks: \"in the fridge\"");
        if (json_string_length(v) > ST_TEXT_WORD)
            return st_call_refuse(c, 422, field, what, "it is longer than 400 bytes", "one change is a few words");
        t->what_if[t->n_what_if++] = json_string_value(v);
    }
    return true;
}

static bool read_request(struct st_call *c, struct st_steep_task *t, const char **text, enum st_measures *units)
{
    static const char *const KNOWN[] = { "recipe", "units",          "jar", "what_if", "until_days", "seed",
                                         "draws",  ST_WATCH_MEMBERS, NULL };
    struct st_options o;
    double days = 0.0;
    int draws = MOST_DRAWS;

    if (!st_call_known(c, c->in, "", KNOWN) || !st_call_measures(c, "units", units) ||
        !st_call_whole(c, c->in, "", "draws", LEAST_DRAWS, MOST_DRAWS, &draws) || !st_call_options(c, draws, &o) ||
        !st_call_text(c, c->in, "", "jar", ST_TEXT_WORD, &t->jar_name) ||
        !st_call_number(c, c->in, "", "until_days", 0.01, 3660.0, &days) || !read_ifs(c, t) ||
        !st_call_must(c, "recipe", ST_TEXT_RECIPE, "\"schema_version: 1\\n...\"", text))
        return false;
    t->until_s = days * DAY_S;
    t->seed = o.seed;
    t->draws = o.draws;
    return true;
}

/* ---- words ---- */

static void add_words(json_t *curves, const struct st_jar *j, const struct st_jar_told *t,
                      const struct st_jar_curve of[])
{
    char name[160], text[400], before[200];
    json_t *o;
    size_t i;
    json_array_foreach(curves, i, o)
    {
        st_curve_name(name, sizeof name, j, &of[i]);
        if (of[i].late)
            st_late_words(text, sizeof text, t, &of[i], NULL);
        else
            st_curve_words(text, sizeof text, t, &of[i], NULL);
        st_before_words(before, sizeof before, &of[i]);
        json_object_set_new(o, "words",
                            json_pack("{s:o, s:o, s:o}", "name", st_doc_text(name), "text", st_doc_text(text), "before",
                                      st_doc_text(before)));
    }
}

/* Of one run: name and sentence of each curve, and the tip. */
static void add_told(json_t *doc, const struct st_jar *j, const struct st_jar_told *t)
{
    char tip[900], sugar[500], powder[500];
    add_words(json_object_get(doc, "curves"), j, t, t->curve);
    add_words(json_object_get(doc, "families"), j, t, t->family);
    st_steep_tip(tip, sizeof tip, j, t, NULL);
    json_object_set_new(doc, "tip", st_doc_text(tip));
    st_undissolved_words(sugar, sizeof sugar, t, NULL);
    json_object_set_new(doc, "sugar_words", st_doc_text(sugar));
    st_powder_words(powder, sizeof powder, j);
    json_object_set_new(doc, "powder_words", st_doc_text(powder));
}

static json_t *jars_of(const struct st_recipe *r)
{
    json_t *all = json_array();
    for (int i = 0; i < r->n_step; i++)
        if (st_jar_is_at(r, i))
            json_array_append_new(all, st_doc_text(r->step[i].id));
    return all;
}

/* ---- changes that this jar takes ---- */

/* Only what the reader of such words understands of this jar is offered. */
static void offer(json_t *all, const struct st_jar *j, const char *say, const char *words)
{
    struct st_jar *copy = x_calloc(1, sizeof *copy);
    struct st_problem problem;
    struct st_what_said understood;
    *copy = *j;
    if (json_array_size(all) < MOST_OFFERS && st_what_if(say, copy, &understood, &problem))
        json_array_append_new(all, json_pack("{s:o, s:o}", "say", st_doc_text(say), "words", st_doc_text(words)));
    free(copy);
}

static void offer_of_piece(json_t *all, const struct st_jar *j, const struct st_jar_piece *p, const char *change)
{
    char say[200], words[200];
    snprintf(say, sizeof say, "%.120s %s", p->name, change);
    snprintf(words, sizeof words, "%.120s%s %s", p->name, strchr(p->name, ',') ? ":" : "", change);
    offer(all, j, say, words);
}

static bool is_named_before(const struct st_jar *j, int piece)
{
    for (int i = 0; i < piece; i++)
        if (strcmp(j->piece[i].name, j->piece[piece].name) == 0)
            return true;
    return false;
}

/* Cuts that somebody makes of this kind, as bits.  None of a kernel: how much more it gives crushed is a matter of its
 * caution. */
static unsigned cuts_of(enum st_kind kind)
{
    static const unsigned HALVED = 1U << ST_CUT_HALVED, QUARTERED = 1U << ST_CUT_QUARTERED,
                          CHOPPED = 1U << ST_CUT_CHOPPED, ZEST = 1U << ST_CUT_ZEST;
    switch (kind) {
    case ST_KIND_FRESH_FRUIT:
    case ST_KIND_FROZEN_FRUIT:
    case ST_KIND_GREEN_FRUIT: return HALVED | QUARTERED | CHOPPED;
    case ST_KIND_TINNED_FRUIT:
    case ST_KIND_DRIED_FRUIT:
    case ST_KIND_BEAN: return HALVED | CHOPPED;
    case ST_KIND_PEEL_FRESH:
    case ST_KIND_PEEL_DRY: return ZEST | CHOPPED;
    case ST_KIND_HERB_FRESH:
    case ST_KIND_HERB_DRY:
    case ST_KIND_FLOWER_FRESH:
    case ST_KIND_FLOWER_DRY: return CHOPPED;
    case ST_KIND_KERNEL:
    case ST_KIND_POWDER: return 0U;
    default: return 1U << ST_CUT_CRUSHED | 1U << ST_CUT_GROUND;
    }
}

/* The strongest spirit that is poured, % vol; 0 none. */
static double poured(const struct st_steep_task *t)
{
    double most = 0.0;
    for (int k = 0; k < t->jar->n_pour; k++) {
        const struct st_jar_pour *p = &t->jar->pour[k];
        if (p->step >= 0 && p->line >= 0 && st_jar_pour_is_spirit(p))
            most = fmax(most, st_line_strength(&t->recipe->step[p->step].line[p->line]));
    }
    return most;
}

static void offer_of_jar(json_t *all, const struct st_steep_task *t)
{
    static const double STRENGTH[] = { 40.0, 50.0, 60.0 };
    const double now = poured(t);
    char say[40];
    for (size_t k = 0; k < sizeof STRENGTH / sizeof *STRENGTH; k++) {
        snprintf(say, sizeof say, "spirit %.0f %%", STRENGTH[k]);
        if (fabs(now - STRENGTH[k]) > 1.0)
            offer(all, t->jar, say, say);
    }
    offer(all, t->jar, "in the fridge", "in the fridge");
    if (!t->jar->stage[t->jar->n_stage - 1].still)
        offer(all, t->jar, "left still", "left still");
}

static json_t *offers_of(const struct st_steep_task *t)
{
    const struct st_jar *j = t->jar;
    json_t *all = json_array();
    offer_of_jar(all, t);
    for (int i = 0; i < j->n_piece; i++) {
        const struct st_jar_piece *p = &j->piece[i];
        if (is_named_before(j, i))
            continue;
        for (enum st_cut cut = p->cut + 1; cut < ST_NCUT; cut++)
            if (cuts_of(p->kind) >> cut & 1U)
                offer_of_piece(all, j, p, st_cut_name(cut));
        if (st_jar_may_be_frozen(p))
            offer_of_piece(all, j, p, p->kind == ST_KIND_FROZEN_FRUIT ? "fresh" : "frozen");
    }
    return all;
}

/* ---- the answer ---- */

/* What the change brings with it stands beside what it does. */
static json_t *other_cautions(const struct st_steep_task *t, const struct st_cautions *known)
{
    struct st_cautions *list = x_calloc(1, sizeof *list);
    st_steep_cautions(t->recipe, &t->other, &t->watch, list);
    st_steep_new_cautions(list, known);
    json_t *all = st_doc_cautions(list);
    free(list);
    return all;
}

static json_t *document(const struct st_steep_task *t, const struct st_cautions *cautions)
{
    json_t *o = st_doc_steep(t, cautions, NULL);
    json_t *other = json_object_get(o, "what_if");
    add_told(o, t->jar, &t->told);
    if (other) {
        add_told(other, &t->other, &t->other_told);
        json_object_set_new(other, "cautions", other_cautions(t, cautions));
    }
    json_object_set_new(o, "stop", json_null());
    json_object_set_new(o, "jars", jars_of(t->recipe));
    json_object_set_new(o, "offers", offers_of(t));
    return o;
}

static void tell_problem(struct st_call *c, const struct st_steep_task *t, const struct st_problem *problem)
{
    char field[40] = "recipe";
    if (t->asked >= 0)
        name_of_if(field, sizeof field, (size_t)t->asked);
    st_call_problem(c, field, problem);
}

static void answer(struct st_call *c, struct st_steep_task *t, struct st_cautions *cautions)
{
    struct st_problem problem = { .what = "" };
    const bool is_named = t->jar_name && *t->jar_name;
    const int step = st_steep_step(t->recipe, t->jar_name, &problem);
    if (st_recipe_stop(t->recipe) || (step < 0 && !is_named)) {
        c->out = st_doc_steep_nothing(t->recipe, cautions);
        json_object_set_new(c->out, "jars", jars_of(t->recipe));
        return;
    }
    if (step < 0) {
        st_call_problem(c, "jar", &problem);
        return;
    }
    t->books = books_of(c);
    if (!t->books)
        return;
    if (st_steep_task_run(t, &problem)) {
        st_steep_cautions(t->recipe, t->jar, &t->watch, cautions);
        c->out = document(t, cautions);
    } else
        tell_problem(c, t, &problem);
    st_steep_task_done(t);
}

void st_route_steep(struct st_call *c)
{
    struct st_steep_task *t = x_calloc(1, sizeof *t); /* large */
    struct st_cautions *cautions = x_calloc(1, sizeof *cautions);
    enum st_measures units = ST_MEASURES_NONE;
    const char *text;
    struct st_kept *k = NULL;

    if (read_request(c, t, &text, &units))
        k = st_kept_recipe(c, text, units);
    if (k && st_call_watch(c, &k->file.recipe, &t->watch)) {
        t->recipe = &k->file.recipe;
        st_cautions_collect(t->recipe, NULL, &t->watch, cautions);
        answer(c, t, cautions);
    }
    free(cautions);
    free(t);
}
