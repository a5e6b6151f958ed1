#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/trial.h"
#include "text/line.h"
#include "text/quantity.h"
#include "text/stops.h"
#include "util/file.h"

const char cmd_trial_usage[] =
    "stillroom trial RECIPE --add NAME --from 0 --to 6mL [--glasses 5] [--pick 3]\n"
    "stillroom trial --batch 1.2L --strength 24 --sugar 150\n"
    "                --add NAME --from 0 --to 6mL\n"
    "\n"
    "Small glasses of a batch with more and more of something, to be tasted side by\n"
    "side; then the one you like best for what is left of the batch.\n"
    "\n"
    "  --add NAME           \"vodka 50 %\", \"water\", \"lemon juice\", \"sugar syrup 2:1\"\n"
    "                       (2 parts of sugar to 1 of water by weight); a second\n"
    "                       --add varies two\n"
    "  --from, --to         in the first and the last glass: mL, g or \"12 drops\"\n"
    "  --glasses N          3 to 5 (5); with two additions 5: the corners and the\n"
    "                       middle\n"
    "  --glass 50mL         of the batch in each glass, 30 to 100 mL\n"
    "  --batch 1.2L         how much there is; else what the recipe makes\n"
    "  --measure syringe    with a mark every 0.2 mL; else marks, at every mL\n"
    "  --drops-50 1.9g      what 50 drops of it weigh on your scale\n"
    "  --pick N             the glass you liked best: amounts for the rest\n"
    "  --drunk 150mL        what is gone of the batch; else all the glasses\n";

enum { MOST_BYTES = 1 << 20 };

/* ---- off the command line ---- */

static bool complain(const char *option, const char *said, const char *why, const char *try_)
{
    char what[160];
    snprintf(what, sizeof what, "--%s \"%.80s\"", option, said);
    cli_error(what, why, try_);
    return false;
}

static bool quantity(const char *option, const char *said, struct st_amount *a)
{
    struct st_problem problem = { .what = "" };
    size_t used = 0;
    double x;
    char *unit;
    x = strtod(said, &unit);
    unit += strspn(unit, " ");
    if (x == 0.0 && unit != said && strlen(unit) < 6 && !strpbrk(unit, "0123456789.,")) { /* "0", "0mL" */
        *a = (struct st_amount){ .dim = ST_DIM_OPEN };
        return true;
    }
    if (cli_asks_amount(said, ST_MEASURES_METRIC))
        return false;
    if (st_quantity_parse(said, strlen(said), ST_MEASURES_METRIC, a, &used, &problem) == 0 && used == strlen(said) &&
        (a->dim == ST_DIM_VOLUME || a->dim == ST_DIM_MASS) && a->value > 0.0)
        return true;
    return complain(option, said, *problem.why ? problem.why : "it is no volume, weight or number of drops",
                    "write for example 6mL, 2g or \"12 drops\"");
}

/* --add, --from, --to and --drops-50 belong to the addition before them. */
static bool take_additions(struct cli *c, struct trial_options *o)
{
    static const char *const NAME[] = { "add", "from", "to", "drops-50" };
    int n = 0;
    for (int i = 0; i < c->argc; i++) {
        int which = -1;
        const char *value = NULL;
        for (int k = 0; k < 4 && strncmp(c->argv[i], "--", 2) == 0; k++) {
            const size_t size = strlen(NAME[k]);
            if (strncmp(c->argv[i] + 2, NAME[k], size) != 0)
                continue;
            if (c->argv[i][2 + size] == '=')
                value = c->argv[i] + 3 + size;
            else if (c->argv[i][2 + size] == '\0' && i + 1 < c->argc)
                value = c->argv[i + 1];
            else if (c->argv[i][2 + size] != '\0')
                continue;
            which = k;
        }
        if (which < 0) {
            c->argv[n++] = c->argv[i];
            continue;
        }
        if (!value)
            return complain(NAME[which], "", "it has no value", "see stillroom help trial");
        i += value == c->argv[i + 1];
        if (which == 0 && o->n_add == ST_TRIAL_ADDS)
            return complain("add", value, "two at a time are the most that a tongue can tell apart",
                            "try one, then the other");
        o->n_add += which == 0;
        if (o->n_add == 0)
            return complain(NAME[which], value, "it belongs to an addition, and none was named yet",
                            "write --add NAME before it");
        o->said[o->n_add - 1][which] = value;
    }
    c->argc = n;
    return true;
}

static bool take_options(struct cli *c, struct trial_options *o)
{
    static const char *const KNOWN[] = { "--add",   "--from",     "--to",   "--glasses", "--glass",
                                         "--batch", "--drops-50", "--pick", "--drunk",   "--strength",
                                         "--sugar", "--measure",  NULL };
    bool bad = false;
    double x;
    *o = (struct trial_options){ .glasses = 5, .glass_ml = 50.0, .strength = -1.0, .sugar = -1.0 };
    if (!take_additions(c, o))
        return false;
    const char *glass = cli_option(c, "glass", &bad), *batch = cli_option(c, "batch", &bad),
               *drunk = cli_option(c, "drunk", &bad), *measure = cli_option(c, "measure", &bad);
    if (cli_option_number(c, "glasses", 3, 5, &x, &bad))
        o->glasses = (int)x;
    if (cli_option_number(c, "pick", 1, 5, &x, &bad))
        o->pick = (int)x;
    (void)cli_option_number(c, "strength", 0, 96, &o->strength, &bad);
    (void)cli_option_number(c, "sugar", 0, 900, &o->sugar, &bad);
    struct st_amount a;
    if (bad || (glass && !quantity("glass", glass, &a)))
        return false;
    if (measure && strcmp(measure, "syringe") != 0 && strcmp(measure, "marks") != 0)
        return complain("measure", measure, "it is no measure that is known here",
                        "write --measure syringe (a mark every 0.2 mL) or --measure marks (every mL)");
    o->with = measure && *measure == 's' ? ST_TRIAL_SYRINGE : ST_TRIAL_MEASURE;
    o->glass_ml = glass ? a.value : o->glass_ml;
    if (glass && !(a.dim == ST_DIM_VOLUME && a.value >= 29.99 && a.value <= 100.01))
        return complain("glass", glass, "a trial glass holds 30 to 100 mL", "write for example --glass 50mL");
    if (batch && (!quantity("batch", batch, &a) || a.dim != ST_DIM_VOLUME))
        return complain("batch", batch, "it is no volume", "write for example --batch 1.2L");
    o->batch_ml = batch ? a.value : 0.0;
    if (drunk && (!quantity("drunk", drunk, &a) || a.dim == ST_DIM_MASS))
        return complain("drunk", drunk, "it is no volume", "write for example --drunk 150mL");
    o->drunk_ml = drunk ? (a.dim == ST_DIM_OPEN ? 0.0 : a.value) : -1.0;
    return cli_no_more_options(c, KNOWN);
}

/* ---- what is in the batch, and in what is added ---- */

static bool foretell(const struct cli *c, const char *name, const struct st_recipe *r, struct st_foretold *out)
{
    struct st_problem problem = { .what = "" };
    struct st_plan *p = st_plan_create(r, &problem);
    const struct st_options o = { .seed = c->seed, .draws = c->draws };
    const bool done = p && st_plan_run(p, &o, out) >= 0;
    if (!p)
        cli_problem(name, &problem);
    else if (!done)
        cli_error(name, "it gives no figures", "look for an amount that is far too large or too small");
    st_plan_free(p);
    return done;
}

/* Every one that the recipe pours, each once; true when there was any. */
static bool stops_of(const char *name, const struct st_recipe *r)
{
    const struct st_ingredient *told[16];
    int n = 0;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line && n < 16; i++) {
            struct st_problem problem = { .at = r->step[s].line[i].at };
            const struct st_ingredient *in = r->step[s].line[i].what;
            bool before = false;
            for (int k = 0; k < n; k++)
                before = before || told[k] == in;
            if (before || !st_stop_problem(in, &problem))
                continue;
            told[n++] = in;
            cli_problem(name, &problem);
        }
    return n > 0;
}

/* What is to be added, before anything else is read or asked; true when something must not go into a drink. */
static bool stops_added(const struct trial_options *o, const struct st_catalogue *catalogue)
{
    bool any = false;
    for (int i = 0; i < o->n_add; i++) {
        struct st_problem problem = { .what = "" };
        const char *name = o->said[i][0];
        const struct st_ingredient *stop = st_stop_named(catalogue, name, strlen(name));
        if (!stop && !st_catalogue_find(catalogue, name, strlen(name)))
            stop = st_catalogue_slip(catalogue, name, strlen(name));
        if (!st_stop_problem(stop, &problem))
            continue;
        any = true;
        cli_problem("--add", &problem);
    }
    return any;
}

static bool read_batch(struct cli *c, const char *name, struct st_catalogue *catalogue, struct trial *t)
{
    static struct st_recipe_file file; /* large */
    static struct st_foretold out;
    struct st_buf text = { 0 };
    const int error = st_file_read(name, MOST_BYTES, &text);
    if (error) {
        cli_error(name, "it cannot be read", "look at the name, or see examples/ for recipes to begin with");
        return false;
    }
    const int read = st_recipe_read_as(name, st_buf_text(&text), text.length, catalogue, c->units, &file);
    const bool stopped = read == 0 && stops_of(name, &file.recipe);
    for (int i = 0; i < file.n_problem && !stopped; i++)
        cli_problem(name, &file.problem[i]);
    const bool done = read == 0 && !stopped && foretell(c, name, &file.recipe, &out);
    if (done) {
        snprintf(t->title, sizeof t->title, "%s", file.recipe.title);
        memcpy(t->trial.batch.g, out.final_g, sizeof t->trial.batch.g);
        t->trial.batch.ml = out.fig[ST_FIG_VOLUME].value;
        t->strength = out.fig[ST_FIG_STRENGTH];
        t->sugar = out.fig[ST_FIG_SUGAR];
        st_foretold_done(&out);
    }
    st_recipe_done(&file);
    st_buf_done(&text);
    return done;
}

static void scale_batch(struct st_trial_liquid *l, double ml)
{
    for (int k = 0; k < ST_NCOMP; k++)
        l->g[k] *= ml / l->ml;
    l->ml = ml;
}

static bool batch(struct cli *c, const struct trial_options *o, struct st_catalogue *catalogue, struct trial *t)
{
    if (c->argc == 1) {
        if (!read_batch(c, c->argv[0], catalogue, t))
            return false;
        if (o->batch_ml > 0.0)
            scale_batch(&t->trial.batch, o->batch_ml);
        return true;
    }
    if (c->argc > 1 || !(o->batch_ml > 0.0) || o->strength < 0.0 || o->sugar < 0.0) {
        cli_error(c->argc > 1 ? c->argv[1] : "trial",
                  c->argc > 1 ? "one recipe is enough" : "it is not said what the batch is",
                  "name a recipe, or write --batch 1.2L --strength 24 --sugar 150");
        return false;
    }
    t->by_figures = true;
    snprintf(t->title, sizeof t->title, "%.4g mL of %.4g %% vol with %.4g g/L of sugar", o->batch_ml, o->strength,
             o->sugar);
    if (st_trial_liquid_of(o->strength, o->sugar, o->batch_ml, &t->trial.batch) >= 0)
        return true;
    cli_error("--strength, --sugar", "so much of both does not fit into a litre", "look at the two figures again");
    return false;
}

/* "sugar syrup 2:1": parts by weight. */
static bool is_syrup(const char *name, struct st_trial_liquid *unit)
{
    const char *colon = strchr(name, ':'), *from = colon;
    double rho = 1.3, w[ST_NCOMP] = { 0 }, y;
    if (!colon || !strstr(name, "syrup"))
        return false;
    while (from > name && strchr("0123456789.", from[-1]))
        from--;
    char *end;
    const double sugar = strtod(from, &end), water = strtod(colon + 1, NULL);
    if (end != colon || !(sugar > 0.0 && water > 0.0))
        return false;
    w[ST_SUCROSE] = sugar / (sugar + water);
    w[ST_WATER] = 1.0 - w[ST_SUCROSE];
    if (st_density_mixture(w, ST_T20, &y) >= 0)
        rho = y * 1e-3;
    *unit = (struct st_trial_liquid){ .ml = 1.0 };
    unit->g[ST_SUCROSE] = rho * w[ST_SUCROSE];
    unit->g[ST_WATER] = rho * w[ST_WATER];
    return true;
}

/* What 1 mL of it brings: 100 mL (or g, of what is no liquid) in a litre of water, the water taken off. */
static bool in_water(const char *name, const char *amount, struct st_catalogue *catalogue, double g[ST_NCOMP],
                     struct st_problem *problem)
{
    static struct st_foretold out;
    char text[200];
    struct st_line line[2];
    snprintf(text, sizeof text, "%s %.150s", amount, name);
    if (st_line_parse("1000 g water", ST_MEASURES_METRIC, catalogue, &line[0], problem) != 0 ||
        st_line_parse(text, ST_MEASURES_METRIC, catalogue, &line[1], problem) != 0)
        return false;
    if (line[1].what && st_kind_is_solid(line[1].what->kind)) {
        *problem = (struct st_problem){ .what = "no liquid",
                                        .why = "it would lie in the glass, and a trial adds what mixes at once",
                                        .try_ = "add a liquid, such as a juice or a syrup that you know" };
        return false;
    }
    const struct st_range nothing = { 0.0, 0.0, 0.0, true, 'u', "" }, all = { 1.0, 1.0, 1.0, true, 'u', "" };
    struct st_step step = { .id = "trial",
                            .words = "",
                            .kind = ST_DO_BLEND,
                            .line = line,
                            .n_line = 2,
                            .time = { .dim = ST_DIM_OPEN },
                            .boil_down_to = { .dim = ST_DIM_OPEN },
                            .loss_share = nothing,
                            .exchanged = all };
    const struct st_recipe r = { .file = "",
                                 .title = "",
                                 .note = "",
                                 .currency = "",
                                 .author = "",
                                 .step = &step,
                                 .n_step = 1,
                                 .serving_ml = 40.0 };
    struct st_plan *p = st_plan_create(&r, problem);
    const struct st_options o = { .seed = 1, .draws = 0 };
    const bool done = p && st_plan_run(p, &o, &out) >= 0;
    if (done) {
        memcpy(g, out.final_g, ST_NCOMP * sizeof *g);
        g[ST_WATER] = fmax(g[ST_WATER] - 1000.0, 0.0);
        st_foretold_done(&out);
    }
    st_plan_free(p);
    return done;
}

static bool unit_of(const char *name, bool by_weight, struct st_catalogue *catalogue, struct st_trial_liquid *unit)
{
    struct st_problem problem = { .what = "it gives no figures" };
    double g[ST_NCOMP], mass = 0.0, w[ST_NCOMP], rho;
    if (is_syrup(name, unit))
        return true;
    if (!in_water(name, by_weight ? "100 g" : "100 mL", catalogue, g, &problem))
        return complain("add", name, *problem.why ? problem.why : problem.what,
                        *problem.try_ ? problem.try_ : "name a liquid, such as \"vodka 40 %\"");
    for (int k = 0; k < ST_NCOMP; k++)
        mass += g[k];
    *unit = (struct st_trial_liquid){ .ml = 1.0 };
    const bool liquid = st_mixture_from_masses(g, w) >= 0 && st_density_mixture(w, ST_T20, &rho) >= 0;
    if (by_weight && !liquid)
        return complain("add", name, "its volume is not known", "dissolve it first, and add the syrup");
    for (int k = 0; k < ST_NCOMP; k++)
        unit->g[k] = by_weight ? g[k] / mass * rho * 1e-3 : g[k] / 100.0;
    return true;
}

static bool addition(const char *const said[4], struct st_catalogue *catalogue, struct st_trial_add *a)
{
    struct st_amount from = { .dim = ST_DIM_OPEN }, to, fifty = { .value = 0.0 };
    if (!said[2])
        return complain("add", said[0], "it is not said how much", "write --from 0 --to 6mL behind it");
    if ((said[1] && !quantity("from", said[1], &from)) || !quantity("to", said[2], &to))
        return false;
    const bool drops = to.tool == ST_TOOL_DROPPER;
    if (to.dim == ST_DIM_OPEN ||
        (from.dim != ST_DIM_OPEN && (from.dim != to.dim || (from.tool == ST_TOOL_DROPPER) != drops)) ||
        (from.dim != ST_DIM_OPEN && from.value >= to.value))
        return complain("to", said[2], "the last glass has to hold more than the first, measured the same way",
                        from.dim != ST_DIM_OPEN ? "change --from and --to over, or give both in one unit"
                                                : "write for example --from 0 --to 6mL");
    a->by = drops ? ST_TRIAL_BY_DROPS : to.dim == ST_DIM_MASS ? ST_TRIAL_BY_G : ST_TRIAL_BY_ML;
    if (!unit_of(said[0], a->by == ST_TRIAL_BY_G, catalogue, &a->unit))
        return false;
    a->from = from.dim == ST_DIM_OPEN ? 0.0 : drops ? from.written : from.value;
    a->to = drops ? to.written : to.value;
    if (said[3] && (!quantity("drops-50", said[3], &fifty) || fifty.dim != ST_DIM_MASS))
        return complain("drops-50", said[3], "it is no weight",
                        "count 50 drops into a dish on the scale: --drops-50 1.9g");
    a->drop_ml = st_trial_drop(&a->unit, fifty.value, strchr(said[3] ? said[3] : ".", '.') ? 0.1 : 1.0);
    return true;
}

/* ---- all of it ---- */

static int plan(const struct trial_options *o, struct trial *t)
{
    struct st_trial *q = &t->trial;
    q->glass_ml = o->glass_ml;
    q->with = o->with;
    q->n_glass = o->n_add == 2 ? 5 : o->glasses;
    if (st_trial_plan(q, t->glass) < 0) {
        cli_error("trial",
                  q->n_glass * q->glass_ml > q->batch.ml ? "the glasses would hold more than the batch"
                                                         : "these glasses give no figures",
                  "take fewer or smaller glasses, or add less");
        return ST_EXIT_INPUT;
    }
    t->pick = o->pick;
    t->drunk_ml = o->drunk_ml >= 0.0 ? o->drunk_ml : q->n_glass * q->glass_ml;
    if (o->pick > 0 && st_trial_pick(q, o->pick - 1, t->drunk_ml, &t->rest) < 0) {
        cli_error("--pick", "there is no such glass, or nothing is left of the batch",
                  "count the glasses from 1, and say --drunk");
        return ST_EXIT_INPUT;
    }
    return ST_EXIT_DONE;
}

int cmd_trial(struct cli *c)
{
    static struct trial t;
    struct trial_options o;
    if (!take_options(c, &o))
        return ST_EXIT_INPUT;
    if (o.n_add == 0) {
        cli_error("trial", "nothing is added", "write for example --add \"sugar syrup 2:1\" --from 0 --to 6mL");
        return ST_EXIT_INPUT;
    }
    struct st_catalogue *catalogue = cli_catalogue();
    if (!catalogue)
        return ST_EXIT_SYSTEM;
    memset(&t, 0, sizeof t);
    bool ready = !stops_added(&o, catalogue) && batch(c, &o, catalogue, &t);
    for (int i = 0; ready && i < o.n_add; i++) {
        snprintf(t.name[i], sizeof t.name[i], "%s", o.said[i][0]);
        t.weighed[i] = o.said[i][3] != NULL;
        ready = addition(o.said[i], catalogue, &t.trial.add[i]);
    }
    t.trial.n_add = o.n_add;
    int code = ready ? plan(&o, &t) : ST_EXIT_INPUT;
    if (code == ST_EXIT_DONE && c->json)
        code = cli_json_print(trial_json(&t));
    else if (code == ST_EXIT_DONE)
        trial_page(&t);
    st_catalogue_free(catalogue);
    return code;
}
