#include "doc_gauge.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/keeping.h"

static bool refuse(struct st_problem *p, const char *what, const char *why, const char *try_)
{
    *p = (struct st_problem){ .at = { 0, 0 } };
    snprintf(p->what, sizeof p->what, "%s", what);
    snprintf(p->why, sizeof p->why, "%s", why);
    snprintf(p->try_, sizeof p->try_, "%s", try_);
    return false;
}

/* How a reading is called: sg_boiled on a page, --sg-boiled on a command line. */
static const char *called(const char *sign, const char *name, char buf[24])
{
    snprintf(buf, 24, "%s%s", sign, name);
    for (char *c = buf; *sign && *c; c++)
        if (*c == '_')
            *c = '-';
    return buf;
}

static bool refuse_two(struct st_problem *p, const char *sign, const char *a, const char *b, const char *why,
                       const char *try_)
{
    char what[80], x[24], y[24];
    snprintf(what, sizeof what, "%s and %s", called(sign, a, x), called(sign, b, y));
    return refuse(p, what, why, try_);
}

static bool too_few(struct st_problem *p, const char *sign)
{
    char try_[200], sg[24], flask[24], brix[24], boiled[24], strength[24], sugar[24];
    snprintf(try_, sizeof try_, "give two of %s (or %s), %s, %s, %s, %s", called(sign, "sg", sg),
             called(sign, *sign ? "flask" : "flask_ml and flask_g", flask), called(sign, "brix", brix),
             called(sign, "sg_boiled", boiled), called(sign, *sign ? "strength" : "strength_pct_vol", strength),
             called(sign, *sign ? "sugar" : "sugar_g_l", sugar));
    return refuse(p, "one reading is not enough",
                  "alcohol makes a liquid lighter and sugar makes it heavier, so one reading fits many drinks", try_);
}

static bool no_first_reading(struct st_problem *p, const char *sign)
{
    char what[24], sg[24], try_[60];
    snprintf(try_, sizeof try_, "give %s too", called(sign, "sg", sg));
    return refuse(p, called(sign, "sg_boiled", what), "the reading before boiling is needed beside it", try_);
}

/* The density and one thing more, or the index and what is known. */
static enum st_gauge_mode mode_of(const struct st_gauge_given *g)
{
    if (g->boiled)
        return ST_GAUGE_DENSITY_BOILED;
    if (!g->sg && !g->flask)
        return g->strength ? ST_GAUGE_BRIX_STRENGTH : ST_GAUGE_BRIX_SUGAR;
    return g->brix ? ST_GAUGE_DENSITY_BRIX : g->strength ? ST_GAUGE_DENSITY_STRENGTH : ST_GAUGE_DENSITY_SUGAR;
}

bool st_gauge_choose(const struct st_gauge_given *g, const char *sign, enum st_gauge_mode *mode,
                     struct st_problem *problem)
{
    const bool density = g->sg || g->flask;
    const int n = density + g->brix + g->boiled + g->strength + g->sugar;

    if (g->sg && g->flask)
        return refuse_two(problem, sign, "sg", *sign ? "flask" : "flask_ml", "both tell the density",
                          "give one of them");
    if (n < 2)
        return too_few(problem, sign);
    if (n > 2)
        return refuse(problem, "more than two figures are given",
                      "two settle strength and sugar; a third would have to be weighed against them",
                      "give the two that are surest");
    if (g->strength && g->sugar)
        return refuse_two(problem, sign, *sign ? "strength" : "strength_pct_vol", *sign ? "sugar" : "sugar_g_l",
                          "nothing is left to find",
                          *sign ? "give a reading and one of them; `stillroom mix` works forwards"
                                : "give a reading and one of them; /api/mix works forwards");
    if (g->boiled && !density)
        return no_first_reading(problem, sign);
    *mode = mode_of(g);
    return true;
}

const char *st_gauge_assumed(const struct st_gauge_given *g)
{
    const bool open = ((g->sg || g->flask) && !g->sg_T) || (g->brix && !g->brix_T) || (g->boiled && !g->boiled_T);
    return open && !g->all_T ? "no temperature was said, so it is taken as 20 \xc2\xb0"
                               "C"
                             : "";
}

void st_gauge_impossible(const struct st_gauge_out *out, enum st_status s, const char *sign, struct st_problem *problem)
{
    char why[240];
    const char *try_ = out->reason == ST_GAUGE_BAD_INPUT
                           ? (*sign ? "readings are taken between -20 and 39 \xc2\xb0"
                                      "C; for Fahrenheit write the letter, as in --temperature 68F"
                                    : "readings are taken between -20 and 39 \xc2\xb0"
                                      "C; for Fahrenheit, convert first")
                           : "measure again: stir and strain the sample clear, let it come to 20 \xc2\xb0"
                             "C, rinse and zero the instruments with water";
    if (s == ST_E_REFUSED)
        snprintf(why, sizeof why, "%s (only %.1f %% vol and %.0f g/L would fit)", st_gauge_reason_text(out->reason),
                 out->strength, out->sugar_g_l);
    else
        snprintf(why, sizeof why, "%s", st_gauge_reason_text(out->reason));
    refuse(problem, "these readings do not belong to one liquid", why, try_);
}

/* ---- the document ---- */

static const char *mode_text(enum st_gauge_mode m)
{
    switch (m) {
    case ST_GAUGE_DENSITY_BRIX: return "density and refractometer";
    case ST_GAUGE_DENSITY_STRENGTH: return "density, strength known";
    case ST_GAUGE_DENSITY_SUGAR: return "density, sugar known";
    case ST_GAUGE_BRIX_STRENGTH: return "refractometer, strength known";
    case ST_GAUGE_BRIX_SUGAR: return "refractometer, sugar known";
    case ST_GAUGE_DENSITY_BOILED: return "density before and after boiling off the alcohol";
    }
    return "";
}

/* By the lower end of the range: a reading that may be weak is treated as weak, in softer words. */
void st_gauge_cautions(const struct st_gauge_out *out, struct st_cautions *list)
{
    list->n = 0;
    const struct st_floor_row *shelf = st_floor_get(ST_FLOOR_SHELF), *cold = st_floor_get(ST_FLOOR_COLD);
    if (out->strength_low >= shelf->limit)
        return;
    const bool perishable = out->strength < cold->limit, weak = out->strength < shelf->limit - 1e-9;
    struct st_caution *k = &list->item[list->n++];
    memset(k, 0, sizeof *k);
    k->level = weak ? ST_LEVEL_CAUTION : ST_LEVEL_NOTE;
    k->code = "weak_bottle";
    k->source = shelf->source;
    k->step = k->line = -1;
    snprintf(k->what, sizeof k->what, "%s (%.1f %% vol)",
             perishable ? "treat it as perishable: in the refrigerator, for days"
             : weak     ? "keep it in the refrigerator"
                        : "it may be too weak to keep on a shelf",
             out->strength);
    snprintf(k->because, sizeof k->because,
             "below %.0f %% vol strength alone is not counted on to keep a drink; with its sugar it has "
             "%.0f Delle units, and yeast was stopped from 75 to 85 on [delle_floors]",
             perishable ? cold->limit : shelf->limit, out->sugar_g_l / 10.0 + 4.5 * out->strength);
}

json_t *st_doc_gauge(enum st_gauge_mode mode, const struct st_gauge_out *out, enum st_status s,
                     const struct st_cautions *cautions)
{
    const struct st_interval q = { out->strength, out->strength_low, out->strength_high, s, true },
                             g = { out->sugar_g_l, out->sugar_low, out->sugar_high, s, true };
    const double invert = 1.052632;
    const struct st_interval i = { g.value * invert, g.low * invert, g.high * invert, s, true };
    json_t *doc = json_object();

    json_object_set_new(doc, "strength_pct_vol", st_doc_interval(&q));
    json_object_set_new(doc, "sugar_g_l", st_doc_interval(&g));
    json_object_set_new(doc, "sugar_invert_g_l", st_doc_interval(&i));
    json_object_set_new(doc, "method", json_string(mode_text(mode)));
    json_object_set_new(doc, "condition", json_real(out->condition));
    json_object_set_new(doc, "density_kg_m3", json_real(out->density_20));
    json_object_set_new(doc, "source", st_doc_sources("[oiml1975], [sps4], [crc102], [rogerson2006]"));
    json_object_set_new(doc, "strength_systematic_pct_vol", json_real(out->strength_systematic));
    json_object_set_new(doc, "cautions", st_doc_cautions(cautions));
    return doc;
}

json_t *st_doc_gauge_refused(const struct st_problem *problem)
{
    json_t *doc = json_object();
    json_object_set_new(doc, "strength_pct_vol", json_null());
    json_object_set_new(doc, "sugar_g_l", json_null());
    json_object_set_new(doc, "cautions", json_array());
    json_object_set_new(doc, "status", json_string("refused"));
    json_object_set_new(doc, "why", st_doc_text(problem->why));
    json_object_set_new(doc, "try", st_doc_text(problem->try_));
    return doc;
}
