#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "doc_gauge.h"
#include "inside.h"
#include "text/figure_words.h"
#include "util/memory.h"

/* Strength and sugar from two readings. */

static const char *const KNOWN[] = { "sg",
                                     "brix",
                                     "temperature_c",
                                     "sg_temperature_c",
                                     "brix_temperature_c",
                                     "sg_boiled_temperature_c",
                                     "hydrometer",
                                     "atc",
                                     "sg_step",
                                     "brix_step",
                                     "flask_ml",
                                     "flask_g",
                                     "sg_boiled",
                                     "strength_pct_vol",
                                     "sugar_g_l",
                                     "acid_g_l",
                                     "holds",
                                     NULL };

static bool number(struct st_call *c, const char *name, double low, double high, double *x)
{
    return st_call_number(c, c->in, "", name, low, high, x);
}

/* A number, and whether it is there. */
static bool reading(struct st_call *c, const char *name, double low, double high, double *x, bool *there)
{
    double y = (double)NAN;
    if (!number(c, name, low, high, &y))
        return false;
    *there = !isnan(y);
    if (*there)
        *x = y;
    return true;
}

static bool read_temperatures(struct st_call *c, struct st_gauge_in *in, struct st_gauge_given *g)
{
    double all = 20.0, sg, brix, boiled;
    if (!reading(c, "temperature_c", -100.0, 200.0, &all, &g->all_T))
        return false;
    sg = brix = boiled = all;
    if (!reading(c, "sg_temperature_c", -100.0, 200.0, &sg, &g->sg_T) ||
        !reading(c, "brix_temperature_c", -100.0, 200.0, &brix, &g->brix_T) ||
        !reading(c, "sg_boiled_temperature_c", -100.0, 200.0, &boiled, &g->boiled_T))
        return false;
    in->sg_T = sg + 273.15;
    in->brix_T = brix + 273.15;
    in->sg_boiled_T = boiled + 273.15;
    return true;
}

static bool read_flask(struct st_call *c, struct st_gauge_in *in, bool *there)
{
    double ml = 0.0, g = 0.0;
    if (!number(c, "flask_ml", 0.1, 1e5, &ml) || !number(c, "flask_g", 0.1, 1e5, &g))
        return false;
    if ((ml > 0.0) != (g > 0.0))
        return st_call_refuse(c, 422, ml > 0.0 ? "flask_g" : "flask_ml", "half a flask is not enough",
                              "its volume and the weight of what is in it make one reading",
                              "send \"flask_ml\" and \"flask_g\"");
    *there = in->by_flask = ml > 0.0;
    in->flask_m3 = 1e-6 * ml;
    in->flask_kg = 1e-3 * g;
    return true;
}

static bool read_hydrometer(struct st_call *c, struct st_gauge_in *in)
{
    const char *scale = "20C";
    bool atc = true;
    if (!st_call_text(c, c->in, "", "hydrometer", ST_TEXT_WORD, &scale) || !st_call_flag(c, c->in, "", "atc", &atc))
        return false;
    if (strcmp(scale, "20C") != 0 && strcmp(scale, "60F") != 0)
        return st_call_refuse(c, 422, "hydrometer", "there is no such hydrometer",
                              "they are marked for 20 \xc2\xb0"
                              "C or 60 \xc2\xb0"
                              "F",
                              "write \"20C\" or \"60F\"");
    in->sg_cal = *scale == '6' ? ST_HYDROMETER_60F : ST_HYDROMETER_20C;
    in->no_atc = !atc;
    return true;
}

static bool read_all(struct st_call *c, struct st_gauge_in *in, struct st_gauge_given *given)
{
    struct st_gauge_given g = { 0 };
    struct st_problem problem;

    if (!st_call_known(c, c->in, "", KNOWN) || !reading(c, "sg", 0.7, 1.7, &in->sg, &g.sg) ||
        !reading(c, "brix", -5.0, 85.0, &in->brix, &g.brix) ||
        !reading(c, "sg_boiled", 0.7, 1.7, &in->sg_boiled, &g.boiled) ||
        !reading(c, "strength_pct_vol", 0.0, 100.0, &in->strength, &g.strength) ||
        !reading(c, "sugar_g_l", 0.0, 1000.0, &in->sugar_g_l, &g.sugar) ||
        !number(c, "acid_g_l", 0.0, 200.0, &in->acid_g_l) || !number(c, "sg_step", 1e-5, 0.1, &in->sg_step) ||
        !number(c, "brix_step", 1e-3, 5.0, &in->brix_step) || !read_temperatures(c, in, &g) ||
        !read_flask(c, in, &g.flask) || !read_hydrometer(c, in))
        return false;
    if (!st_gauge_choose(&g, "", &in->mode, &problem)) {
        st_call_problem(c, "request", &problem);
        return false;
    }
    if (g.strength)
        in->strength_u = 0.15; /* a label's 0.3 % vol, [eu_1169_2011] annex XII, as 95 % */
    if (g.sugar)
        in->sugar_u = 0.005 * in->sugar_g_l;
    *given = g;
    return true;
}

/* ---- the answer ---- */

static json_t *words(const struct st_gauge_out *out, enum st_status s)
{
    const struct st_interval q = { out->strength, out->strength_low, out->strength_high, s, true },
                             g = { out->sugar_g_l, out->sugar_low, out->sugar_high, s, true };
    char strength[160], sugar[160];
    json_t *o = json_object();
    st_figure_words(strength, sizeof strength, &q, "% vol");
    st_figure_words(sugar, sizeof sugar, &g, "g/L");
    json_object_set_new(o, "strength", st_doc_text(strength));
    json_object_set_new(o, "sugar", st_doc_text(sugar));
    return o;
}

static void again(struct st_call *c, const struct st_problem *p)
{
    c->out = st_doc_gauge_refused(p);
    json_object_set_new(c->out, "words", json_object());
    json_object_set_new(c->out, "verdict", json_string("again"));
    json_object_set_new(c->out, "because", st_doc_text(p->why));
}

static void found(struct st_call *c, enum st_gauge_mode mode, const struct st_gauge_out *out, enum st_status s)
{
    struct st_cautions *cautions = x_calloc(1, sizeof *cautions);
    st_gauge_cautions(out, cautions);
    c->out = st_doc_gauge(mode, out, s, cautions);
    json_object_set_new(c->out, "sources", st_gauge_sources(c->out, cautions));
    free(cautions);
    json_object_set_new(c->out, "words", words(out, s));
    json_object_set_new(c->out, "verdict", json_string("ok"));
    json_object_set_new(c->out, "because",
                        json_string(s == ST_EXTRAPOLATED
                                        ? "outside what the method was tried for (0 to 60 % vol, 0 to 500 g/L, "
                                          "readings at 10 to 30 \xc2\xb0"
                                          "C): take it as a guess"
                                        : ""));
}

/* Pulp, cream and egg bend light and hold a hydrometer up. */
static bool is_clear(struct st_call *c, const char *holds)
{
    struct st_problem p = { .what = "", .why = "neither instrument reads alcohol and sugar through it" };
    const bool pulp = strcmp(holds, "pulp") == 0;
    if (!*holds)
        return true;
    if (!pulp && strcmp(holds, "cream") != 0 && strcmp(holds, "egg") != 0)
        return st_call_refuse(c, 422, "holds", "it knows pulp, cream and egg",
                              "these hide what an instrument would read", "write \"pulp\", or leave it out");
    snprintf(p.try_, sizeof p.try_, "%s",
             pulp ? "strain a spoonful clear first, through a coffee filter" : "measure before it goes in");
    again(c, &p);
    return false;
}

void st_route_gauge(struct st_call *c)
{
    struct st_gauge_in in = { 0 };
    struct st_gauge_out out = { 0 };
    struct st_gauge_given given = { 0 };
    const char *holds = "";

    if (!st_call_text(c, c->in, "", "holds", ST_TEXT_WORD, &holds) || !is_clear(c, holds) || !read_all(c, &in, &given))
        return;
    const enum st_status s = st_gauge(&in, &out);
    if (s >= 0) {
        found(c, in.mode, &out, s);
    } else {
        struct st_problem problem;
        st_gauge_impossible(&out, s, "", &problem);
        again(c, &problem);
    }
    json_object_set_new(c->out, "assumed", st_doc_text(st_gauge_assumed(&given)));
}
