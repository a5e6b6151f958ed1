#include "label_told.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "advice.h"
#include "caution_words.h"
#include "label_list.h"
#include "stops.h"

/* ---- what stops it ---- */

static const struct st_caution *first_stop(const struct st_cautions *c)
{
    for (int i = 0; i < c->n; i++)
        if (c->item[i].level == ST_LEVEL_STOP)
            return &c->item[i];
    return NULL;
}

static bool stopped(const struct st_recipe *r, const struct st_cautions *c, struct st_label_facts *out)
{
    const struct st_ingredient *what = st_recipe_stop(r);
    const struct st_caution *stop = first_stop(c);
    char heading[sizeof stop->what];
    if (!what && !stop)
        return false;
    struct st_label_fact *f =
        st_label_add(out, "stop", "this is not a drink to make or to offer: it has no name here, and no label");
    f->truth = ST_NO;
    f->source = "from memory";
    f->mark = 'm';
    if (what)
        st_label_because(f, "%s must not go into a drink", what->name);
    else
        st_label_because(f, "%s", st_caution_heading(stop, heading, sizeof heading));
    if (stop) {
        f->source = stop->source;
        f->mark = stop->source[0] == '[' ? 'r' : 'm';
        f->step = stop->step;
        f->line = stop->line;
    }
    return true;
}

/* ---- parts that need something put together ---- */

/* NAN unless every carrier of it has a figure. */
static double most_mg_l(const struct st_ledger *l, const char *toxicant)
{
    for (int i = 0; l && !l->cut && i < l->n_entry; i++)
        if (strcmp(l->entry[i].toxicant->slug, toxicant) == 0)
            return l->entry[i].n_unknown ? (double)NAN : l->entry[i].high_mg_l;
    return (double)NAN;
}

static bool holds_pieces(const struct st_foretold *f)
{
    for (int i = 0; f && i < f->n_note; i++)
        if (f->note[i].code == ST_NOTE_NOT_STRAINED)
            return true;
    return false;
}

static void classes(const struct st_label_books *b, const struct st_recipe *r, const struct st_foretold *f,
                    unsigned places, struct st_label_facts *out)
{
    struct st_class_facts facts;
    struct st_class_verdict v[ST_MAX_CLASSES];
    st_class_facts_of(r, f, &facts);
    st_label_classes(v, st_classes_judge(b->classes, &facts, places, v, ST_MAX_CLASSES), &facts, out);
}

static void alcohol_and_energy(const struct st_label_books *b, const struct st_foretold *f, const struct st_watch *w,
                               struct st_label_facts *out)
{
    static const struct st_interval not_known = { .known = false };
    const double bottle = f && f->bottle_ml > 0.0 ? f->bottle_ml : 0.0;
    if (f)
        st_label_energy(f, w->who.serving_ml, bottle, out);
    else
        st_label_because(st_label_add(out, "energy", "energy: not known"), "nothing could be foretold of this recipe");
    st_label_drinks(b->drinks, NULL, w->place->places, f ? &f->fig[ST_FIG_STRENGTH] : &not_known, w->who.serving_ml,
                    bottle, out);
}

/* [cfr27_16]: from 0.5 % vol on, where it is sold */
static void warning(unsigned places, const struct st_interval *strength, struct st_label_facts *out)
{
    if (!(places & ST_PLACE_US) || (strength->known && strength->high < 0.5))
        return;
    struct st_label_fact *f = st_label_add(out, "usual", "Sold in the US, its label carries the government's health warning");
    st_label_because(f, "asked of every drink that is sold with 0.5 %% vol or more; its wording is fixed: look it up");
    if (f) {
        snprintf(f->rule, sizeof f->rule, "27 CFR part 16, 2022");
        f->source = "[cfr27_16]";
        f->mark = 'r';
    }
}

static void usual(const struct st_cautions *c, struct st_label_facts *out)
{
    for (int i = 0; i < c->n; i++)
        if (strcmp(c->item[i].code, "alcohol") == 0) {
            struct st_label_fact *f = st_label_add(out, "usual", "%s", c->item[i].what);
            st_label_because(f, "%s", c->item[i].because);
            if (f) {
                f->source = c->item[i].source;
                f->mark = 'm';
            }
            return;
        }
}

void st_label_told(const struct st_label_books *b, const struct st_recipe *r, const struct st_foretold *f,
                   const struct st_ledger *l, const struct st_watch *w, const struct st_cautions *c,
                   struct st_label_facts *out)
{
    static const struct st_interval not_known = { .known = false };
    const struct st_interval *strength = f ? &f->fig[ST_FIG_STRENGTH] : &not_known;
    struct st_allergens_in in;
    struct st_sulphites so2;
    struct st_animals animals;
    const double named[ST_NNAMED] = { [ST_NAMED_QUININE] = most_mg_l(l, "quinine"),
                                      [ST_NAMED_CAFFEINE] = most_mg_l(l, "caffeine"),
                                      [ST_NAMED_LIQUORICE] = most_mg_l(l, "glycyrrhizic_acid") };
    out->n = 0;
    out->cut = false;
    if (stopped(r, c, out))
        return;
    classes(b, r, f, w->place->places, out);
    st_label_tolerance(strength, holds_pieces(f), w->place->places, out);
    st_allergens_find(r, b->allergens, b->agents, w->place->places, &in);
    st_label_allergens(r, &in, out);
    st_sulphites_find(r, f ? &f->fig[ST_FIG_VOLUME] : &not_known, &so2);
    st_label_sulphites(r, &so2, out);
    alcohol_and_energy(b, f, w, out);
    st_label_made_of(r, out);
    st_label_named(r, named, strength, out);
    st_animals_find(r, b->agents, &animals);
    st_label_animals(r, &animals, out);
    warning(w->place->places, strength, out);
    usual(c, out);
}

/* ---- words around them ---- */

const char *st_label_heading(const char *code)
{
    static const struct {
        const char *code, *words;
    } HEADING[] = {
        { "stop", "No label" },
        { "class", "What it may be called" },
        { "tolerance", "Strength on a label" },
        { "allergen", "Allergens in it" },
        { "precaution", "Precautionary words, kept apart from these" },
        { "sulphites", "Sulphites" },
        { "energy", "Energy" },
        { "drinks", "Alcohol, and standard drinks" },
        { "made_of", "Made of, by falling weight" },
        { "named", "To be named" },
        { "diet", "For vegans and vegetarians" },
        { "usual", "Usual cautions" },
    };
    for (size_t i = 0; i < sizeof HEADING / sizeof *HEADING; i++)
        if (strcmp(HEADING[i].code, code) == 0)
            return HEADING[i].words;
    return "";
}

const char *st_label_source(const struct st_label_fact *f, char *buf, size_t size)
{
    const char *s = f->source ? f->source : "", *mark = "", *gap = f->rule[0] && *s ? " " : "";
    if (f->mark == 's')
        mark = " (read in a secondary source)";
    else if (f->mark == 'm' && !strstr(s, "no source"))
        mark = " (unverified figure)";
    if (strcmp(s, "from memory") == 0)
        (void)snprintf(buf, size, "%s%s(unverified, from memory)", f->rule, gap);
    else if (strchr(s, ' '))
        (void)snprintf(buf, size, "%s%s(%s)%s", f->rule, gap, s, mark);
    else
        (void)snprintf(buf, size, *s && *s != '[' ? "%s%s[%s]%s" : "%s%s%s%s", f->rule, gap, s, mark);
    return buf;
}

const char *st_guest_is_words(enum st_guest_is is)
{
    static const char *const WORD[ST_NGUEST_IS] = { [ST_GUEST_ASK_BACK] = "asked back",
                                                    [ST_GUEST_UNKNOWN] = "unknown",
                                                    [ST_GUEST_NOT_LISTED] = "not listed",
                                                    [ST_GUEST_MAY_BE] = "may be in it",
                                                    [ST_GUEST_IN] = "in it" };
    return (unsigned)is < ST_NGUEST_IS ? WORD[is] : "";
}
