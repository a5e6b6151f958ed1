#include "label_books.h"

#include <stdlib.h>

#include "built_sheet.h"
#include "allergen_list.h"
#include "class_sheet.h"
#include "drink_sheet.h"
#include "fining.h"
#include "util/memory.h"

struct books {
    struct st_label_books lent; /* first: what the caller holds */
    struct st_classes *classes;
    struct st_allergen_lists *allergens;
    struct st_drink_rows *drinks;
    struct st_guest_rows *guest;
    struct st_agents *agents;
};

/* One after another, up to the first that fails. */
static bool read_all(struct books *b, struct st_problem *problem)
{
    const struct st_embedded *e;
    if ((e = st_built_sheet("data/classes.tsv", problem)) != NULL)
        b->classes = st_class_sheet_create((const char *)e->bytes, e->size, problem);
    if (b->classes && (e = st_built_sheet("data/allergens.tsv", problem)) != NULL)
        b->allergens = st_allergen_list_create((const char *)e->bytes, e->size, problem);
    if (b->allergens && (e = st_built_sheet("data/drinks.tsv", problem)) != NULL)
        b->drinks = st_drink_sheet_create((const char *)e->bytes, e->size, problem);
    if (b->drinks && (e = st_built_sheet("data/guest.tsv", problem)) != NULL)
        b->guest = st_guest_sheet_create((const char *)e->bytes, e->size, problem);
    if (b->guest && (e = st_built_sheet("data/fining.tsv", problem)) != NULL)
        b->agents = st_fining_create((const char *)e->bytes, e->size, problem);
    return b->agents != NULL;
}

struct st_label_books *st_label_books_create(struct st_problem *problem)
{
    struct books *b = x_calloc(1, sizeof *b);
    if (!read_all(b, problem)) {
        st_label_books_free(&b->lent);
        return NULL;
    }
    b->lent = (struct st_label_books){ b->classes, b->allergens, b->drinks, b->guest, b->agents };
    return &b->lent;
}

void st_label_books_free(struct st_label_books *lent)
{
    struct books *b = (struct books *)lent;
    if (!b)
        return;
    st_class_sheet_free(b->classes);
    st_allergen_list_free(b->allergens);
    st_drink_sheet_free(b->drinks);
    st_guest_sheet_free(b->guest);
    st_fining_free(b->agents);
    free(b);
}
