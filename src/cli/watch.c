#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "cli/page.h"
#include "text/quantity.h"
#include "text/rules_built.h"

/* ---- --place, --serving, --body-weight, which every command takes ---- */

/* Read once, kept to the end. */
static const struct st_homes *places(void)
{
    static struct st_homes *all;
    struct st_problem problem = { .what = "" };
    if (!all)
        all = st_homes_built(&problem);
    if (!all)
        cli_error(problem.what, problem.why, problem.try_);
    return all;
}

static unsigned lives_in = ST_PLACE_ALL; /* as --place said, for catalogues */

unsigned cli_places(void)
{
    return lives_in;
}

static void take_place(struct cli *c, bool *bad)
{
    const char *text = cli_option(c, "place", bad);
    if (!text || !places())
        return;
    c->place = st_home_chosen(places(), text);
    if (c->place) {
        lives_in = c->place->places;
        return;
    }
    char what[80], list[200], try_[300];
    snprintf(what, sizeof what, "--place \"%.40s\"", text);
    snprintf(try_, sizeof try_, "write %s; where a jar or a lot stands is told with --where",
             st_homes_list(places(), list, sizeof list));
    cli_error(what, "the rules of this place are not known here", try_);
    *bad = true;
}

/* "60", "60 kg", "130 lb", in kg. */
static void take_body(struct cli *c, bool *bad)
{
    const char *text = cli_option(c, "body-weight", bad);
    double kg;
    struct st_amount a;
    struct st_problem problem;
    size_t used;
    if (!text)
        return;
    const bool bare = cli_number(text, &kg);
    if (!bare && st_quantity_parse(text, strlen(text), ST_MEASURES_METRIC, &a, &used, &problem) == 0 &&
        a.dim == ST_DIM_MASS && used == strlen(text))
        kg = a.value / 1000.0;
    else if (!bare)
        kg = (double)NAN;
    if (kg >= 1.0 && kg <= 400.0) {
        c->body_weight_kg = kg;
        return;
    }
    char what[80];
    snprintf(what, sizeof what, "--body-weight \"%.40s\"", text);
    cli_error(what, "a person weighs from 1 to 400 kg", "write for example --body-weight \"55 kg\"");
    *bad = true;
}

static void take_serving(struct cli *c, bool *bad)
{
    const char *text = cli_option(c, "serving", bad);
    double ml;
    struct st_amount a;
    struct st_problem problem;
    size_t used;
    if (!text)
        return;
    const enum st_measures m = c->units != ST_MEASURES_NONE ? c->units : ST_MEASURES_US; /* an ounce, to 4 % */
    const bool bare = cli_number(text, &ml);
    if (!bare && st_quantity_parse(text, strlen(text), m, &a, &used, &problem) == 0 && a.dim == ST_DIM_VOLUME &&
        used == strlen(text))
        ml = a.value;
    else if (!bare)
        ml = (double)NAN;
    if (ml > 0.0 && ml <= 1000.0) {
        c->serving_ml = ml;
        return;
    }
    char what[80];
    snprintf(what, sizeof what, "--serving \"%.40s\"", text);
    cli_error(what, "it is not a volume between nothing and 1 L", "write for example --serving \"40 mL\"");
    *bad = true;
}

bool cli_take_watch(struct cli *c)
{
    bool bad = false;
    take_place(c, &bad);
    take_serving(c, &bad);
    take_body(c, &bad);
    return !bad;
}

/* ---- what is reckoned with ---- */

struct st_watch cli_watch(const struct cli *c, const struct st_recipe *r)
{
    static struct st_rule_books *rules; /* read once, kept to the end */
    struct st_problem problem = { .what = "" };
    if (!rules)
        rules = st_rules_built(&problem);
    if (!rules)
        cli_error(problem.what, problem.why, problem.try_);
    struct st_watch w = st_watch_usual(rules, places(), r);
    if (c->place)
        w.place = c->place;
    if (c->serving_ml > 0.0)
        w.who.serving_ml = c->serving_ml;
    if (c->body_weight_kg > 0.0)
        w.who.body_weight_kg = c->body_weight_kg;
    return w;
}
