#ifndef ST_STORE_CHECK_H
#define ST_STORE_CHECK_H

#include "store/book.h"

enum { BOOK_FINDINGS = 40 };

/* Look the whole book through: pages, references between rows, the index of words, the sums of pictures.
 *
 * Returned: findings[*n], a sentence each, at most BOOK_FINDINGS; *n 0: it is sound.  Lent by arena.
 * Status:   BOOK_OK also when something was found; else it could not be looked through
 * Notes:
 *   1. Nothing is changed.  A book opened where it cannot be written to is looked through but for the inside of the index.
 */
enum book_status book_check(struct book *b, struct st_arena *arena, const char **findings, int *n);

/* Make the index of words anew from the rows. */
enum book_status book_index_anew(struct book *b);

struct book_size {
    int64_t rows[BOOK_NTABLE];
    int64_t deeds;
    int64_t bytes;      /* of the file */
    int64_t log_bytes;  /* of the write-ahead log beside it */
    int64_t free_bytes; /* of the file, not in use */
};
enum book_status book_size(struct book *b, struct book_size *size);

#endif
