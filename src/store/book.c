#include "store/book_inside.h"

#include <assert.h>
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "util/memory.h"

/* ---- what went wrong ---- */

static const struct book_ill {
    int code; /* primary result code of SQLite */
    enum book_status status;
    const char *why, *try_;
} ILL[] = {
    { SQLITE_NOTADB, BOOK_E_FOREIGN, "it is no book of this program",
      "name another file with --book, or leave --book out" },
    { SQLITE_CORRUPT, BOOK_E_DAMAGED, "the file is damaged; nothing was written to it",
      "go back to a backup: stillroom backup --list shows what there is, stillroom backup --restore FILE takes one" },
    { SQLITE_BUSY, BOOK_E_BUSY, "another program has been writing to it for some seconds", "try again in a moment" },
    { SQLITE_LOCKED, BOOK_E_BUSY, "another program has been writing to it for some seconds", "try again in a moment" },
    { SQLITE_FULL, BOOK_E_FULL, "the disk is full; what was there before is as it was",
      "make room on the disk and do it again" },
    { SQLITE_READONLY, BOOK_E_READ_ONLY, "the file or its folder may not be written to",
      "change their permissions, or copy the book elsewhere and name it with --book" },
    { SQLITE_PERM, BOOK_E_READ_ONLY, "the file or its folder may not be used", "change their permissions" },
    { SQLITE_CONSTRAINT, BOOK_E_REFUSED, "it does not fit the rules of the book", "look at the value that is named" },
    { SQLITE_TOOBIG, BOOK_E_REFUSED, "a text or a picture is too large", "shorten it" },
};

static const struct book_ill *ill_of(int code)
{
    for (size_t i = 0; i < sizeof ILL / sizeof *ILL; i++)
        if (ILL[i].code == (code & 0xff))
            return &ILL[i];
    return NULL;
}

/* A log that was left beside a file is folded into it when the last one closes it: not into one that may be damaged, or may be
 * none of ours. */
static void leave_alone(struct book *b, bool alone)
{
    if (b->db)
        sqlite3_db_config(b->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, alone ? 1 : 0, NULL);
}

enum book_status book_fail_code(struct book *b, int code, const char *detail, const char *what)
{
    const struct book_ill *ill = ill_of(code);

    if ((code & 0xff) == SQLITE_NOMEM) {
        x_no_memory(); /* as everywhere in this program; the deed was not kept */
    }
    snprintf(b->said.what, sizeof b->said.what, "%s '%.250s'", what, b->path);
    if ((code & 0xff) == SQLITE_CORRUPT || (code & 0xff) == SQLITE_NOTADB)
        leave_alone(b, true);
    if (ill)
        snprintf(b->said.why, sizeof b->said.why, "%s (%.150s)", ill->why, detail);
    else
        snprintf(b->said.why, sizeof b->said.why, "%.300s", detail);
    snprintf(b->said.try_, sizeof b->said.try_, "%s", ill ? ill->try_ : "look at the folder and the disk it is on");
    return ill ? ill->status : BOOK_E_SYSTEM;
}

enum book_status book_fail(struct book *b, const char *what)
{
    return book_fail_code(b, sqlite3_extended_errcode(b->db), sqlite3_errmsg(b->db), what);
}

enum book_status book_say(struct book *b, enum book_status s, const char *try_, const char *format, ...)
{
    va_list ap;
    snprintf(b->said.what, sizeof b->said.what, "the book '%.250s'", b->path);
    va_start(ap, format);
    vsnprintf(b->said.why, sizeof b->said.why, format, ap);
    va_end(ap);
    snprintf(b->said.try_, sizeof b->said.try_, "%s", try_);
    return s;
}

const struct book_said *book_said(const struct book *b)
{
    return &b->said;
}

const char *book_path(const struct book *b)
{
    return b->path;
}

/* ---- statements ---- */

enum book_status book_run(struct book *b, const char *sql, const char *what)
{
    return sqlite3_exec(b->db, sql, NULL, NULL, NULL) == SQLITE_OK ? BOOK_OK : book_fail(b, what);
}

/* The one integer a statement gives. */
static enum book_status one_integer(struct book *b, const char *sql, int64_t *x)
{
    sqlite3_stmt *q = NULL;
    enum book_status s = BOOK_OK;

    if (sqlite3_prepare_v2(b->db, sql, -1, &q, NULL) != SQLITE_OK || sqlite3_step(q) != SQLITE_ROW)
        s = book_fail(b, "cannot open");
    else
        *x = sqlite3_column_int64(q, 0);
    sqlite3_finalize(q);
    return s;
}

/* ---- open ---- */

/* Ours, or empty: then *fresh.  Nothing is written. */
static enum book_status look(struct book *b, bool *fresh)
{
    int64_t application = 0, pages = 0, things = 0;
    enum book_status s = one_integer(b, "PRAGMA application_id", &application);
    if (s == BOOK_OK)
        s = one_integer(b, "PRAGMA page_count", &pages);
    if (s == BOOK_OK)
        s = one_integer(b, "SELECT count(*) FROM sqlite_schema", &things);
    if (s != BOOK_OK)
        return s;
    *fresh = application == 0 && things == 0;
    b->of_others = !*fresh && application != BOOK_APPLICATION;
    if (b->of_others)
        return book_say(b, BOOK_E_FOREIGN, "name another file with --book, or leave --book out",
                        "it is a database of another program, and is left as it is");
    return BOOK_OK;
}

static enum book_status settle(struct book *b)
{
    /* trusted_schema stays on: with it off, SQLite 3.40 lets no trigger write to the index of words.  A file of a stranger
     * finds no function of ours to call, and load_extension is off. */
    static const char PRAGMAS[] = "PRAGMA foreign_keys = ON;"
                                  "PRAGMA synchronous = FULL;"
                                  "PRAGMA cell_size_check = ON;";
    sqlite3_busy_timeout(b->db, b->patience_ms);
    sqlite3_extended_result_codes(b->db, 1);
    leave_alone(b, true); /* until it is known to be ours */
    sqlite3_db_config(b->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    return book_run(b, PRAGMAS, "cannot open");
}

static enum book_status open_file(struct book *b, int flags)
{
    const int code = sqlite3_open_v2(b->path, &b->db, flags, NULL);
    if (code == SQLITE_OK)
        return settle(b);
    return book_fail_code(b, b->db ? sqlite3_extended_errcode(b->db) : code,
                          b->db ? sqlite3_errmsg(b->db) : sqlite3_errstr(code), "cannot open");
}

static enum book_status version_of(struct book *b, bool fresh, int64_t *version)
{
    *version = 0;
    if (fresh)
        return BOOK_OK;
    const enum book_status s = one_integer(b, "PRAGMA user_version", version);
    if (s == BOOK_OK && *version > BOOK_VERSION)
        return book_say(b, BOOK_E_NEWER, "update the program",
                        "it was written by a later version of this program (schema %lld, this one knows %d)",
                        (long long)*version, BOOK_VERSION);
    return s;
}

static enum book_status open_whole(struct book *b, enum book_open how)
{
    bool fresh = false;
    int64_t version = 0;
    enum book_status s = open_file(b, SQLITE_OPEN_READWRITE | (how == BOOK_WRITE ? SQLITE_OPEN_CREATE : 0));

    if (s == BOOK_OK)
        s = look(b, &fresh);
    if (s == BOOK_OK)
        s = version_of(b, fresh, &version);
    if (s != BOOK_OK)
        return s;
    leave_alone(b, false);
    b->read_only = sqlite3_db_readonly(b->db, "main") == 1;
    if (version < BOOK_VERSION)
        return how == BOOK_READ && fresh ? BOOK_NONE : book_migrate(b, fresh);
    return BOOK_OK;
}

enum book_status book_open(const char *path, enum book_open how, struct book **out)
{
    return book_open_patient(path, how, BOOK_PATIENCE_MS, out);
}

enum book_status book_open_patient(const char *path, enum book_open how, int patience_ms, struct book **out)
{
    struct book *b = x_calloc(1, sizeof *b);
    struct stat st;

    *out = b;
    b->path = x_strdup(path);
    b->patience_ms = patience_ms;
    if (stat(path, &st) != 0 && errno == ENOENT) {
        if (how == BOOK_READ)
            return book_say(b, BOOK_NONE, "stillroom larder add, recipe keep and batch begin make one",
                            "there is no such file");
    } else if (errno = 0, S_ISDIR(st.st_mode))
        return book_say(b, BOOK_E_SYSTEM, "name a file in it", "it is a folder");
    return open_whole(b, how);
}

void book_close_file(struct book *b)
{
    book_cancel(b);
    book_forget_statements(b);
    sqlite3_close_v2(b->db);
    b->db = NULL;
}

void book_close(struct book *b)
{
    if (!b)
        return;
    book_close_file(b);
    free(b->path);
    free(b);
}
