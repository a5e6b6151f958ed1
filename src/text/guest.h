#ifndef ST_TEXT_GUEST_H
#define ST_TEXT_GUEST_H

#include <stddef.h>

#include "model/allergens_in.h"
#include "model/label_facts.h"
#include "model/problem.h"

/* What a guest asks ("nuts, milk, sulphites, vegan"), answered with what is in this bottle: never that it is free of
 * something, nor that somebody may drink it. */

enum st_guest_kind {
    ST_GUEST_ALLERGEN,
    ST_GUEST_CAUTION,
    ST_GUEST_SLUG,
    ST_GUEST_VEGAN,
    ST_GUEST_VEGETARIAN,
    ST_GUEST_ALCOHOL,
    ST_GUEST_SUGAR,
    ST_GUEST_NOBODY_KNOWS,
    ST_NGUEST_KIND
};

struct st_guest_row {        /* data/guest.tsv */
    const char *key, *names; /* names: '|' between */
    enum st_guest_kind kind;
    const char *codes, *says;
};
struct st_guest_rows {
    const struct st_guest_row *row;
    int n;
};

/* Reads data/guest.tsv.  NULL and *problem, with its line, when it cannot be read.  text is copied. */
struct st_guest_rows *st_guest_sheet_create(const char *text, size_t size, struct st_problem *problem);
void st_guest_sheet_free(struct st_guest_rows *all);

enum st_guest_is {
    ST_GUEST_ASK_BACK,   /* the word is not known: near ones are offered */
    ST_GUEST_UNKNOWN,    /* nobody can tell from the recipe */
    ST_GUEST_NOT_LISTED, /* not among what went in, which is all that can be said */
    ST_GUEST_MAY_BE,
    ST_GUEST_IN,
    ST_NGUEST_IS
};

struct st_guest_answer {
    char asked[48];
    enum st_guest_is is;
    const struct st_guest_row *row; /* NULL: asked back, or an ingredient of this recipe by its name */
    int step, line;                 /* where it comes from; -1 none, or the whole bottle */
    char what[240], because[400];
    const char *source;
    const char *near[3]; /* of ST_GUEST_ASK_BACK; NULL behind the last */
};
enum { ST_MAX_GUEST = 24 };

/* Given:    asked, words parted by ',' ';' '?' or "and"; the rest lent.  f may be NULL (nothing foretold); agents may be NULL
 * Returned: how many answers were put into out[max], in the order asked; *cut when there were more words */
int st_guest_check(const struct st_guest_rows *rows, const char *asked, const struct st_recipe *r,
                   const struct st_foretold *f, const struct st_allergen_lists *lists, const struct st_agents *agents,
                   struct st_guest_answer out[], int max, bool *cut);

#endif
