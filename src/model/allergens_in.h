#ifndef ST_MODEL_ALLERGENS_IN_H
#define ST_MODEL_ALLERGENS_IN_H

#include "model/clearing_bench.h"
#include "model/foresee.h"
#include "model/rule.h"

/* Which allergens went into a drink: flags of the ingredient sheet, what fined or washed it, held against the lists of law
 * (data/allergens.tsv, text/allergen_list.h).  Steeping, straining and fining take none of them out. */

enum st_presence {
    ST_NOT_LISTED, /* not among what went in: never "free of" */
    ST_VOLUNTARY,  /* on no list of the place, told all the same (apricot kernels beside almond) */
    ST_POSSIBLE,   /* may be there: read the pack */
    ST_PRESENT
};

/* "eu_us", "possible_eu", "voluntary" ... without asking whose list. */
enum st_presence st_scope_presence(const char *scope);

/* Every allergen code of the recipe once, with the surest of its mentions; how many of the max. */
struct st_allergen_code {
    const char *code;
    enum st_presence presence;
};
int st_allergen_codes(const struct st_recipe *r, struct st_allergen_code list[], int max);

/* An entry of a list of law. */
struct st_allergen_row {
    const char *key, *list; /* "eu-almond"; "EU 14", "US 9" ... */
    unsigned places;
    const char *name, *codes; /* codes of allergen flags, '|' between */
    const char *words;        /* words of a step or line that name it, '|' between: "chitosan"; "" none */
    const char *wider; /* codes whose flag says more than this entry (gluten, where only wheat is listed): possible at
                          most; "" none */
    bool listed;       /* false: named on no list; told where somebody has an eye on it */
    const char *scope, *exempt, *note;
    const char *document, *article;
    int year;
    char mark;
    const char *source;
};

struct st_allergen_lists {
    const struct st_allergen_row *row;
    int n;
};

/* Where an allergen comes from. */
struct st_allergen_hit {
    const struct st_allergen_row *row; /* NULL: the code is on no list of the places asked */
    const char *code;
    enum st_presence presence;
    int step, line;               /* line -1: named in the words of the step */
    const struct st_flag *flag;   /* of the ingredient, or NULL */
    const struct st_agent *agent; /* of data/fining.tsv, or NULL */
    bool unused;                  /* it stands in a step that the drink takes nothing of: possible at most */
};

enum { ST_MAX_ALLERGEN_HITS = 160 };
struct st_allergens_in {
    struct st_allergen_hit hit[ST_MAX_ALLERGEN_HITS]; /* surest first, then in the recipe's order */
    int n;
    bool cut;
};

/* Given:    r; the lists; agents (NULL: finings are only those that stand on lines); places, a bit set
 * Returned: *out, each entry of a list once for each line or step that brings it
 * Notes:
 *   1. UK, Australia, New Zealand and Canada have no scope of their own in the ingredient sheet: where their list has the
 *      code, a flag of either the EU or the US counts. */
void st_allergens_find(const struct st_recipe *r, const struct st_allergen_lists *lists, const struct st_agents *agents,
                       unsigned places, struct st_allergens_in *out);

#endif
