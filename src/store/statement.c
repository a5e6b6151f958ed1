#include "store/book_inside.h"

#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

/* Statements are kept after their use, since the same few come again and again: making one costs as much as running it. */

static struct book_statement *kept(struct book *b, const char *sql, size_t length)
{
    for (size_t i = 0; i < BOOK_STATEMENTS; i++)
        if (b->statement[i].q && b->statement[i].length == length && memcmp(b->statement[i].sql, sql, length) == 0)
            return &b->statement[i];
    return NULL;
}

static void drop(struct book_statement *s)
{
    sqlite3_finalize(s->q);
    free(s->sql);
    *s = (struct book_statement){ .q = NULL };
}

/* A place that is empty, or whose statement rests for the longest; NULL: all are in use. */
static struct book_statement *a_place(struct book *b)
{
    struct book_statement *oldest = NULL;
    for (size_t i = 0; i < BOOK_STATEMENTS; i++) {
        struct book_statement *s = &b->statement[i];
        if (!s->q)
            return s;
        if (!s->in_use && (!oldest || s->last < oldest->last))
            oldest = s;
    }
    if (oldest)
        drop(oldest);
    return oldest;
}

sqlite3_stmt *book_prepare(struct book *b, const char *sql)
{
    const size_t length = strlen(sql);
    struct book_statement *s = kept(b, sql, length);
    sqlite3_stmt *q = NULL;

    if (s && !s->in_use) {
        s->in_use = true;
        return s->q;
    }
    if (sqlite3_prepare_v3(b->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &q, NULL) != SQLITE_OK) {
        b->failed = book_fail(b, "cannot read");
        return NULL;
    }
    struct book_statement *place = s ? NULL : a_place(b); /* a second one of the same text is not kept */
    if (place)
        *place = (struct book_statement){ .q = q, .sql = x_strdup(sql), .length = length, .in_use = true };
    return q;
}

void book_release(struct book *b, sqlite3_stmt *q)
{
    for (size_t i = 0; q && i < BOOK_STATEMENTS; i++)
        if (b->statement[i].q == q) {
            sqlite3_reset(q);
            sqlite3_clear_bindings(q);
            b->statement[i].in_use = false;
            b->statement[i].last = ++b->clock;
            return;
        }
    sqlite3_finalize(q);
}

void book_forget_statements(struct book *b)
{
    for (size_t i = 0; i < BOOK_STATEMENTS; i++)
        if (b->statement[i].q)
            drop(&b->statement[i]);
}

const char *book_column_text(sqlite3_stmt *q, int column)
{
    const char *text = (const char *)sqlite3_column_text(q, column);
    if (!text && sqlite3_errcode(sqlite3_db_handle(q)) == SQLITE_NOMEM)
        x_no_memory();
    return text;
}

const void *book_column_blob(sqlite3_stmt *q, int column, size_t *size)
{
    const void *bytes = sqlite3_column_blob(q, column);
    *size = (size_t)sqlite3_column_bytes(q, column);
    if (!bytes && sqlite3_errcode(sqlite3_db_handle(q)) == SQLITE_NOMEM)
        x_no_memory();
    return bytes;
}

void book_rollback(struct book *b)
{
    if (!sqlite3_get_autocommit(b->db) && sqlite3_exec(b->db, "ROLLBACK", NULL, NULL, NULL) != SQLITE_OK &&
        !sqlite3_get_autocommit(b->db))
        x_no_memory(); /* nothing else stands against it; the end of the program takes it back, too */
}
