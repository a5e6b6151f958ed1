#include <math.h>
#include <string.h>

#include "core/strength.h"
#include "plan_inside.h"

/* Label tolerance of strength, % vol, rectangular: [eu_1169_2011] annex XII, strengths above 1.2 % vol. */
static const double LABEL_PCT_VOL = 0.3;

static bool is_sharp(struct st_range r)
{
    return st_range_is_sharp(r);
}

/* A label's tolerance about a strength that a dial sets. */
static int strength_of_dial(struct st_build *b, const struct st_known *k, int group)
{
    struct st_tape *t = b->tape;
    const int q = b->plan->dial_reg[k->dial];
    const int e =
        st_doubt(b, ST_DOUBT_THING, st_input_even(b, -LABEL_PCT_VOL, LABEL_PCT_VOL, group, "strength", k->own.slug));
    if (e == ST_ZERO)
        return q;
    return st_max(t, st_min(t, st_add(t, q, e), st_tape_constant(t, 100.0)), ST_ZERO);
}

static int strength_of_label(struct st_build *b, const struct st_known *k)
{
    const struct st_range q = k->own.strength;
    const int group = st_group_of(b, ST_CAUSE_LABEL, ST_TOOL_NONE, "the strength of the ", k->own.name, NULL);

    if (k->dial >= 0 && st_dials_move(b))
        return strength_of_dial(b, k, group);
    if (!is_sharp(q))
        return st_input_thing(b, q, 0.0, 100.0, group, "strength", k->own.slug);
    if (!(q.value > 1.2))
        return st_tape_constant(b->tape, q.value);
    const double half = fmin(LABEL_PCT_VOL, 100.0 - q.value);
    if (!(half > 0.0))
        return st_tape_constant(b->tape, q.value);
    return st_doubt(b, ST_DOUBT_THING,
                    st_input_even(b, q.value - half, q.value + half, group, "strength", k->own.slug));
}

static bool only_ethanol_and_water(const struct st_range part[ST_NCOMP])
{
    for (int c = 0; c < ST_NCOMP; c++)
        if (c != ST_WATER && c != ST_ETHANOL && (part[c].value > 0.0 || part[c].high > 0.0))
            return false;
    return true;
}

/* Ethanol as a share of the whole when other things are in it: in proportion to the strength. */
static int ethanol_part(struct st_build *b, const struct st_known *k, struct st_range part)
{
    const double q = k->own.strength.value;
    if (!(k->own.strength.known && q > 0.0)) {
        const int group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, "the alcohol in the ", k->own.name, NULL);
        return st_input_thing(b, part, 0.0, 1.0, group, "ethanol", k->own.slug);
    }
    return st_scaled_by(b->tape, strength_of_label(b, k), part.value / q);
}

static bool is_sugar(int c)
{
    return c == ST_SUCROSE || c == ST_GLUCOSE || c == ST_FRUCTOSE || c == ST_LACTOSE;
}

/* One factor for all sugars: a fruit is sweet or not so sweet as a whole. */
static int sugar_factor(struct st_build *b, const struct st_known *k)
{
    const struct st_range s = k->own.sugars;
    if (!s.known || is_sharp(s) || !(s.value > 0.0))
        return ST_ONE;
    const struct st_range r = { 1.0, s.low / s.value, s.high / s.value, true, s.mark, s.source };
    const int group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, "the sugar in the ", k->own.name, NULL);
    return st_input_thing(b, r, 0.0, 1.0 / s.value, group, "sugars", k->own.slug);
}

static int plain_part(struct st_build *b, const struct st_known *k, int c, struct st_range part)
{
    const char *name = st_component_name((enum st_component)c);
    const int group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, name, " in the ", k->own.name);
    return st_input_thing(b, part, 0.0, 1.0, group, name, k->own.slug);
}

/* The component that makes up the whole where water is not drawn: water, or the solids where there are more of them. */
static int balancing(const struct st_range part[ST_NCOMP])
{
    int b = part[ST_SOLIDS].value > part[ST_WATER].value ? ST_SOLIDS : ST_WATER;
    if (part[b].value > 0.0)
        return b;
    b = 0;
    for (int c = 0; c < ST_NCOMP; c++)
        if (part[c].value > part[b].value)
            b = c;
    return b;
}

static int part_of(struct st_build *b, const struct st_known *k, const struct st_range part[ST_NCOMP], int c,
                   int sugars)
{
    if (c == ST_ETHANOL)
        return ethanol_part(b, k, part[c]);
    if (is_sugar(c) && k->own.sugars.known)
        return st_scaled_by(b->tape, sugars, part[c].value);
    return plain_part(b, k, c, part[c]);
}

/* Is its own water drawn?  Of a solid whose water is told: yes, or kept sharp as told.  Of a liquid only where its
 * range is wider than those of the rest together: the water of a syrup varies because its sugar does, and counts once.
 */
static bool water_is_drawn(const struct st_known *k, const struct st_range part[ST_NCOMP])
{
    const struct st_ingredient *in = &k->own;
    double rest = 0.0;

    if (!in->part[ST_WATER].known || in->kind == ST_KIND_SPIRIT || in->kind == ST_KIND_WINE)
        return false;
    if (st_kind_is_solid(in->kind))
        return true;
    for (int c = 0; c < ST_NCOMP; c++) {
        const double wide = part[c].high - part[c].low;
        rest += c == ST_WATER || (is_sugar(c) && in->sugars.known) ? 0.0 : wide * wide;
    }
    const double sugars = in->sugars.known ? in->sugars.high - in->sugars.low : 0.0;
    return part[ST_WATER].high - part[ST_WATER].low > sqrt(rest + sugars * sugars) + 1e-12;
}

/* No draw of these parts can come to more than 1: a deviate of a 53-bit number is within 8.3 sigma, 1.96 is the range.
 */
static bool stays_below_one(const struct st_range part[ST_NCOMP], int but)
{
    double most = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        if (c != but)
            most += part[c].value + 8.3 / 1.95 * (part[c].high - part[c].value);
    return most <= 1.0;
}

/* Parts that come to more than there is room for are cut in proportion.  Returned: their sum. */
static int hold_to(struct st_build *b, struct st_known *k, int others, int room)
{
    struct st_tape *t = b->tape;
    const int most = st_max(t, st_max(t, others, room), st_tape_constant(t, 1e-12)); /* never 0/0 */
    const int cut = st_ratio(t, room, most);
    for (int c = 0; c < ST_NCOMP; c++)
        k->unit[c] = st_mul(t, k->unit[c], cut);
    return st_mul(t, others, cut);
}

/* Fat and protein of kernels, nuts, seeds. */
static double bound_in_solids(const struct st_ingredient *in)
{
    const struct st_range fat = in->part[ST_FAT], protein = in->part[ST_PROTEIN];
    if (!st_kind_is_solid(in->kind))
        return 0.0;
    return (fat.known ? fat.value : 0.0) + (protein.known ? protein.value : 0.0);
}

/* Water as drawn; the others share what it leaves; what they leave dissolves in part, and is solid for the rest. */
static void close_by_rest(struct st_build *b, struct st_known *k, const struct st_range part[ST_NCOMP], int others)
{
    struct st_tape *t = b->tape;
    const struct st_ingredient *in = &k->own;
    const int water = plain_part(b, k, ST_WATER, part[ST_WATER]), room = st_sub(t, ST_ONE, water);

    if (others != ST_ZERO && !stays_below_one(part, -1))
        others = hold_to(b, k, others, room);
    k->unit[ST_WATER] = water;
    int rest = st_max(t, st_sub(t, room, others), ST_ZERO);
    if (!in->part[ST_EXTRACT].known) {
        const int loose = st_max(t, st_sub(t, rest, st_tape_constant(t, bound_in_solids(in))), ST_ZERO);
        k->unit[ST_EXTRACT] = st_mul(t, loose, plain_part(b, k, ST_EXTRACT, st_ingredient_extract_share(in)));
        rest = st_max(t, st_sub(t, rest, k->unit[ST_EXTRACT]), ST_ZERO);
    }
    k->unit[ST_SOLIDS] = rest;
}

static void compose(struct st_build *b, struct st_known *k, const struct st_range part[ST_NCOMP])
{
    struct st_tape *t = b->tape;
    const bool drawn = water_is_drawn(k, part);
    const int last = drawn ? ST_WATER : balancing(part);
    const int sugars = sugar_factor(b, k);
    int others = ST_ZERO;

    for (int c = 0; c < ST_NCOMP; c++) {
        const bool left = drawn && (c == ST_SOLIDS || (c == ST_EXTRACT && !k->own.part[c].known));
        if (c == last || left || !(part[c].value > 0.0 || part[c].high > 0.0))
            continue;
        k->unit[c] = part_of(b, k, part, c, sugars);
        others = st_add(t, others, k->unit[c]);
    }
    if (drawn) {
        close_by_rest(b, k, part, others);
        return;
    }
    if (others != ST_ZERO && !stays_below_one(part, last))
        others = hold_to(b, k, others, ST_ONE);
    k->unit[last] = others == ST_ZERO ? ST_ONE : st_max(t, st_sub(t, ST_ONE, others), ST_ZERO);
}

static void compose_spirit(struct st_build *b, struct st_known *k)
{
    const int q = strength_of_label(b, k), p = st_spirit(b->tape, q);
    double rho_ethanol = 0.0;
    k->unit[ST_ETHANOL] = p;
    k->unit[ST_WATER] = st_rest_of(b->tape, p);
    if (st_now(b, q) > 0.0 && k->own.strength.low > 0.0 &&
        st_spirit_density(100.0, &rho_ethanol) >= 0) /* q = 100 p rho/rho(1) */
        k->g_per_ml[0] = st_ratio(b->tape, st_scaled_by(b->tape, q, rho_ethanol * 1e-5), p);
}

static void follow_markers(struct st_build *b, struct st_known *k)
{
    struct st_plan *p = b->plan;
    for (int i = 0; i < k->own.n_marker; i++) {
        const char *name = k->own.marker[i].marker;
        int m = 0;
        while (m < p->n_marker && strcmp(p->marker[m], name) != 0)
            m++;
        if (m == ST_MAX_MARKERS || !k->own.marker[i].mg_g.known)
            continue;
        if (m == p->n_marker)
            p->marker[p->n_marker++] = name;
        const int group = st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, name, " in the ", k->own.name);
        k->unit[ST_SLOT_MARKER + m] = st_input_thing(b, k->own.marker[i].mg_g, 0.0, 1000.0, group, name, k->own.slug);
    }
}

/* Energy that the sheet knows better than the factors of the components (erythritol, sweeteners), kJ/g. */
static int energy_beyond(struct st_build *b, const struct st_known *k)
{
    static const double KJ_G[ST_NCOMP] = {
        [ST_ETHANOL] = 29, [ST_SUCROSE] = 17, [ST_GLUCOSE] = 17, [ST_FRUCTOSE] = 17, [ST_LACTOSE] = 17,
        [ST_ACID] = 13,    [ST_POLYOL] = 10,  [ST_PROTEIN] = 17, [ST_FAT] = 37
    };
    if (!k->own.energy.known || st_kind_is_solid(k->own.kind)) /* what dissolves of a solid is told by its parts */
        return ST_ZERO;
    double parts = 0.0;
    for (int c = 0; c < ST_NCOMP; c++)
        parts += KJ_G[c] * st_now(b, k->unit[c]);
    return st_tape_constant(b->tape, k->own.energy.value - parts);
}

static struct st_range sharp_strength(double q)
{
    return (struct st_range){ q, q, q, true, 'u', "" };
}

static struct st_known *add_known(struct st_build *b, const struct st_line *line)
{
    struct st_known *k = &b->known[b->n_known];
    *k = (struct st_known){ .what = line->what,
                            .strength = line->strength,
                            .own = *line->what,
                            .dial = st_dial_strength(b, line),
                            .keeps = -1,
                            .edible = -1,
                            .stones = -1,
                            .piece = -1,
                            .bulk = -1,
                            .g_per_ml = { -1, -1, -1 } };
    if (line->strength.known)
        k->own.strength = line->strength;
    if (k->dial >= 0)
        k->own.strength = sharp_strength(st_now(b, b->plan->dial_reg[k->dial]));
    for (int c = 0; c < ST_NSLOT; c++)
        k->unit[c] = ST_ZERO;

    struct st_range part[ST_NCOMP];
    const char *why;
    const enum st_status s = st_ingredient_parts(&k->own, part, &why);
    if (s < 0) {
        st_build_stop(b, "cannot reckon with ", k->own.name, why[0] ? why : st_status_text(s),
                      "write what is known of it under `ingredients:` in the recipe");
        return NULL;
    }
    b->made_of = st_status_worse(b->made_of, s);
    const bool spirit = k->own.strength.known && only_ethanol_and_water(part);
    if (k->dial >= 0 && (!spirit || k->own.energy.known)) {
        st_build_stop(b, "cannot turn the strength of ", k->own.name,
                      "only that of a spirit of ethanol and water is reckoned", "turn its amount instead");
        return NULL;
    }
    if (spirit)
        compose_spirit(b, k);
    else
        compose(b, k, part);
    follow_markers(b, k);
    k->unit[ST_SLOT_ENERGY] = energy_beyond(b, k);
    b->n_known++;
    return k;
}

struct st_known *st_known_get(struct st_build *b, const struct st_line *line)
{
    for (int i = 0; i < b->n_known; i++) {
        struct st_known *k = &b->known[i];
        if (k->what == line->what && k->strength.known == line->strength.known &&
            (!k->strength.known || k->strength.value == line->strength.value))
            return k;
    }
    return add_known(b, line);
}

/* ---- what it weighs ---- */

static int weight_group(struct st_build *b, const struct st_known *k, const char *measure)
{
    return st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, measure, k->own.name, NULL);
}

/* g/mL of a liquid from what it is made of. */
static int from_composition(struct st_build *b, const struct st_known *k)
{
    return st_scaled_by(b->tape, st_density(b->tape, k->unit), 1e-3);
}

static bool pours(const struct st_ingredient *in)
{
    switch (in->kind) {
    case ST_KIND_SPIRIT:
    case ST_KIND_WINE:
    case ST_KIND_WATER:
    case ST_KIND_JUICE:
    case ST_KIND_BREW:
    case ST_KIND_SYRUP:
    case ST_KIND_DAIRY: return true;
    default: return false;
    }
}

/* Whipped cream, milk powder: dairy by what they are made of, but a cup of them was weighed and weighs less. */
static bool holds_air(struct st_build *b, const struct st_known *k)
{
    const bool told = k->own.density.known;
    return k->own.cup.known &&
           st_ingredient_is_bulk(&k->own, told ? k->own.density.value : st_now(b, from_composition(b, k)));
}

int st_known_g_per_ml(struct st_build *b, struct st_known *k, double size_ml)
{
    static const char *const ID[3] = { "g_cup", "g_tbsp", "g_tsp" };
    const bool liquid = pours(&k->own) && !holds_air(b, k);
    const int size = liquid || size_ml >= 60.0 ? 0 : size_ml >= 7.5 ? 1 : 2;

    if (k->g_per_ml[size] >= 0)
        return k->g_per_ml[size];
    if (liquid && !k->own.density.known) {
        k->g_per_ml[size] = from_composition(b, k);
        return k->g_per_ml[size];
    }
    const struct st_range r = st_ingredient_g_per_ml(&k->own, size_ml);
    if (r.known)
        k->g_per_ml[size] = st_input_thing(
            b, r, 0.0, 30.0, weight_group(b, k, liquid ? "the density of the " : "the weight of a measure of "),
            ID[size], k->own.slug);
    return k->g_per_ml[size];
}

int st_known_piece(struct st_build *b, struct st_known *k)
{
    if (k->piece < 0 && k->own.piece.known)
        k->piece = st_input_thing(b, k->own.piece, 0.0, 1e5, weight_group(b, k, "the weight of a piece of "), "piece",
                                  k->own.slug);
    return k->piece;
}

int st_known_edible(struct st_build *b, struct st_known *k)
{
    if (k->edible < 0 && k->own.edible.known)
        k->edible = st_input_thing(b, k->own.edible, 0.0, 1.0, weight_group(b, k, "what is trimmed off the "), "edible",
                                   k->own.slug);
    return k->edible;
}

int st_known_stones(struct st_build *b, struct st_known *k)
{
    const struct st_range e = k->own.edible;
    const struct st_range r = { 0.5 * (1.0 + e.value), e.low, 1.0, true, e.mark, e.source };
    const int group =
        st_group_of(b, ST_CAUSE_RANGE, ST_TOOL_NONE, "whether the ", k->own.name, " was weighed with its stones");
    if (k->stones < 0)
        k->stones = st_input_thing(b, r, 0.0, 1.0, group, "stones", k->own.slug);
    return k->stones;
}

int st_known_keeps(struct st_build *b, struct st_known *k)
{
    if (k->keeps >= 0)
        return k->keeps;
    const struct st_range r = st_ingredient_retention(&k->own);
    const int group = st_group_of(b, ST_CAUSE_RETENTION, ST_TOOL_NONE, "the liquor the ", k->own.name, " keeps");
    k->keeps = st_input_thing(b, r, 0.0, 20.0, group, "keeps", k->own.slug);
    return k->keeps;
}

/* Bulk density of pieces without a cup weight, g/mL: between loose leaf and packed berries; from memory. */
int st_known_bulk(struct st_build *b, struct st_known *k)
{
    if (k->bulk >= 0)
        return k->bulk;
    int d = k->own.cup.known ? st_known_g_per_ml(b, k, 236.588) : -1;
    if (d < 0) {
        const struct st_range r = { 0.6, 0.4, 0.75, true, 'm', "from memory" };
        d = st_input_thing(b, r, 0.05, 3.0, weight_group(b, k, "the weight of a measure of "), "g_cup", k->own.slug);
    }
    k->bulk = st_ratio(b->tape, ST_ONE, d);
    return k->bulk;
}
