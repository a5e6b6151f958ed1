#ifndef ST_TEXT_PLACE_SHEET_H
#define ST_TEXT_PLACE_SHEET_H

#include <stddef.h>

#include "model/problem.h"
#include "model/rule.h"

/* Where a maker lives, as data/places.tsv tells it (data/README.md): which rules hold there, what is known of that place
 * and what is not.  Texts are lent by the whole. */
struct st_home {
    const char *code, *name; /* "eu", "European Union"; the first is "strictest", which holds when nobody says */
    unsigned places;         /* the rules that hold there: a bit set of rule.h, health bodies among them */
    int year;                /* of the newest rule known for it */
    const char *known, *unknown;
    const char *first; /* the sentence that local rules and licensed practice come first */
};

struct st_homes {
    const struct st_home *home;
    int n; /* at least 1 */
};

/* NULL and *problem, with its line, when it cannot be read.  text is copied.  Freed with st_homes_free. */
struct st_homes *st_homes_create(const char *text, size_t size, struct st_problem *problem);
void st_homes_free(struct st_homes *all);

/* By code or name, in any case; "" or NULL is the first.  NULL: no such place. */
const struct st_home *st_home_find(const struct st_homes *all, const char *words);

#endif
