#ifndef ST_MODEL_LABEL_FACTS_H
#define ST_MODEL_LABEL_FACTS_H

#include "model/clearing_bench.h"
#include "model/drink_class.h"
#include "model/foresee.h"

/* Facts that a label tells, without the words: what went in by weight, sulphites from dried fruit, animal matter, alcohol as
 * standard drinks.  Sentences: text/label_words.h. */

/* ---- what it is made of ---- */

/* An ingredient with all its lines together, as put in. */
struct st_part_in {
    const struct st_ingredient *what;
    struct st_range g; /* not known when one of its lines has no weight */
    int step, line;    /* the first of them */
};
enum { ST_MAX_PARTS_IN = 64 };

/* By falling weight, those without a weight last; steps that the drink takes nothing of are left out.  How many of max;
 * *cut is set when there were more. */
int st_parts_by_weight(const struct st_recipe *r, struct st_part_in out[], int max, bool *cut);

/* ---- sulphites ---- */

struct st_sulphite_source {
    int step, line;
    struct st_range g;
    double most_mg_kg; /* what the EU lets it hold; NAN: no figure (wine, bottled juice ...) */
    double mg_l;       /* of the drink, if all of it transfers; NAN not known */
    bool possible;     /* only possible by the ingredient sheet */
};
enum { ST_MAX_SULPHITE_SOURCES = 24 };
struct st_sulphites {
    struct st_sulphite_source source[ST_MAX_SULPHITE_SOURCES];
    int n;
    double mg_l;  /* all together, of the smallest volume foretold, NAN when one is not known */
    bool declare; /* the default wherever anything may bring it */
    bool below;   /* even so under what must be declared, if every lot keeps to the EU's maximum */
};

#define ST_SULPHITE_DECLARED 10.0 /* mg/L: EU above it [eu_1169_2011], US from it on [cfr27_5] */

/* ml: volume of the drink.  Worst case: the most the EU allows in such fruit, everything transferred. */
void st_sulphites_find(const struct st_recipe *r, const struct st_interval *ml, struct st_sulphites *out);

/* What the EU lets dried fruit hold, mg/kg [ec_1333_2008]; NAN where nothing was collected. */
double st_sulphite_most(const struct st_ingredient *in);

/* ---- animal matter ---- */

enum st_animal { ST_ANIMAL_NONE, ST_ANIMAL_UNKNOWN, ST_ANIMAL_YES };
struct st_animal_hit {
    enum st_animal is;
    bool flesh;       /* not for vegetarians either: gelatine, isinglass, cochineal */
    int step, line;   /* line -1: named in the words of the step */
    const char *what; /* "milk or cream", "wine is often fined with egg, milk or fish"; static */
    const struct st_agent *agent;
};
enum { ST_MAX_ANIMAL_HITS = 48 };
struct st_animals {
    struct st_animal_hit hit[ST_MAX_ANIMAL_HITS]; /* in the recipe's order */
    int n;
    enum st_animal vegan,
        vegetarian; /* the worst; NONE: nothing of animals among what went in, which is all that can be said */
};
void st_animals_find(const struct st_recipe *r, const struct st_agents *agents, struct st_animals *out);

/* ---- standard drinks ---- */

/* A row of data/drinks.tsv (text/drink_sheet.h). */
struct st_drink_row {
    const char *key, *country, *term; /* "uk", "United Kingdom", "unit" */
    unsigned places;                  /* of ST_PLACE_*, 0 none of them */
    double g, ml;                     /* of ethanol; NAN none defined */
    bool by_volume;                   /* defined in mL: the grams follow */
    const char *differ, *guidance;    /* what other sources say; guidance as published, "" none */
    const char *source, *guidance_source, *note;
    char mark, guidance_mark;
};
struct st_drink_rows {
    const struct st_drink_row *row;
    int n;
};

#define ST_ETHANOL_G_ML 0.78924 /* at 20 C [oiml1975] */

/* Grams of ethanol in ml of a drink, and how many standard drinks that is; not known without a strength, or a definition. */
struct st_interval st_ethanol_grams(const struct st_interval *strength, double ml);
struct st_interval st_standard_drinks(const struct st_drink_row *row, const struct st_interval *strength, double ml);

/* ---- quinine, caffeine, liquorice ---- */

enum st_named { ST_NAMED_QUININE, ST_NAMED_CAFFEINE, ST_NAMED_LIQUORICE, ST_NNAMED };
struct st_named_in {
    int step, line; /* the first that may bring it; -1 nothing does */
    int n;          /* how many lines do */
};
/* By the cautions quinine, caffeine and glycyrrhizin of the ingredient sheet. */
void st_named_find(const struct st_recipe *r, struct st_named_in out[ST_NNAMED]);

#endif
