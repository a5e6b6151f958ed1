#include "store/book_inside.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

/* ---- what went wrong ---- */

static const struct book_ill {
    int code; /* primary result code of SQLite */
    enum book_status status;
    const char *why, *try_;
} ILL[] = {
    { SQLITE_NOTADB, BOOK_E_FOREIGN, "it is no book of this program, or its head is damaged; nothing was written to it",
      "name another file with --book; if this was the book, stillroom backup --list shows what there is to go back "
      "to" },
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

void book_leave_alone(struct book *b, bool alone)
{
    if (b->db)
        sqlite3_db_config(b->db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, alone ? 1 : 0, NULL);
}

/* "trimmed_share" as "trimmed share", from the n bytes at name; what stands before a dot is left out. */
static void column_words(const char *name, size_t n, char out[60])
{
    const char *dot = memchr(name, '.', n);
    const size_t skip = dot ? (size_t)(dot + 1 - name) : 0;
    snprintf(out, 60, "%.*s", (int)(n - skip), name + skip);
    for (char *c = out; *c; c++)
        if (*c == '_')
            *c = ' ';
}

static const char *behind(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0 ? text + strlen(start) : NULL;
}

/* "length(note) <= 4000", "amount >= 0 AND amount < 1e9": which column, and its limit where it is one of letters. */
static void check_words(const char *rule, char out[200])
{
    const char *text = behind(rule, "length("), *from = text ? text : rule;
    char column[60];

    column_words(from, strspn(from, "abcdefghijklmnopqrstuvwxyz_"), column);
    const char *most = strstr(rule, "<= "), *and = strstr(rule, " AND ");
    if (text && (most || and))
        snprintf(out, 200, "its %s may have %s%ld letters", column, most ? "at most " : "1 to ",
                 strtol(most ? most + 3 : and+5, NULL, 10));
    else
        snprintf(out, 200, "its %s is not one that can be", *column ? column : "value");
}

/* What SQLite says of a broken rule, for people: never SQL. */
static void rule_words(const char *detail, char out[200])
{
    const char *of;
    char column[60], table[60];

    if ((of = behind(detail, "CHECK constraint failed: ")) != NULL)
        check_words(of, out);
    else if ((of = behind(detail, "UNIQUE constraint failed: ")) != NULL) {
        column_words(of, strcspn(of, ","), column);
        column_words(of, strcspn(of, "."), table);
        snprintf(out, 200, "another %s has this %s", table, column);
    } else if ((of = behind(detail, "NOT NULL constraint failed: ")) != NULL) {
        column_words(of, strlen(of), column);
        snprintf(out, 200, "its %s is missing", column);
    } else if (behind(detail, "FOREIGN KEY"))
        snprintf(out, 200, "what it refers to is not there, or something else builds on it");
    else
        snprintf(out, 200, "%.150s", detail);
}

enum book_status book_fail_code(struct book *b, int code, const char *detail, const char *what)
{
    const struct book_ill *ill = ill_of(code);

    if ((code & 0xff) == SQLITE_NOMEM) {
        x_no_memory(); /* as everywhere in this program; the deed was not kept */
    }
    snprintf(b->said.what, sizeof b->said.what, "%s '%.250s'", what, b->path);
    if ((code & 0xff) == SQLITE_CORRUPT || (code & 0xff) == SQLITE_NOTADB)
        book_leave_alone(b, true);
    if (ill && ill->code == SQLITE_CONSTRAINT) {
        char words[200];
        rule_words(detail, words);
        snprintf(b->said.why, sizeof b->said.why, "%s: %s", ill->why, words);
    } else if (ill)
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

enum book_status book_hold(struct book *b)
{
    assert(!book_in_deed(b));
    return sqlite3_get_autocommit(b->db) ? book_run(b, "BEGIN", "cannot read") : BOOK_OK;
}

/* ---- close ---- */

void book_close_file(struct book *b)
{
    book_cancel(b);
    book_forget_statements(b);
    if (!b->log_was_there && book_log_bytes(b->path) == 0)
        book_leave_alone(b, false); /* an empty log of our own: SQLite takes it away, and has nothing to write */
    sqlite3_close_v2(b->db);
    b->db = NULL;
}

void book_close(struct book *b)
{
    if (!b)
        return;
    book_close_file(b);
    for (int t = 0; t < BOOK_NTABLE; t++) {
        free(b->columns[t][0]);
        free(b->columns[t][1]);
    }
    free(b->path);
    free(b);
}
