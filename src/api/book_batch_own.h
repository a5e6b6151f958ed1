#ifndef ST_API_BOOK_BATCH_OWN_H
#define ST_API_BOOK_BATCH_OWN_H

#include "api/book_batch.h"

/* A lot that was made of a batch, as an ingredient with figures of its own: spent fruit with the liquor it keeps, or a drink
 * that was poured off. */

enum {
    ST_BATCH_DEEP = 6,      /* batches made of batches of batches: further back nobody looks */
    ST_BATCH_OWN_NOTES = 16 /* of what went into a batch unassessed so many are named where it is poured */
};

struct st_batch_own {
    bool known;
    const char *name;                         /* as a line says it: "spent L3", "poured L5" */
    const char *definition;                   /* a row of a recipe's `ingredients:` */
    const char *note[ST_BATCH_OWN_NOTES + 1]; /* what of its batch is in no figure, for `unreckoned` (Note 5) */
    int n_note;
};

/* Given:    lot
 * Returned: *out, lent by the arena; known false where the lot is of no batch, or the batch cannot be foretold
 * Notes:
 *   1. Spent fruit is what its own steep (st_batch_spent_lot) is foretold to give off, of the strength written of the lot, with its fruit's name and its flags; of a poured drink strength,
 *      sugar and acid are the lot's own where they were written down, the rest as foretold of its batch.
 *   2. Allergens and cautions of everything that went into the batch go along, as words.
 *   3. What it may hold of each toxicant goes along as a figure (book_batch_holds.h), so that limits are reckoned through.
 *   4. Strength, sugar and acid are as uncertain as foretold of the batch, a poured drink's strength as the lot says.
 *   5. What went into its batch unassessed is named each, once, with the lot and its batch before it and not through which
 *      others it came; past ST_BATCH_OWN_NOTES of them how many more there are is one note more, also where those of
 *      batches before were more in turn. */
enum book_status st_batch_own(const struct st_batch_ask *a, const struct book_lot *lot, struct st_batch_own *out);

/* What stands for the lot's code in such a name, another for each lot; lent by the arena. */
const char *st_batch_own_key(const struct st_batch_ask *a, const struct book_lot *lot);

/* Put definitions into a recipe's text: behind its `ingredients:`, in rows or in braces, else before its `steps:`; into one
 * that is all in braces (JSON) behind the first.  False: its own are written in
 * a way that takes no row more. */
bool st_batch_own_put(const char *text, const struct st_batch_own own[], int n, struct st_buf *out);

/* "L17 sugar" of "L36 of B8: L34 of B2: L17 sugar": through which batches it came stands with each of them. */
const char *st_batch_note_alone(const char *note);

/* A text in quotes, as a recipe file takes it. */
void st_batch_quoted(struct st_buf *b, const char *text);

/* The first row of text that begins with key, from its first byte; NULL. */
const char *st_batch_row_of(const char *text, const char *key);

#endif
