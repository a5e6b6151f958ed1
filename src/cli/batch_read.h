#ifndef ST_CLI_BATCH_READ_H
#define ST_CLI_BATCH_READ_H

#include "cli/batch.h"

enum { BATCH_MOST_READINGS = 32 };

/* Readings of one moment, off the command line. */
struct batch_readings {
    struct book_reading row[BATCH_MOST_READINGS];
    int n;
    const char *by, *of;
};

/* All words that are left, each a reading.  A temperature among them is that of the others which have none. */
int batch_read_words(struct batch *b, struct batch_readings *r);
/* Into the book, inside a deed. */
enum book_status batch_readings_put(struct batch *b, const struct book_batch *batch, const char *step, const char *day,
                                    struct batch_readings *r);

#endif
