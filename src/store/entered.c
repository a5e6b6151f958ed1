#include <string.h>

#include "store/book_inside.h"

/* The journal knows in which order rows were entered, where their days are the same. */

static bool enters(const void *changes, size_t size, const char *table, int64_t id)
{
    sqlite3_changeset_iter *it = NULL;
    bool found = false;
    if (sqlite3changeset_start(&it, (int)size, (void *)(uintptr_t)changes) != SQLITE_OK)
        return false;
    while (!found && sqlite3changeset_next(it) == SQLITE_ROW) {
        const char *of;
        sqlite3_value *value = NULL;
        int columns, op, indirect;
        if (sqlite3changeset_op(it, &of, &columns, &op, &indirect) != SQLITE_OK || op != SQLITE_INSERT ||
            strcmp(of, table) != 0)
            continue;
        found = sqlite3changeset_new(it, 0, &value) == SQLITE_OK && value && sqlite3_value_int64(value) == id;
    }
    (void)sqlite3changeset_finalize(it);
    return found;
}

/* Whether the deed that is open enters it: the journal has it when it ends. */
static enum book_status enters_now(struct book *b, const char *table, int64_t id, bool *found)
{
    void *changes = NULL;
    int size = 0;
    *found = false;
    if (!b->session || sqlite3session_isempty(b->session))
        return BOOK_OK;
    const int code = sqlite3session_changeset(b->session, &size, &changes);
    if (code != SQLITE_OK)
        return book_fail_code(b, code, sqlite3_errstr(code), "cannot read");
    *found = size > 0 && enters(changes, (size_t)size, table, id);
    sqlite3_free(changes);
    return BOOK_OK;
}

enum book_status book_entered(struct book *b, enum book_table t, int64_t id, int64_t *deed)
{
    const char *table = book_table_info(t)->name;
    bool found;
    const enum book_status now = enters_now(b, table, id, &found);
    if (found)
        *deed = INT64_MAX;
    if (found || now != BOOK_OK)
        return now;
    sqlite3_stmt *q = book_prepare(b, "SELECT id, changes FROM deed ORDER BY id");
    int code = SQLITE_DONE;
    if (!q)
        return b->failed;
    while (!found && (code = sqlite3_step(q)) == SQLITE_ROW) {
        size_t size;
        const void *changes = book_column_blob(q, 1, &size);
        found = changes && enters(changes, size, table, id);
        if (found)
            *deed = sqlite3_column_int64(q, 0);
    }
    const enum book_status s = found ? BOOK_OK : code == SQLITE_DONE ? BOOK_NONE : book_fail(b, "cannot read");
    book_release(b, q);
    return s;
}
