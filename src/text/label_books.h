#ifndef ST_TEXT_LABEL_BOOKS_H
#define ST_TEXT_LABEL_BOOKS_H

#include "guest.h"
#include "model/clearing_bench.h"
#include "model/drink_class.h"

/* What the program knows of labels, from the sheets built into it: data/classes.tsv, allergens.tsv, drinks.tsv, guest.tsv,
 * fining.tsv. */
struct st_label_books {
    const struct st_classes *classes;
    const struct st_allergen_lists *allergens;
    const struct st_drink_rows *drinks;
    const struct st_guest_rows *guest;
    const struct st_agents *agents;
};

/* Read once and kept by whoever asks.  NULL and *problem when a sheet is not there or cannot be read. */
struct st_label_books *st_label_books_create(struct st_problem *problem);
void st_label_books_free(struct st_label_books *b);

#endif
