#include "store/picture.h"

#include <assert.h>
#include <nettle/sha2.h>
#include <stdio.h>

#include "store/book_inside.h"

void book_sha256(const void *bytes, size_t size, char hex[65])
{
    struct sha256_ctx c;
    uint8_t sum[SHA256_DIGEST_SIZE];

    sha256_init(&c);
    sha256_update(&c, size, bytes);
    sha256_digest(&c, sizeof sum, sum);
    for (size_t i = 0; i < sizeof sum; i++)
        snprintf(hex + 2 * i, 3, "%02x", sum[i]);
}

/* The id of the picture with this sum; BOOK_NONE.  Its bytes are not read. */
static enum book_status find(struct book *b, const char *sum, int64_t *id)
{
    sqlite3_stmt *q = book_prepare(b, "SELECT id FROM picture WHERE sha256 = ?1");
    enum book_status s = BOOK_NONE;

    if (!q)
        return b->failed;
    sqlite3_bind_text(q, 1, sum, -1, SQLITE_STATIC);
    const int code = sqlite3_step(q);
    if (code == SQLITE_ROW) {
        *id = sqlite3_column_int64(q, 0);
        s = BOOK_OK;
    } else if (code != SQLITE_DONE)
        s = book_fail(b, "cannot read");
    book_release(b, q);
    return s;
}

enum book_status book_put_picture(struct book *b, const void *bytes, size_t size, int64_t *id)
{
    char sum[65];
    struct book_picture row;

    assert(book_in_deed(b));
    if (size == 0 || size > BOOK_PICTURE_MOST)
        return book_say(b, BOOK_E_REFUSED, "make it smaller, or cut what matters out of it",
                        "a picture has 1 byte to 8 MiB (8388608 bytes); this one has %zu", size);
    book_sha256(bytes, size, sum);
    const enum book_status s = find(b, sum, id);
    if (s != BOOK_NONE)
        return s;
    book_row_init(BOOK_PICTURE, &row);
    row.sha256 = sum;
    row.size = (int64_t)size;
    row.data = (struct book_blob){ bytes, size };
    return book_put(b, BOOK_PICTURE, &row, id);
}

#define SHOWN_NOWHERE "FROM picture WHERE id NOT IN (SELECT picture_id FROM photo)"

enum book_status book_sweep_pictures(struct book *b, const char *at, int64_t *n, int64_t *bytes)
{
    enum book_status s = book_begin(b, at, "swept pictures that no photo shows");
    if (s != BOOK_OK)
        return s;
    sqlite3_stmt *q = book_prepare(b, "SELECT count(*), total(size) " SHOWN_NOWHERE);
    if (!q || sqlite3_step(q) != SQLITE_ROW)
        s = q ? book_fail(b, "cannot read") : b->failed;
    else {
        if (n)
            *n = sqlite3_column_int64(q, 0);
        if (bytes)
            *bytes = sqlite3_column_int64(q, 1);
    }
    book_release(b, q);
    if (s == BOOK_OK)
        s = book_run(b, "DELETE " SHOWN_NOWHERE, "cannot write to");
    if (s == BOOK_OK)
        return book_end(b);
    book_cancel(b);
    return s;
}
