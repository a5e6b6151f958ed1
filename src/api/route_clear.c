#include <math.h>
#include <stdlib.h>

#include "clear_task.h"
#include "core/strength.h"
#include "inside.h"
#include "text/stops.h"
#include "util/memory.h"

/* Whether the drink of a recipe stays clear, and how it is cleared. */

static const double ZERO_C_K = 273.15;

static const struct st_compounds *compounds_of(struct st_call *c)
{
    struct st_problem problem = { .what = "" };
    if (!c->api->books)
        c->api->books = st_steep_books_create(&problem);
    if (!c->api->books)
        st_call_problem(c, "request", &problem);
    return c->api->books ? c->api->books->jar.compounds : NULL;
}

static bool read_request(struct st_call *c, struct st_clear_asked *asked, struct st_options *o, const char **text,
                         enum st_measures *units)
{
    static const char *const KNOWN[] = { "recipe",        "units", "agent", "volume_ml",      "ph",
                                         "temperature_c", "seed",  "draws", ST_WATCH_MEMBERS, NULL };
    double celsius = ST_T20 - ZERO_C_K;
    *asked = (struct st_clear_asked){ .volume_ml = (double)NAN, .ph = (double)NAN };
    if (!st_call_known(c, c->in, "", KNOWN) || !st_call_measures(c, "units", units) || !st_call_options(c, 4000, o) ||
        !st_call_text(c, c->in, "", "agent", ST_TEXT_WORD, &asked->agent) ||
        !st_call_number(c, c->in, "", "volume_ml", ST_CLEAR_LEAST_ML, ST_CLEAR_MOST_ML, &asked->volume_ml) ||
        !st_call_number(c, c->in, "", "ph", ST_CLEAR_PH_LOW, ST_CLEAR_PH_HIGH, &asked->ph) ||
        !st_call_number(c, c->in, "", "temperature_c", ST_CLEAR_COLDEST_C, ST_CLEAR_WARMEST_C, &celsius) ||
        !st_call_must(c, "recipe", ST_TEXT_RECIPE, "\"schema_version: 1\\n...\"", text))
        return false;
    asked->T_K = celsius + ZERO_C_K;
    return true;
}

static void answer(struct st_call *c, struct st_clear_task *t, const struct st_foretold *f,
                   const struct st_clear_asked *asked)
{
    struct st_problem problem = { .what = "" };
    const struct st_compounds *compounds = compounds_of(c);
    if (!compounds)
        return;
    if (st_clear_task_run(t, f, compounds, asked, &problem))
        c->out = st_doc_clear(&t->told);
    else
        st_call_problem(c, t->about == ST_CLEAR_ABOUT_AGENT ? "agent" : "recipe", &problem);
    st_clear_task_done(t);
}

void st_route_clear(struct st_call *c)
{
    struct st_clear_task *t = x_calloc(1, sizeof *t); /* large, as is *f */
    struct st_foretold *f = x_calloc(1, sizeof *f);
    struct st_clear_asked asked;
    struct st_options o;
    enum st_measures units = ST_MEASURES_NONE;
    const char *text;
    struct st_kept *k = NULL;

    if (read_request(c, &asked, &o, &text, &units))
        k = st_kept_recipe(c, text, units);
    if (k && st_call_watch(c, &k->file.recipe, &t->watch)) {
        t->recipe = &k->file.recipe;
        if (st_bottle_run(c, t->recipe, &o, "recipe", f))
            answer(c, t, f, &asked);
        st_foretold_done(f);
    }
    free(f);
    free(t);
}
