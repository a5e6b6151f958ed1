#ifndef ST_API_BOOK_BATCH_NAMED_H
#define ST_API_BOOK_BATCH_NAMED_H

#include "api/book_batch.h"

/* Lots that lines of a batch name where no weighing does: a batch begun as another has the lines of that one, "200 mL poured
 * L2". */

struct st_batch_name {
    int64_t batch_id, lot_id;
    const char *line; /* as it stands there */
    bool sure;        /* false: several lots of that kind bear the name, and nobody knows which is meant */
};

/* How much of text the code of lot takes there, as a line says it ("V 1 lot 5" for V-1, whose row is 5); 0: it is another.
 * Of two lots the one that takes more is meant; two that take the same are both. */
size_t st_batch_says_lot(const struct st_batch_ask *a, const char *text, const struct book_lot *lot);

/* The lot whose code a line says behind "poured", "spent", "tincture" or "lot": its place in lot[n]; -1: none, or two that the line
 * says alike. */
int st_batch_line_lot(const struct st_batch_ask *a, const char *line, const struct book_lot lot[], int n);

/* Given:    all lots and batches, and all weighings
 * Returned: *name[*n], lent by the arena; each lot once a batch, and sure where it is so by any line
 * Notes:
 *   1. A code stands behind "poured", "spent", "tincture" or "lot".  Two codes that a line says alike are both meant: one too many to
 *      ring, not one too few.
 *   2. A line without any code that gives, behind its amount, the name of something made in this house (or of a lot that the
 *      ingredient sheet does not know) means that lot if it is the only one of its kind with that name.
 *   3. A line that was weighed, all of it from lots, means those and no other; one weighed as nothing means none.  A lot that
 *      came after the batch was over, or of that batch itself, is not meant by its name. */
enum book_status st_batch_named(const struct st_batch_ask *a, const struct book_batch batch[], int n_batch,
                                const struct book_lot lot[], int n_lot, const struct book_weighing w[], int n_w,
                                struct st_batch_name **name, int *n);

#endif
