#ifndef ST_TEXT_LABEL_WORDS_H
#define ST_TEXT_LABEL_WORDS_H

#include <stdbool.h>

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
    const char *source; /* key, or "from memory"; lent */
    char mark;          /* r, s, m, c (computed) */
    int step, line;     /* at whose ingredient; -1 the whole bottle */
};

enum { ST_MAX_LABEL_FACTS = 96 };
struct st_label_facts {
    struct st_label_fact item[ST_MAX_LABEL_FACTS];
    int n;
    bool cut; /* there was more than fits: told, never silently */
};

/* Each adds to *out (begin with n = 0, cut = false). */

/* Classes: those it may bear, those undecided, and of those whose ingredients fit what is lacking, in figures. */
void st_label_classes(const struct st_class_verdict v[], int n, const struct st_class_facts *facts,
                      struct st_label_facts *out);

/* How far the strength on a label may be from that of the bottle, against the interval foretold.  pieces: fruit or parts of
 * plants lie in the bottle. */
void st_label_tolerance(const struct st_interval *strength, bool pieces, unsigned places, struct st_label_facts *out);

#endif
