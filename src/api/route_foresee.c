#include "inside.h"

/* A recipe file foretold. */
void st_route_foresee(struct st_call *c)
{
    static const char *const KNOWN[] = { "recipe", "units", "seed", "draws", ST_WATCH_MEMBERS, NULL };
    enum st_measures units = ST_MEASURES_NONE;
    struct st_options o;
    const char *text;

    if (!st_call_known(c, c->in, "", KNOWN) || !st_call_measures(c, "units", &units) || !st_call_options(c, 4000, &o) ||
        !st_call_must(c, "recipe", ST_TEXT_RECIPE, "\"schema_version: 1\\n...\"", &text))
        return;
    struct st_kept *k = st_kept_recipe(c, text, units);
    if (!k)
        return;
    o.effects = true;
    json_t *doc = st_bottle_foretell(c, k, &o);
    if (!doc)
        return;
    json_object_set_new(doc, "lines", st_bottle_lines(k));
    if (st_kept_dials(c, k, NULL, 0))
        json_object_set_new(doc, "dials", st_bottle_dials(k, NULL));
    c->out = doc;
}
