#ifndef ST_STORE_PASS_H
#define ST_STORE_PASS_H

#include "store/book.h"

/* The whole book, out row by row and in again as it was, journal included: what export and import stand on. */

/* A deed as the journal has it. */
struct book_deed_row {
    int64_t id;
    const char *at, *words;
    struct book_blob changes; /* a changeset of SQLite's session extension */
    int64_t undoes;           /* BOOK_NO: it took none back */
};

/* Its columns, as those of the tables are told; undoes refers to an earlier deed (BOOK_NTABLE: none of the tables). */
extern const struct book_table_info book_deed_info;

/* ---- out ---- */

/* What is read from here to book_look_end is of one moment, whoever writes meanwhile. */
enum book_status book_look_begin(struct book *b);
void book_look_end(struct book *b);

/* Give every row, by id, to each(); row and its texts are lent until it returns.  It says whether to go on. */
typedef bool book_each_row(void *arg, const void *row);
enum book_status book_each(struct book *b, enum book_table t, book_each_row *each, void *arg);
/* The same of the journal: rows are struct book_deed_row. */
enum book_status book_each_deed(struct book *b, book_each_row *each, void *arg);

/* The largest id that a table has ever given ("deed" too); 0: none. */
enum book_status book_last_id(struct book *b, const char *table, int64_t *id);

/* ---- in ---- */

struct book_fill;

/* Begin to fill a book that has nothing in it: one transaction, no deed of its own, references looked at when it ends.
 * Status:   BOOK_E_REFUSED when there is something in it
 * Returned: *out for book_fill_end or book_fill_cancel; NULL after a failure */
enum book_status book_fill_begin(struct book *b, struct book_fill **out);
struct book *book_fill_book(const struct book_fill *f); /* whose book_said tells what was refused */
/* A row with the id it has. */
enum book_status book_fill_row(struct book_fill *f, enum book_table t, const void *row);
/* Changes that are no changeset of this book's tables are refused: undo would apply them. */
enum book_status book_fill_deed(struct book_fill *f, const struct book_deed_row *row);
/* Ids up to this are not given again. */
enum book_status book_fill_last_id(struct book_fill *f, const char *table, int64_t id);
/* Keep it; after a failure nothing is kept.  f is freed by both. */
enum book_status book_fill_end(struct book_fill *f);
void book_fill_cancel(struct book_fill *f);

#endif
