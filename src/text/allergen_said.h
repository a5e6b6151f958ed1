#ifndef ST_TEXT_ALLERGEN_SAID_H
#define ST_TEXT_ALLERGEN_SAID_H

#include "ingredients.h"
#include "model/allergens_in.h"

/* An allergen in the words of whoever wrote the recipe ("eggs", "tree nuts", "wheat flour"): its code on the lists of law,
 * and the scope it has there. */
struct st_allergen_said {
    char code[128];    /* "egg", "nuts", "gluten"; the words themselves where no list and no sheet knows them */
    const char *scope; /* as of st_flag; lasts for ever */
};

/* Given:    text; lists (NULL: the scopes of the catalogue alone); c
 * Returned: out[max]: one for the whole of the text, else one for each word of it that is known ("egg, milk"), else the
 *           text as told, voluntary; how many
 * Notes:
 *   1. The scope is the gravest that the lists have for the code: what an apricot kernel says of almond lowers no almond.
 *   2. "almond (on no list)", "milk (may be there)": as st_allergen_write has written it, so that a drink in another one
 *      says no more of it, and no less, than it said itself. */
int st_allergen_said(const char *text, const struct st_allergen_lists *lists, const struct st_catalogue *c,
                     struct st_allergen_said out[], int max);

/* One word ("crab"), or two that are one name ("soy sauce"), of what may be in a thing that is called so: what is on a list of law
 * by that word, always as possible; how many, 0 where no list knows the word. */
int st_allergen_word(const char *text, const struct st_allergen_lists *lists, const struct st_catalogue *c,
                     struct st_allergen_said out[], int max);

/* What stands behind the code to say that scope: "", " (may be there)", " (on no list)". */
const char *st_allergen_write(const char *scope);

/* Which of two scopes is the graver: in it before may be before on no list, two lists before one. */
int st_scope_weight(const char *scope);

#endif
