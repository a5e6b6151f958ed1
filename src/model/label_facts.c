#include "label_facts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "line_goods.h"

/* ---- what it is made of ---- */

static int heaviest_first(const void *a, const void *b)
{
    const struct st_part_in *x = a, *y = b;
    if (x->g.known != y->g.known)
        return x->g.known ? -1 : 1;
    if (x->g.known && x->g.value != y->g.value)
        return x->g.value > y->g.value ? -1 : 1;
    return x->step != y->step ? x->step - y->step : x->line - y->line;
}

static void join(struct st_part_in *p, struct st_range g)
{
    p->g.known = p->g.known && g.known;
    p->g.value += g.value;
    p->g.low += g.low;
    p->g.high += g.high;
}

int st_parts_by_weight(const struct st_recipe *r, struct st_part_in out[], int max, bool *cut)
{
    int n = 0;
    *cut = false;
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; st_step_reaches(r, s) && i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            int at = 0;
            if (!l->what)
                continue;
            while (at < n && out[at].what != l->what)
                at++;
            if (at < n)
                join(&out[at], st_line_grams(l));
            else if (n < max)
                out[n++] = (struct st_part_in){ l->what, st_line_grams(l), s, i };
            else
                *cut = true;
        }
    qsort(out, (size_t)n, sizeof out[0], heaviest_first);
    return n;
}

/* ---- sulphites ---- */

/* Regulation (EC) No 1333/2008, Annex II E, 04.2.1, mg/kg [ec_1333_2008] */
static const struct {
    const char *slugs;
    double mg_kg;
} DRIED[] = {
    { "apricot_dried|peach_dried|raisin|currant_zante|prune|fig_dried", 2000.0 },
    { "banana_dried", 1000.0 },
    { "apple_dried|pear_dried", 600.0 },
    { "ginger_dry", 150.0 },
    { "coconut_dried", 50.0 },
};
static const double OTHER_DRIED = 500.0;

double st_sulphite_most(const struct st_ingredient *in)
{
    for (size_t i = 0; i < sizeof DRIED / sizeof DRIED[0]; i++)
        if (st_in_list(DRIED[i].slugs, '|', in->slug))
            return DRIED[i].mg_kg;
    return in->kind == ST_KIND_DRIED_FRUIT ? OTHER_DRIED : (double)NAN;
}

static const struct st_flag *sulphite_flag(const struct st_ingredient *in)
{
    for (int i = 0; in && i < in->n_allergen; i++)
        if (strcmp(in->allergen[i].what, "sulphites") == 0)
            return &in->allergen[i];
    return NULL;
}

static struct st_sulphite_source source_of(const struct st_line *l, const struct st_flag *f, int step, int line,
                                           double litres)
{
    struct st_sulphite_source s = { step, line, st_line_grams(l), st_sulphite_most(l->what), (double)NAN, false };
    s.possible = strncmp(f->degree, "possible", 8) == 0;
    if (s.g.known && litres > 0.0)
        s.mg_l = s.g.high / 1000.0 * s.most_mg_kg / litres;
    return s;
}

void st_sulphites_find(const struct st_recipe *r, const struct st_interval *ml, struct st_sulphites *out)
{
    const double litres = ml->known ? ml->low / 1000.0 : 0.0;
    *out = (struct st_sulphites){ .mg_l = 0.0 };
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            const struct st_flag *f = sulphite_flag(l->what);
            if (!f)
                continue;
            const struct st_sulphite_source one = source_of(l, f, s, i, litres);
            out->mg_l += one.mg_l; /* NAN stays */
            if (out->n < ST_MAX_SULPHITE_SOURCES)
                out->source[out->n++] = one;
        }
    out->declare = out->n > 0;
    out->below = out->declare && out->mg_l < ST_SULPHITE_DECLARED;
}

/* ---- animal matter ---- */

static const struct animal_rule {
    const char *slugs;
    enum st_animal is;
    bool flesh;
    const char *what;
} ANIMAL[] = {
    { "coconut_milk|coconut_cream|cream_of_coconut|oat_milk|almond_milk|soy_milk", ST_ANIMAL_NONE, false, "" },
    { "honey|honey_syrup|mead", ST_ANIMAL_YES, false, "honey" },
    { "gelatine", ST_ANIMAL_YES, true, "gelatine is made of skin and bone" },
    { "isinglass", ST_ANIMAL_YES, true, "isinglass is made of fish" },
    { "casein|lactose_powder|liqueur_cream", ST_ANIMAL_YES, false, "made of milk" },
    { "activated_carbon", ST_ANIMAL_UNKNOWN, true, "carbon may be made of bone" },
    { "food_colour", ST_ANIMAL_UNKNOWN, true, "a red colour may be cochineal" },
    { "lecithin", ST_ANIMAL_UNKNOWN, false, "lecithin may be of egg" },
    { "chocolate_dark", ST_ANIMAL_UNKNOWN, false, "dark chocolate often holds some milk" },
    { "bitters", ST_ANIMAL_UNKNOWN, true, "bought bitters may be coloured with cochineal" },
};

static bool is_of_animal(const struct st_flag *f)
{
    return st_in_list("egg|milk|fish|crustacean|crustaceans|mollusc|molluscs", '|', f->what) &&
           strncmp(f->degree, "possible", 8) != 0;
}

/* The next of a list that ',' parts, into slug; NULL at its end. */
static const char *next_slug(const char *p, char *slug, size_t size)
{
    p += strspn(p, ",");
    const size_t n = strcspn(p, ","), kept = n < size ? n : size - 1;
    memcpy(slug, p, kept);
    slug[kept] = '\0';
    return n ? p + n : NULL;
}

/* A drink of one's own of spirits alone is fined by nobody else; bought liqueurs in it are not known. */
static bool is_own_spirit(const struct st_ingredient *in)
{
    char slug[80];
    bool own = *in->made_of && (in->alcohol == ST_ALCOHOL_SPIRIT || in->alcohol == ST_ALCOHOL_NONE);
    for (const char *p = in->made_of; (p = next_slug(p, slug, sizeof slug)) != NULL;)
        own = own && strncmp(slug, "liqueur", 7) != 0;
    return own;
}

/* Of a drink that was made before: by what went into it, and by its allergens; the surest. */
static const struct animal_rule *animal_inside(const struct st_ingredient *in)
{
    static const struct animal_rule INSIDE = { "", ST_ANIMAL_YES, false, "milk, egg or the like went into it" };
    const struct animal_rule *found = NULL;
    char slug[80];
    for (const char *p = in->made_of; (p = next_slug(p, slug, sizeof slug)) != NULL;)
        for (size_t i = 0; i < sizeof ANIMAL / sizeof ANIMAL[0]; i++)
            if (st_in_list(ANIMAL[i].slugs, '|', slug) && ANIMAL[i].is != ST_ANIMAL_NONE &&
                (!found || ANIMAL[i].is > found->is))
                found = &ANIMAL[i];
    for (int i = 0; *in->made_of && i < in->n_allergen; i++)
        if (is_of_animal(&in->allergen[i]) && (!found || found->is != ST_ANIMAL_YES))
            found = &INSIDE;
    return found;
}

static const struct animal_rule *animal_of(const struct st_ingredient *in)
{
    static const struct animal_rule DAIRY = { "", ST_ANIMAL_YES, false, "milk or cream" },
                                    EGG = { "", ST_ANIMAL_YES, false, "egg" },
                                    WINE = { "", ST_ANIMAL_UNKNOWN, true,
                                             "bought wine, beer and liqueurs may be fined with egg, milk, gelatine or "
                                             "fish, or coloured with cochineal" };
    for (size_t i = 0; i < sizeof ANIMAL / sizeof ANIMAL[0]; i++)
        if (st_in_list(ANIMAL[i].slugs, '|', in->slug))
            return &ANIMAL[i];
    const struct animal_rule *of = animal_inside(in);
    if (of)
        return of;
    return in->kind == ST_KIND_DAIRY                        ? &DAIRY
           : in->kind == ST_KIND_EGG                        ? &EGG
           : in->kind == ST_KIND_WINE && !is_own_spirit(in) ? &WINE
                                                            : NULL;
}

static void animal_add(struct st_animals *out, struct st_animal_hit hit)
{
    if (hit.is > out->vegan)
        out->vegan = hit.is;
    if (hit.flesh && hit.is > out->vegetarian)
        out->vegetarian = hit.is;
    if (out->n < ST_MAX_ANIMAL_HITS)
        out->hit[out->n++] = hit;
}

static void animal_words(struct st_animals *out, const char *text, int step, int line)
{
    static const char *const RED[] = { "cochineal", "carmine", "e120", "shellac" };
    for (size_t i = 0; text && i < sizeof RED / sizeof RED[0]; i++)
        if (st_has_word(text, RED[i])) {
            animal_add(out, (struct st_animal_hit){ ST_ANIMAL_YES, true, step, line,
                                                    "cochineal or shellac is made of insects", NULL });
            return;
        }
}

/* Finings in the words of a step that fines; what the sheet of finings says of them decides. */
static void animal_agents(struct st_animals *out, const struct st_step *s, int step, const struct st_agents *agents)
{
    for (int i = 0; agents && s->kind == ST_DO_FINE && i < agents->n; i++) {
        const struct st_agent *a = &agents->row[i];
        const bool no = strstr(a->diet, "not ve") != NULL, meat = strstr(a->diet, "not vegetarian") != NULL;
        if (no && st_has_word(s->words, a->name))
            animal_add(out, (struct st_animal_hit){ ST_ANIMAL_YES, meat, step, -1, "what it was fined with", a });
    }
}

void st_animals_find(const struct st_recipe *r, const struct st_agents *agents, struct st_animals *out)
{
    *out = (struct st_animals){ .n = 0 };
    for (int s = 0; s < r->n_step; s++) {
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            const struct animal_rule *a = l->what ? animal_of(l->what) : NULL;
            if (a && a->is != ST_ANIMAL_NONE)
                animal_add(out, (struct st_animal_hit){ a->is, a->flesh, s, i, a->what, NULL });
            animal_words(out, l->text, s, i);
        }
        animal_words(out, r->step[s].words, s, -1);
        animal_agents(out, &r->step[s], s, agents);
    }
}

/* ---- standard drinks ---- */

struct st_interval st_ethanol_grams(const struct st_interval *strength, double ml)
{
    struct st_interval g = *strength;
    const double by = ml / 100.0 * ST_ETHANOL_G_ML;
    g.known = strength->known && ml > 0.0;
    g.value *= by;
    g.low *= by;
    g.high *= by;
    return g;
}

struct st_interval st_standard_drinks(const struct st_drink_row *row, const struct st_interval *strength, double ml)
{
    struct st_interval n = st_ethanol_grams(strength, ml);
    const double one = row->by_volume ? row->ml * ST_ETHANOL_G_ML : row->g;
    n.known = n.known && one > 0.0;
    if (n.known) {
        n.value /= one;
        n.low /= one;
        n.high /= one;
    }
    return n;
}

/* ---- quinine, caffeine, liquorice ---- */

void st_named_find(const struct st_recipe *r, struct st_named_in out[ST_NNAMED])
{
    static const char *const CODE[ST_NNAMED] = { "quinine", "caffeine", "glycyrrhizin" };
    for (int k = 0; k < ST_NNAMED; k++) {
        out[k] = (struct st_named_in){ -1, -1, 0 };
        for (int s = 0; s < r->n_step; s++)
            for (int i = 0; i < r->step[s].n_line; i++) {
                const struct st_ingredient *in = r->step[s].line[i].what;
                if (in && st_ingredient_caution(in, CODE[k]) && out[k].n++ == 0) {
                    out[k].step = s;
                    out[k].line = i;
                }
            }
    }
}
