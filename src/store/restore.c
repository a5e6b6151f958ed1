#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "store/backup.h"
#include "store/copy.h"
#include "util/buf.h"

/* Taking a backup as the book.  Where the book can be opened, the backup's pages are written into it as one transaction;
 * where not, the files change their names. */

/* A name beside the book that is free: PATH.before-restore-2026-10-04T1830, with -2 and so on. */
static const char *name_aside(const char *path, const char *now, struct st_arena *arena)
{
    for (int k = 1;; k++) {
        const char *to = k == 1 ? st_arena_printf(arena, "%s.before-restore-%.13s%.2s", path, now, now + 14)
                                : st_arena_printf(arena, "%s.before-restore-%.13s%.2s-%d", path, now, now + 14, k);
        if (access(to, F_OK) != 0)
            return to;
    }
}

static enum book_status fail(struct book *b, int ill, const char *path)
{
    return book_say(b, ill == ENOSPC ? BOOK_E_FULL : BOOK_E_SYSTEM, "look at the folder and the disk it is on",
                    "'%.250s' cannot be written: %.60s", path, strerror(ill));
}

/* ---- into a book that can be opened ---- */

static enum book_status pour(struct book *b, const char *backup)
{
    struct st_buf uri = { 0 };
    sqlite3 *from = NULL;

    book_as_it_lies(backup, &uri);
    int code = sqlite3_open_v2(st_buf_text(&uri), &from, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, NULL);
    book_forget_statements(b);
    if (code == SQLITE_OK)
        code = book_copy_pages(from, b->db);
    const enum book_status s =
        code == SQLITE_OK ? BOOK_OK : book_fail_code(b, code, sqlite3_errstr(code), "cannot bring back");
    sqlite3_close(from);
    st_buf_done(&uri);
    return s;
}

/* ---- in the place of one that cannot ---- */

/* The bytes of what is there, its log too: a damaged book may still be of use to somebody. */
static enum book_status put_aside(struct book *b, const char *aside)
{
    struct st_buf from = { 0 }, to = { 0 };
    int ill = book_copy_bytes(b->path, aside);

    st_buf_printf(&from, "%s-wal", b->path);
    st_buf_printf(&to, "%s-wal", aside);
    if (!ill) {
        ill = book_copy_bytes(from.text, to.text);
        if (ill == ENOENT)
            ill = 0;
    }
    st_buf_done(&from);
    st_buf_done(&to);
    return ill ? fail(b, ill, aside) : BOOK_OK;
}

static void remove_beside(const char *path, const char *end)
{
    struct st_buf name = { 0 };
    st_buf_printf(&name, "%s%s", path, end);
    unlink(name.text);
    st_buf_done(&name);
}

/* The log goes first: with the new file it would be read as a part of it. */
static enum book_status replace(struct book *b, const char *backup)
{
    struct st_buf half = { 0 };

    st_buf_printf(&half, "%s.half", b->path);
    unlink(half.text);
    int ill = book_copy_bytes(backup, half.text);
    if (!ill) {
        remove_beside(b->path, "-wal");
        remove_beside(b->path, "-shm");
        book_sync_folder(b->path);
        if (rename(half.text, b->path) != 0)
            ill = errno;
        else
            book_sync_folder(b->path);
    }
    if (ill)
        unlink(half.text);
    st_buf_done(&half);
    return ill ? fail(b, ill, b->path) : BOOK_OK;
}

/* ---- either ---- */

/* What is there now: BOOK_OK it opens and each page is well, BOOK_NONE nothing, BOOK_E_DAMAGED something that may be
 * replaced, else what hinders. */
static enum book_status present(struct book *b, enum book_status opened)
{
    enum book_status s = opened;

    if (opened == BOOK_E_FOREIGN && !b->of_others) /* not even a database: its head may be torn */
        s = BOOK_E_DAMAGED;
    if (opened != BOOK_OK)
        return s;
    sqlite3_stmt *q = book_prepare(b, "PRAGMA quick_check(1)");
    const char *said = q && sqlite3_step(q) == SQLITE_ROW ? book_column_text(q, 0) : NULL;
    if (!said || strcmp(said, "ok") != 0)
        s = BOOK_E_DAMAGED;
    book_release(b, q);
    return s;
}

/* Open again what took the book's place. */
static enum book_status anew(struct book **out)
{
    struct book *old = *out;
    const enum book_status s = book_open(book_path(old), BOOK_WRITE, out);
    book_close(old);
    return s;
}

/* The file, whatever it is, changes places with the backup.  It is closed between: a log that is still open would be
 * folded into the file that has its name by then. */
static enum book_status change_places(struct book *b, const char *backup, const char *aside)
{
    enum book_status s = aside ? put_aside(b, aside) : BOOK_OK;
    book_close_file(b);
    return s == BOOK_OK ? replace(b, backup) : s;
}

enum book_status book_restore(const char *path, const char *backup, const char *now, struct st_arena *arena,
                              struct book **out, const char **aside)
{
    const bool there = access(path, F_OK) == 0;
    const enum book_status opened = book_open(path, there ? BOOK_WRITE : BOOK_READ, out);
    struct book *b = *out;
    const struct book_said said = b->said;

    *aside = NULL;
    if (access(backup, R_OK) != 0)
        return book_say(b, BOOK_NONE, "stillroom backup --list shows what there is", "there is no backup '%.250s'",
                        backup);
    enum book_status s = book_look_through(b, backup, true);
    if (s != BOOK_OK)
        return s;
    const enum book_status is = there ? present(b, opened) : BOOK_NONE;
    if (is < 0 && is != BOOK_E_DAMAGED) {
        b->said = said;
        return is;
    }
    const char *beside = there ? name_aside(path, now, arena) : NULL;
    if (is == BOOK_OK)
        s = book_copy(b, beside);
    if (s == BOOK_OK)
        s = is == BOOK_OK ? pour(b, backup) : change_places(b, backup, beside);
    if (s == BOOK_OK)
        *aside = beside;
    return s == BOOK_OK ? anew(out) : s;
}
