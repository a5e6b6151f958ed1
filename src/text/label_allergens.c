/* Allergens and sulphites, in sentences. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "label_list.h"
#include "model/line_goods.h"

static const char *plain(const char *code, char buf[48])
{
    (void)snprintf(buf, 48, "%s", code);
    for (char *p = buf; *p; p++)
        if (*p == '_')
            *p = ' ';
    return buf;
}

/* "wheat" stands on the EU's list as one of the "cereals containing gluten". */
static bool is_wide(const struct st_allergen_row *row, const char *code)
{
    return strchr(row->codes, '|') && !strstr(row->name, code);
}

/* The lists that have it, each once: "EU 14, US tree nuts". */
static void lists_of(const struct st_allergens_in *in, const char *code, enum st_presence p, char *buf, size_t size)
{
    buf[0] = '\0';
    for (int i = 0; i < in->n; i++) {
        const struct st_allergen_hit *h = &in->hit[i];
        const size_t used = strlen(buf);
        if (!h->row || h->presence != p || strcmp(h->code, code) != 0 || strstr(buf, h->row->list))
            continue;
        const bool wide = is_wide(h->row, code);
        (void)snprintf(buf + used, size - used, "%s%s%s%s%s", used ? ", " : "", h->row->list, wide ? ": " : "",
                       wide ? h->row->name : "", h->row->mark == 'm' ? " from memory" : "");
    }
}

static const char *name_of(const struct st_recipe *r, const struct st_allergen_hit *h)
{
    const struct st_step *s = &r->step[h->step];
    return h->line >= 0 && s->line[h->line].what ? s->line[h->line].what->name
           : h->agent                            ? h->agent->name
                                                 : "the words of a step";
}

/* What brings it, each once, and why. */
static void sources_of(struct st_label_fact *f, const struct st_recipe *r, const struct st_allergens_in *in, int first)
{
    const struct st_allergen_hit *a = &in->hit[first];
    int step = -1, line = -2;
    for (int i = first; i < in->n; i++) {
        const struct st_allergen_hit *h = &in->hit[i];
        if (h->presence != a->presence || strcmp(h->code, a->code) != 0 || (h->step == step && h->line == line))
            continue;
        st_label_because(f, "%s%s%s", step < 0 ? "from " : ", ", name_of(r, h),
                         h->agent    ? " used to fine it"
                         : h->unused ? " (in a step that the drink takes nothing of)"
                                     : "");
        step = h->step;
        line = h->line;
    }
    if (a->flag && a->flag->text && a->flag->text[0])
        st_label_because(f, "; %s", a->flag->text);
    if (a->row && a->row->note[0])
        st_label_because(f, "; %s", a->row->note);
}

static void one_allergen(const struct st_recipe *r, const struct st_allergens_in *in, int at,
                         struct st_label_facts *out)
{
    static const char *const SAYS[] = { [ST_VOLUNTARY] = "on no list, told all the same",
                                        [ST_POSSIBLE] = "may be in it; read the pack",
                                        [ST_PRESENT] = "it is in it; declare it" };
    const struct st_allergen_hit *h = &in->hit[at];
    char code[48], lists[260];
    lists[0] = '\0';
    if (h->presence > ST_VOLUNTARY)
        lists_of(in, h->code, h->presence, lists, sizeof lists);
    struct st_label_fact *f = st_label_add(out, "allergen", "%s: %s%s%s%s", plain(h->code, code), SAYS[h->presence],
                                           lists[0] ? " (" : "", lists, lists[0] ? ")" : "");
    if (!f)
        return;
    f->truth = h->presence == ST_PRESENT ? ST_YES : h->presence == ST_POSSIBLE ? ST_UNDECIDED : ST_NO;
    f->step = h->step;
    f->line = h->line;
    sources_of(f, r, in, at);
    if (h->row)
        st_label_rule(f, h->row->document, h->row->article, h->row->year, h->row->source, h->row->mark);
    else
        f->source = h->flag && strcmp(h->flag->source, "memory") != 0 ? h->flag->source : "from memory";
}

static bool told_before(const struct st_allergens_in *in, int at)
{
    for (int i = 0; i < at; i++)
        if (in->hit[i].presence == in->hit[at].presence && strcmp(in->hit[i].code, in->hit[at].code) == 0)
            return true;
    return false;
}

void st_label_allergens(const struct st_recipe *r, const struct st_allergens_in *in, struct st_label_facts *out)
{
    for (int i = 0; i < in->n; i++)
        if (!told_before(in, i))
            one_allergen(r, in, i, out);
    out->cut = out->cut || in->cut;
    struct st_label_fact *f =
        st_label_add(out, "precaution", "\"may contain\" is voluntary, and another thing than \"contains\"");
    st_label_because(
        f, "it is for what may have met the drink by chance, after that was looked into; it never takes the place of "
           "declaring an ingredient.  Packs of what was bought must be read: a recipe does not know them");
    st_label_rule(f, "Regulation (EU) No 1169/2011", "Art. 36; Codex CXC 80-2020", 2011, "from memory", 'm');
}

/* ---- sulphites ---- */

void st_label_sulphites(const struct st_recipe *r, const struct st_sulphites *s, struct st_label_facts *out)
{
    if (!s->declare)
        return;
    bool sure = false;
    for (int i = 0; i < s->n; i++)
        sure = sure || !s->source[i].possible;
    struct st_label_fact *f =
        isnan(s->mg_l)
            ? st_label_add(out, "sulphites", "sulphites: how much is not known; declare them")
            : st_label_add(out, "sulphites", "sulphites: at most %.0f mg/L if all of it transfers; declare them",
                           ceil(s->mg_l - 1e-9));
    if (!f)
        return;
    f->truth = sure ? ST_YES : ST_UNDECIDED;
    f->step = s->source[0].step;
    f->line = s->source[0].line;
    for (int i = 0; i < s->n; i++) {
        const struct st_sulphite_source *one = &s->source[i];
        const char *name = r->step[one->step].line[one->line].what->name;
        if (isnan(one->most_mg_kg))
            st_label_because(f, "%s%s: no figure", i ? "; " : "", name);
        else
            st_label_because(f, "%s%s: up to %.0f mg/kg in the EU", i ? "; " : "", name, one->most_mg_kg);
    }
    st_label_because(
        f,
        "; declared above 10 mg/L in the EU, from 10 ppm on in the US%s; lots sold elsewhere were found with "
        "2500 to 3000 mg/kg",
        s->below ? ", which this stays under only if every lot keeps to the EU's maximum: that takes a laboratory"
                 : "");
    st_label_rule(f, "Regulation (EU) No 1169/2011, Annex II; Regulation (EC) No 1333/2008", "Annex II E 04.2.1", 2019,
                  "[ec_1333_2008]", 'r');
}
