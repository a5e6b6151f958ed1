#ifndef ST_API_DOC_BATCH_H
#define ST_API_DOC_BATCH_H

#include "api/book_batch_before.h"
#include "api/book_batch_story.h"
#include "api/doc.h"

/* The documents of batches, for commands and pages alike.  today: the day's number (text/calendar_day.h). */

/* A jar that stands, or stood. */
json_t *st_doc_batch_jar(const struct st_batch_jar *j, long today);
/* "today", "jars", "nothing_stands". */
json_t *st_doc_batch_stands(const char *day, long today, const struct st_batch_jar j[], int n,
                            const struct book_batch idle[], int m);
/* "batches", and of how many they are the first. */
json_t *st_doc_batch_all(const struct book_batch all[], int n, int of);
/* What comes next: "batch", "name", "jars" (those that stand of j[n], which are all), "to_be_made", "not_weighed".
 * r: of the batch as planned, NULL where it has none; w[n_w]: its weighings. */
json_t *st_doc_batch_next(const struct book_batch *row, const struct st_recipe *r, const struct st_batch_jar j[], int n,
                          const struct book_weighing w[], int n_w, long today);
/* Its whole story: "batch" ... "story", "bottles", "recipe", "planned", "foretold". */
json_t *st_doc_batch_show(const struct st_batch_ask *a, const struct book_batch *row, const struct st_batch_event e[],
                          int n, const struct st_batch_made *planned, const struct st_batch_made *m);

#endif
