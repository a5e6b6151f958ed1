#ifndef ST_MODEL_INGREDIENT_H
#define ST_MODEL_INGREDIENT_H

#include <stdint.h>

#include "core/mixture.h"
#include "model/amount.h"

/* Kinds decide which priors hold where a sheet is silent (retention, what dissolves) and how a thing is used. */
enum st_kind {
    ST_KIND_FRESH_FRUIT, ST_KIND_FROZEN_FRUIT, ST_KIND_TINNED_FRUIT, ST_KIND_DRIED_FRUIT, ST_KIND_GREEN_FRUIT,
    ST_KIND_PEEL_FRESH, ST_KIND_PEEL_DRY, ST_KIND_KERNEL, ST_KIND_NUT, ST_KIND_SEED, ST_KIND_BARK, ST_KIND_ROOT_FRESH,
    ST_KIND_ROOT_DRY, ST_KIND_HERB_FRESH, ST_KIND_HERB_DRY, ST_KIND_FLOWER_FRESH, ST_KIND_FLOWER_DRY, ST_KIND_BERRY_DRY,
    ST_KIND_BEAN, ST_KIND_COFFEE, ST_KIND_NIB, ST_KIND_WOOD, ST_KIND_POWDER,
    ST_KIND_SPIRIT,    /* unsweetened, strength decides */
    ST_KIND_WINE,      /* wine, fortified wine, cordial, liqueur: strength and sugar */
    ST_KIND_WATER, ST_KIND_JUICE, ST_KIND_BREW, /* brewed coffee, tea */
    ST_KIND_SUGAR, ST_KIND_SYRUP, ST_KIND_SWEETENER, /* solid sugar; sugar in water, honey; sweet but not sugar */
    ST_KIND_DAIRY, ST_KIND_EGG, ST_KIND_ACID, ST_KIND_OTHER,
    ST_NKIND
};

/* True for what a steep strains off again; false for what simply joins the liquid. */
bool st_kind_is_solid(enum st_kind k);
const char *st_kind_name(enum st_kind k); /* the word used in data sheets: "fresh_fruit" */

/* A flag with its reason, e.g. { "cyanogenic", "high", "...", "efsa_2016" }.  Texts are lent. */
struct st_flag {
    const char *what;   /* code: cyanogenic, thujone, coumarin, asarone, safrole, estragole, methyleugenol, pulegone, quinine,
                           glycyrrhizin, capsaicin, caffeine, furanocoumarin, look_alike, banned, raw_toxic, leaves_toxic,
                           heat_first, salmonella, infants, drug_interaction, denatured, allergen names for allergens */
    const char *degree; /* high, moderate, low, trace, or ""; of an allergen its scope: eu_us, eu, us, voluntary (on no list),
                           possible_eu_us, possible_eu, possible_us ("may contain" is not none) */
    const char *text;   /* one sentence for people */
    const char *source; /* key */
    char mark;
};

/* What the alcohol of a drink of one's own comes of. */
enum st_alcohol_of {
    ST_ALCOHOL_BY_KIND, /* not said: as its kind has it */
    ST_ALCOHOL_SPIRIT,  /* of spirits alone */
    ST_ALCOHOL_PARTLY,  /* of spirits, and of wine, beer or the like */
    ST_ALCOHOL_NONE     /* there is none */
};

enum { ST_MAX_FLAGS = 8, ST_MAX_ALLERGENS = 40, ST_MAX_BROUGHT = 64 };

/* A caution of a drink or of fruit that was made before, as it was told of that batch. */
struct st_brought {
    struct st_flag flag; /* its code, reason and source; a degree only where it is a note: "low" */
    const char *what;    /* "egg yolk of B1: salmonella" */
    int level;           /* enum st_level (text/cautions.h) */
};

struct st_ingredient {
    const char *slug, *name;        /* "damson", "damson" */
    const char *names;              /* every name and plural it answers to, '|' between */
    const char *botanical;
    enum st_kind kind;
    enum st_alcohol_of alcohol;     /* by its own definition, of a drink that was made before */
    struct st_range part[ST_NCOMP]; /* g per g of the net (trimmed) ingredient; water and solids may be left unknown */
    struct st_range sugars;         /* g/g total sugars when the split is not known; then split by st_ingredient_parts() */
    struct st_range strength;       /* % vol, spirits and wines */
    struct st_range density;        /* g/mL true density of a liquid, or of a solid sugar (not for cups of a solid) */
    struct st_range extract_share;  /* share of the remaining solids that dissolves in spirit */
    struct st_range cup;            /* g in a US cup of 236.588 mL, as prepared (see cup_note), solids */
    struct st_range tbsp, tsp;      /* g in a US tablespoon, teaspoon */
    struct st_range piece;          /* g net of one piece */
    const char *piece_name;         /* "pod", "medium fruit" */
    const char *piece_names;        /* words for the piece, '|' between: "pod|pods|bean|beans" */
    const char *cup_note;           /* "pitted", "packed", "ground" */
    struct st_range edible;         /* net (trimmed) share of the bought weight */
    struct st_range retention;      /* g liquor kept per g weighed in, strained not pressed */
    struct st_range sweetness;      /* sucrose equivalents, g/g, when it is a sweetener without sugar */
    struct st_range oil;            /* essential oil, mL per kg of the net ingredient; unknown is never none */
    struct st_range energy;         /* kJ/g when not computed from parts (polyols, sweeteners) */
    struct st_flag allergen[ST_MAX_ALLERGENS];
    struct st_flag caution[ST_MAX_FLAGS];
    int n_allergen, n_caution;
    struct { const char *marker; struct st_range mg_g; } marker[ST_MAX_FLAGS]; /* compounds followed, mg per g */
    int n_marker;
    const struct st_content *own;   /* what it may hold by its own definition (rule.h): goes before rows of the books */
    int n_own;
    const struct st_brought *brought; /* what is to be watched of what it was made of, by its own definition */
    int n_brought;
    const char *made_of;            /* slugs of what went into it, ',' between: rules about a plant speak of it too; or "" */
    const char *tastes;             /* of these the ones that give flavour (ST_GOODS_FLAVOUR); NULL: none */
    bool tastes_else;               /* something else of these has a taste of its own, a gin or a wine, or is not known here */
    uint64_t made_kinds;            /* UINT64_C(1) << kind of each of these that is known */
    const char *like;               /* slug it is treated like, or "" */
    const char *whole;              /* slug of the same fruit with its peel: a bare name is then asked about; or "" */
    const char *note;
};

/* Composition to use: fills in from what is known.  split: sugars without a split go to sucrose/glucose/fructose by kind;
 * water = 1 - rest when unknown; solids the rest.
 * Given: *in.  Returned: part[ST_NCOMP] ranges, all known, values sum to 1.
 * Status: ST_OK; ST_ESTIMATED a split or share came from the kind; ST_E_REFUSED when the sugar or strength that is needed is
 * unknown (a blank sugar is unknown, not 0): *why says which. */
enum st_status st_ingredient_parts(const struct st_ingredient *in, struct st_range part[ST_NCOMP], const char **why);

/* Stone fruit as picked (cherries, plums, sloes: by their botanical name), which is steeped whole as often as pitted. */
bool st_ingredient_has_stones(const struct st_ingredient *in);

/* Below this share of the bought weight it matters whether something was weighed trimmed. */
#define ST_TRIMMING_MATTERS 0.97

/* The first of its cautions, its own or brought, that has one of these codes ('|' between); NULL. */
const struct st_flag *st_ingredient_caution(const struct st_ingredient *in, const char *codes);

/* Milk, cream or egg; or a drink with such in it, by what it brings. */
bool st_ingredient_perishable(const struct st_ingredient *in);

/* Retention to use: the sheet's, else the kind's prior. */
struct st_range st_ingredient_retention(const struct st_ingredient *in);

/* Share of what is neither water, sugar, acid nor the like that dissolves: the sheet's, else the kind's prior. */
struct st_range st_ingredient_extract_share(const struct st_ingredient *in);

/* Grams (net) of one mL / one piece, for conversion of amounts.  For a solid measured by volume this is the bulk weight
 * (cup, tbsp, tsp), never the true density; so it is for what counts as liquid when st_ingredient_is_bulk.  known = false
 * when no figure exists.  size_ml tells which household measure fits. */
struct st_range st_ingredient_g_per_ml(const struct st_ingredient *in, double size_ml);

/* True when a measured cup or spoon of it weighs something else than this true density says, by more than a tenth: it
 * is whipped or a powder, and its volume holds air.  A density of the user's own against figures of the sheet rules. */
bool st_ingredient_is_bulk(const struct st_ingredient *in, double g_per_ml);

#endif
