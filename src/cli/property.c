#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/page.h"
#include "core/activity.h"
#include "core/boiling.h"
#include "core/density_mixture.h"
#include "core/flash.h"
#include "core/freezing.h"
#include "core/heat_capacity.h"
#include "core/instruments.h"
#include "core/keeping.h"
#include "core/refraction.h"
#include "core/solubility.h"
#include "core/strength.h"
#include "core/viscosity.h"
#include "text/near.h"

const char cmd_property_usage[] =
    "stillroom property NAME --ethanol W --sucrose W --glucose W --fructose W\n"
    "                        --citric W --temperature C\n"
    "\n"
    "One property of a liquid given by mass fractions of the whole (0 to 1; the rest\n"
    "is water), at 20 °C unless --temperature says otherwise.  --list, or no NAME:\n"
    "the properties with their units.\n"
    "\n"
    "Proof is US proof, at 60 °F: 80 proof is 40.07 % vol at 20 °C, the strength that\n"
    "is meant everywhere here.\n"
    "\n"
    "  stillroom property density --ethanol 0.333\n"
    "  stillroom property brix --ethanol 0.2 --sucrose 0.18 --temperature 25\n";

/* Every property as "given w and T, value in the unit below". */
static enum st_status density(const double w[ST_NCOMP], double T, double *x)
{
    return st_density_mixture(w, T, x);
}
static enum st_status strength(const double w[ST_NCOMP], double T, double *x)
{
    (void)T;
    return st_strength_mixture(w, x);
}
static enum st_status index_of(const double w[ST_NCOMP], double T, double *x)
{
    return st_n_mixture(w, T, x);
}
static enum st_status heat(const double w[ST_NCOMP], double T, double *x)
{
    return st_heat_capacity(w, T, x);
}
static enum st_status activity(const double w[ST_NCOMP], double T, double *x)
{
    return st_water_activity(w, T, x);
}
static enum st_status delle(const double w[ST_NCOMP], double T, double *x)
{
    (void)T;
    return st_delle_units(w, x);
}

/* Density relative to water at 20 C, of the liquid at T. */
static enum st_status sg(const double w[ST_NCOMP], double T, double *x)
{
    static const double water[ST_NCOMP] = { [ST_WATER] = 1.0 };
    double rho, rho_w;
    const enum st_status s = st_density_mixture(w, T, &rho);
    if (s < 0 || st_density_mixture(water, ST_T20, &rho_w) < 0)
        return s;
    *x = rho / rho_w;
    return s;
}

static enum st_status brix(const double w[ST_NCOMP], double T, double *x)
{
    return st_refractometer_reading(w, T, true, x);
}

static enum st_status celsius(enum st_status s, double T, double *x)
{
    if (s >= 0)
        *x = T - 273.15;
    return s;
}

static enum st_status freezing(const double w[ST_NCOMP], double T, double *x)
{
    double y = 0.0;
    (void)T;
    const enum st_status s = st_freezing_point(w, &y);
    return celsius(s, y, x);
}

static enum st_status boiling(const double w[ST_NCOMP], double T, double *x)
{
    double y = 0.0;
    (void)T;
    const enum st_status s = st_boiling_point(w, &y);
    return celsius(s, y, x);
}

static enum st_status flash(const double w[ST_NCOMP], double T, double *x)
{
    double y = 0.0;
    (void)T;
    const enum st_status s = st_flash_point(w, &y);
    return celsius(s, y, x);
}

static enum st_status viscosity(const double w[ST_NCOMP], double T, double *x)
{
    double eta;
    const enum st_status s = st_viscosity(w, T, &eta);
    if (s >= 0)
        *x = 1e3 * eta;
    return s;
}

static enum st_status solubility(const double w[ST_NCOMP], double T, double *x)
{
    double ws;
    const enum st_status s = st_sucrose_solubility(w, T, &ws);
    if (s >= 0)
        *x = 100.0 * ws;
    return s;
}

/* Half widths of a 95 % band: what the sources support (docs/sources.md, properties of each).  share: of the value; the
 * second column of each is for a mixture of ethanol with sugar, where nothing was published. */
struct band {
    double least, share, least_mixed, share_mixed;
};

struct property {
    const char *name, *unit, *what, *source;
    enum st_status (*get)(const double w[ST_NCOMP], double T, double *x);
    struct band band;
    double low, high; /* of the figure */
};

static const struct property PROPERTY[] = {
    { "density",
      "kg/m3",
      "mass of a cubic metre",
      "[oiml1975], [sps4], [crc102]",
      density,
      { 0, 0, 0, 0 },
      0,
      HUGE_VAL },
    { "sg",
      "1",
      "density relative to water at 20 °C, in vacuum",
      "[oiml1975], [sps4], [crc102]",
      sg,
      { 0, 0, 0, 0 },
      0,
      HUGE_VAL },
    { "refractive-index",
      "1",
      "refractive index, 589 nm",
      "[crc102], [icumsa1974]",
      index_of,
      { 0, 0, 0, 0 },
      1,
      HUGE_VAL },
    { "brix",
      "Brix",
      "what a compensating hand refractometer shows at that temperature",
      "[crc102], [icumsa1974]",
      brix,
      { 0, 0, 0, 0 },
      -HUGE_VAL,
      HUGE_VAL },
    { "strength", "% vol", "ethanol by volume at 20 °C", "[oiml1975]", strength, { 0.01, 0, 0.01, 0.0008 }, 0, 100 },
    { "freezing-point",
      "C",
      "where ice begins to form",
      "[melinder2010], [crc102]",
      freezing,
      { 0.4, 0, 3.0, 0 },
      -HUGE_VAL,
      HUGE_VAL },
    { "boiling-point",
      "C",
      "where it begins to boil at 101.325 kPa",
      "[vanlaar_ew], [antoine_ew], [perry_vle]",
      boiling,
      { 0.6, 0, 2.0, 0 },
      -HUGE_VAL,
      HUGE_VAL },
    { "heat-capacity",
      "J/(kg K)",
      "specific heat capacity",
      "[melinder2010]",
      heat,
      { 0, 0.03, 0, 0.05 },
      0,
      HUGE_VAL },
    { "viscosity", "mPa s", "dynamic viscosity", "[crc102]", viscosity, { 0, 0.03, 0, 0.5 }, 0, HUGE_VAL },
    { "flash-point", "C", "closed-cup flash point", "[flash_table]", flash, { 4.0, 0, 6.0, 0 }, -HUGE_VAL, HUGE_VAL },
    { "sucrose-solubility",
      "% mass",
      "sucrose in the saturated solution of this solvent",
      "[browne_sucrose], [schrefeld1894]",
      solubility,
      { 0, 0, 0, 0 },
      0,
      100 },
    { "water-activity",
      "1",
      "activity of water",
      "[norrish1966], [vanlaar_ew]",
      activity,
      { 0.015, 0, 0.03, 0 },
      0,
      1 },
    { "delle-units",
      "Delle units",
      "sugar in g/L over 10, and 4.5 times the strength",
      "[delle_floors]",
      delle,
      { 0.1, 0, 0.3, 0 },
      0,
      HUGE_VAL },
};
enum { PROPERTIES = sizeof PROPERTY / sizeof PROPERTY[0] };

/* Half width of the index's band, turned into Brix by the scale there. */
static double brix_band(const double w[ST_NCOMP], double T, double at)
{
    double dn = 0.0, a = 0.0, b = 0.0;
    if (st_n_mixture_band(w, T, &dn) < 0 || st_n_from_brix(fmin(at, 84.0), &a) < 0 ||
        st_n_from_brix(fmin(at, 84.0) + 1.0, &b) < 0)
        return 0.5;
    return dn / (b - a);
}

static double half_width(const struct property *p, const double w[ST_NCOMP], double T, double x)
{
    double h = 0.0;
    if (p->get == density || p->get == sg) {
        if (st_density_mixture_band(w, T, &h) < 0)
            return 0.0;
        return p->get == sg ? h / 998.201 : h;
    }
    if (p->get == solubility)
        return st_sucrose_solubility_band(w, T, &h) < 0 ? 0.0 : 100.0 * h;
    if (p->get == index_of)
        return st_n_mixture_band(w, T, &h) < 0 ? 0.0 : h;
    if (p->get == brix)
        return brix_band(w, T, x);
    const bool mixed = w[ST_ETHANOL] > 0.0 && st_mixture_sugars(w) > 0.0;
    return (mixed ? p->band.least_mixed : p->band.least) + (mixed ? p->band.share_mixed : p->band.share) * fabs(x);
}

/* Where the range comes from, in words. */
static const char *range_from(const struct property *p, const double w[ST_NCOMP])
{
    const bool mixed = w[ST_ETHANOL] > 0.0 && st_mixture_sugars(w) > 0.0;
    if (p->get == density || p->get == sg || p->get == index_of || p->get == brix)
        return mixed ? "how far two mixing rules differ where nothing was measured"
                     : "how well the fit meets its tables";
    if (p->get == solubility && w[ST_ETHANOL] > 0.0)
        return "our allowance (no source): a table from memory, for 14 °C alone, carried to other temperatures by a rule";
    if (mixed)
        return "our allowance for a mixture that nobody published (no source)";
    return p->get == strength || p->get == delle ? "what the density of the mixture leaves open"
                                                 : "how well the fit meets its tables, widened by us (no source)";
}

/* Why there is no figure, nearer to the question than "no basis". */
static const char *refusal(const struct property *p, const double w[ST_NCOMP], double T, enum st_status s)
{
    if (s != ST_E_REFUSED)
        return st_status_text(s);
    if (p->get == flash)
        return "the table begins at 5 % vol of ethanol; that does not say that weaker liquids cannot burn";
    if (w[ST_ETHANOL] > 0.0 && T > 313.15 && p->get != viscosity)
        return "no published figures for liquids with alcohol above 40 °C";
    if (T < 253.15 || T > 333.15)
        return "no published figures at this temperature";
    return "no published figures for a liquid as strong or as sweet as this";
}

static int list(const struct cli *c)
{
    if (c->json) {
        json_t *all = json_array();
        for (int i = 0; i < PROPERTIES; i++)
            json_array_append_new(all, json_pack("{s:s, s:s, s:s}", "property", PROPERTY[i].name, "unit",
                                                 PROPERTY[i].unit, "what", PROPERTY[i].what));
        return cli_json_print(json_pack("{s:o}", "properties", all));
    }
    for (int i = 0; i < PROPERTIES; i++)
        printf("  %-19s %-10s %s\n", PROPERTY[i].name, PROPERTY[i].unit, PROPERTY[i].what);
    return ST_EXIT_DONE;
}

/* Points where it freezes, boils or takes fire, and what is told at 20 C by definition, have no temperature beside. */
static bool at_any_temperature(const struct property *p)
{
    return p->get == freezing || p->get == boiling || p->get == flash || p->get == strength || p->get == delle;
}

static json_t *temperature(const struct property *p, double T)
{
    return at_any_temperature(p) ? json_null() : json_real(T - 273.15);
}

static const struct property *named(const char *name)
{
    const char *names[PROPERTIES];
    for (int i = 0; i < PROPERTIES; i++) {
        names[i] = PROPERTY[i].name;
        if (strcmp(name, names[i]) == 0)
            return &PROPERTY[i];
    }
    char what[80], try_[120];
    const char *near = st_near_key(name, names, PROPERTIES);
    snprintf(what, sizeof what, "no property '%.40s'", name);
    if (near)
        snprintf(try_, sizeof try_, "did you mean %s?", near);
    cli_error(what, "it is not in the table", near ? try_ : "stillroom property lists them");
    return NULL;
}

static bool mixture(struct cli *c, double w[ST_NCOMP], bool *bad)
{
    static const struct {
        const char *name;
        enum st_component part;
    } OPTION[] = { { "--ethanol", ST_ETHANOL },
                   { "--sucrose", ST_SUCROSE },
                   { "--glucose", ST_GLUCOSE },
                   { "--fructose", ST_FRUCTOSE },
                   { "--citric", ST_ACID } };
    double sum = 0.0;
    for (size_t i = 0; i < sizeof OPTION / sizeof OPTION[0]; i++) {
        cli_option_number(c, OPTION[i].name, 0.0, 1.0, &w[OPTION[i].part], bad);
        sum += w[OPTION[i].part];
    }
    if (!*bad && sum > 1.0 + 1e-9) {
        char what[80];
        snprintf(what, sizeof what, "the parts add up to %.6g", sum);
        cli_error(what, "they are mass fractions of the whole liquid, so no more than 1",
                  "write for example --ethanol 0.3 --sucrose 0.2");
        *bad = true;
    }
    w[ST_WATER] = fmax(0.0, 1.0 - sum);
    return !*bad;
}

static int answer(const struct cli *c, const struct property *p, const double w[ST_NCOMP], double T)
{
    double x = 0.0;
    const enum st_status s = p->get(w, T, &x);
    if (s < 0) {
        if (c->json) {
            const int code =
                cli_json_print(json_pack("{s:s, s:s, s:n, s:n, s:n, s:s, s:s, s:o, s:o}", "property", p->name, "unit",
                                         p->unit, "value", "low", "high", "status", "refused", "why",
                                         refusal(p, w, T, s), "source", st_doc_sources(p->source), "temperature_c",
                                         temperature(p, T)));
            return code != ST_EXIT_DONE ? code : s == ST_E_DOMAIN ? ST_EXIT_INPUT : ST_EXIT_UNMET;
        }
        cli_error(p->name, refusal(p, w, T, s), "`stillroom source KEY` tells what each source covers");
        return s == ST_E_DOMAIN ? ST_EXIT_INPUT : ST_EXIT_UNMET;
    }
    const double h = half_width(p, w, T, x);
    const struct st_interval v = { x, fmax(x - h, p->low), fmin(x + h, p->high), s, true };
    if (c->json) {
        json_t *doc = st_doc_interval(&v);
        json_object_set_new(doc, "property", json_string(p->name));
        json_object_set_new(doc, "unit", json_string(p->unit));
        json_object_set_new(doc, "temperature_c", temperature(p, T));
        json_object_set_new(doc, "source", st_doc_sources(p->source));
        json_object_set_new(doc, "range_from", json_string(range_from(p, w)));
        return cli_json_print(doc);
    }
    char text[160];
    st_figure_words(text, sizeof text, &v, strcmp(p->unit, "1") == 0 ? "" : strcmp(p->unit, "C") == 0 ? "°C" : p->unit);
    printf("%s: %s\n", p->what, text);
    const bool mixed = w[ST_ETHANOL] > 0.0 && st_mixture_sugars(w) > 0.0;
    char at[40] = "";
    if (!at_any_temperature(p))
        snprintf(at, sizeof at, "; at %.4g °C", T - 273.15);
    printf("  %s%s; source %s\n",
           s == ST_OK ? mixed ? "published fits joined by a mixing rule (alcohol and sugar together were not tabulated)"
                              : "inside a published fit"
           : s == ST_ESTIMATED ? "estimated: no published data for this mixture"
                               : "extrapolated: outside the range of the fit",
           at, p->source);
    cli_say(2, 2, "the range: %s", range_from(p, w));
    return ST_EXIT_DONE;
}

int cmd_property(struct cli *c)
{
    static const char *const known[] = { "--ethanol", "--sucrose",     "--glucose", "--fructose",
                                         "--citric",  "--temperature", "--list",    NULL };
    double w[ST_NCOMP] = { 0 }, T = ST_T20;
    bool bad = false;

    const bool listed = cli_flag(c, "--list");
    mixture(c, w, &bad);
    cli_option_temperature(c, "--temperature", &T, &bad);
    if (bad || !cli_no_more_options(c, known))
        return ST_EXIT_INPUT;
    if (c->argc == 0 || listed)
        return list(c);
    if (c->argc > 1) {
        cli_error("more than one property", "one is answered at a time", "name one; stillroom property lists them");
        return ST_EXIT_INPUT;
    }
    const struct property *p = named(c->argv[0]);
    return p ? answer(c, p, w, T) : ST_EXIT_INPUT;
}
