#include "inside.h"

#include <stdio.h>

/* The books of rules, read when they are first asked for. */
static const struct st_rule_books *rules_of(struct st_call *c)
{
    struct st_problem problem = { .what = "" };
    if (!c->api->rules)
        c->api->rules = st_rules_built(&problem);
    if (!c->api->rules)
        (void)st_call_refuse(c, 500, NULL, problem.what, problem.why, problem.try_);
    return c->api->rules;
}

const struct st_homes *st_call_homes(struct st_call *c)
{
    struct st_problem problem = { .what = "" };
    if (!c->api->places)
        c->api->places = st_homes_built(&problem);
    if (!c->api->places)
        (void)st_call_refuse(c, 500, NULL, problem.what, problem.why, problem.try_);
    return c->api->places;
}

unsigned st_call_places(struct st_call *c)
{
    const char *name = c->in ? json_string_value(json_object_get(c->in, "place")) : NULL;
    struct st_problem problem;
    if (name && !c->api->places)
        c->api->places = st_homes_built(&problem);
    const struct st_home *home = name && c->api->places ? st_home_chosen(c->api->places, name) : NULL;
    return home ? home->places : ST_PLACE_ALL;
}

bool st_call_watch(struct st_call *c, const struct st_recipe *r, struct st_watch *w)
{
    const struct st_rule_books *books = rules_of(c);
    const struct st_homes *places = books ? st_call_homes(c) : NULL;
    const char *name = NULL;
    if (!places)
        return false;
    *w = st_watch_usual(books, places, r);
    if (!st_call_text(c, c->in, "", "place", ST_TEXT_WORD, &name) ||
        !st_call_number(c, c->in, "", "serving_ml", 0.1, 1000.0, &w->who.serving_ml) ||
        !st_call_number(c, c->in, "", "body_weight_kg", 1.0, 400.0, &w->who.body_weight_kg))
        return false;
    if (!name)
        return true;
    char list[200], try_[240];
    w->place = st_home_chosen(places, name);
    snprintf(try_, sizeof try_, "write %s", st_homes_list(places, list, sizeof list));
    return w->place || st_call_refuse(c, 422, "place", "the rules of this place are not known here",
                                      "places are those whose rules are built into the program", try_);
}
