/* What a drink may be called, in sentences. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "label_list.h"

static const struct {
    const char *what, *unit;
    int decimals;
} FIGURE[ST_NCLASS_FIGURE] = {
    [ST_CLASS_STRENGTH] = { "strength", "% vol", 1 },
    [ST_CLASS_INVERT] = { "sugar, as invert", "g/L", 0 },
    [ST_CLASS_MOST_INVERT] = { "sugar, as invert", "g/L", 0 },
    [ST_CLASS_MASS_PCT] = { "sugar", "% by weight", 1 },
    [ST_CLASS_YOLK] = { "egg yolk", "g/L", 0 },
};

/* Rounded up, so that what is said suffices. */
static double up(double x, int decimals)
{
    const double by = pow(10.0, decimals);
    return ceil(x * by - 1e-6) / by;
}

/* "4 g/L more sugar, as invert (3.8 g/L of table sugar)" */
static void say_lack(char *buf, size_t size, const struct st_class_gap *g, double lacks)
{
    const int d = FIGURE[g->of].decimals;
    char sucrose[60] = "";
    if (g->of == ST_CLASS_INVERT)
        (void)snprintf(sucrose, sizeof sucrose, " (%.1f g/L of table sugar)",
                       up(up(lacks, d) / ST_INVERT_OF_SUCROSE, 1));
    if (g->of == ST_CLASS_STRENGTH || g->of == ST_CLASS_MASS_PCT)
        (void)snprintf(buf, size, "%.*f %s more%s", d, up(lacks, d), FIGURE[g->of].unit,
                       g->of == ST_CLASS_MASS_PCT ? " sugar" : "");
    else
        (void)snprintf(buf, size, "%.*f %s %s %s%s", d, up(lacks, d), FIGURE[g->of].unit,
                       g->of == ST_CLASS_MOST_INVERT ? "less" : "more", FIGURE[g->of].what, sucrose);
}

/* All that is short of the limits, joined by "and"; sure: at the unlucky end too.  False when a figure is not known. */
static bool say_lacks(char *buf, size_t size, const struct st_class_verdict *v, bool sure)
{
    char one[140];
    buf[0] = '\0';
    for (int i = 0; i < v->n_gap; i++) {
        const struct st_class_gap *g = &v->gap[i];
        const double lacks = sure ? g->lacks_sure : g->lacks;
        if (!g->is.known)
            return false;
        if (!(lacks > 0.0))
            continue;
        say_lack(one, sizeof one, g, lacks);
        const size_t used = strlen(buf);
        (void)snprintf(buf + used, size - used, "%s%s", used ? " and " : "", one);
    }
    return true;
}

/* "asked: strength 15 % vol or more, foretold 24.1 (22.8 to 25.3)" */
static void say_figures(struct st_label_fact *f, const struct st_class_verdict *v)
{
    char is[64];
    for (int i = 0; i < v->n_gap; i++) {
        const struct st_class_gap *g = &v->gap[i];
        const int d = FIGURE[g->of].decimals;
        st_label_because(f, "%s%s %s %.*f %s, foretold %s", i ? "; " : "", FIGURE[g->of].what,
                         g->of == ST_CLASS_MOST_INVERT ? "at most" : "at least", g->of == ST_CLASS_MASS_PCT ? 1 : 0,
                         g->limit, FIGURE[g->of].unit, st_label_interval(&g->is, d, is));
    }
}

static void say_rest(struct st_label_fact *f, const struct st_class_verdict *v)
{
    const struct st_class_row *r = v->row;
    const char *before = v->n_gap ? "; " : "";
    if (v->base == ST_UNDECIDED)
        st_label_because(f,
                         "%spart of the alcohol comes from wine, beer or the like, and which law then counts is not "
                         "known here",
                         before);
    else if (v->needs == ST_UNDECIDED)
        st_label_because(f, "%swhether what went in fits cannot be told from the recipe: %s", before, r->says);
    if (r->ask[0])
        st_label_because(f, "%snot judged here: %s", f && f->because[0] ? "; " : "", r->ask);
    if (r->note[0])
        st_label_because(f, "%s%s", f && f->because[0] ? "; " : "", r->note);
    if (r->mark == 'm' && v->n_gap > 0)
        st_label_because(f, "%sunverified figures, from memory", f && f->because[0] ? "; " : "");
}

static struct st_label_fact *undecided(const struct st_class_verdict *v, struct st_label_facts *out)
{
    char lacks[300];
    const char *place = st_label_place(v->row->places);
    if (v->figures == ST_UNDECIDED && say_lacks(lacks, sizeof lacks, v, true) && lacks[0])
        return st_label_add(out, "class",
                            "%s in %s: undecided; with %s it is, whatever end of the range it comes out at%s",
                            v->row->name, place, lacks, v->needs == ST_UNDECIDED ? ", if what went in fits" : "");
    return st_label_add(out, "class", "%s in %s: undecided", v->row->name, place);
}

static struct st_label_fact *head(const struct st_class_verdict *v, struct st_label_facts *out)
{
    char lacks[300];
    const struct st_class_row *r = v->row;
    const char *place = st_label_place(r->places);
    if (v->truth == ST_YES)
        return st_label_add(out, "class", "it may be called %s in %s", r->name, place);
    if (v->truth == ST_UNDECIDED)
        return undecided(v, out);
    (void)say_lacks(lacks, sizeof lacks, v, false);
    return st_label_add(out, "class", "not %s in %s: %s%s", r->name, place, lacks[0] ? lacks : "a figure is not known",
                        lacks[0] && !r->ask[0] && v->needs == ST_YES && v->base == ST_YES ? ", and it is" : "");
}

/* ---- what is near ---- */

/* So little is lacking, as foretold, that a maker may want to change it: policy, no source. */
static const double NEAR[ST_NCLASS_FIGURE] = { [ST_CLASS_STRENGTH] = 5.0,
                                               [ST_CLASS_INVERT] = 60.0,
                                               [ST_CLASS_MOST_INVERT] = 60.0,
                                               [ST_CLASS_MASS_PCT] = 5.0,
                                               [ST_CLASS_YOLK] = 40.0 };

/* Of spirit whose making the recipe does not tell ("fruit brandy" for kirsch) nobody knows either; any bottle might be it. */
static bool base_unknown(const struct st_class_verdict *v)
{
    for (int i = 0; i < v->row->n_need; i++)
        if (v->row->need[i].kind == ST_NEED_BASE && v->need[i] == ST_UNDECIDED)
            return true;
    return false;
}

static bool is_far(const struct st_class_verdict *v)
{
    for (int i = 0; v->truth == ST_NO && i < v->n_gap; i++)
        if (v->gap[i].lacks > NEAR[v->gap[i].of])
            return true;
    return base_unknown(v);
}

/* ---- where no name can be told, that is said once ---- */

static bool is_collected(const struct st_class_row *r)
{
    return r->n_need > 0 || !r->ask[0] || isfinite(r->strength) || isfinite(r->invert) || isfinite(r->most_invert) ||
           isfinite(r->mass_pct) || isfinite(r->yolk);
}

/* Places of which nothing was collected, all in one. */
static void not_collected(const struct st_class_verdict v[], int n, struct st_label_facts *out)
{
    const struct st_class_row *first = NULL;
    char names[160] = "";
    int k = 0;
    for (int i = 0; i < n; i++)
        if (!is_collected(v[i].row)) {
            const size_t used = strlen(names);
            first = first ? first : v[i].row;
            (void)snprintf(names + used, sizeof names - used, "%s%s", k++ ? ", " : "",
                           st_label_place(v[i].row->places));
        }
    if (!first)
        return;
    struct st_label_fact *f =
        k == 1 ? st_label_add(out, "class", "%s: %s", names, first->says)
               : st_label_add(out, "class",
                              "%s: which names the laws of these places keep is not known here: ask the food office "
                              "there",
                              names);
    if (f)
        f->truth = ST_UNDECIDED;
    st_label_rule(f, "", "", 0, first->source, first->mark);
}

static void limits_of_knowledge(const struct st_class_verdict v[], int n, const struct st_class_facts *facts,
                                struct st_label_facts *out)
{
    unsigned places = 0;
    for (int i = 0; i < n; i++)
        places |= v[i].row->places;
    const enum st_truth base = st_class_base(facts->recipe);
    struct st_label_fact *f = NULL;
    if (base == ST_NO) {
        f = st_label_add(out, "class", "no spirit went in: it is none of the drinks told of here");
        st_label_because(f,
                         "drinks of wine, beer or no alcohol have laws of their own (in the EU Regulation 251/2014 for "
                         "flavoured wine), whose names are not known here");
    } else if ((places & ST_PLACE_EU) && facts->strength.known && facts->strength.high < 15.0) {
        f = st_label_add(out, "class", "below 15 %% vol it is no spirit drink in the EU, egg liqueur apart");
        st_label_because(f, "what else it may be called is not known here; ask the food office");
    }
    if (f) {
        f->truth = ST_UNDECIDED;
        st_label_rule(f, "Regulation (EU) 2019/787", "Art. 2", 2019, "[eu_2019_787]", 'r');
    }
}

void st_label_classes(const struct st_class_verdict v[], int n, const struct st_class_facts *facts,
                      struct st_label_facts *out)
{
    for (int i = 0; i < n; i++) {
        if (v[i].base == ST_NO || v[i].needs == ST_NO || !is_collected(v[i].row))
            continue; /* another drink: no figure makes one of it */
        struct st_label_fact *f = head(&v[i], out);
        if (!f)
            return;
        f->truth = v[i].truth;
        f->far = is_far(&v[i]);
        say_figures(f, &v[i]);
        say_rest(f, &v[i]);
        st_label_rule(f, v[i].row->document, v[i].row->article, v[i].row->year, v[i].row->source, v[i].row->mark);
    }
    not_collected(v, n, out);
    limits_of_knowledge(v, n, facts, out);
}

/* ---- strength on the label ---- */

static const struct tolerance {
    double points;
    const char *document, *article, *source;
    unsigned place;
    int year;
    bool pieces; /* only with fruit or parts of plants in the bottle */
    char mark;
} TOLERANCE[] = {
    { 0.3, "Regulation (EU) No 1169/2011", "Annex XII(4)", "[eu_1169_2011]", ST_PLACE_EU, 2011, false, 'r' },
    { 1.5, "Regulation (EU) No 1169/2011", "Annex XII(3)", "[eu_1169_2011]", ST_PLACE_EU, 2011, true, 'r' },
    { 0.3, "27 CFR 5.65", "", "[cfr27_5]", ST_PLACE_US, 2020, false, 'r' },
};

static void one_tolerance(const struct tolerance *t, const struct st_interval *q, struct st_label_facts *out)
{
    char is[64];
    const double half = q->known ? fmax(q->high - q->value, q->value - q->low) : (double)NAN;
    const bool wide = !(half <= t->points);
    struct st_label_fact *f = st_label_add(out, "tolerance", "strength on a label in %s: right within %.1f %% vol",
                                           st_label_place(t->place), t->points);
    if (f)
        f->truth = !q->known || wide ? ST_UNDECIDED : ST_YES;
    st_label_because(f, "foretold %s%s", st_label_interval(q, 1, is),
                     !q->known ? ": measure before you print"
                     : wide    ? ": wider than the label allows; measure before you print"
                               : " % vol: inside what the label allows, if the recipe is followed");
    if (t->place == ST_PLACE_EU)
        st_label_because(f, "; told at 20 °C, with one decimal at most");
    if (t->place == ST_PLACE_EU && !t->pieces)
        st_label_because(
            f, "; 1.5 %% vol are allowed only with fruit or parts of plants in the bottle, not for what was strained");
    if (t->pieces)
        st_label_because(f, "; because fruit or parts of plants lie in the bottle");
    st_label_rule(f, t->document, t->article, t->year, t->source, t->mark);
}

void st_label_tolerance(const struct st_interval *strength, bool pieces, unsigned places, struct st_label_facts *out)
{
    for (size_t i = 0; i < sizeof TOLERANCE / sizeof TOLERANCE[0]; i++) {
        const struct tolerance *t = &TOLERANCE[i];
        if ((t->place & places) && (t->place != ST_PLACE_EU || t->pieces == pieces))
            one_tolerance(t, strength, out);
    }
}
