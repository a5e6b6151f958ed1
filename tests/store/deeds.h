#ifndef ST_TESTS_STORE_DEEDS_H
#define ST_TESTS_STORE_DEEDS_H

#include "store/book.h"

/* Deeds to do while something goes wrong. */

/* The deed number i of a fixed row of them, 0 <= i: rows of all sizes put in, changed and dropped, a picture, deeds taken
 * back and done again.  What a book holds after n of them is the same each time. */
enum book_status deeds_do(struct book *b, int i);

/* A sum of all that a book holds, by SQLite alone; the test fails when it cannot be read. */
void deeds_sum(const char *path, char hex[65]);
int deeds_count(const char *path); /* in the journal */

/* The deed number i of another row: a lot, a reading and a vessel, each with the number in its name. */
enum book_status storm_do(struct book *b, int i);
/* Is it there: 1 whole, 0 not at all, -1 in part. */
int storm_whole(const char *path, int i);
/* How many are there, when they are the first ones, and whole; -1: not so. */
int storm_count(const char *path);

#endif
