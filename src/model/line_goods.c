#include "line_goods.h"

#include <math.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/strength.h"

static struct st_range times(struct st_range a, struct st_range b)
{
    return (struct st_range){ a.value * b.value, a.low * b.low, a.high * b.high, a.known && b.known, 'c', "" };
}

/* g/mL of what part says, with so much more sugar and less water; NAN. */
static double density_of(const struct st_range part[ST_NCOMP], double more)
{
    double w[ST_NCOMP], rho;
    for (int c = 0; c < ST_NCOMP; c++)
        w[c] = part[c].value;
    w[ST_SUCROSE] += more;
    w[ST_WATER] -= more;
    return w[ST_WATER] >= 0.0 && w[ST_SUCROSE] >= 0.0 && st_density_mixture(w, ST_T20, &rho) >= 0 ? 1e-3 * rho
                                                                                                  : (double)NAN;
}

/* Of one mL of a drink of another batch or house stock, that is told by what is dissolved in it: its density follows, from the
 * least sugar to the most. */
static struct st_range weight_by_parts(const struct st_ingredient *own)
{
    struct st_range part[ST_NCOMP], sugar = own->sugars.known ? own->sugars : own->part[ST_SUCROSE];
    const char *why;
    if (own->kind != ST_KIND_WINE || st_ingredient_parts(own, part, &why) < 0)
        return (struct st_range){ 0 };
    const double rho = density_of(part, 0.0), low = density_of(part, sugar.low - sugar.value),
                 high = density_of(part, sugar.high - sugar.value);
    if (!isfinite(rho))
        return (struct st_range){ 0 };
    return (struct st_range){ rho, isfinite(low) ? low : rho, isfinite(high) ? high : rho, true, 'c', "" };
}

/* Of one mL or piece, with the strength that the line tells. */
static struct st_range weight_of_one(const struct st_line *l)
{
    struct st_ingredient own = *l->what;
    const double fills = l->amount.fills > 0.0 ? l->amount.fills : 1.0;
    if (l->amount.dim == ST_DIM_PIECE)
        return own.piece;
    if (l->strength.known)
        own.strength = l->strength;
    struct st_range r = st_ingredient_g_per_ml(&own, l->amount.value / fills);
    if (!r.known && own.kind == ST_KIND_WATER) /* a litre of water weighs a kilogram, near enough to sort by */
        r = (struct st_range){ 1.0, 1.0, 1.0, true, 'c', "" };
    return r.known ? r : weight_by_parts(&own);
}

struct st_range st_line_grams(const struct st_line *l)
{
    const struct st_range none = { 0 };
    const struct st_amount *a = &l->amount;
    if (!l->what || a->open != ST_CLOSED || a->make_up_to || !(a->value >= 0.0))
        return none;
    struct st_range g = { a->value, fmin(a->low, a->value), fmax(a->high, a->value), true, 'u', "" };
    if (a->dim == ST_DIM_VOLUME || a->dim == ST_DIM_PIECE)
        return times(g, weight_of_one(l));
    if (a->dim != ST_DIM_MASS)
        return none;
    if (l->trimmed_share.known)
        return times(g, l->trimmed_share);
    if (l->gross && l->what->edible.known)
        return times(g, l->what->edible);
    if (l->weighing_unsaid && l->what->edible.known) /* with stones or without: nobody said */
        g.low *= l->what->edible.low;
    return g;
}

bool st_step_reaches(const struct st_recipe *r, int step)
{
    bool met[256] = { false };
    if (r->n_step < 1 || r->n_step > 256 || step < 0 || step >= r->n_step)
        return true; /* not looked into: it counts */
    met[step] = true;
    for (int s = step + 1; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line && !met[s]; i++) {
            const int from = r->step[s].line[i].from_step;
            met[s] = from >= 0 && from < s && met[from];
        }
    return met[r->n_step - 1];
}

bool st_recipe_takes_all(const struct st_recipe *r)
{
    for (int s = 0; s < r->n_step; s++)
        for (int i = 0; i < r->step[s].n_line; i++) {
            const struct st_line *l = &r->step[s].line[i];
            if (l->from_step >= 0 && !(l->amount.dim == ST_DIM_OPEN && l->amount.open == ST_OPEN_SOME))
                return false;
        }
    return true;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool is_letter(char c)
{
    return (lower(c) >= 'a' && lower(c) <= 'z') || (unsigned char)c >= 0x80;
}

bool st_has_word(const char *text, const char *word)
{
    const size_t n = strlen(word);
    for (const char *p = text; n > 0 && *p; p++) {
        size_t k = 0;
        while (k < n && p[k] && lower(p[k]) == lower(word[k]))
            k++;
        if (k == n && (p == text || !is_letter(p[-1])) && !is_letter(p[n]))
            return true;
    }
    return false;
}

bool st_in_list(const char *list, char between, const char *key)
{
    const size_t n = strlen(key);
    for (const char *p = list; n > 0 && (p = strstr(p, key)) != NULL; p += n)
        if ((p == list || p[-1] == between) && (p[n] == between || p[n] == '\0'))
            return true;
    return false;
}

static const char *const PLAIN_SPIRIT = "spirit_neutral|spirit_40|spirit_96|spirit_95|spirit_50|vodka|korn|moonshine";
static const char *const PLAIN_SYRUP =
    "honey|syrup_1_1|syrup_2_1|demerara_syrup|honey_syrup|maple_syrup|corn_syrup_light|"
    "glucose_syrup|invert_syrup|golden_syrup|treacle|agave_syrup|date_syrup";
static const char *const TASTY_OTHER = "chocolate_dark|malt_extract|bitter_almond_oil|essential_oil";

static bool is_bought_liqueur(const char *slug)
{
    return strncmp(slug, "liqueur", 7) == 0 && (slug[7] == '\0' || slug[7] == '_');
}

enum st_goods st_line_goods(const struct st_line *l)
{
    return l->what ? st_ingredient_goods(l->what) : ST_GOODS_NONE;
}

enum st_goods st_ingredient_goods(const struct st_ingredient *in)
{
    switch (in->kind) {
    case ST_KIND_SPIRIT: return st_in_list(PLAIN_SPIRIT, '|', in->slug) ? ST_GOODS_SPIRIT : ST_GOODS_TASTY;
    case ST_KIND_WINE:
        if (in->alcohol != ST_ALCOHOL_BY_KIND)
            return in->alcohol == ST_ALCOHOL_NONE ? ST_GOODS_FLAVOUR : ST_GOODS_TASTY;
        return is_bought_liqueur(in->slug) ? ST_GOODS_TASTY : ST_GOODS_FERMENTED;
    case ST_KIND_SUGAR:
    case ST_KIND_SWEETENER: return ST_GOODS_SWEET;
    case ST_KIND_SYRUP: return st_in_list(PLAIN_SYRUP, '|', in->slug) ? ST_GOODS_SWEET : ST_GOODS_FLAVOUR;
    case ST_KIND_DAIRY:
    case ST_KIND_EGG: return ST_GOODS_RICH;
    case ST_KIND_WATER:
    case ST_KIND_ACID: return ST_GOODS_OTHER;
    case ST_KIND_OTHER: return st_in_list(TASTY_OTHER, '|', in->slug) ? ST_GOODS_FLAVOUR : ST_GOODS_OTHER;
    default: return ST_GOODS_FLAVOUR;
    }
}
