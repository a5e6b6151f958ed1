#ifndef ST_MODEL_RULE_H
#define ST_MODEL_RULE_H

#include "model/ingredient.h"

/* Limits as data: what law and health bodies say of a toxicant in a drink.  Read from data/toxicants.tsv, contents.tsv and
 * rules.tsv (src/text/rule_sheets.h); texts are lent by the books. */

enum { /* places, a bit each, so that "the strictest of" is a set */
       ST_PLACE_EU = 1u << 0,
       ST_PLACE_UK = 1u << 1,
       ST_PLACE_US = 1u << 2,
       ST_PLACE_AU = 1u << 3,
       ST_PLACE_NZ = 1u << 4,
       ST_PLACE_CA = 1u << 5,
       ST_PLACE_HEALTH = 1u << 6, /* reference values of health bodies: they hold wherever one lives */
       ST_PLACE_OLD = 1u << 7,    /* repealed rules, kept as a stricter benchmark; told as such, never as law */
       ST_PLACE_ALL = 0xff
};

struct st_toxicant {
    const char *slug, *name; /* "hydrogen_cyanide", "hydrogen cyanide (from kernels)" */
    const char *flags;       /* codes of ingredient cautions that point to it, ',' or blanks between: "cyanogenic" */
    const char *harm;        /* one plain sentence, what it does */
    const char *source;
    char mark;
};

/* What an ingredient may hold: total of bound and free. */
struct st_content {
    const char *ingredient;      /* slug of the ingredient sheet; "" a fallback for its flag */
    const char *flag;            /* code of the ingredient caution it belongs to */
    const char *degree;          /* of that caution, for a fallback row; "" any */
    const char *toxicant;        /* slug */
    struct st_range found_mg_kg; /* what was found; may be unknown */
    double ceiling_mg_kg; /* worst case, mg of the TOXICANT (converted) per kg of ingredient; NAN: none published */
    bool stones;          /* the ceiling is of all stones or pips opened; what shut ones give nobody knows */
    bool shut;            /* of a drink made before, an own row: its stones did stay shut */
    const char *through;  /* "amygdalin x 0.0591", or "" */
    const char *source, *note;
    char mark;
};

enum st_rule_unit {
    ST_RULE_MG_KG,
    ST_RULE_MG_KG_PER_PCT_VOL,
    ST_RULE_MG_L,
    ST_RULE_MG_KG_BW_DAY,
    ST_RULE_MG_PERSON_DAY,
    ST_RULE_G_HL_ALCOHOL,
    ST_RULE_G_L_ETHANOL,
    ST_RULE_PRESENT, /* no figure: barred where the toxicant or the plant is there at all; with at_least: a condition or a
                      * declaration, no bar */
    ST_RULE_NUNIT
};

enum st_rule_scope { /* when a rule speaks of this drink; columns of rules.tsv say it in words */
                     ST_SCOPE_ANY,
                     ST_SCOPE_TO_25,
                     ST_SCOPE_OVER_25,
                     ST_SCOPE_ARTEMISIA,
                     ST_SCOPE_NOT_ARTEMISIA,
                     ST_SCOPE_MINT,
                     ST_SCOPE_BITTER,
                     ST_SCOPE_NOT_BITTER,
                     ST_SCOPE_SPIRIT_DRINK,
                     ST_SCOPE_UNDER_15,
                     ST_SCOPE_INGREDIENT,
                     ST_SCOPE_BASE_SPIRIT,
                     ST_SCOPE_ADDED,
                     ST_SCOPE_OTHER_FOOD,
                     ST_NSCOPE
};

struct st_rule {
    const char *id; /* our own: "eu-hcn-drinks" */
    unsigned places;
    const char *document, *article;
    int year;
    const char *toxicant; /* slug */
    const char *plant; /* the rule is of these alone: ingredient slugs, ',' or blanks between; "" whatever brings it */
    enum st_rule_scope scope;
    enum st_rule_unit unit;
    double limit;       /* NAN for ST_RULE_PRESENT */
    bool in_force;      /* false: repealed or proposed; a benchmark */
    bool at_least;      /* a declaration from this much on, not a maximum */
    const char *says;   /* our own sentence: what it asks */
    const char *source; /* key of docs/sources.md */
    char mark;          /* 'r' read, 's' read in a secondary source, 'm' from memory: told as "unverified figure" */
};

/* What a maker's words say of the stones or pips of a fruit. */
enum st_stones { ST_STONES_SHUT, ST_STONES_OPENED, ST_STONES_OUT };
struct st_recipe;

struct st_rule_books {
    const struct st_toxicant *toxicant;
    int n_toxicant;
    const struct st_content *content;
    int n_content;
    const struct st_rule *rule;
    int n_rule;
    /* Reads that of a line (src/text/stone_words.h); NULL: stones then count as opened. */
    enum st_stones (*stones)(const struct st_recipe *r, int step, int line);
};

const struct st_toxicant *st_toxicant_find(const struct st_rule_books *b, const char *slug);

/* By a maker's words: slug or name, in any case, with blanks for '_', and with or without what stands in brackets. */
const struct st_toxicant *st_toxicant_named(const struct st_rule_books *b, const char *words);

/* True when word stands in list, ',' or blanks between. */
bool st_rule_lists(const char *list, const char *word);

/* True when a caution of the ingredient points to the toxicant. */
bool st_toxicant_flagged(const struct st_toxicant *t, const struct st_ingredient *in);

/* True when the row is of the ingredient: of its slug, of what it is like, or the fallback of one of its cautions. */
bool st_content_is_of(const struct st_content *c, const struct st_ingredient *in);

/* The row of an ingredient and one of its cautions (flag; NULL or "": any of them): what its own definition says first, then
 * rows of its slug, then those of what it is like, then the fallback of flag and degree; of several that fit, the highest ceiling (a row without one is worse than
 * any: unknown).  NULL: none. */
const struct st_content *st_content_find(const struct st_rule_books *b, const struct st_ingredient *in,
                                         const char *flag, const char *toxicant);

#endif
