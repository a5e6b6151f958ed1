#include <string.h>

#include "store/book_inside.h"

/* The journal knows in which order rows were entered, where their days are the same. */

/* Whether the row is entered by these changes; or_changed: or changed, or entered. */
static bool enters(const void *changes, size_t size, const char *table, int64_t id, bool or_changed)
{
    sqlite3_changeset_iter *it = NULL;
    bool found = false;
    if (sqlite3changeset_start(&it, (int)size, (void *)(uintptr_t)changes) != SQLITE_OK)
        return false;
    while (!found && sqlite3changeset_next(it) == SQLITE_ROW) {
        const char *of;
        sqlite3_value *value = NULL;
        int columns, op, indirect;
        if (sqlite3changeset_op(it, &of, &columns, &op, &indirect) != SQLITE_OK || strcmp(of, table) != 0)
            continue;
        if (op == SQLITE_INSERT)
            found = sqlite3changeset_new(it, 0, &value) == SQLITE_OK && value && sqlite3_value_int64(value) == id;
        else if (op == SQLITE_UPDATE && or_changed)
            found = sqlite3changeset_old(it, 0, &value) == SQLITE_OK && value && sqlite3_value_int64(value) == id;
    }
    (void)sqlite3changeset_finalize(it);
    return found;
}

/* Whether the deed that is open does so: the journal has it when it ends. */
static enum book_status enters_now(struct book *b, const char *table, int64_t id, bool or_changed, bool *found)
{
    void *changes = NULL;
    int size = 0;
    *found = false;
    if (!b->session || sqlite3session_isempty(b->session))
        return BOOK_OK;
    const int code = sqlite3session_changeset(b->session, &size, &changes);
    if (code != SQLITE_OK)
        return book_fail_code(b, code, sqlite3_errstr(code), "cannot read");
    *found = size > 0 && enters(changes, (size_t)size, table, id, or_changed);
    sqlite3_free(changes);
    return BOOK_OK;
}

/* The first deed in the order that sql gives. */
static enum book_status first_of(struct book *b, const char *sql, enum book_table t, int64_t id, bool or_changed,
                                 int64_t *deed)
{
    const char *table = book_table_info(t)->name;
    sqlite3_stmt *q = book_prepare(b, sql);
    int code = SQLITE_DONE;
    bool found = false;

    if (!q)
        return b->failed;
    while (!found && (code = sqlite3_step(q)) == SQLITE_ROW) {
        size_t size;
        const void *changes = book_column_blob(q, 1, &size);
        found = changes && enters(changes, size, table, id, or_changed);
        if (found)
            *deed = sqlite3_column_int64(q, 0);
    }
    const enum book_status s = found ? BOOK_OK : code == SQLITE_DONE ? BOOK_NONE : book_fail(b, "cannot read");
    book_release(b, q);
    return s;
}

static enum book_status look(struct book *b, const char *sql, enum book_table t, int64_t id, bool or_changed,
                             int64_t *deed)
{
    bool found;
    const enum book_status now = enters_now(b, book_table_info(t)->name, id, or_changed, &found);
    if (found)
        *deed = INT64_MAX;
    return found || now != BOOK_OK ? now : first_of(b, sql, t, id, or_changed, deed);
}

enum book_status book_entered(struct book *b, enum book_table t, int64_t id, int64_t *deed)
{
    return look(b, "SELECT id, changes FROM deed ORDER BY id", t, id, false, deed);
}

enum book_status book_changed(struct book *b, enum book_table t, int64_t id, int64_t *deed)
{
    return look(b, "SELECT id, changes FROM deed ORDER BY id DESC", t, id, true, deed);
}
