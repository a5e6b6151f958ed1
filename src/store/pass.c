#include "store/pass.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "store/book_inside.h"
#include "store/picture.h"
#include "util/memory.h"

#define ROW struct book_deed_row
static const struct book_column DEED_COLUMN[] = {
    { "id", BOOK_INTEGER, true, offsetof(ROW, id), BOOK_NTABLE },
    { "at", BOOK_TEXT, true, offsetof(ROW, at), BOOK_NTABLE },
    { "words", BOOK_TEXT, true, offsetof(ROW, words), BOOK_NTABLE },
    { "changes", BOOK_BLOB, true, offsetof(ROW, changes), BOOK_NTABLE },
    { "undoes", BOOK_INTEGER, false, offsetof(ROW, undoes), BOOK_NTABLE },
};
#undef ROW
const struct book_table_info book_deed_info = { .name = "deed",
                                                .column = DEED_COLUMN,
                                                .n_column = sizeof DEED_COLUMN / sizeof *DEED_COLUMN,
                                                .size = sizeof(struct book_deed_row) };

/* ---- out ---- */

enum book_status book_look_begin(struct book *b)
{
    int64_t n;
    enum book_status s = book_hold(b);
    if (s == BOOK_OK)
        s = book_count(b, BOOK_SETTING, NULL, &n); /* the first look settles which moment it is */
    if (s != BOOK_OK)
        book_look_end(b);
    return s;
}

void book_look_end(struct book *b)
{
    book_rollback(b);
}

enum book_status book_each(struct book *b, enum book_table t, book_each_row *each, void *arg)
{
    return book_walk(b, book_table_info(t), each, arg);
}

enum book_status book_each_deed(struct book *b, book_each_row *each, void *arg)
{
    return book_walk(b, &book_deed_info, each, arg);
}

enum book_status book_last_id(struct book *b, const char *table, int64_t *id)
{
    sqlite3_stmt *q = book_prepare(b, "SELECT max(seq) FROM sqlite_sequence WHERE name = ?1");
    enum book_status s = BOOK_OK;

    if (!q)
        return b->failed;
    sqlite3_bind_text(q, 1, table, -1, SQLITE_STATIC);
    if (sqlite3_step(q) == SQLITE_ROW)
        *id = sqlite3_column_int64(q, 0);
    else
        s = book_fail(b, "cannot read");
    book_release(b, q);
    return s;
}

/* ---- in ---- */

struct book_fill {
    struct book *b;
};

static const char WHAT[] = "cannot write to";

/* A row anywhere, or a deed that was done. */
static enum book_status is_empty(struct book *b)
{
    int64_t n = 0, last = 0;
    enum book_status s = book_last_id(b, book_deed_info.name, &last);

    for (int t = 0; t < BOOK_NTABLE && s == BOOK_OK && n == 0; t++)
        s = book_count(b, (enum book_table)t, NULL, &n);
    if (s == BOOK_OK && (n > 0 || last > 0))
        return book_say(b, BOOK_E_REFUSED, "name a new one with --book FILE", "there is something in it already");
    return s;
}

enum book_status book_fill_begin(struct book *b, struct book_fill **out)
{
    *out = NULL;
    if (b->read_only)
        return book_fail_code(b, SQLITE_READONLY, "opened for reading", WHAT);
    enum book_status s = book_run(b, "BEGIN IMMEDIATE", WHAT);
    if (s == BOOK_OK)
        s = is_empty(b);
    if (s == BOOK_OK)
        s = book_run(b, "PRAGMA defer_foreign_keys = ON", WHAT);
    if (s != BOOK_OK) {
        book_look_end(b);
        return s;
    }
    *out = x_calloc(1, sizeof **out);
    (*out)->b = b;
    return BOOK_OK;
}

struct book *book_fill_book(const struct book_fill *f)
{
    return f->b;
}

/* What stands against a row, without SQLite's words where ours say it. */
static enum book_status refused(struct book_fill *f, const struct book_table_info *of, enum book_status s)
{
    static const char UNIQUE[] = "UNIQUE constraint failed: ";
    const char *message = sqlite3_errmsg(f->b->db);
    char columns[120];

    if (s != BOOK_E_REFUSED || strncmp(message, UNIQUE, strlen(UNIQUE)) != 0)
        return s;
    snprintf(columns, sizeof columns, "%s", message + strlen(UNIQUE));
    return book_say(f->b, s, "change one of them", "another %s has the same (%s)", of->name, columns);
}

static enum book_status fill(struct book_fill *f, const struct book_table_info *of, const void *row)
{
    return refused(f, of, book_insert(f->b, of, row));
}

/* A picture is found by what its bytes are. */
static bool is_of_its_bytes(const struct book_picture *p)
{
    char sum[65];
    book_sha256(p->data.bytes, p->data.size, sum);
    return strcmp(sum, p->sha256) == 0;
}

enum book_status book_fill_row(struct book_fill *f, enum book_table t, const void *row)
{
    if (t == BOOK_PICTURE && !is_of_its_bytes(row))
        return book_say(f->b, BOOK_E_REFUSED, "copy it from where the document was written",
                        "\"sha256\" is not that of \"data\"");
    return fill(f, book_table_info(t), row);
}

static const struct book_table_info *table_named(const char *name)
{
    for (int t = 0; t < BOOK_NTABLE; t++)
        if (strcmp(book_table_info((enum book_table)t)->name, name) == 0)
            return book_table_info((enum book_table)t);
    return NULL;
}

/* Whether every change is of a table of ours, with no more columns than it has. */
static bool is_ours(const struct book_blob *changes)
{
    sqlite3_changeset_iter *it = NULL;
    union { /* SQLite's parameter is not const, and is not written to */
        const void *given;
        void *wanted;
    } bytes = { changes->bytes };
    int code =
        changes->size <= INT32_MAX ? sqlite3changeset_start(&it, (int)changes->size, bytes.wanted) : SQLITE_TOOBIG;
    bool good = code == SQLITE_OK;

    while (good && (code = sqlite3changeset_next(it)) == SQLITE_ROW) {
        const char *name;
        int columns, what, indirect;
        good = sqlite3changeset_op(it, &name, &columns, &what, &indirect) == SQLITE_OK;
        const struct book_table_info *of = good ? table_named(name) : NULL;
        good = of && !of->unjournaled && columns > 0 && (size_t)columns <= of->n_column;
    }
    return sqlite3changeset_finalize(it) == SQLITE_OK && good && code == SQLITE_DONE && changes->size > 0;
}

enum book_status book_fill_deed(struct book_fill *f, const struct book_deed_row *row)
{
    if (!is_ours(&row->changes))
        return book_say(f->b, BOOK_E_REFUSED, "leave \"deeds\" out: the book is then as it is, without undo",
                        "\"changes\" is no record of changes in this book");
    return fill(f, &book_deed_info, row);
}

enum book_status book_fill_last_id(struct book_fill *f, const char *table, int64_t id)
{
    static const char *const SQL[] = { "DELETE FROM sqlite_sequence WHERE name = ?1",
                                       "INSERT INTO sqlite_sequence (name, seq) VALUES (?1, ?2)" };
    enum book_status s = BOOK_OK;

    for (int i = 0; i < 2 && s == BOOK_OK; i++) {
        sqlite3_stmt *q = book_prepare(f->b, SQL[i]);
        if (!q)
            return f->b->failed;
        sqlite3_bind_text(q, 1, table, -1, SQLITE_STATIC);
        if (i == 1)
            sqlite3_bind_int64(q, 2, id);
        if (sqlite3_step(q) != SQLITE_DONE)
            s = book_fail(f->b, WHAT);
        book_release(f->b, q);
    }
    return s;
}

enum book_status book_fill_end(struct book_fill *f)
{
    const enum book_status s = book_run(f->b, "COMMIT", WHAT);
    if (s != BOOK_OK)
        book_look_end(f->b);
    free(f);
    return s;
}

void book_fill_cancel(struct book_fill *f)
{
    book_look_end(f->b);
    free(f);
}
