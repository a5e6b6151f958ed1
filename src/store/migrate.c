#include "store/book_inside.h"

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

/* The whole file beside it, before anything is changed.  Written under another name first, so that what bears the name
 * is whole. */
static enum book_status copy_beside(struct book *b, int version)
{
    char to[1100], half[1120];
    sqlite3 *copy = NULL;
    enum book_status s = BOOK_OK;

    if (snprintf(to, sizeof to, "%s.before-%d", b->path, version) >= (int)sizeof to)
        return book_say(b, BOOK_E_SYSTEM, "give it a shorter one", "its name is too long for a copy beside it");
    if (access(to, F_OK) == 0)
        return BOOK_OK;
    snprintf(half, sizeof half, "%s.half", to);
    unlink(half);
    int code = sqlite3_open_v2(half, &copy, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL);
    sqlite3_backup *backup = code == SQLITE_OK ? sqlite3_backup_init(copy, "main", b->db, "main") : NULL;
    if (backup) {
        sqlite3_backup_step(backup, -1);
        code = sqlite3_backup_finish(backup);
    } else if (code == SQLITE_OK)
        code = sqlite3_extended_errcode(copy);
    if (code != SQLITE_OK)
        s = book_fail_code(b, code, sqlite3_errstr(code), "cannot copy, before it is brought forward,");
    sqlite3_close(copy);
    if (s == BOOK_OK && rename(half, to) != 0)
        s = book_say(b, BOOK_E_SYSTEM, "look at the folder it is in", "a copy of it could not be given its name");
    return s;
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
    snprintf(number, sizeof number, "PRAGMA application_id = %d; PRAGMA user_version = %d", BOOK_APPLICATION, to);
    s = book_run(b, sql, WHAT);
    if (s == BOOK_OK)
        s = book_run(b, number, WHAT);
    if (s == BOOK_OK)
        s = book_run(b, "COMMIT", WHAT);
    if (s != BOOK_OK)
        sqlite3_exec(b->db, "ROLLBACK", NULL, NULL, NULL);
    return s;
}

static int version_now(struct book *b)
{
    sqlite3_stmt *q = book_prepare(b, "PRAGMA user_version");
    const int version = q && sqlite3_step(q) == SQLITE_ROW ? sqlite3_column_int(q, 0) : -1;
    book_release(b, q);
    return version;
}

enum book_status book_migrate(struct book *b, bool fresh)
{
    const int version = version_now(b);
    if (version < 0)
        return book_fail(b, "cannot open");
    enum book_status s = fresh ? book_run(b, "PRAGMA journal_mode = WAL", "cannot make") : copy_beside(b, version);
    /* Another program may have brought it forward meanwhile: the number is asked again before every step. */
    for (int at = version; s == BOOK_OK && at >= 0 && at < BOOK_VERSION; at = version_now(b))
        s = one_step(b, at + 1);
    return s;
}
