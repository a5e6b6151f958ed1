/* Energy, alcohol and standard drinks, in sentences. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "label_list.h"

static struct st_interval times(const struct st_interval *x, double by)
{
    return (struct st_interval){ x->value * by, x->low * by, x->high * by, x->status, x->known };
}

static void one_energy(struct st_label_fact *f, const char *what, const struct st_interval *kj,
                       const struct st_interval *kcal, double ml)
{
    char a[64], b[64];
    const struct st_interval j = times(kj, ml / 100.0), c = times(kcal, ml / 100.0);
    st_label_because(f, "%s of %.0f mL: %s kJ, %s kcal; ", what, ml, st_label_interval(&j, 0, a),
                     st_label_interval(&c, 0, b));
}

/* What the figure leaves out, if it were all carbohydrate: 17 kJ/g. */
static double extract_kj(const struct st_foretold *f)
{
    const struct st_interval *ml = &f->fig[ST_FIG_VOLUME];
    return ml->known && ml->value > 0.0 ? 17.0 * f->final_g[ST_EXTRACT] / ml->value * 100.0 : 0.0;
}

void st_label_energy(const struct st_foretold *f, double serving_ml, double bottle_ml, struct st_label_facts *out)
{
    char a[64], b[64];
    const struct st_interval *kj = &f->fig[ST_FIG_ENERGY_KJ], *kcal = &f->fig[ST_FIG_ENERGY_KCAL];
    struct st_label_fact *e = kj->known && kcal->known
                                  ? st_label_add(out, "energy", "energy: %s kJ, %s kcal in 100 mL",
                                                 st_label_interval(kj, 0, a), st_label_interval(kcal, 0, b))
                                  : st_label_add(out, "energy", "energy: not known");
    if (kj->known && kcal->known && serving_ml > 0.0)
        one_energy(e, "a serving", kj, kcal, serving_ml);
    if (kj->known && kcal->known && bottle_ml > 0.0)
        one_energy(e, "a bottle", kj, kcal, bottle_ml);
    st_label_because(
        e,
        "by the factors of the annex, kJ and kcal a gram: alcohol 29 and 7, sugar and protein 17 and 4, fat 37 and 9, "
        "acids 13 and 3, polyols 10 and 2.4");
    const double more = extract_kj(f);
    if (more >= 0.5)
        st_label_because(e,
                         "; other dissolved matter is not counted: %.0f kJ more in 100 mL if it were all carbohydrate",
                         ceil(more));
    st_label_because(e, ".  Drinks above 1.2 %% vol need no nutrition table in the EU (Art. 16(4))");
    st_label_rule(e, "Regulation (EU) No 1169/2011", "Annex XIV", 2011, "[eu_1169_2011]", 'r');
}

static void grams(const struct st_interval *strength, double serving_ml, double bottle_ml, struct st_label_facts *out)
{
    char s[64], b[64];
    const struct st_interval one = st_ethanol_grams(strength, serving_ml), all = st_ethanol_grams(strength, bottle_ml);
    if (!one.known) {
        (void)st_label_add(out, "drinks", "alcohol in a serving: not known, for the strength is not");
        return;
    }
    struct st_label_fact *f =
        all.known ? st_label_add(out, "drinks", "a serving of %.0f mL holds %s g of alcohol, a bottle of %.0f mL %s g",
                                 serving_ml, st_label_interval(&one, 1, s), bottle_ml, st_label_interval(&all, 0, b))
                  : st_label_add(out, "drinks", "a serving of %.0f mL holds %s g of alcohol", serving_ml,
                                 st_label_interval(&one, 1, s));
    st_label_because(f, "mL times %% vol / 100 times 0.78924 g/mL, the density of ethanol at 20 °C");
    st_label_rule(f, "OIML R 22", "", 1975, "[oiml1975]", 'r');
}

static void one_country(const struct st_drink_row *row, const struct st_interval *strength, double serving_ml,
                        double bottle_ml, struct st_label_facts *out)
{
    char s[64], b[64];
    const struct st_interval one = st_standard_drinks(row, strength, serving_ml),
                             all = st_standard_drinks(row, strength, bottle_ml);
    struct st_label_fact *f =
        !one.known  ? st_label_add(out, "drinks", "%s: guidance as published", row->country)
        : all.known ? st_label_add(out, "drinks", "%s (%s): %s in a serving, %s in a bottle", row->country, row->term,
                                   st_label_interval(&one, 2, s), st_label_interval(&all, 1, b))
                    : st_label_add(out, "drinks", "%s (%s): %s in a serving", row->country, row->term,
                                   st_label_interval(&one, 2, s));
    if (row->g > 0.0)
        st_label_because(
            f, row->by_volume ? "one %s is %g mL of ethanol (about %g g)" : "one %s is %g mL of ethanol, %g g",
            row->term, row->ml, row->g);
    if (row->differ[0])
        st_label_because(f, "; sources differ: %s", row->differ);
    if (row->note[0])
        st_label_because(f, "%s%s", f && f->because[0] ? "; " : "", row->note);
    if (row->guidance[0])
        st_label_because(f, "%sguidance as published: %s%s %s", f && f->because[0] ? "; " : "", row->guidance,
                         row->guidance_mark == 'm' ? " (unverified, from memory)" : "",
                         row->guidance_source[0] == '[' ? row->guidance_source : "");
    st_label_rule(f, "", "", 0, row->source, row->mark);
}

void st_label_drinks(const struct st_drink_rows *rows, const char *key, unsigned places,
                     const struct st_interval *strength, double serving_ml, double bottle_ml,
                     struct st_label_facts *out)
{
    grams(strength, serving_ml, bottle_ml, out);
    for (int i = 0; i < rows->n; i++) {
        const struct st_drink_row *row = &rows->row[i];
        if (key ? strcmp(row->key, key) == 0 : (row->places & places) != 0 || strcmp(row->key, "who") == 0)
            one_country(row, strength, serving_ml, bottle_ml, out);
    }
}
