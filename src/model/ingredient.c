#include "ingredient.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "core/density_mixture.h"
#include "core/strength.h"

/* What holds for a kind where the sheet is silent.  All from memory (docs/ingredients-notes.md, "Priors"):
 *   keeps      g of liquor kept by 1 g weighed in, strained and not pressed; x/: 1.4 one sigma
 *   dissolves  share of what is neither water, sugar, acid, fat nor protein that goes into spirit and water
 *   sucrose, glucose   shares of the sugars; fructose (for dairy: lactose) is the rest */
static const struct {
    const char *name;
    bool solid;
    double keeps, dissolves, sucrose, glucose;
} KIND[ST_NKIND] = {
    [ST_KIND_FRESH_FRUIT] = { "fresh_fruit", true, 0.75, 0.15, 0.20, 0.40 },
    [ST_KIND_FROZEN_FRUIT] = { "frozen_fruit", true, 0.75, 0.15, 0.20, 0.40 },
    [ST_KIND_TINNED_FRUIT] = { "tinned_fruit", true, 0.75, 0.15, 0.40, 0.30 },
    [ST_KIND_DRIED_FRUIT] = { "dried_fruit", true, 0.90, 0.20, 0.15, 0.45 },
    [ST_KIND_GREEN_FRUIT] = { "green_fruit", true, 0.70, 0.25, 0.20, 0.40 },
    [ST_KIND_PEEL_FRESH] = { "peel_fresh", true, 0.80, 0.15, 0.30, 0.35 },
    [ST_KIND_PEEL_DRY] = { "peel_dry", true, 2.00, 0.25, 0.30, 0.35 },
    [ST_KIND_KERNEL] = { "kernel", true, 0.45, 0.05, 0.90, 0.05 },
    [ST_KIND_NUT] = { "nut", true, 0.45, 0.05, 0.90, 0.05 },
    [ST_KIND_SEED] = { "seed", true, 0.90, 0.15, 0.50, 0.25 },
    [ST_KIND_BARK] = { "bark", true, 1.00, 0.15, 0.30, 0.35 },
    [ST_KIND_ROOT_FRESH] = { "root_fresh", true, 0.85, 0.15, 0.60, 0.20 },
    [ST_KIND_ROOT_DRY] = { "root_dry", true, 1.80, 0.30, 0.60, 0.20 },
    [ST_KIND_HERB_FRESH] = { "herb_fresh", true, 1.10, 0.20, 0.20, 0.40 },
    [ST_KIND_HERB_DRY] = { "herb_dry", true, 3.00, 0.25, 0.20, 0.40 },
    [ST_KIND_FLOWER_FRESH] = { "flower_fresh", true, 1.30, 0.20, 0.20, 0.40 },
    [ST_KIND_FLOWER_DRY] = { "flower_dry", true, 4.00, 0.30, 0.20, 0.40 },
    [ST_KIND_BERRY_DRY] = { "berry_dry", true, 1.00, 0.20, 0.15, 0.45 },
    [ST_KIND_BEAN] = { "bean", true, 0.70, 0.15, 0.30, 0.35 },
    [ST_KIND_COFFEE] = { "coffee", true, 1.80, 0.25, 0.90, 0.05 },
    [ST_KIND_NIB] = { "nib", true, 0.80, 0.10, 0.80, 0.10 },
    [ST_KIND_WOOD] = { "wood", true, 1.00, 0.06, 0.30, 0.35 },
    [ST_KIND_POWDER] = { "powder", true, 2.00, 0.25, 0.50, 0.25 },
    [ST_KIND_SPIRIT] = { "spirit", false, 0, 1, 1.0, 0 },
    [ST_KIND_WINE] = { "wine", false, 0, 1, 0.20, 0.40 },
    [ST_KIND_WATER] = { "water", false, 0, 1, 1.0, 0 },
    [ST_KIND_JUICE] = { "juice", false, 0, 1, 0.20, 0.40 },
    [ST_KIND_BREW] = { "brew", false, 0, 1, 1.0, 0 },
    [ST_KIND_SUGAR] = { "sugar", false, 0, 1, 1.0, 0 },
    [ST_KIND_SYRUP] = { "syrup", false, 0, 1, 1.0, 0 },
    [ST_KIND_SWEETENER] = { "sweetener", false, 0, 1, 1.0, 0 },
    [ST_KIND_DAIRY] = { "dairy", false, 0, 1, 0, 0 },
    [ST_KIND_EGG] = { "egg", false, 0, 1, 0, 1.0 },
    [ST_KIND_ACID] = { "acid", false, 0, 1, 0, 0.5 },
    [ST_KIND_OTHER] = { "other", false, 0, 1, 1.0, 0 },
};

/* 19 of 20 of a band x/: 1.4 reach from /1.96 to x1.96; the upper end stops at x1.6, since a drained solid
 * seldom holds more liquor than its own swollen volume. */
static const double KEEPS_LOW = 1 / 1.96, KEEPS_HIGH = 1.6;
static const char PRIOR[] = "prior of its kind, from memory";

bool st_kind_is_solid(enum st_kind k)
{
    return (unsigned)k < ST_NKIND && KIND[k].solid;
}

const char *st_kind_name(enum st_kind k)
{
    return (unsigned)k < ST_NKIND ? KIND[k].name : "unknown";
}

bool st_ingredient_has_stones(const struct st_ingredient *in)
{
    if ((in->kind != ST_KIND_FRESH_FRUIT && in->kind != ST_KIND_FROZEN_FRUIT) || !in->botanical)
        return false;
    return strncmp(in->botanical, "Prunus ", 7) == 0 || strncmp(in->botanical, "Cornus mas", 10) == 0;
}

static bool is_listed(const char *list, const char *code)
{
    const size_t n = strlen(code);
    for (const char *p = list; n > 0 && (p = strstr(p, code)) != NULL; p += n)
        if ((p == list || p[-1] == '|') && (p[n] == '|' || p[n] == '\0'))
            return true;
    return false;
}

const struct st_flag *st_ingredient_caution(const struct st_ingredient *in, const char *codes)
{
    for (int i = 0; i < in->n_caution; i++)
        if (is_listed(codes, in->caution[i].what))
            return &in->caution[i];
    for (int i = 0; i < in->n_brought; i++)
        if (is_listed(codes, in->brought[i].flag.what))
            return &in->brought[i].flag;
    return NULL;
}

bool st_ingredient_perishable(const struct st_ingredient *in)
{
    if (in->kind == ST_KIND_DAIRY || in->kind == ST_KIND_EGG)
        return true;
    for (int i = 0; i < in->n_brought; i++)
        if (strcmp(in->brought[i].flag.what, "perishable") == 0)
            return true;
    return false;
}

struct st_range st_ingredient_retention(const struct st_ingredient *in)
{
    if (in->retention.known)
        return in->retention;
    if (!st_kind_is_solid(in->kind))
        return (struct st_range){ .known = true, .mark = 'c', .source = "joins the liquid" };

    const double typical = KIND[in->kind].keeps;
    return (struct st_range){ typical, typical * KEEPS_LOW, typical * KEEPS_HIGH, true, 'm', PRIOR };
}

static struct st_range scaled(struct st_range r, double by)
{
    r.value *= by;
    r.low *= by;
    r.high *= by;
    return r;
}

static bool is_liquid(enum st_kind k)
{
    switch (k) {
    case ST_KIND_SPIRIT:
    case ST_KIND_WINE:
    case ST_KIND_WATER:
    case ST_KIND_JUICE:
    case ST_KIND_BREW:
    case ST_KIND_SYRUP:
    case ST_KIND_DAIRY:
    case ST_KIND_EGG: return true;
    default: return false;
    }
}

/* The strength alone gives the density of an unsweetened spirit. */
static struct st_range spirit_g_per_ml(const struct st_ingredient *in)
{
    struct st_range r = { 0 };
    double middle, weak, strong; /* the weaker, the heavier */
    const struct st_range q = in->strength;

    if (!q.known || st_spirit_density(q.value, &middle) < 0 || st_spirit_density(q.low, &weak) < 0 ||
        st_spirit_density(q.high, &strong) < 0)
        return r;
    return (struct st_range){ middle / 1000, strong / 1000, weak / 1000, true, 'c', "density of its strength" };
}

enum { CUP, TABLESPOON, TEASPOON, NMEASURE };
static const double MEASURE_ML[NMEASURE] = { 236.588, 14.7868, 4.92892 };

/* Between two ways to weigh a cup of the same liquid: tables differ by up to 6 % (corn syrup), foam and powder by half.
 */
static const double SAME_LIQUID = 0.10;

static struct st_range measured(const struct st_ingredient *in, int m)
{
    return m == CUP ? in->cup : m == TABLESPOON ? in->tbsp : in->tsp;
}

/* By the measure nearest in size that somebody weighed. */
static struct st_range bulk_g_per_ml(const struct st_ingredient *in, double size_ml)
{
    static const int NEAREST[NMEASURE][NMEASURE] = {
        { CUP, TABLESPOON, TEASPOON },
        { TABLESPOON, TEASPOON, CUP },
        { TEASPOON, TABLESPOON, CUP },
    };
    const int fits = size_ml < 7.5 ? TEASPOON : size_ml < 60 ? TABLESPOON : CUP;

    for (int i = 0; i < NMEASURE; i++) {
        const int m = NEAREST[fits][i];
        if (measured(in, m).known)
            return scaled(measured(in, m), 1 / MEASURE_ML[m]);
    }
    return (struct st_range){ 0 };
}

bool st_ingredient_is_bulk(const struct st_ingredient *in, double g_per_ml)
{
    const struct st_range r = bulk_g_per_ml(in, MEASURE_ML[CUP]);

    if (!r.known || (in->density.known && in->density.mark == 'u' && r.mark != 'u'))
        return false;
    return !(fabs(r.value - g_per_ml) <= SAME_LIQUID * g_per_ml);
}

struct st_range st_ingredient_g_per_ml(const struct st_ingredient *in, double size_ml)
{
    if (in->kind == ST_KIND_SPIRIT && !in->density.known)
        return spirit_g_per_ml(in);
    if (is_liquid(in->kind) && in->density.known && !st_ingredient_is_bulk(in, in->density.value))
        return in->density;
    return bulk_g_per_ml(in, size_ml);
}

/* ---- composition ---- */

static const enum st_component SUGARS[] = { ST_SUCROSE, ST_GLUCOSE, ST_FRUCTOSE, ST_LACTOSE };
enum { NSUGAR = sizeof SUGARS / sizeof SUGARS[0] };

/* The total by shares: as the sheet splits it, else as the kind does. */
static enum st_status split_sugars(const struct st_ingredient *in, struct st_range part[ST_NCOMP])
{
    double sum = 0;
    for (int i = 0; i < NSUGAR; i++)
        sum += in->part[SUGARS[i]].known ? in->part[SUGARS[i]].value : 0;
    if (!in->sugars.known)
        return ST_OK; /* the single sugars are all there is, and they are copied already */

    const double s = KIND[in->kind].sucrose, g = KIND[in->kind].glucose, rest = fmax(0, 1 - s - g);
    const bool dairy = in->kind == ST_KIND_DAIRY;
    const double usual[NSUGAR] = { s, g, dairy ? 0 : rest, dairy ? rest : 0 };
    for (int i = 0; i < NSUGAR; i++) {
        const struct st_range given = in->part[SUGARS[i]];
        const double share = sum > 0 ? (given.known ? given.value / sum : 0) : usual[i];
        part[SUGARS[i]] = scaled(in->sugars, share);
    }
    return sum > 0 || in->sugars.high <= 0 || in->kind == ST_KIND_DAIRY ? ST_OK : ST_ESTIMATED;
}

static bool sugar_is_known(const struct st_ingredient *in)
{
    bool known = in->sugars.known || in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WATER;
    for (int i = 0; i < NSUGAR; i++)
        known = known || in->part[SUGARS[i]].known;
    return known;
}

static double total_but(const struct st_range part[ST_NCOMP], enum st_component a, enum st_component b)
{
    double sum = 0;
    for (int c = 0; c < ST_NCOMP; c++)
        if (c != (int)a && c != (int)b)
            sum += part[c].value;
    return sum;
}

/* Ethanol of a liquid whose solutes are in part[] already: e with strength(e, water = the rest) = q.
 * Steps e <- e q/strength(e) from the ethanol in a litre of water; the density moves little, so each step wins two
 * digits; at most 40, done within 1e-10.  Limit reached: the last e, which is good enough for a kitchen. */
static enum st_status ethanol_from_strength(struct st_range part[ST_NCOMP], struct st_range q)
{
    const double solutes = total_but(part, ST_WATER, ST_ETHANOL);
    double e = q.value / 100 * 0.78924;

    if (q.value > 0 && solutes < 1e-12) {
        const enum st_status s = st_p_from_strength(q.value, &e);
        if (s < 0)
            return s;
    }
    for (int i = 0; i < 40 && q.value > 0 && solutes >= 1e-12; i++) {
        double w[ST_NCOMP], found;
        for (int c = 0; c < ST_NCOMP; c++)
            w[c] = part[c].value;
        e = fmin(e, 1 - solutes);
        w[ST_ETHANOL] = e;
        w[ST_WATER] = 1 - solutes - e;
        const enum st_status s = st_strength_mixture(w, &found);
        if (s < 0)
            return s;
        if (!(found > 0))
            return ST_E_DOMAIN;
        const double next = e * q.value / found;
        if (fabs(next - e) < 1e-10)
            break;
        e = next;
    }
    part[ST_ETHANOL] = (struct st_range){ e, e, e, true, q.mark, q.source };
    if (q.value > 0) {
        part[ST_ETHANOL].low = e * q.low / q.value;
        part[ST_ETHANOL].high = e * q.high / q.value;
    }
    return ST_OK;
}

struct st_range st_ingredient_extract_share(const struct st_ingredient *in)
{
    const double usual = KIND[in->kind].dissolves;
    struct st_range share = { usual, usual * 0.5, fmin(1, usual * 1.8), true, 'm', PRIOR };
    if (in->extract_share.known)
        return in->extract_share;
    if (!st_kind_is_solid(in->kind))
        share.low = share.high = 1;
    return share;
}

/* What is neither water, sugar, acid nor the like: part of it dissolves, part stays solid. */
static void share_rest(const struct st_ingredient *in, double rest, struct st_range part[ST_NCOMP])
{
    const struct st_range share = st_ingredient_extract_share(in);
    double inert = 0; /* fat and protein of kernels, nuts, seeds stay in the solids */
    if (st_kind_is_solid(in->kind)) {
        inert = fmin(rest, part[ST_FAT].value + part[ST_PROTEIN].value);
        part[ST_FAT] = part[ST_PROTEIN] = (struct st_range){ .known = true, .mark = 'c', .source = "" };
    }
    if (!in->part[ST_EXTRACT].known)
        part[ST_EXTRACT] = scaled(share, rest - inert);
    const double solids = fmax(0, rest - part[ST_EXTRACT].value);
    part[ST_SOLIDS] = (struct st_range){ solids, solids, solids, true, 'c', "the rest" };
}

/* Water known: the rest is extract and solids.  Water unknown: the rest is water. */
static enum st_status close_balance(const struct st_ingredient *in, struct st_range part[ST_NCOMP], const char **why)
{
    const bool solid = st_kind_is_solid(in->kind);
    double others = total_but(part, ST_WATER, ST_EXTRACT) - part[ST_SOLIDS].value;
    if (solid)
        others -= part[ST_FAT].value + part[ST_PROTEIN].value;

    if (others > 1 + 1e-9) {
        *why = "its sugar, acid, strength and the rest add up to more than the whole";
        return ST_E_DOMAIN;
    }
    if (in->part[ST_WATER].known && (in->kind != ST_KIND_SPIRIT && in->kind != ST_KIND_WINE)) {
        const double water = fmin(in->part[ST_WATER].value, fmax(0, 1 - others));
        const double moved = part[ST_WATER].value - water;
        part[ST_WATER] = in->part[ST_WATER];
        part[ST_WATER].value = water;
        part[ST_WATER].low = fmin(part[ST_WATER].low, water);
        share_rest(in, fmax(0, 1 - others - water), part);
        if (moved > 1e-6) {
            part[ST_WATER].high = water; /* no more fits beside the rest */
            return ST_ESTIMATED;
        }
    } else {
        if (solid)
            part[ST_FAT] = part[ST_PROTEIN] = (struct st_range){ .known = true, .mark = 'c', .source = "" };
        const double water = fmax(0, 1 - total_but(part, ST_WATER, ST_WATER));
        part[ST_WATER] = (struct st_range){ water, water, water, true, 'c', "the rest" };
        if (solid)
            return ST_ESTIMATED; /* nobody said how dry it is */
    }
    return ST_OK;
}

/* Rounding of printed figures: the largest part takes what is missing to 1. */
static void sum_to_one(struct st_range part[ST_NCOMP])
{
    int most = 0;
    double sum = 0;
    for (int c = 0; c < ST_NCOMP; c++) {
        sum += part[c].value;
        if (part[c].value > part[most].value)
            most = c;
    }
    part[most].value += 1 - sum;
    for (int c = 0; c < ST_NCOMP; c++) {
        part[c].low = fmin(part[c].low, part[c].value);
        part[c].high = fmax(part[c].high, part[c].value);
    }
}

enum st_status st_ingredient_parts(const struct st_ingredient *in, struct st_range part[ST_NCOMP], const char **why)
{
    const bool strong = in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE;
    struct st_range p[ST_NCOMP];

    *why = "";
    if (strong && !in->strength.known && !in->part[ST_ETHANOL].known) {
        *why = "its strength is not known";
        return ST_E_REFUSED;
    }
    if (!sugar_is_known(in)) {
        *why = "its sugar is not known";
        return ST_E_REFUSED;
    }
    for (int c = 0; c < ST_NCOMP; c++) {
        p[c] = in->part[c];
        if (!p[c].known)
            p[c] = (struct st_range){ .known = true, .mark = 'c', .source = "" };
    }
    enum st_status s = split_sugars(in, p);
    if (in->strength.known) {
        const enum st_status e = ethanol_from_strength(p, in->strength);
        if (e < 0) {
            *why = "its strength does not go together with what else is in it";
            return e;
        }
    }
    s = st_status_worse(s, close_balance(in, p, why));
    if (s < 0)
        return s;
    sum_to_one(p);
    for (int c = 0; c < ST_NCOMP; c++)
        if (!(p[c].value >= 0 && p[c].value <= 1 + 1e-9)) {
            *why = "its strength does not go together with what else is in it";
            return ST_E_DOMAIN;
        }
    for (int c = 0; c < ST_NCOMP; c++)
        part[c] = p[c];
    return s;
}
