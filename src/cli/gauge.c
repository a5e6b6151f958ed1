#include "api/doc_gauge.h"

#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "core/strength.h"
#include "text/quantity.h"

const char cmd_gauge_usage[] =
    "stillroom gauge --sg S --brix B --temperature C\n"
    "\n"
    "Strength and sugar of a sweetened liquid.  Two readings are needed, or one and\n"
    "what is known:\n"
    "  --sg S                   hydrometer; --hydrometer 20C|60F tells its scale\n"
    "  --brix B                 hand refractometer; --no-atc when it does not\n"
    "                           compensate for temperature\n"
    "  --temperature C          of the liquid; of one reading alone:\n"
    "                           --sg-temperature C, --brix-temperature C\n"
    "  --sg-step X              smallest division (0.002); --brix-step X (0.2)\n"
    "  --flask 100mL=103.2g     a weighed flask, instead of the hydrometer\n"
    "  --sg-boiled S            hydrometer again after the alcohol was boiled off and\n"
    "                           the volume made up with water; its own\n"
    "                           --sg-boiled-temperature C\n"
    "  --strength Q, --sugar G  one of the two, if it is known (% vol, g/L)\n"
    "  --acid G                 acid that is known of (g/L as citric)\n"
    "  --holds pulp|cream|egg   what floats in it\n"
    "\n"
    "Strengths are % vol at 20 °C. Proof is US proof, at 60 °F:\n"
    "80 proof is 40.07 % vol at 20 °C.\n"
    "\n"
    "  stillroom gauge --sg 1.043 --brix 28 --temperature 21\n"
    "  stillroom gauge --flask 100mL=104.1g --brix 28 --temperature 20\n";

static bool read_flask(const char *text, struct st_gauge_in *in)
{
    struct st_amount ml, g;
    struct st_problem p;
    size_t used = 0;
    const char *is = strchr(text, '=');

    if (!is || st_quantity_parse(text, (size_t)(is - text), ST_MEASURES_METRIC, &ml, &used, &p) != 0 ||
        text + used != is || st_quantity_parse(is + 1, strlen(is + 1), ST_MEASURES_METRIC, &g, &used, &p) != 0 ||
        is[1 + used] != '\0' || ml.dim != ST_DIM_VOLUME || g.dim != ST_DIM_MASS || !(ml.value > 0) || !(g.value > 0)) {
        cli_error("--flask", "it needs the flask's volume and the weight of what is in it, without the glass",
                  "write for example --flask 100mL=103.2g");
        return false;
    }
    in->by_flask = true;
    in->flask_m3 = 1e-6 * ml.value;
    in->flask_kg = 1e-3 * g.value;
    return true;
}

static bool read_options(struct cli *c, struct st_gauge_in *in, struct st_gauge_given *g)
{
    bool bad = false;
    double T = ST_T20;

    g->all_T = cli_option_temperature(c, "--temperature", &T, &bad);
    in->sg_T = in->brix_T = in->sg_boiled_T = T;
    g->sg_T = cli_option_temperature(c, "--sg-temperature", &in->sg_T, &bad);
    g->brix_T = cli_option_temperature(c, "--brix-temperature", &in->brix_T, &bad);
    g->boiled_T = cli_option_temperature(c, "--sg-boiled-temperature", &in->sg_boiled_T, &bad);
    g->sg = cli_option_number(c, "--sg", 0.7, 1.7, &in->sg, &bad);
    g->brix = cli_option_number(c, "--brix", -5, 85, &in->brix, &bad);
    g->boiled = cli_option_number(c, "--sg-boiled", 0.7, 1.7, &in->sg_boiled, &bad);
    g->strength = cli_option_number(c, "--strength", 0, 100, &in->strength, &bad);
    g->sugar = cli_option_number(c, "--sugar", 0, 1000, &in->sugar_g_l, &bad);
    cli_option_number(c, "--acid", 0, 200, &in->acid_g_l, &bad);
    cli_option_number(c, "--sg-step", 1e-5, 0.1, &in->sg_step, &bad);
    cli_option_number(c, "--brix-step", 1e-3, 5, &in->brix_step, &bad);
    in->no_atc = cli_flag(c, "--no-atc");
    const char *scale = cli_option(c, "--hydrometer", &bad);
    if (scale && strcmp(scale, "20C") != 0 && strcmp(scale, "60F") != 0) {
        cli_error("--hydrometer", "hydrometers are marked for 20 °C or 60 °F",
                  "write --hydrometer 20C or --hydrometer 60F");
        bad = true;
    }
    in->sg_cal = scale && strcmp(scale, "60F") == 0 ? ST_HYDROMETER_60F : ST_HYDROMETER_20C;
    const char *flask = cli_option(c, "--flask", &bad);
    g->flask = flask != NULL;
    return !bad && (!flask || read_flask(flask, in));
}

/* No figure: why, and what to try, as the one JSON document or on stderr. */
static int refuse(const struct cli *c, const char *what, const char *why, const char *try_)
{
    if (!c->json) {
        cli_error(what, why, try_);
        return ST_EXIT_UNMET;
    }
    struct st_problem p = { .at = { 0, 0 } };
    snprintf(p.why, sizeof p.why, "%s", why);
    snprintf(p.try_, sizeof p.try_, "%s", try_);
    const int code = cli_json_print(st_doc_gauge_refused(&p));
    return code == ST_EXIT_DONE ? ST_EXIT_UNMET : code;
}

/* Pulp, cream and egg bend light and hold a hydrometer up: no figure then.  *what: which, NULL when clear. */
static bool holds(struct cli *c, const char **what)
{
    bool bad = false;
    *what = cli_option(c, "--holds", &bad);
    if (bad)
        return false;
    if (!*what || strcmp(*what, "pulp") == 0 || strcmp(*what, "cream") == 0 || strcmp(*what, "egg") == 0)
        return true;
    cli_error("--holds", "it knows pulp, cream and egg", "write --holds pulp");
    return false;
}

static int cloudy(const struct cli *c, const char *what)
{
    char text[80];
    snprintf(text, sizeof text, "a liquid with %s in it", what);
    return refuse(c, text, "neither instrument reads alcohol and sugar through it",
                  strcmp(what, "pulp") == 0 ? "strain a spoonful clear first, through a coffee filter"
                                            : "measure before it goes in");
}

/* How far the answer moves when one reading moves: solved again, not linearised by hand. */
static void nudge(const struct st_gauge_in *in, const struct st_gauge_out *at, double dsg, double dbrix, double dT,
                  const char *what)
{
    struct st_gauge_in moved = *in;
    struct st_gauge_out out;
    moved.sg += dsg;
    moved.brix += dbrix;
    moved.sg_T += dT;
    moved.brix_T += dT;
    moved.sg_boiled_T += dT;
    if (st_gauge(&moved, &out) < 0)
        return;
    const double dq = fabs(out.strength - at->strength), dg = fabs(out.sugar_g_l - at->sugar_g_l);
    if (dq < 1e-6) /* known, not found */
        cli_say(4, 4, "%s moves the sugar by %.1f g/L.", what, dg);
    else if (dg < 1e-6)
        cli_say(4, 4, "%s moves the strength by %.2f %% vol.", what, dq);
    else
        cli_say(4, 4, "%s moves the strength by %.2f %% vol and the sugar by %.1f g/L.", what, dq, dg);
}

static bool brix_read(enum st_gauge_mode m)
{
    return m == ST_GAUGE_DENSITY_BRIX || m == ST_GAUGE_BRIX_STRENGTH || m == ST_GAUGE_BRIX_SUGAR;
}

static bool density_read(enum st_gauge_mode m)
{
    return m != ST_GAUGE_BRIX_STRENGTH && m != ST_GAUGE_BRIX_SUGAR;
}

static void print_text(const struct st_gauge_in *in, const struct st_gauge_out *out, enum st_status s,
                       const struct st_interval v[2], const struct st_cautions *cautions)
{
    char text[160];
    st_figure_words(text, sizeof text, &v[0], "% vol");
    cli_figure_line("strength", text);
    st_figure_words(text, sizeof text, &v[1], "g/L");
    cli_figure_line("sugar", text);
    cli_heading("How sure");
    if (density_read(in->mode) && !in->by_flask)
        nudge(in, out, 0.001, 0, 0, "A hydrometer read wrong by 0.001");
    if (brix_read(in->mode))
        nudge(in, out, 0, 0.2, 0, "A refractometer read wrong by 0.2 Brix");
    nudge(in, out, 0, 0, 1.0, "Liquid 1 °C warmer than you say, at the same readings,");
    if (out->strength_systematic > 0.0)
        cli_say(4, 4,
                "The range holds %.1f %% vol either way for the method itself: the only outside evidence, 35 published "
                "fortified "
                "wines, reads 0.2 to 0.55 %% vol higher [rogerson2006].",
                out->strength_systematic);
    cli_say(4, 4,
            "It is not an assay: a label's 0.3 %% vol cannot be claimed from it. All sugar is taken as sucrose, "
            "everything else "
            "dissolved counts as sugar.");
    if (s == ST_EXTRAPOLATED)
        cli_say(4, 4,
                "Outside what the method was tried for (0 to 60 %% vol, 0 to 500 g/L, readings at 10 to 30 °C): take "
                "it as a guess.");
    if (cautions->n) {
        cli_heading("What to watch");
        cli_cautions_print(cautions);
    }
}

static int tell(const struct cli *c, const struct st_gauge_in *in, const struct st_gauge_given *g,
                const struct st_gauge_out *out, enum st_status s)
{
    const struct st_interval v[2] = { { out->strength, out->strength_low, out->strength_high, s, true },
                                      { out->sugar_g_l, out->sugar_low, out->sugar_high, s, true } };
    static struct st_cautions cautions;
    const int code = s == ST_EXTRAPOLATED ? ST_EXIT_UNMET : ST_EXIT_DONE;

    st_gauge_cautions(out, &cautions);
    if (!c->json) {
        print_text(in, out, s, v, &cautions);
        if (*st_gauge_assumed(g))
            cli_say(0, 0, "Note: %s; if it was warmer or colder, write for example --temperature 23.",
                    st_gauge_assumed(g));
        return code;
    }
    json_t *doc = st_doc_gauge(in->mode, out, s, &cautions);
    json_object_set_new(doc, "assumed", st_doc_text(st_gauge_assumed(g)));
    const int printed = cli_json_print(doc);
    return printed == ST_EXIT_DONE ? code : printed;
}

int cmd_gauge(struct cli *c)
{
    static const char *const known[] = { "--sg",
                                         "--brix",
                                         "--temperature",
                                         "--sg-temperature",
                                         "--brix-temperature",
                                         "--hydrometer",
                                         "--no-atc",
                                         "--sg-step",
                                         "--brix-step",
                                         "--flask",
                                         "--sg-boiled",
                                         "--sg-boiled-temperature",
                                         "--strength",
                                         "--sugar",
                                         "--acid",
                                         "--holds",
                                         NULL };
    struct st_gauge_in in = { 0 };
    struct st_gauge_out out = { 0 };
    struct st_gauge_given g = { 0 };

    struct st_problem problem;
    const char *what = NULL;

    if (!holds(c, &what) || !read_options(c, &in, &g) || !cli_no_more_options(c, known))
        return ST_EXIT_INPUT;
    if (c->argc > 0) {
        cli_error("a word too many", "readings are given as options",
                  "write for example --sg 1.043 --brix 28 --temperature 20");
        return ST_EXIT_INPUT;
    }
    if (what)
        return cloudy(c, what);
    if (!st_gauge_choose(&g, "--", &in.mode, &problem)) {
        cli_error(problem.what, problem.why, problem.try_);
        return ST_EXIT_INPUT;
    }
    if (g.strength)
        in.strength_u = 0.15; /* a label's 0.3 % vol, [eu_1169_2011] annex XII, as 95 % */
    if (g.sugar)
        in.sugar_u = 0.005 * in.sugar_g_l;
    const enum st_status s = st_gauge(&in, &out);
    if (s >= 0)
        return tell(c, &in, &g, &out, s);
    st_gauge_impossible(&out, s, "--", &problem);
    return refuse(c, problem.what, problem.why, problem.try_);
}
