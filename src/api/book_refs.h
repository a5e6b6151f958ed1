#ifndef ST_API_BOOK_REFS_H
#define ST_API_BOOK_REFS_H

#include "api/book_row_in.h"

/* The ids of a document's rows, and what refers to them: kept while it is looked at, and held against each other after. */

struct st_book_refs;
struct st_book_refs *st_book_refs_create(void);
void st_book_refs_free(struct st_book_refs *r);

/* A row that is good by itself: the index-th of table t, from 0. */
void st_book_refs_add(struct st_book_refs *r, int t, int64_t index, const struct st_place *at, const void *row);
int64_t st_book_refs_rows(const struct st_book_refs *r, int t); /* of one table */
int64_t st_book_refs_all(const struct st_book_refs *r);         /* of all */
int64_t st_book_refs_last(const struct st_book_refs *r, int t); /* the largest id; 0: none */

/* No id twice, each reference to a row that is there, each deed taken back at most once and by a later one. */
void st_book_refs_check(struct st_book_refs *r, struct st_row_problems *all);

/* "tables/lot/3", "computed/foreseen/0", "deeds/2" */
void st_book_where(int t, int64_t index, char where[80]);

#endif
