#include "store/copy.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "util/memory.h"

enum { STEP_PAGES = 256, TURNS = 20, WAIT_MS = 20 };

/* ---- files ---- */

static int sync_file(const char *path)
{
    const int fd = open(path, O_RDONLY | O_CLOEXEC);
    int ill = 0;

    if (fd < 0)
        return errno;
    if (fsync(fd) != 0)
        ill = errno;
    close(fd);
    return ill;
}

void book_sync_folder(const char *path)
{
    struct st_buf folder = { 0 };
    const char *slash = strrchr(path, '/');

    if (slash)
        st_buf_add_n(&folder, path, (size_t)(slash - path) + 1);
    sync_file(slash ? folder.text : "."); /* a file system that cannot is none we can help */
    st_buf_done(&folder);
}

static int pump(int in, int out)
{
    char bytes[65536];
    ssize_t n;

    while ((n = read(in, bytes, sizeof bytes)) != 0) {
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return errno;
        for (ssize_t at = 0, k; at < n; at += k)
            if ((k = write(out, bytes + at, (size_t)(n - at))) < 0) {
                if (errno != EINTR)
                    return errno;
                k = 0;
            }
    }
    return fsync(out) == 0 ? 0 : errno;
}

int book_copy_bytes(const char *from, const char *to)
{
    const int in = open(from, O_RDONLY | O_CLOEXEC);
    if (in < 0)
        return errno;
    const int out = open(to, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    int ill = out < 0 ? errno : pump(in, out);
    close(in);
    if (out >= 0 && close(out) != 0 && !ill)
        ill = errno;
    if (out >= 0 && ill)
        unlink(to);
    if (!ill)
        book_sync_folder(to);
    return ill;
}

/* ---- look ---- */

void book_as_it_lies(const char *path, struct st_buf *uri)
{
    st_buf_add(uri, "file:");
    for (; *path; path++)
        if (strchr("%?#", *path))
            st_buf_printf(uri, "%%%02x", (unsigned)(unsigned char)*path);
        else
            st_buf_char(uri, *path);
    st_buf_add(uri, "?immutable=1");
}

static int integer(sqlite3 *db, const char *sql, int64_t *x)
{
    sqlite3_stmt *q = NULL;
    int code = sqlite3_prepare_v2(db, sql, -1, &q, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_step(q);
    if (code == SQLITE_ROW)
        *x = sqlite3_column_int64(q, 0);
    sqlite3_finalize(q);
    return code == SQLITE_ROW ? SQLITE_OK : code;
}

/* "ok", or SQLITE_CORRUPT; the first thing that was found goes to `found`. */
static int pages_are_whole(sqlite3 *db, char *found, size_t room)
{
    sqlite3_stmt *q = NULL;
    int code = sqlite3_prepare_v2(db, "PRAGMA integrity_check(1)", -1, &q, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_step(q);
    if (code == SQLITE_ROW) {
        snprintf(found, room, "%s", book_column_text(q, 0));
        code = strcmp(found, "ok") == 0 ? SQLITE_OK : SQLITE_CORRUPT;
    } else
        snprintf(found, room, "%s", sqlite3_errmsg(db));
    sqlite3_finalize(q);
    return code;
}

static enum book_status judge(struct book *b, const char *path, sqlite3 *db, bool whole)
{
    static const char OTHER[] = "name another file; stillroom backup --list shows what there is";
    int64_t application = 0, version = 0;
    char found[200] = "";
    int code = integer(db, "PRAGMA application_id", &application);

    if (code == SQLITE_OK)
        code = integer(db, "PRAGMA user_version", &version);
    if (code != SQLITE_OK && (code & 0xff) != SQLITE_NOTADB && (code & 0xff) != SQLITE_CORRUPT)
        return book_fail_code(b, code, sqlite3_errmsg(db), "cannot read a copy of");
    if ((code & 0xff) == SQLITE_CORRUPT)
        return book_say(b, BOOK_E_DAMAGED, OTHER, "'%.250s' is damaged (%.100s)", path, sqlite3_errmsg(db));
    if (code != SQLITE_OK || application != BOOK_APPLICATION)
        return book_say(b, BOOK_E_FOREIGN, OTHER, "'%.250s' is no book of this program", path);
    if (version > BOOK_VERSION)
        return book_say(b, BOOK_E_NEWER, "update the program",
                        "'%.250s' was written by a later version of this program (schema %lld, this one knows %d)",
                        path, (long long)version, BOOK_VERSION);
    code = whole ? pages_are_whole(db, found, sizeof found) : SQLITE_OK;
    if ((code & 0xff) == SQLITE_NOMEM)
        x_no_memory();
    if (code != SQLITE_OK)
        return book_say(b, BOOK_E_DAMAGED, OTHER, "'%.200s' is damaged (%.150s)", path, found);
    return BOOK_OK;
}

enum book_status book_look_through(struct book *b, const char *path, bool whole)
{
    struct st_buf uri = { 0 };
    sqlite3 *db = NULL;
    enum book_status s;

    book_as_it_lies(path, &uri);
    const int code = sqlite3_open_v2(st_buf_text(&uri), &db, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, NULL);
    if (code == SQLITE_OK)
        s = judge(b, path, db, whole);
    else
        s = book_fail_code(b, code, sqlite3_errstr(code), "cannot read a copy of");
    sqlite3_close(db);
    st_buf_done(&uri);
    return s;
}

/* ---- copy ---- */

int book_copy_pages(sqlite3 *from, sqlite3 *to)
{
    sqlite3_backup *k = sqlite3_backup_init(to, "main", from, "main");
    int code = SQLITE_OK, left = 0;

    if (!k)
        return sqlite3_extended_errcode(to);
    for (int turns = 0, waits = 0; code == SQLITE_OK;) {
        code = sqlite3_backup_step(k, turns < TURNS ? STEP_PAGES : -1);
        turns += sqlite3_backup_remaining(k) > left; /* begun anew, or begun */
        left = sqlite3_backup_remaining(k);
        if ((code == SQLITE_BUSY || code == SQLITE_LOCKED) && waits++ < BOOK_PATIENCE_MS / WAIT_MS) {
            sqlite3_sleep(WAIT_MS);
            code = SQLITE_OK;
        }
    }
    const int closed = sqlite3_backup_finish(k);
    return code == SQLITE_DONE ? closed : code;
}

void book_make_private(const char *path)
{
    const int fd = open(path, O_WRONLY | O_CREAT | O_EXCL, 0600);
    if (fd >= 0)
        close(fd);
}

/* Into a file that nobody knows yet: no journal is needed, and one sync at the end will do. */
static enum book_status copy_into(struct book *b, const char *half)
{
    sqlite3 *to = NULL;
    book_make_private(half);
    int code = sqlite3_open_v2(half, &to, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL);

    if (code == SQLITE_OK)
        code = sqlite3_exec(to, "PRAGMA synchronous = OFF; PRAGMA journal_mode = OFF", NULL, NULL, NULL);
    if (code == SQLITE_OK)
        code = book_copy_pages(b->db, to);
    const enum book_status s =
        code == SQLITE_OK ? BOOK_OK : book_fail_code(b, code, sqlite3_errstr(code), "cannot copy");
    sqlite3_close(to);
    return s;
}

static enum book_status fail_errno(struct book *b, int ill, const char *path)
{
    if (ill == ENOSPC || ill == EDQUOT)
        return book_say(b, BOOK_E_FULL, "make room on the disk", "no room for a copy, '%.250s'", path);
    return book_say(b, ill == EROFS || ill == EACCES ? BOOK_E_READ_ONLY : BOOK_E_SYSTEM, "look at the folder it is in",
                    "a copy cannot be written, '%.250s': %.60s", path, strerror(ill));
}

static enum book_status is_there(struct book *b, const char *path)
{
    return book_say(b, BOOK_E_REFUSED, "give another name", "'%.250s' is there already, and is not written over", path);
}

/* Give a file its name, unless another has it; where the disk knows no second names, by renaming.  0 or errno. */
static int give_name(const char *half, const char *to)
{
    if (link(half, to) == 0)
        return unlink(half) == 0 ? 0 : errno;
    if (errno == EEXIST)
        return EEXIST;
    return rename(half, to) == 0 ? 0 : errno;
}

enum book_status book_copy(struct book *b, const char *to)
{
    struct st_buf half = { 0 };
    int ill = 0;

    if (access(to, F_OK) == 0)
        return book_say(b, BOOK_E_REFUSED, "give another name", "'%.250s' is there already, and is not written over",
                        to);
    st_buf_printf(&half, "%s.half-%ld", to, (long)getpid()); /* two programs may be at it */
    unlink(half.text);
    enum book_status s = copy_into(b, half.text);
    if (s == BOOK_OK)
        s = book_look_through(b, half.text, true);
    if (s == BOOK_OK) {
        ill = sync_file(half.text);
        if (!ill)
            ill = give_name(half.text, to);
        if (ill)
            s = ill == EEXIST ? is_there(b, to) : fail_errno(b, ill, to);
    }
    if (s == BOOK_OK)
        book_sync_folder(to);
    else
        unlink(half.text);
    st_buf_done(&half);
    return s;
}
