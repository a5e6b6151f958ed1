#ifndef ST_API_BOOK_EXPORT_H
#define ST_API_BOOK_EXPORT_H

#include <stdio.h>

#include "store/book.h"

/* The whole book as one JSON document (docs/book-file.md, schema/book.schema.json), written row by row: it takes no more
 * memory than its largest row.  The same book gives the same bytes.
 *
 * Given:    b, with no deed open; to; at: the moment that the document bears; tick, called after every row with how many
 *           are written of how many, may be NULL
 * Returned: *rows, how many were written
 * Status:   of the store; BOOK_E_FULL when `to` could not be written (errno says why)
 * Notes:    texts that are no UTF-8 are written as "NAME:base64", so that nothing is lost */
typedef void st_book_tick(void *arg, int64_t done, int64_t all);
enum book_status st_book_export(struct book *b, FILE *to, const char *at, st_book_tick *tick, void *arg, int64_t *rows);

#endif
