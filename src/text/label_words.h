#ifndef ST_TEXT_LABEL_WORDS_H
#define ST_TEXT_LABEL_WORDS_H

#include <stdbool.h>

#include "model/allergens_in.h"
#include "model/drink_class.h"
#include "model/label_facts.h"

/* What a label would say, in sentences: one fact an item, with the rule and the source it follows.  Never that something is
 * free of an allergen; a figure from memory is told as unverified. */

struct st_label_fact {
    const char
        *code; /* "class", "tolerance", "allergen", "sulphites", "energy", "drinks", "made_of", "vegan", "guest" ... */
    enum st_truth
        truth; /* of a class: may it be called so; of an allergen: it is in it, may be, on no list.  ST_YES else */
    char what[240], because[520];
    char rule[160];     /* document, article, year; "" none */
    const char *source; /* key, with or without its brackets, or "from memory"; lent */
    char mark;          /* r, s, m, c (computed) */
    int step, line;     /* at whose ingredient; -1 the whole bottle */
    bool far; /* a class that it is not, and not near to (label_classes.c): for whoever wants the whole list */
};

enum { ST_MAX_LABEL_FACTS = 96 };
struct st_label_facts {
    struct st_label_fact item[ST_MAX_LABEL_FACTS];
    int n;
    bool cut; /* there was more than fits: told, never silently */
};

/* Each adds to *out (begin with n = 0, cut = false). */

/* Classes: those it may bear, those undecided, and of those whose ingredients fit what is lacking, in figures; places whose
 * names were not collected, in one fact. */
void st_label_classes(const struct st_class_verdict v[], int n, const struct st_class_facts *facts,
                      struct st_label_facts *out);

/* How far the strength on a label may be from that of the bottle, against the interval foretold.  pieces: fruit or parts of
 * plants lie in the bottle. */
void st_label_tolerance(const struct st_interval *strength, bool pieces, unsigned places, struct st_label_facts *out);

/* Allergens, one fact for each and how sure it is, with the lists that have it; then that precautionary words are voluntary. */
void st_label_allergens(const struct st_recipe *r, const struct st_allergens_in *in, struct st_label_facts *out);

/* Sulphites of dried fruit, wine, juice: the most that may be in it, and that they are declared. */
void st_label_sulphites(const struct st_recipe *r, const struct st_sulphites *s, struct st_label_facts *out);

/* Energy in 100 mL and in a serving; a bottle too where bottle_ml > 0. */
void st_label_energy(const struct st_foretold *f, double serving_ml, double bottle_ml, struct st_label_facts *out);

/* Grams of alcohol in a serving and a bottle (bottle_ml 0: none), then one fact a country: the one with this key, or when key is
 * NULL those of the places, and the World Health Organization's.  Guidance as published. */
void st_label_drinks(const struct st_drink_rows *rows, const char *key, unsigned places,
                     const struct st_interval *strength, double serving_ml, double bottle_ml,
                     struct st_label_facts *out);

/* Ingredients by falling weight, as put in. */
void st_label_made_of(const struct st_recipe *r, struct st_label_facts *out);

/* Quinine, caffeine, liquorice.  mg_l[ST_NNAMED]: the most of quinine, caffeine, glycyrrhizic acid that the drink may hold, by
 * whoever reckons worst cases; NAN not known, and told so. */
void st_label_named(const struct st_recipe *r, const double mg_l[ST_NNAMED], const struct st_interval *strength,
                    struct st_label_facts *out);

/* Whether anything of animals went in. */
void st_label_animals(const struct st_recipe *r, const struct st_animals *a, struct st_label_facts *out);

#endif
