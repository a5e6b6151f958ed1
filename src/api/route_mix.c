#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "inside.h"
#include "text/mix_lines.h"
#include "text/stops.h"
#include "util/memory.h"

/* A few lines put together. */

enum { MOST_LINES = 60 };

static int read_lines(struct st_call *c, const char *line[MOST_LINES])
{
    json_t *list = NULL;
    char what[80];

    if (!st_call_list(c, c->in, "", "lines", MOST_LINES, &list))
        return 0;
    const int n = (int)json_array_size(list);
    if (n == 0)
        st_call_refuse(c, 400, "lines", "there is nothing to put together", "no line was sent",
                       "send for example {\"lines\": [\"700 mL vodka 40 %\", \"200 g sugar\"]}");
    for (int i = 0; i < n; i++) {
        const json_t *v = json_array_get(list, (size_t)i);
        snprintf(what, sizeof what, "cannot read line %d", i + 1);
        if (!json_is_string(v))
            st_call_refuse(c, 400, "lines", what, "it is no text", "write it in quotation marks");
        else if (json_string_length(v) > ST_TEXT_WORD)
            st_call_refuse(c, 422, "lines", what, "it is longer than 400 bytes", "write what it is in a few words");
        line[i] = json_string_value(v);
    }
    return c->errors ? 0 : n;
}

static void add_remarks(json_t *doc, const struct st_mix *m, const struct st_foretold *f)
{
    struct st_mix_remarks r;
    json_t *notes = json_object_get(doc, "notes");
    st_mix_remark(m, f, &r);
    const char *const said[3] = { r.solids, r.before, r.filled };
    for (int i = 0; i < 3; i++)
        if (*said[i])
            json_array_append_new(notes, st_doc_text(said[i]));
}

/* As a recipe it can be turned and aimed with; what must not go into a drink is not handed out as one. */
static void add_recipe(struct st_call *c, json_t *doc, const struct st_mix *m)
{
    struct st_buf yaml = { 0 };
    struct st_call inner = { .api = c->api, .in = c->in }; /* what is barred hangs on the place */

    st_mix_yaml(m, &yaml);
    struct st_kept *k = st_kept_recipe(&inner, st_buf_text(&yaml), m->recipe.measures);
    const bool stopped = st_recipe_stop(&m->recipe) != NULL;
    const bool turns = k && !stopped && st_kept_dials(&inner, k, NULL, 0);
    json_object_set_new(doc, "recipe", k && !stopped ? st_doc_text(st_buf_text(&yaml)) : json_null());
    json_object_set_new(doc, "lines", k ? st_bottle_lines(k) : json_array());
    json_object_set_new(doc, "dials", turns ? st_bottle_dials(k, NULL) : json_array());
    json_decref(inner.errors);
    st_buf_done(&yaml);
}

static json_t *foretell(struct st_call *c, const struct st_mix *m, const struct st_options *o)
{
    struct st_foretold *f = x_calloc(1, sizeof *f);
    struct st_problem problem = { .what = "" };
    json_t *doc = NULL;
    struct st_watch w;

    if (st_call_watch(c, &m->recipe, &w) && st_bottle_run(c, &m->recipe, o, "lines", f)) {
        if (st_mix_is_dry(f, &problem))
            st_call_problem(c, "lines", &problem);
        else {
            st_mix_forget_crystals(m, f);
            doc = st_bottle_document(NULL, &m->recipe, f, o, &w, m->recipe.measures);
            add_remarks(doc, m, f);
        }
    }
    st_foretold_done(f);
    free(f);
    return doc;
}

void st_route_mix(struct st_call *c)
{
    static const char *const KNOWN[] = { "lines", "measures", "seed", "draws", ST_WATCH_MEMBERS, NULL };
    enum st_measures measures = ST_MEASURES_NONE;
    struct st_options o;
    const char *line[MOST_LINES];
    struct st_problem problem[ST_MAX_PROBLEMS];
    struct st_mix m;

    if (!st_call_known(c, c->in, "", KNOWN) || !st_call_measures(c, "measures", &measures) ||
        !st_call_options(c, 4000, &o))
        return;
    const int n = read_lines(c, line);
    const struct st_catalogue *catalogue = n > 0 ? st_api_catalogue(c) : NULL;
    if (!catalogue)
        return;
    o.effects = true;
    const int bad = st_mix_read(line, n, measures, catalogue, &m, problem, ST_MAX_PROBLEMS);
    for (int i = 0; i < bad; i++)
        st_call_problem(c, "lines", &problem[i]);
    json_t *doc = bad == 0 ? foretell(c, &m, &o) : NULL;
    if (doc) {
        add_recipe(c, doc, &m);
        c->out = doc;
    }
    st_mix_done(&m);
}
