#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "store/copy.h"
#include "util/memory.h"

static const char OPEN[] = "cannot open";
static const char BACK[] =
    "go back to a backup: stillroom backup --list shows what there is, stillroom backup --restore FILE "
    "takes one";

/* The one integer a statement gives. */
static enum book_status one_integer(struct book *b, const char *sql, int64_t *x)
{
    sqlite3_stmt *q = NULL;
    enum book_status s = BOOK_OK;

    if (sqlite3_prepare_v2(b->db, sql, -1, &q, NULL) != SQLITE_OK || sqlite3_step(q) != SQLITE_ROW)
        s = book_fail(b, OPEN);
    else
        *x = sqlite3_column_int64(q, 0);
    sqlite3_finalize(q);
    return s;
}

/* ---- what lies beside ---- */

static bool beside(const char *path, const char *ending, struct stat *st)
{
    struct st_buf name = { 0 };

    st_buf_printf(&name, "%s%s", path, ending);
    const bool there = stat(name.text, st) == 0;
    st_buf_done(&name);
    return there;
}

int64_t book_log_bytes(const char *path)
{
    struct stat st;
    return beside(path, "-wal", &st) ? (int64_t)st.st_size : 0;
}

static bool folder_is_there(const char *path)
{
    struct st_buf folder = { 0 };
    struct stat st;
    const char *slash = strrchr(path, '/');

    st_buf_add_n(&folder, path, slash ? (size_t)(slash + 1 - path) : 0);
    const bool there = !slash || stat(st_buf_text(&folder), &st) == 0 || errno != ENOENT;
    st_buf_done(&folder);
    return there;
}

/* ---- look ---- */

/* Shorter than its head says, and no log that has the rest: a piece was lost. */
static enum book_status not_cut(struct book *b)
{
    int64_t pages = 0, page = 0;
    struct stat st;
    enum book_status s = one_integer(b, "PRAGMA page_count", &pages);

    if (s == BOOK_OK)
        s = one_integer(b, "PRAGMA page_size", &page);
    const int64_t whole = pages * page;
    if (s != BOOK_OK || book_log_bytes(b->path) > 0 || stat(b->path, &st) != 0 || st.st_size >= whole)
        return s;
    return book_say(b, BOOK_E_DAMAGED, BACK,
                    "the file is damaged: %lld bytes of %lld are there; nothing was written to it",
                    (long long)st.st_size, (long long)whole);
}

/* Ours, or empty: then *fresh.  Nothing is written. */
static enum book_status look(struct book *b, bool *fresh)
{
    int64_t application = 0, things = 0;
    enum book_status s = one_integer(b, "PRAGMA application_id", &application);

    if (s == BOOK_OK)
        s = one_integer(b, "SELECT count(*) FROM sqlite_schema", &things);
    if (s != BOOK_OK)
        return s;
    *fresh = application == 0 && things == 0;
    b->of_others = !*fresh && application != BOOK_APPLICATION;
    if (b->of_others)
        return book_say(b, BOOK_E_FOREIGN, "name another file with --book, or leave --book out",
                        "it is a database of another program, and is left as it is");
    return *fresh ? BOOK_OK : not_cut(b);
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

/* ---- open ---- */

static enum book_status settle(struct book *b)
{
    /* trusted_schema stays on: with it off, SQLite 3.40 lets no trigger write to the index of words.  A file of a stranger
     * finds no function of ours to call, and load_extension is off. */
    static const char PRAGMAS[] = "PRAGMA foreign_keys = ON;"
                                  "PRAGMA synchronous = FULL;"
                                  "PRAGMA cell_size_check = ON;";
    sqlite3_busy_timeout(b->db, b->patience_ms);
    sqlite3_extended_result_codes(b->db, 1);
    book_leave_alone(b, true); /* until it is known to be ours */
    sqlite3_db_config(b->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    return book_run(b, PRAGMAS, OPEN);
}

static enum book_status open_and_look(struct book *b, const char *name, int flags, bool *fresh, int64_t *version)
{
    const int code = sqlite3_open_v2(name, &b->db, flags | SQLITE_OPEN_NOMUTEX, NULL); /* one thread a book */
    enum book_status s = code == SQLITE_OK ? settle(b)
                                           : book_fail_code(b, b->db ? sqlite3_extended_errcode(b->db) : code,
                                                            b->db ? sqlite3_errmsg(b->db) : sqlite3_errstr(code), OPEN);
    if (s == BOOK_OK)
        s = look(b, fresh);
    return s == BOOK_OK ? version_of(b, *fresh, version) : s;
}

/* Where nothing may be written, SQLite cannot make what it needs beside a book with a log.  A book whose log was folded in can
 * be read as it lies. */
static enum book_status open_as_it_lies(struct book *b, enum book_status s, bool *fresh, int64_t *version)
{
    struct st_buf uri = { 0 };

    const int fd = open(b->path, O_RDONLY | O_CLOEXEC); /* access() would ask for another user where we act for one */
    if (fd < 0)
        return book_say(b, s, "change its permissions, or have it copied by somebody who may", "it may not be read: %s",
                        strerror(errno));
    close(fd);
    if (book_log_bytes(b->path) > 0)
        return book_say(
            b, BOOK_E_READ_ONLY, "copy both files together to a folder that may be written to, and name that book",
            "its folder may not be written to, and not all of it is in the file: a log, %s-wal, lies beside it",
            b->path);
    book_close_file(b);
    book_as_it_lies(b->path, &uri);
    s = open_and_look(b, st_buf_text(&uri), SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, fresh, version);
    st_buf_done(&uri);
    return s;
}

/* A file that opens, and is ours, and well as far as can be seen. */
static enum book_status take(struct book *b, enum book_open how, bool fresh, int64_t version)
{
    b->read_only = sqlite3_db_readonly(b->db, "main") == 1;
    if (how == BOOK_READ && fresh)
        return book_say(b, BOOK_NONE, "stillroom larder add, recipe keep and batch begin make one", "it is empty");
    if (b->read_only && version < BOOK_VERSION)
        return book_say(b, BOOK_E_READ_ONLY,
                        "copy it to a folder that may be written to, and name that one with --book",
                        "it is of an earlier version (schema %lld), and cannot be brought forward where it lies",
                        (long long)version);
    book_leave_alone(b, false);
    if (version < BOOK_VERSION)
        return book_migrate(b, fresh);
    return how == BOOK_READ ? BOOK_OK : book_to_log(b, OPEN);
}

static enum book_status open_whole(struct book *b, enum book_open how)
{
    bool fresh = false;
    int64_t version = 0;
    const int flags = SQLITE_OPEN_READWRITE | (how == BOOK_WRITE ? SQLITE_OPEN_CREATE : 0);
    enum book_status s = open_and_look(b, b->path, flags, &fresh, &version);

    if (how == BOOK_READ && (s == BOOK_E_SYSTEM || s == BOOK_E_READ_ONLY))
        s = open_as_it_lies(b, s, &fresh, &version);
    return s == BOOK_OK ? take(b, how, fresh, version) : s;
}

static const char IN_MEMORY[] = ":memory:"; /* SQLite's name for a book that is no file; tests use it */

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
            return book_say(b, BOOK_NONE,
                            "look at its name; stillroom larder add, recipe keep and batch begin make one",
                            "there is no such file");
        if (!folder_is_there(path))
            return book_say(b, BOOK_NONE, "make the folder first, or name another file with --book",
                            "the folder it would be in is not there");
        if (strcmp(path, IN_MEMORY) != 0)
            book_make_private(path);
    } else if (errno = 0, S_ISDIR(st.st_mode))
        return book_say(b, BOOK_E_FOREIGN, "name a file in it, as --book FOLDER/house.stillroom",
                        "it is a folder, and a book is one file");
    b->log_was_there = beside(path, "-wal", &st);
    return open_whole(b, how);
}
