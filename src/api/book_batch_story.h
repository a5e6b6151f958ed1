#ifndef ST_API_BOOK_BATCH_STORY_H
#define ST_API_BOOK_BATCH_STORY_H

#include "api/book_batch.h"

/* The whole story of a batch, by day. */
struct st_batch_event {
    const char *at, *words; /* "2026-10-04" or with its time; "weighed 412 g damson of L7 into jar" */
    int order;              /* as they were collected: deeds of one day stay in theirs */
};

/* Given:    row; m: of it as planned, whole or not
 * Returned: *event, lent by the arena; *n */
enum book_status st_batch_story(const struct st_batch_ask *a, const struct book_batch *row,
                                const struct st_batch_made *m, struct st_batch_event **event, int *n);

#endif
