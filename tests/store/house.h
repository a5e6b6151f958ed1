#ifndef ST_TESTS_STORE_HOUSE_H
#define ST_TESTS_STORE_HOUSE_H

#include "store/book.h"

/* An invented small house for tests of the book: it says so in its settings.  A row or more in every table there was in
 * version 1, figures without a short decimal, texts with letters beyond ASCII, values that nobody knows, a deed taken
 * back.
 *
 * Status: of the first call on the book that failed, else BOOK_OK */
enum book_status house_fill(struct book *b);

enum { HOUSE_DEEDS = 12 }; /* it leaves in the journal, the taking back among them */

#endif
