#ifndef ST_API_BOOK_LOT_MOVES_H
#define ST_API_BOOK_LOT_MOVES_H

#include "api/book_batch.h"

/* How far the figures foretold of batches move when something else is known of a lot that they took of. */

enum { ST_LOT_MOVES = 12 }; /* batches that are foretold; of more it is said that there are more */

struct st_lot_moves {
    struct st_lot_move {
        int64_t batch;
        const char *code;
        struct st_interval strength[2], sugar[2]; /* before, after; not known where nothing is foretold */
    } of[ST_LOT_MOVES];
    int n, more; /* more: batches that took of it beside these */
};

/* Before it is changed: every batch that took of the lot, newest first, as really made. */
enum book_status st_lot_moves_before(const struct st_batch_ask *a, int64_t lot, struct st_lot_moves *out);
/* After it was. */
enum book_status st_lot_moves_after(const struct st_batch_ask *a, struct st_lot_moves *m);

/* "B3: strength 24.1 -> 26.0 % vol, sugar 180 -> 178 g/L; B4: ..." of those that move by more than the rounding of what is
 * shown; "" where none does. */
void st_lot_moves_words(const struct st_lot_moves *m, char *buf, size_t size);

#endif
