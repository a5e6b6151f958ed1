#include "steep_books.h"

#include <stdlib.h>

#include "built_sheet.h"
#include "compounds.h"
#include "cut_words.h"
#include "habits.h"
#include "util/memory.h"

struct books {
    struct st_steep_books lent; /* first: what the caller holds */
    struct st_compounds *compounds;
    struct st_habits *habits;
};

struct st_steep_books *st_steep_books_create(struct st_problem *problem)
{
    const struct st_embedded *markers = st_built_sheet("data/markers.tsv", problem);
    const struct st_embedded *rows = markers ? st_built_sheet("data/habits.tsv", problem) : NULL;
    if (!rows)
        return NULL;
    struct books *b = x_calloc(1, sizeof *b);
    b->compounds = st_compounds_create((const char *)markers->bytes, markers->size, problem);
    if (b->compounds)
        b->habits = st_habits_create((const char *)rows->bytes, rows->size, b->compounds, problem);
    if (!b->habits) {
        st_steep_books_free(&b->lent);
        return NULL;
    }
    b->lent.jar = (struct st_jar_books){ b->habits, b->compounds, st_cut_of_line };
    return &b->lent;
}

void st_steep_books_free(struct st_steep_books *lent)
{
    struct books *b = (struct books *)lent;
    if (!b)
        return;
    st_habits_free(b->habits);
    st_compounds_free(b->compounds);
    free(b);
}
