#ifndef ST_STORE_PICTURE_H
#define ST_STORE_PICTURE_H

#include "store/book.h"

enum { BOOK_PICTURE_MOST = 8388608 /* bytes: 8 MiB */ };

/* Keep the bytes of a picture, inside a deed; the same bytes are kept once.
 *
 * Given:    1 to BOOK_PICTURE_MOST bytes; what they are is the caller's matter (photo.type)
 * Returned: *id of the row of BOOK_PICTURE, new or found
 * Notes:
 *   1. The journal does not hold pictures.  When the deed is undone, rows of BOOK_PHOTO go back, the bytes stay. */
enum book_status book_put_picture(struct book *b, const void *bytes, size_t size, int64_t *id);

/* Take away pictures that no photo shows.  A photo that was taken back cannot be brought again after it.
 * Returned: *n pictures, *bytes of them; either may be NULL */
enum book_status book_sweep_pictures(struct book *b, const char *at, int64_t *n, int64_t *bytes);

/* The SHA-256 of bytes, as 64 small hexadecimal digits (FIPS 180-4). */
void book_sha256(const void *bytes, size_t size, char hex[65]);

#endif
