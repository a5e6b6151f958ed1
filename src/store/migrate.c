#include "store/copy.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "util/embedded.h"

/* Bring a file forward, step by step.  Each step is one SQL text, run in one transaction together with the new number. */

static const char *step_text(int to)
{
    char name[40];
    snprintf(name, sizeof name, "src/store/migrate_%03d.sql", to);
    const struct st_embedded *e = st_embedded_find(name);
    return e ? (const char *)e->bytes : NULL;
}

/* The whole file beside it, before anything is changed; a copy that is there already stays. */
static enum book_status copy_beside(struct book *b, int version)
{
    struct st_buf to = { 0 };
    st_buf_printf(&to, "%s.before-%d", b->path, version);
    enum book_status s = access(to.text, F_OK) == 0 ? BOOK_OK : book_copy(b, to.text);
    if (s == BOOK_E_REFUSED) /* another program made it meanwhile, before it brought the book forward */
        s = BOOK_OK;
    st_buf_done(&to);
    return s;
}

/* Changing to a log needs the file alone for a moment; SQLite refuses at once instead of waiting when several want it. */
enum book_status book_to_log(struct book *b, const char *what)
{
    enum { NAP_MS = 20 };
    int waited = 0;
    enum book_status s = book_run(b, "PRAGMA journal_mode = WAL", what);
    while (s == BOOK_E_BUSY && waited < b->patience_ms) {
        waited += sqlite3_sleep(NAP_MS);
        s = book_run(b, "PRAGMA journal_mode = WAL", what);
    }
    return s;
}

static int version_now(struct book *b)
{
    sqlite3_stmt *q = book_prepare(b, "PRAGMA user_version");
    const int version = q && sqlite3_step(q) == SQLITE_ROW ? sqlite3_column_int(q, 0) : -1;
    book_release(b, q);
    return version;
}

static enum book_status one_step(struct book *b, int to)
{
    static const char WHAT[] = "cannot bring forward";
    char number[80];
    const char *sql = step_text(to);

    if (!sql)
        return book_say(b, BOOK_E_SYSTEM, "build the program again", "schema step %d is not in this program", to);
    enum book_status s = book_run(b, "BEGIN IMMEDIATE", WHAT);
    if (s != BOOK_OK)
        return s;
    if (version_now(b) != to - 1) { /* another program was quicker */
        book_rollback(b);
        return BOOK_OK;
    }
    snprintf(number, sizeof number, "PRAGMA application_id = %d; PRAGMA user_version = %d", BOOK_APPLICATION, to);
    s = book_run(b, sql, WHAT);
    if (s == BOOK_OK)
        s = book_run(b, number, WHAT);
    if (s == BOOK_OK)
        s = book_run(b, "COMMIT", WHAT);
    if (s != BOOK_OK)
        book_rollback(b);
    return s;
}

enum book_status book_migrate(struct book *b, bool fresh)
{
    const int version = version_now(b);
    if (version < 0)
        return book_fail(b, "cannot open");
    enum book_status s = fresh ? book_to_log(b, "cannot make") : copy_beside(b, version);
    /* Another program may have brought it forward meanwhile: the number is asked again before every step. */
    for (int at = version; s == BOOK_OK && at < BOOK_VERSION; at = version_now(b))
        s = at < 0 ? book_fail(b, "cannot open") : one_step(b, at + 1);
    return s;
}
