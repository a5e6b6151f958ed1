#ifndef ST_TEXT_PLACES_H
#define ST_TEXT_PLACES_H

#include <stddef.h>

#include "model/problem.h"
#include "model/rule.h"

/* Where a maker lives, from data/places.tsv (data/README.md). */
struct st_law_place {
    const char *slug, *name;     /* "eu", "European Union" */
    unsigned places;             /* bits of rule.h: whose rules are held against a drink there */
    int year;                    /* of the newest rule that is known for it */
    const char *known, *unknown; /* what of its rules is here, and what is not */
    const char *first;           /* the sentence that every report ends with */
};

enum { ST_MAX_PLACES = 24 };
struct st_places {
    struct st_law_place row[ST_MAX_PLACES]; /* the first holds where a maker does not say */
    int n;
    char *text; /* holds the words */
};

/* Given: text[size], copied.  NULL and *problem, with its line, when it cannot be read.  Freed with st_places_free. */
struct st_places *st_places_create(const char *text, size_t size, struct st_problem *problem);
/* From the sheet that is built into the program. */
struct st_places *st_places_built(struct st_problem *problem);
void st_places_free(struct st_places *p);

/* By slug or name, in any letters, or by what people also call it ("usa", "britain"); NULL: there is no such place. */
const struct st_law_place *st_place_named(const struct st_places *p, const char *name);

/* "eu, uk, us, ..." for messages. */
const char *st_places_list(const struct st_places *p, char *buf, size_t size);

#endif
