#ifndef ST_TEXT_STEEP_BOOKS_H
#define ST_TEXT_STEEP_BOOKS_H

#include "model/jar.h"
#include "model/problem.h"

/* What the program knows of steeping, from the sheets built into it: data/habits.tsv and data/markers.tsv. */
struct st_steep_books {
    struct st_jar_books jar; /* with the reader of cuts; lent until st_steep_books_free */
};

/* NULL and *problem when a sheet is not there or cannot be read. */
struct st_steep_books *st_steep_books_create(struct st_problem *problem);
void st_steep_books_free(struct st_steep_books *b);

#endif
