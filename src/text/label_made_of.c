/* What it is made of: by weight, what must be named, what is of animals; in sentences. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "figure_words.h"
#include "label_list.h"

void st_label_made_of(const struct st_recipe *r, struct st_label_facts *out)
{
    struct st_part_in part[ST_MAX_PARTS_IN];
    bool cut;
    const int n = st_parts_by_weight(r, part, ST_MAX_PARTS_IN, &cut);
    for (int i = 0; i < n; i++) {
        char g[32] = "how much is not known";
        if (part[i].g.known)
            st_grams_words(g, sizeof g, part[i].g.value);
        struct st_label_fact *f = st_label_add(out, "made_of", "%s: %s", part[i].what->name, g);
        if (!f)
            return;
        f->step = part[i].step;
        f->line = part[i].line;
        if (i == 0)
            st_label_because(f, "by falling weight, as put in; what was strained off counts with it.  Drinks above 1.2 "
                                "%% vol need no list "
                                "of ingredients in the EU (Art. 16(4)), allergens they do need");
        st_label_rule(f, "Regulation (EU) No 1169/2011", "Art. 16, 18", 2011, "[eu_1169_2011]", 's');
    }
    out->cut = out->cut || cut;
}

/* ---- quinine, caffeine, liquorice ---- */

static void liquorice(struct st_label_fact *f, double mg_l, const struct st_interval *strength)
{
    const double warn = strength->known && strength->low <= 1.2 ? 50.0 : 300.0;
    if (isnan(mg_l))
        st_label_because(f, "how much glycyrrhizic acid the drink may hold is not known here: name it all the same");
    else
        st_label_because(f, "at most %.0f mg/L of glycyrrhizic acid: %s", mg_l,
                         mg_l >= warn   ? "name it, and warn who has high blood pressure not to take much of it"
                         : mg_l >= 10.0 ? "name it"
                                        : "under what must be named");
    st_label_because(f, "; the EU wants liquorice named from 10 mg/L on and the warning from %.0f mg/L on", warn);
    st_label_rule(f, "Regulation (EU) No 1169/2011", "Annex III", 2011, "[glycyrrhizin_eu_label]", 'r');
}

static void other_named(struct st_label_fact *f, enum st_named what, double mg_l)
{
    if (isnan(mg_l))
        st_label_because(f, "how much the drink may hold is not known here");
    else
        st_label_because(f, "at most %.0f mg/L", mg_l);
    st_label_because(
        f, "; used for its taste it is named in the list of ingredients, if one is given%s; unverified, from memory",
        what == ST_NAMED_CAFFEINE ? "; the warning above 150 mg/L does not speak of spirits" : "");
    st_label_rule(f, "Regulation (EU) No 1169/2011", "Annexes III and VII", 2011, "from memory", 'm');
}

void st_label_named(const struct st_recipe *r, const double mg_l[ST_NNAMED], const struct st_interval *strength,
                    struct st_label_facts *out)
{
    static const char *const NAME[ST_NNAMED] = { "quinine", "caffeine", "liquorice" };
    struct st_named_in in[ST_NNAMED];
    st_named_find(r, in);
    for (int k = 0; k < ST_NNAMED; k++) {
        if (in[k].n == 0)
            continue;
        const char *from = r->step[in[k].step].line[in[k].line].what->name;
        struct st_label_fact *f =
            in[k].n > 1 ? st_label_add(out, "named", "%s, from %s and %d more", NAME[k], from, in[k].n - 1)
                        : st_label_add(out, "named", "%s, from %s", NAME[k], from);
        if (!f)
            return;
        f->step = in[k].step;
        f->line = in[k].line;
        if (k == ST_NAMED_LIQUORICE)
            liquorice(f, mg_l[k], strength);
        else
            other_named(f, (enum st_named)k, mg_l[k]);
    }
}

/* ---- animal matter ---- */

static const char *hit_name(const struct st_recipe *r, const struct st_animal_hit *h)
{
    const struct st_step *s = &r->step[h->step];
    return h->agent                                ? h->agent->name
           : h->line >= 0 && s->line[h->line].what ? s->line[h->line].what->name
                                                   : "the words of a step";
}

static void one_diet(const struct st_recipe *r, const struct st_animals *a, bool flesh, struct st_label_facts *out)
{
    const enum st_animal is = flesh ? a->vegetarian : a->vegan;
    const char *who = flesh ? "vegetarians" : "vegans";
    int told = 0;
    struct st_label_fact *f = is == ST_ANIMAL_YES ? st_label_add(out, "diet", "not for %s", who)
                              : is == ST_ANIMAL_UNKNOWN
                                  ? st_label_add(out, "diet", "whether it is for %s is not known", who)
                                  : st_label_add(out, "diet", "for %s: nothing of %s is listed among what went in", who,
                                                 flesh ? "meat or fish" : "animals");
    if (!f)
        return;
    f->truth = is == ST_ANIMAL_YES ? ST_NO : is == ST_ANIMAL_UNKNOWN ? ST_UNDECIDED : ST_YES;
    for (int i = 0; i < a->n; i++)
        if (a->hit[i].is == is && (!flesh || a->hit[i].flesh)) {
            if (told == 0) {
                f->step = a->hit[i].step;
                f->line = a->hit[i].line;
            }
            if (told < 4) /* the others say no more */
                st_label_because(f, "%s%s: %s", told ? "; " : "", hit_name(r, &a->hit[i]), a->hit[i].what);
            told++;
        }
    st_label_because(f,
                     "%show sugar, spirit and other bought things were made the recipe does not tell: read the packs",
                     told ? "; " : "");
    f->source = "common practice, no source";
    f->mark = 'm';
}

void st_label_animals(const struct st_recipe *r, const struct st_animals *a, struct st_label_facts *out)
{
    one_diet(r, a, false, out);
    one_diet(r, a, true, out);
}
