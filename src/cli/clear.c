#include "cli/clear.h"

#include <math.h>
#include <string.h>

#include "cli/page.h"
#include "cli/read_recipe.h"
#include "core/strength.h"
#include "text/compounds.h"
#include "text/fining.h"
#include "text/near.h"
#include "text/quantity.h"
#include "text/stops.h"
#include "util/embedded.h"

const char cmd_clear_usage[] = "stillroom clear RECIPE [--agent NAME] [--volume 1.2L] [--ph 3.2] [--temperature 20C]\n"
                               "\n"
                               "Whether the drink of a recipe file will go cloudy, and what helps: in the bottle,\n"
                               "in the cold, with water; how long it settles, before the sugar and after; filters,\n"
                               "finings, the milk wash, and what each adds to the label.\n"
                               "\n"
                               "  --agents          cloths, papers and finings: what for, how much, on the label\n"
                               "  --agent NAME      one fining agent in full: its bench trial and the amounts for\n"
                               "                    this batch; gelatine, bentonite, \"egg white\", \"milk wash\" ...\n"
                               "  --volume 1.2L     how much there is of it; else what the recipe makes\n"
                               "  --ph 3.2          its acidity as a strip or a meter shows it: how fast sugar parts\n"
                               "  --temperature     where it is kept (20C): for sugar and colour\n"
                               "\n"
                               "  stillroom clear examples/lemon_peel.yaml\n"
                               "  stillroom clear examples/damson_fresh_fruit.yaml --agent gelatine\n"
                               "\n"
                               "Ends with 1 when something in the recipe says STOP.\n";

struct clear_options {
    const char *agent;
    struct st_interval batch_ml; /* not known: the recipe's */
    double ph, T_K;
    bool agents;
};

/* ---- off the command line ---- */

static bool volume(const char *said, struct st_interval *ml)
{
    struct st_amount a;
    struct st_problem problem = { .what = "" };
    char what[120];
    size_t used = 0;
    if (st_quantity_parse(said, strlen(said), ST_MEASURES_METRIC, &a, &used, &problem) == 0 && used == strlen(said) &&
        a.dim == ST_DIM_VOLUME && a.value >= 10.0) {
        const struct st_tolerance t = st_tolerance_default(ST_TOOL_JUG, a.value);
        const double half = a.value * (t.scale + t.fill) + t.step;
        *ml = (struct st_interval){ a.value, fmin(a.low, fmax(a.value - half, 1.0)), fmax(a.high, a.value + half),
                                    ST_OK, true };
        return true;
    }
    snprintf(what, sizeof what, "--volume \"%.60s\"", said);
    cli_error(what, "it is no volume of 10 mL or more", "write for example --volume 1.2L");
    return false;
}

static bool take_options(struct cli *c, struct clear_options *o)
{
    static const char *const KNOWN[] = { "--agent", "--agents", "--volume", "--ph", "--temperature", NULL };
    bool bad = false;
    *o = (struct clear_options){ .ph = (double)NAN, .T_K = ST_T20 };
    o->agents = cli_flag(c, "agents");
    o->agent = cli_option(c, "agent", &bad);
    const char *ml = cli_option(c, "volume", &bad);
    (void)cli_option_number(c, "ph", 1.0, 7.0, &o->ph, &bad);
    (void)cli_option_temperature(c, "temperature", &o->T_K, &bad);
    if (bad || !cli_no_more_options(c, KNOWN) || (ml && !volume(ml, &o->batch_ml)))
        return false;
    if (o->T_K < 253.0 || o->T_K > 313.2) {
        cli_error("--temperature", "nothing is known of colour and sugar there", "give -20C to 40C");
        return false;
    }
    return true;
}

/* ---- data ---- */

static const struct st_embedded *embedded(const char *name)
{
    const struct st_embedded *e = st_embedded_find(name);
    if (!e)
        cli_error(name, "it was not built into this program", "build it again from its sources");
    return e;
}

static struct st_agents *read_agents(void)
{
    static const char NAME[] = "data/fining.tsv";
    struct st_problem p = { .what = "" };
    const struct st_embedded *e = embedded(NAME);
    struct st_agents *all = e ? st_fining_create((const char *)e->bytes, e->size, &p) : NULL;
    if (e && !all)
        cli_problem(NAME, &p);
    return all;
}

static struct st_compounds *read_compounds(void)
{
    static const char NAME[] = "data/markers.tsv";
    struct st_problem p = { .what = "" };
    const struct st_embedded *e = embedded(NAME);
    struct st_compounds *all = e ? st_compounds_create((const char *)e->bytes, e->size, &p) : NULL;
    if (e && !all)
        cli_problem(NAME, &p);
    return all;
}

static bool find_agent(const struct st_agents *all, const char *name, const struct st_agent **found)
{
    const char *names[64];
    char what[120], try_[160];
    *found = name ? st_agent_find(all, name) : NULL;
    if (!name || *found)
        return true;
    for (int i = 0; i < all->n && i < 64; i++)
        names[i] = all->row[i].name;
    const char *near = st_near_key(name, names, (size_t)all->n);
    snprintf(what, sizeof what, "--agent \"%.60s\"", name);
    if (near)
        snprintf(try_, sizeof try_, "did you mean \"%s\"", near);
    else
        snprintf(try_, sizeof try_, "\"stillroom clear RECIPE\" lists them");
    cli_error(what, "nothing of this name clears a drink, as far as we know", try_);
    return false;
}

/* ---- the answer ---- */

static int tell(struct cli *c, const struct clear_options *o, const struct st_recipe *r, struct st_foretold *f,
                const struct st_compounds *compounds, const struct st_agents *agents)
{
    static struct st_clearing clearing; /* large */
    static struct st_cautions cautions;
    struct st_clear_told t = {
        .recipe = r, .cautions = &cautions, .clearing = &clearing, .agents = agents, .ph = o->ph, .T_K = o->T_K
    };
    if (!find_agent(agents, o->agent, &t.agent))
        return ST_EXIT_INPUT;
    if (st_clearing_of(r, f, compounds, &clearing) < 0) {
        cli_error(r->file, "it gives no strength, sugar or volume to reckon with",
                  "see what stillroom foresee says of it");
        return ST_EXIT_INPUT;
    }
    if (o->batch_ml.known)
        clearing.volume_ml = o->batch_ml;
    t.batch_ml = clearing.volume_ml;
    st_cautions_collect(r, f, &cautions);
    const bool stop = st_cautions_stop(&cautions);
    if (!c->json)
        clear_page(c, &t, o->agents);
    else if (cli_json_print(st_doc_clear(&t)) != ST_EXIT_DONE)
        return ST_EXIT_SYSTEM;
    return stop ? ST_EXIT_UNMET : ST_EXIT_DONE;
}

static int foretell(struct cli *c, const struct clear_options *o, const struct st_recipe *r)
{
    static struct st_foretold out; /* large */
    struct st_problem problem = { .what = "" }, all[ST_MAX_PROBLEMS];
    struct st_plan *plan = st_plan_create(r, &problem);
    if (!plan) {
        const int n = st_stop_plan_problems(r, all, ST_MAX_PROBLEMS);
        for (int i = 0; i < n; i++)
            cli_problem(r->file, &all[i]);
        if (n == 0)
            cli_problem(r->file, &problem);
        return ST_EXIT_INPUT;
    }
    const struct st_options options = { .seed = c->seed, .draws = c->draws };
    int code = ST_EXIT_INPUT;
    if (st_plan_run(plan, &options, &out) < 0)
        cli_error(r->file, "it gives no figures", "look for an amount that is far too large or too small");
    else {
        struct st_compounds *compounds = read_compounds();
        struct st_agents *agents = compounds ? read_agents() : NULL;
        code = agents ? tell(c, o, r, &out, compounds, agents) : ST_EXIT_SYSTEM;
        st_fining_free(agents);
        st_compounds_free(compounds);
        st_foretold_done(&out);
    }
    st_plan_free(plan);
    return code;
}

int cmd_clear(struct cli *c)
{
    static struct cli_recipe recipe; /* large */
    struct clear_options o;
    if (!take_options(c, &o))
        return ST_EXIT_INPUT;
    int code = cli_recipe_open(c, &recipe);
    if (code == ST_EXIT_DONE)
        code = foretell(c, &o, &recipe.file.recipe);
    cli_recipe_close(&recipe);
    return code;
}
