#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "doc_cautions.h"
#include "inside.h"
#include "text/stops.h"
#include "util/memory.h"

/* What to watch in a recipe, and the places whose rules it can be held against. */

static const struct st_label_books *labels_of(struct st_call *c)
{
    struct st_problem problem = { .what = "" };
    if (!c->api->labels)
        c->api->labels = st_label_books_create(&problem);
    if (!c->api->labels)
        (void)st_call_refuse(c, 500, NULL, problem.what, problem.why, problem.try_);
    return c->api->labels;
}

/* A guest who says nothing is asked back at once. */
static bool read_guest(struct st_call *c, const char **asked)
{
    if (!st_call_text(c, c->in, "", "guest", ST_TEXT_WORD, asked))
        return false;
    return !*asked || (*asked)[strspn(*asked, " ,;?.!\t\n")] != '\0' ||
           st_call_refuse(c, 422, "guest", "nothing is asked", "there is no word in it",
                          "write for example \"nuts, milk, vegan\"");
}

/* Why nothing can be foretold: the first problem. */
static void why_not(const struct st_recipe *r, const struct st_problem *first, char *buf, size_t size)
{
    struct st_problem all[ST_MAX_PROBLEMS] = { *first };
    if (st_stop_plan_problems(r, all, ST_MAX_PROBLEMS) == 0)
        all[0] = *first;
    if (all[0].what[0])
        snprintf(buf, size, "%s: %s%s%s", all[0].what, all[0].why, all[0].try_[0] ? "; " : "", all[0].try_);
    else
        snprintf(buf, size, "it gives no figures; look for an amount that is far too large or too small");
}

/* ---- all that is told ---- */

struct found {
    struct st_foretold f;
    struct st_cautions list;
    struct st_ledger ledger;
    struct st_label_facts facts;
    struct st_guest_answer answer[ST_MAX_GUEST];
};

/* Nobody is told what else is in a drink that nobody must drink. */
static bool is_stopped(const struct st_label_facts *facts)
{
    return facts->n > 0 && strcmp(facts->item[0].code, "stop") == 0;
}

/* told: t->f holds what was foretold; else a recipe is held against all that it shows. */
static json_t *document(struct found *t, bool told, struct st_watched *d, const struct st_label_books *b)
{
    const struct st_recipe *r = d->recipe;
    const struct st_foretold *f = told ? &t->f : NULL;
    st_cautions_collect(r, f, d->watch, &t->list);
    if (st_ledger_make(r, f, d->watch->books, d->watch->place->places, &d->watch->who, r->assay, r->n_assay,
                       &t->ledger) < 0)
        memset(&t->ledger, 0, sizeof t->ledger);
    st_label_told(b, r, f, &t->ledger, d->watch, &t->list, &t->facts);
    if (d->asked && !is_stopped(&t->facts))
        d->n_answer =
            st_guest_check(b->guest, d->asked, r, f, b->allergens, b->agents, t->answer, ST_MAX_GUEST, &d->answers_cut);
    d->list = &t->list;
    d->ledger = &t->ledger;
    d->facts = &t->facts;
    d->answer = t->answer;
    return st_doc_watched(d);
}

static json_t *watched(const struct st_options *o, struct st_watched *d, const struct st_label_books *b)
{
    struct found *t = x_calloc(1, sizeof *t); /* large */
    struct st_problem problem = { .what = "" };
    char because[900] = "";
    struct st_plan *plan = st_plan_create(d->recipe, &problem);
    const bool told = plan && st_plan_run(plan, o, &t->f) >= 0;
    if (!told)
        why_not(d->recipe, &problem, because, sizeof because);
    d->because = because;
    json_t *doc = document(t, told, d, b);
    d->because = NULL; /* which goes with this call */
    st_foretold_done(&t->f);
    free(t);
    st_plan_free(plan);
    return doc;
}

void st_route_cautions(struct st_call *c)
{
    static const char *const KNOWN[] = { "recipe", "units", "seed", "draws", "guest", ST_WATCH_MEMBERS, NULL };
    enum st_measures units = ST_MEASURES_NONE;
    struct st_options o;
    struct st_watch watch;
    struct st_watched d = { .watch = &watch };
    const char *text;

    if (!st_call_known(c, c->in, "", KNOWN) || !st_call_measures(c, "units", &units) || !st_call_options(c, 4000, &o) ||
        !read_guest(c, &d.asked) || !st_call_must(c, "recipe", ST_TEXT_RECIPE, "\"schema_version: 1\\n...\"", &text))
        return;
    struct st_kept *k = st_kept_recipe(c, text, units);
    const struct st_label_books *b = k ? labels_of(c) : NULL;
    if (!b || !st_call_watch(c, &k->file.recipe, &watch))
        return;
    d.recipe = &k->file.recipe;
    c->out = watched(&o, &d, b);
}

/* ---- places ---- */

static json_t *place(const struct st_home *h)
{
    return json_pack("{s:o, s:o, s:i, s:o, s:o, s:o}", "place", st_doc_text(h->code), "name", st_doc_text(h->name),
                     "year_of_data", h->year, "known", st_doc_text(h->known), "unknown", st_doc_text(h->unknown),
                     "first", st_doc_text(h->first));
}

void st_route_places(struct st_call *c)
{
    const struct st_homes *all = st_call_homes(c);
    json_t *list = json_array();
    for (int i = 0; all && i < all->n; i++)
        if (st_home_is_place(&all->home[i]))
            json_array_append_new(list, place(&all->home[i]));
    c->out = json_pack("{s:o}", "places", list);
}
