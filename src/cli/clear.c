#include "cli/clear.h"

#include <math.h>
#include <string.h>

#include "api/clear_task.h"
#include "cli/page.h"
#include "cli/read_recipe.h"
#include "core/strength.h"
#include "text/quantity.h"
#include "text/stops.h"

const char cmd_clear_usage[] = "stillroom clear RECIPE [--agent NAME] [--volume 1.2L]\n"
                               "                       [--ph 3.2] [--temperature 20C]\n"
                               "\n"
                               "Whether the drink of a recipe file will go cloudy, and what helps: in the\n"
                               "bottle, in the cold, with water; how long it settles, before the sugar and\n"
                               "after; filters, finings, the milk wash, and what each adds to the label.\n"
                               "\n"
                               "  --agents          cloths, papers and finings: what for, how much, on the label\n"
                               "  --agent NAME      one fining agent in full: its bench trial and the amounts\n"
                               "                    for this batch; gelatine, bentonite, \"egg white\",\n"
                               "                    \"milk wash\" ...\n"
                               "  --volume 1.2L     how much there is of it; else what the recipe makes\n"
                               "  --ph 3.2          its acidity as a strip or a meter shows it: how fast sugar\n"
                               "                    parts\n"
                               "  --temperature     where it is kept (20C): for sugar and colour\n"
                               "\n"
                               "  stillroom clear examples/lemon_peel.yaml\n"
                               "  stillroom clear examples/damson_fresh_fruit.yaml --agent gelatine\n"
                               "\n"
                               "Ends with 1 when something in the recipe says STOP.\n";

struct clear_options {
    struct st_clear_asked asked;
    bool agents;
};

/* ---- off the command line ---- */

static void refuse(const char *name, const char *said, const char *why, const char *try_)
{
    char what[120];
    snprintf(what, sizeof what, "--%s \"%.60s\"", name, said);
    cli_error(what, why, try_);
}

static bool take_volume(const char *said, double *ml)
{
    struct st_amount a;
    struct st_problem problem = { .what = "" };
    size_t used = 0;
    if (!said)
        return true;
    if (cli_asks_amount(said, ST_MEASURES_METRIC))
        return false;
    if (st_quantity_parse(said, strlen(said), ST_MEASURES_METRIC, &a, &used, &problem) == 0 && used == strlen(said) &&
        a.dim == ST_DIM_VOLUME && a.value >= ST_CLEAR_LEAST_ML && a.value <= ST_CLEAR_MOST_ML) {
        *ml = a.value;
        return true;
    }
    refuse("volume", said, "it is no volume of 10 mL to 1000 L", "write for example --volume 1.2L");
    return false;
}

static bool take_ph(const char *said, double *ph)
{
    double x = (double)NAN;
    if (!said)
        return true;
    if (cli_number(said, &x) && x >= ST_CLEAR_PH_LOW && x <= ST_CLEAR_PH_HIGH) {
        *ph = x;
        return true;
    }
    refuse("ph", said,
           "how acid parts table sugar is reckoned from pH 1 to 7, and liqueurs lie between 2 and 6 "
           "(from memory)",
           "look at the strip again and write for example --ph 3.2");
    return false;
}

/* "20C", "68 F", "20"; false when it is no temperature. */
static bool celsius_of(const char *said, double *celsius)
{
    struct st_amount a;
    struct st_problem problem = { .what = "" };
    size_t used = 0;
    if (cli_number(said, celsius))
        return true;
    if (st_quantity_parse(said, strlen(said), ST_MEASURES_METRIC, &a, &used, &problem) != 0 || used != strlen(said) ||
        a.dim != ST_DIM_TEMPERATURE)
        return false;
    *celsius = a.value - 273.15;
    return true;
}

static bool take_temperature(const char *said, double *T_K)
{
    double celsius = ST_T20 - 273.15;
    char what[120];
    if (!said)
        return true;
    if (!celsius_of(said, &celsius)) {
        refuse("temperature", said, "it is no temperature", "write for example --temperature 18C, or 64F");
        return false;
    }
    if (celsius >= ST_CLEAR_COLDEST_C - 1e-6 && celsius <= ST_CLEAR_WARMEST_C + 1e-6) {
        *T_K = fmin(fmax(celsius, ST_CLEAR_COLDEST_C), ST_CLEAR_WARMEST_C) + 273.15;
        return true;
    }
    snprintf(what, sizeof what,
             "--temperature of %.4g \xc2\xb0"
             "C",
             celsius);
    cli_error(what,
              "where a bottle is kept lies between -20 and 40 \xc2\xb0"
              "C, and how colour fades and sugar parts is reckoned for that alone",
              "write for example --temperature 18C, or 64F");
    return false;
}

static bool take_options(struct cli *c, struct clear_options *o)
{
    static const char *const KNOWN[] = { "--agent", "--agents", "--volume", "--ph", "--temperature", NULL };
    bool bad = false;
    *o = (struct clear_options){ .asked = { .volume_ml = (double)NAN, .ph = (double)NAN, .T_K = ST_T20 } };
    o->agents = cli_flag(c, "agents");
    o->asked.agent = cli_option(c, "agent", &bad);
    const char *ml = cli_option(c, "volume", &bad), *ph = cli_option(c, "ph", &bad),
               *t = cli_option(c, "temperature", &bad);
    return !bad && cli_no_more_options(c, KNOWN) && take_volume(ml, &o->asked.volume_ml) && take_ph(ph, &o->asked.ph) &&
           take_temperature(t, &o->asked.T_K);
}

/* ---- the answer ---- */

static int tell(struct cli *c, const struct clear_options *o, const struct st_recipe *r, const struct st_foretold *f,
                const struct st_compounds *compounds)
{
    static struct st_clear_task t; /* large */
    struct st_problem problem = { .what = "" };
    int code = ST_EXIT_INPUT;
    t = (struct st_clear_task){ .recipe = r, .watch = cli_watch(c, r) };
    if (!st_clear_task_run(&t, f, compounds, &o->asked, &problem))
        cli_problem(t.about == ST_CLEAR_ABOUT_AGENT ? "--agent" : r->file, &problem);
    else {
        code = st_cautions_stop(&t.cautions) ? ST_EXIT_UNMET : ST_EXIT_DONE;
        if (!c->json)
            clear_page(c, &t.told, o->agents);
        else if (cli_json_print(st_doc_clear(&t.told)) != ST_EXIT_DONE)
            code = ST_EXIT_SYSTEM;
    }
    st_clear_task_done(&t);
    return code;
}

static int foretell(struct cli *c, const struct clear_options *o, const struct st_recipe *r)
{
    static struct st_foretold out; /* large */
    struct st_problem problem = { .what = "" };
    struct st_plan *plan = st_plan_create(r, &problem);
    if (!plan) {
        cli_plan_problems(r, &problem);
        return ST_EXIT_INPUT;
    }
    const struct st_options options = { .seed = c->seed, .draws = c->draws };
    int code = ST_EXIT_INPUT;
    if (st_plan_run(plan, &options, &out) < 0)
        cli_error(r->file, "it gives no figures", "look for an amount that is far too large or too small");
    else {
        struct st_steep_books *books = st_steep_books_create(&problem);
        if (books)
            code = tell(c, o, r, &out, books->jar.compounds);
        else {
            cli_problem("data/markers.tsv", &problem);
            code = ST_EXIT_SYSTEM;
        }
        st_steep_books_free(books);
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
