#ifndef ST_API_BOOK_LARDER_INSIDE_H
#define ST_API_BOOK_LARDER_INSIDE_H

#include "api/book_larder.h"
#include "util/buf.h"

/* For the files book_larder_*.c alone, and of what house stock is (book_lot_of.c). */

/* A deed of these words. */
bool st_lot_begin(struct st_desk *d, const char *words);
/* End it, and look at the lot anew. */
bool st_lot_finish(struct st_desk *d, bool good, const char *code, struct st_lot_told *t);

/* "brix, sg": one more behind a comma. */
void st_lot_named(struct st_buf *out, const char *what);
/* What is said; NULL and NAN leave it as it is. */
void st_lot_put_text(const char **to, const char *said);
void st_lot_put_number(double *to, double said);

/* Whether a lot may hold alcohol: what is bought and no drink does not; where the sheet does not know it, it may. */
bool st_lot_may_be_strong(const struct st_ingredient *in, const struct book_lot *l);

/* The batch of this code; NULL finds none and is good. */
bool st_lot_find_batch(struct st_desk *d, const char *code, int64_t *id);

/* Something that the maker should know, as long as there is room. */
__attribute__((format(printf, 2, 3))) void st_lot_remark(struct st_lot_told *t, const char *format, ...);

#endif
