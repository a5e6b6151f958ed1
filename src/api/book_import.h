#ifndef ST_API_BOOK_IMPORT_H
#define ST_API_BOOK_IMPORT_H

#include <stdio.h>

#include "api/book_row_in.h"

/* A document of a book (docs/book-file.md) into a book that has nothing in it.  Read twice, row by row: once to look at
 * every value and reference, once to write. */

struct st_book_import; /* what was found by looking */

/* Look at the whole document; nothing is written.
 *
 * Given:    file, at its beginning, that can be read again from there
 * Returned: *problems, none when it can be imported
 * Result:   for st_book_import_write; st_book_import_free in every case */
struct st_book_import *st_book_import_look(FILE *file, struct st_row_problems *problems);
void st_book_import_free(struct st_book_import *i);

/* Write what was looked at.
 *
 * Given:    the same file; b with no deed open and nothing in it
 * Status:   BOOK_OK; BOOK_E_REFUSED with *problems, when rows contradict one another; else of the store, book_said has
 *           it.  After a failure nothing was kept. */
typedef void st_book_import_tick(void *arg, int64_t done, int64_t all);
enum book_status st_book_import_write(struct st_book_import *i, FILE *file, struct book *b, st_book_import_tick *tick,
                                      void *arg, struct st_row_problems *problems);

/* How many rows of table t there are (BOOK_NTABLE: of the journal). */
int64_t st_book_import_rows(const struct st_book_import *i, int t);

#endif
