#ifndef ST_STORE_LEFT_H
#define ST_STORE_LEFT_H

#include "store/book.h"

/* A bottling of which bottles are still at home. */
struct book_left {
    struct book_bottling row; /* without its facts, which are NULL */
    const char *batch, *name; /* code and name of its batch */
    int64_t at_home;          /* at least 1 */
};

/* Bottlings with bottles at home: to look for each of them whose they are and where they went would be slow.
 *
 * Given:    most: only the first so many, 0: all
 * Returned: *left[*n] by the day they were filled, the oldest first, lent by arena; *of: how many there are */
enum book_status book_bottles_left(struct book *b, int most, struct st_arena *arena, struct book_left **left, int *n,
                                   int *of);

#endif
