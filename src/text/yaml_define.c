#include "yaml_define.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "held.h"
#include "model/line_goods.h"
#include "model/rule.h"
#include "near.h"
#include "util/buf.h"
#include "yaml_flags.h"

/* The catalogue outlives the recipe, so the texts of definitions are kept there. */
static const char *keep(struct st_reader *r, const char *text)
{
    return st_catalogue_keep(r->catalogue, text, strlen(text));
}

static const char OWN[] = ST_YAML_OWN;

/* ---- figures ---- */

static void own(struct st_range *into, struct st_range x)
{
    *into = x;
    into->mark = 'u';
    into->source = OWN;
}

static void share(struct st_reader *r, const struct st_yaml *v, struct st_range *into)
{
    struct st_range x;
    if (st_value_share(r, v, true, &x))
        own(into, x);
}

static void figure(struct st_reader *r, const struct st_yaml *v, const char *units, double most, struct st_range *into)
{
    struct st_range x;
    if (st_value_figure(r, v, units, 1, most, true, &x))
        own(into, x);
}

static void weight(struct st_reader *r, const struct st_yaml *v, struct st_range *into)
{
    struct st_range x;
    if (st_value_range(r, v, ST_DIM_MASS, &x))
        own(into, x);
}

#define PART(name, component)                                                                                          \
    static void read_##name(struct st_reader *r, const struct st_yaml *v, void *into)                                  \
    {                                                                                                                  \
        share(r, v, &((struct st_ingredient *)into)->part[component]);                                                 \
    }
#define SHARE(name, member)                                                                                            \
    static void read_##name(struct st_reader *r, const struct st_yaml *v, void *into)                                  \
    {                                                                                                                  \
        share(r, v, &((struct st_ingredient *)into)->member);                                                          \
    }
#define WEIGHT(name)                                                                                                   \
    static void read_##name(struct st_reader *r, const struct st_yaml *v, void *into)                                  \
    {                                                                                                                  \
        weight(r, v, &((struct st_ingredient *)into)->name);                                                           \
    }
#define FIGURE(name, units, most)                                                                                      \
    static void read_##name(struct st_reader *r, const struct st_yaml *v, void *into)                                  \
    {                                                                                                                  \
        figure(r, v, units, most, &((struct st_ingredient *)into)->name);                                              \
    }

PART(water, ST_WATER)
PART(sucrose, ST_SUCROSE)
PART(glucose, ST_GLUCOSE)
PART(fructose, ST_FRUCTOSE)
PART(lactose, ST_LACTOSE)
PART(acid, ST_ACID)
PART(polyol, ST_POLYOL)
PART(protein, ST_PROTEIN)
PART(extract, ST_EXTRACT)
PART(fat, ST_FAT)
PART(solids, ST_SOLIDS)
SHARE(sugars, sugars)
SHARE(dissolves, extract_share)
SHARE(edible, edible)
WEIGHT(cup)
WEIGHT(tbsp)
WEIGHT(tsp)
WEIGHT(piece)
FIGURE(density, "g/mL|g/ml|kg/L|kg/l", 3)
FIGURE(retention, "g/g|", 20)
FIGURE(sweetness, "x|times|", 20000)
FIGURE(energy, "kJ/g|kj/g", 40)
FIGURE(oil, "mL/kg|ml/kg", 500)

/* Not rounded: a label's strength has a tolerance of its own, which the model knows. */
static void read_strength(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_range x;
    if (st_value_range(r, v, ST_DIM_STRENGTH, &x))
        own(&((struct st_ingredient *)into)->strength, x);
}

/* ---- words ---- */

static void read_kind(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text, *known[ST_NKIND];
    if (!st_value_text(r, v, ST_NAME_LIMIT, &text))
        return;
    for (int k = 0; k < ST_NKIND; k++) {
        known[k] = st_kind_name((enum st_kind)k);
        if (strcmp(text, known[k]) == 0) {
            ((struct st_ingredient *)into)->kind = (enum st_kind)k;
            return;
        }
    }
    const char *near = st_near_key(text, known, ST_NKIND);
    st_report(&r->report, v->at,
              "kinds are listed in docs/recipe-file.md: fresh_fruit, dried_fruit, root_dry, spirit ...",
              near ? st_arena_printf(r->report.arena, "did you mean `%s`?", near) : "choose the nearest, or `other`",
              "the kind `%s` is not known", st_report_clip(&r->report, text, v->size));
}

static void read_alcohol(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    if (!st_value_text(r, v, ST_NAME_LIMIT, &text))
        return;
    static const char *const WORD[] = { [ST_ALCOHOL_BY_KIND] = "",
                                        [ST_ALCOHOL_SPIRIT] = "of spirit",
                                        [ST_ALCOHOL_PARTLY] = "partly of spirit",
                                        [ST_ALCOHOL_NONE] = "none" };
    enum st_alcohol_of of = ST_ALCOHOL_NONE;
    while (of != ST_ALCOHOL_BY_KIND && strcmp(text, WORD[of]) != 0)
        of--;
    ((struct st_ingredient *)into)->alcohol = of;
    if (of == ST_ALCOHOL_BY_KIND)
        st_report(&r->report, v->at, "it tells what the alcohol of a drink of one's own comes of",
                  "write alcohol: of spirit, alcohol: partly of spirit, or alcohol: none, or leave it out",
                  "`%s` says nothing of its alcohol", st_report_clip(&r->report, text, v->size));
}

static void read_piece_name(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_ingredient *in = into;
    const char *text;
    if (!st_value_text(r, v, ST_NAME_LIMIT, &text))
        return;
    char names[2 * ST_NAME_LIMIT + 4];
    (void)snprintf(names, sizeof names, "%s|%ss", text, text);
    in->piece_name = keep(r, text);
    in->piece_names = keep(r, names);
}

static void read_note(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    if (st_value_text(r, v, ST_TEXT_BYTES, &text))
        ((struct st_ingredient *)into)->note = keep(r, text);
}

/* It is found by the name it was defined by. */
static void read_called(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    if (st_value_text(r, v, ST_NAME_LIMIT, &text))
        ((struct st_ingredient *)into)->name = keep(r, text);
}

static void read_botanical(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    if (st_value_text(r, v, ST_NAME_LIMIT, &text))
        ((struct st_ingredient *)into)->botanical = keep(r, text);
}

/* ---- a drink or fruit of one's own: what went into it, and what it may hold ---- */

static void read_made_of(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_ingredient *in = into;
    struct st_buf all = { 0 }, tastes = { 0 };
    in->made_kinds = 0;
    in->tastes_else = false;
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one)) {
        const char *text;
        if (!st_value_text(r, one, ST_NAME_LIMIT, &text))
            continue;
        const struct st_ingredient *of = st_catalogue_find(r->catalogue, text, strlen(text));
        st_buf_printf(&all, "%s%s", all.length ? "," : "", of ? of->slug : text);
        const enum st_goods goods = of ? st_ingredient_goods(of) : ST_GOODS_TASTY;
        in->tastes_else = in->tastes_else || goods == ST_GOODS_TASTY || goods == ST_GOODS_FERMENTED;
        if (of && goods == ST_GOODS_FLAVOUR)
            st_buf_printf(&tastes, "%s%s", tastes.length ? "," : "", of->slug);
        in->made_kinds |= of ? UINT64_C(1) << of->kind : 0;
    }
    in->made_of = keep(r, st_buf_text(&all));
    in->tastes = tastes.length ? keep(r, st_buf_text(&tastes)) : NULL;
    st_buf_done(&tastes);
    if (in->oil.source != OWN) /* of what it is like; nobody told that of what went into it */
        in->oil.known = false;
    st_buf_done(&all);
}

static void read_toxicant(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    if (st_value_text(r, v, ST_NAME_LIMIT, &text))
        ((struct st_content *)into)->toxicant = keep(r, text);
}

static void read_at_most(struct st_reader *r, const struct st_yaml *v, void *into)
{
    static const char UNKNOWN[] = "not known";
    struct st_range x;
    if (v->kind == ST_YAML_TEXT && v->size == sizeof UNKNOWN - 1 && memcmp(v->text, UNKNOWN, v->size) == 0)
        ((struct st_content *)into)->ceiling_mg_kg = (double)NAN;
    else if (st_value_figure(r, v, "mg/kg|ppm", 1, 1e6, false, &x))
        ((struct st_content *)into)->ceiling_mg_kg = x.high;
}

static void read_stones_shut(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_content *c = into;
    if (st_value_yes_no(r, v, &c->shut))
        c->stones = c->shut;
}

static void read_because(struct st_reader *r, const struct st_yaml *v, void *into)
{
    const char *text;
    if (st_value_text(r, v, 400, &text))
        ((struct st_content *)into)->note = keep(r, text);
}

static const struct st_field HOLDS[] = {
    { "toxicant", read_toxicant, 0 },
    { "at_most", read_at_most, 0 },
    { "stones_shut", read_stones_shut, 0 },
    { "because", read_because, 0 },
    { NULL, NULL, 0 },
};
enum { MOST_HELD = 40 };

static void read_holds(struct st_reader *r, const struct st_yaml *v, void *into)
{
    struct st_ingredient *in = into;
    struct st_content *all = st_catalogue_room(r->catalogue, MOST_HELD * sizeof *all);
    int n = 0;
    for (const struct st_yaml *one = st_value_first(v); one; one = st_value_next(v, one)) {
        if (one->kind != ST_YAML_MAP || !st_yaml_get(one, "toxicant") || !st_yaml_get(one, "at_most") ||
            n == MOST_HELD) {
            st_report(&r->report, one->at,
                      n == MOST_HELD ? "forty are the most that are read" : "it names a toxicant and a most",
                      "write {toxicant: thujone, at_most: 120 mg/kg}, or at_most: not known",
                      "this does not say what the ingredient may hold");
            return;
        }
        all[n] = (struct st_content){ .ingredient = in->slug,
                                      .flag = "",
                                      .degree = "",
                                      .toxicant = "",
                                      .through = "",
                                      .source = OWN,
                                      .note = "",
                                      .mark = 'u',
                                      .ceiling_mg_kg = (double)NAN };
        st_fields_read(r, one, HOLDS, "what it may hold", 0, &all[n++]);
    }
    in->own = all;
    in->n_own = n;
}

static const struct st_field DEFINITION[] = {
    { "like", NULL, 0 },
    { "called", read_called, 0 },
    { "kind", read_kind, 0 },
    { "water", read_water, 0 },
    { "sugars", read_sugars, 0 },
    { "sucrose", read_sucrose, 0 },
    { "glucose", read_glucose, 0 },
    { "fructose", read_fructose, 0 },
    { "lactose", read_lactose, 0 },
    { "acid", read_acid, 0 },
    { "polyol", read_polyol, 0 },
    { "protein", read_protein, 0 },
    { "extract", read_extract, 0 },
    { "fat", read_fat, 0 },
    { "solids", read_solids, 0 },
    { "dissolves", read_dissolves, 0 },
    { "strength", read_strength, 0 },
    { "alcohol", read_alcohol, 0 },
    { "density", read_density, 0 },
    { "cup", read_cup, 0 },
    { "tbsp", read_tbsp, 0 },
    { "tsp", read_tsp, 0 },
    { "piece", read_piece, 0 },
    { "piece_name", read_piece_name, 0 },
    { "edible", read_edible, 0 },
    { "retention", read_retention, 0 },
    { "sweetness", read_sweetness, 0 },
    { "energy", read_energy, 0 },
    { "oil", read_oil, 0 },
    { "botanical", read_botanical, 0 },
    { "made_of", read_made_of, 0 },
    { "holds", read_holds, 0 },
    { "allergens", st_yaml_allergens_read, 0 },
    { "cautions", st_yaml_cautions_read, 0 },
    { "brings", st_yaml_brings_read, 0 },
    { "note", read_note, 0 },
    { NULL, NULL, 0 },
};

/* ---- one definition ---- */

static void refuse_like(struct st_reader *r, const struct st_yaml *v)
{
    const struct st_ingredient *near[1];
    const int n = st_catalogue_near(r->catalogue, v->text, v->size, near, 1);
    st_report(&r->report, v->at, "it is neither in the list of ingredients nor defined above this line",
              n > 0 ? st_arena_printf(r->report.arena, "did you mean `%s`?", near[0]->name)
                    : "name an ingredient that is known, or give `kind`, `water` and `sugars` instead",
              "no ingredient is called `%s`", st_report_clip(&r->report, v->text, v->size));
}

/* What the definition begins with: the ingredient it is like, the one it replaces, or nothing.  False when told. */
static bool base_of(struct st_reader *r, const struct st_yaml *v, const struct st_ingredient **base)
{
    const struct st_yaml *like = v->kind == ST_YAML_MAP ? st_yaml_get(v, "like") : v;
    const char *text;

    if (!like) {
        *base = st_catalogue_find(r->catalogue, v->key->text, v->key->size);
        if (*base || st_yaml_get(v, "kind"))
            return true;
        st_report(&r->report, v->key->at, "what it is cannot be guessed from its name",
                  "say what to treat it like, `like: damson`, or give its `kind`",
                  "the new ingredient `%s` has neither `like` nor `kind`",
                  st_report_clip(&r->report, v->key->text, v->key->size));
        return false;
    }
    if (!st_value_text(r, like, ST_NAME_LIMIT, &text))
        return false;
    *base = st_catalogue_find(r->catalogue, text, like->size);
    if (!*base)
        *base = st_held_stop(r->catalogue, text, like->size);
    if (!*base)
        refuse_like(r, like);
    return *base != NULL;
}

/* Water, sugar and acid as written, with a little room for rounding; the model alone would let the water give way. */
static bool is_overfull(const struct st_ingredient *in)
{
    static const int OTHER[] = { ST_WATER, ST_ACID, ST_POLYOL, ST_EXTRACT, ST_SOLIDS };
    double sum = in->sugars.known ? in->sugars.value : 0;
    for (size_t i = 0; i < sizeof OTHER / sizeof OTHER[0]; i++)
        sum += in->part[OTHER[i]].known ? in->part[OTHER[i]].value : 0;
    for (int c = ST_SUCROSE; c <= ST_LACTOSE && !in->sugars.known; c++)
        sum += in->part[c].known ? in->part[c].value : 0;
    return sum > 1.02;
}

static void check_parts(struct st_reader *r, const struct st_yaml *v, const struct st_ingredient *in)
{
    struct st_range part[ST_NCOMP];
    const char *why = "";
    if (!is_overfull(in) && st_ingredient_parts(in, part, &why) != ST_E_DOMAIN)
        return; /* a figure that is missing is asked for where it is needed */
    st_report(&r->report, v->key->at, why && *why ? why : "its parts make more than the whole",
              "look at water, sugars, acid and strength: shares of 100 g that come to no more than 100 %",
              "the figures of `%s` do not go together", st_report_clip(&r->report, v->key->text, v->key->size));
}

static void define(struct st_reader *r, const struct st_yaml *v)
{
    const struct st_ingredient *base = NULL, *found;
    const int before = r->report.out->n_problem;

    if (v->key->size == 0 || v->key->size > ST_NAME_LIMIT) {
        st_report(&r->report, v->key->at, "a name has between 1 and 120 bytes", "give it a short name",
                  "this cannot be the name of an ingredient");
        return;
    }
    if (!base_of(r, v, &base))
        return;
    found = st_catalogue_find(r->catalogue, v->key->text, v->key->size);
    const struct st_ingredient *held[ST_HELD]; /* before its name means itself */
    const int n_held = st_held_names(r->catalogue, v->key->text, v->key->size, held);
    const struct st_ingredient was = found ? *found : (struct st_ingredient){ 0 };
    struct st_ingredient *in = st_catalogue_define(r->catalogue, keep(r, v->key->text), base);
    if (base && base == found)
        in->like = was.like; /* other figures for the same thing */
    if (found)
        in->slug = was.slug; /* what is known of it goes by that, its worst case among it */
    st_yaml_flags_keep(in, found ? &was : NULL);
    if (v->kind == ST_YAML_MAP)
        st_fields_read(r, v, DEFINITION, "an ingredient", 0, in);
    st_yaml_flags_held(r, in, held, n_held);
    if (!base && !found)
        st_yaml_flags_unknown(in);
    if (r->report.out->n_problem == before)
        check_parts(r, v, in);
}

void st_yaml_define_read(struct st_reader *r, const struct st_yaml *map, void *unused)
{
    (void)unused;
    if (map->kind != ST_YAML_MAP) {
        st_report(&r->report, map->at, "each ingredient has a name and what it is like",
                  "write for example {bullace: {like: damson, water: 76-81 %}}", "`ingredients` takes keys and values");
        return;
    }
    for (const struct st_yaml *v = map->child; v && !r->report.full; v = v->next)
        define(r, v);
}
