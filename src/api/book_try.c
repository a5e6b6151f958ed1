#include <stdio.h>
#include <string.h>

#include "api/book_recipe.h"
#include "text/stops.h"

/* Tries read again and held against each other. */

bool st_opened_text(const struct st_how *how, const char *name, const char *text, size_t size, bool foretell,
                    struct st_opened *o)
{
    memset(o, 0, sizeof *o);
    o->catalogue = how->catalogue();
    if (!o->catalogue)
        return false;
    o->read = st_recipe_read_as(name, text, size, o->catalogue, how->measures, &o->file) == 0;
    if (!o->read) {
        o->why = o->file.problem[0];
        return true;
    }
    if (!foretell)
        return true;
    struct st_plan *plan = st_plan_create(&o->file.recipe, &o->why);
    if (!plan)
        return true;
    const struct st_options options = { .seed = how->seed, .draws = how->draws };
    const enum st_status s = st_plan_run(plan, &options, &o->out);
    o->foretold = s >= 0;
    if (s < 0) {
        st_foretold_done(&o->out);
        snprintf(o->why.what, sizeof o->why.what, "it gives no figures");
        snprintf(o->why.why, sizeof o->why.why, "%s", st_status_text(s));
        snprintf(o->why.try_, sizeof o->why.try_, "look for an amount that is far too large or too small");
    }
    st_plan_free(plan);
    return true;
}

void st_opened_done(struct st_opened *o)
{
    if (o->foretold)
        st_foretold_done(&o->out);
    if (o->catalogue) {
        st_recipe_done(&o->file);
        st_catalogue_free(o->catalogue);
    }
    memset(o, 0, sizeof *o);
}

bool st_tries_compare(const struct st_how *how, enum st_measures units, const struct st_try *a, const struct st_try *b,
                      struct st_compared *out)
{
    const struct st_try *of[2] = { a, b };

    memset(out, 0, sizeof *out);
    for (int i = 0; i < 2; i++)
        if (!st_opened_text(how, of[i]->ref, of[i]->row.text, strlen(of[i]->row.text), true, &out->of[i]))
            return false;
    if (!out->of[0].read || !out->of[1].read)
        return true;
    st_try_changes(&out->of[0].file.recipe, &out->of[1].file.recipe, out->of[0].foretold ? &out->of[0].out : NULL,
                   out->of[1].foretold ? &out->of[1].out : NULL, how->seed, units, &out->changes);
    out->done = true;
    return true;
}

void st_compared_done(struct st_compared *c)
{
    if (c->done)
        st_try_changes_done(&c->changes);
    st_opened_done(&c->of[0]);
    st_opened_done(&c->of[1]);
}
