#include "store/check.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "store/book_inside.h"
#include "store/picture.h"

/* ---- look through ---- */

struct look {
    struct book *b;
    struct st_arena *arena;
    const char **finding;
    int n;
};

__attribute__((format(printf, 2, 3))) static void found(struct look *l, const char *format, ...)
{
    char text[400];
    va_list ap;

    if (l->n >= BOOK_FINDINGS)
        return;
    va_start(ap, format);
    vsnprintf(text, sizeof text, format, ap);
    va_end(ap);
    l->finding[l->n++] = st_arena_strdup(l->arena, text);
}

static void unreadable(struct look *l, const char *what)
{
    book_fail(l->b, what); /* ends the program where it is memory that lacks */
    found(l, "%s (%.200s)", what, sqlite3_errmsg(l->b->db));
}

/* Each row a statement gives is a finding: its columns go into `tell`. */
static void look_by(struct look *l, const char *sql, void (*tell)(struct look *l, sqlite3_stmt *q))
{
    sqlite3_stmt *q = book_prepare(l->b, sql);
    int code = SQLITE_ERROR;

    while (q && l->n < BOOK_FINDINGS && (code = sqlite3_step(q)) == SQLITE_ROW)
        tell(l, q);
    if (code != SQLITE_ROW && code != SQLITE_DONE)
        unreadable(l, "it cannot be read through to the end");
    book_release(l->b, q);
}

static const char *text(sqlite3_stmt *q, int i)
{
    const char *t = book_column_text(q, i);
    return t ? t : "";
}

static void tell_page(struct look *l, sqlite3_stmt *q)
{
    if (strcmp(text(q, 0), "ok") != 0)
        found(l, "the file is damaged: %.300s", text(q, 0));
}

static void tell_reference(struct look *l, sqlite3_stmt *q)
{
    found(l, "row %lld of %.60s names a row of %.60s that is not there", (long long)sqlite3_column_int64(q, 1),
          text(q, 0), text(q, 2));
}

static void tell_index(struct look *l, sqlite3_stmt *q)
{
    found(l, "the index of words does not hold what was entered, in %lld rows: they may not be found",
          (long long)sqlite3_column_int64(q, 0));
}

static void tell_picture(struct look *l, sqlite3_stmt *q)
{
    char sum[65];
    size_t size;
    const void *bytes = book_column_blob(q, 2, &size);
    book_sha256(bytes, size, sum);
    if (strcmp(sum, text(q, 1)) != 0)
        found(l, "picture %lld is not what was put in: its sum is another", (long long)sqlite3_column_int64(q, 0));
}

static void look_at_index(struct look *l)
{
    static const char INSIDE[] = "INSERT INTO search (search) VALUES ('integrity-check')";
    static const char STEP[] =
        "SELECT n FROM (SELECT count(*) AS n FROM search_source s LEFT JOIN search_content c ON c.id = s.key "
        "WHERE c.id IS NULL OR c.c0 IS NOT s.title OR c.c1 IS NOT s.words) WHERE n > 0";
    static const char MORE[] = "SELECT n FROM (SELECT (SELECT count(*) FROM search_content) - "
                               "(SELECT count(*) FROM search_source) AS n) WHERE n > 0";

    look_by(l, STEP, tell_index);
    look_by(l, MORE, tell_index);
    if (!l->b->read_only && sqlite3_exec(l->b->db, INSIDE, NULL, NULL, NULL) != SQLITE_OK)
        unreadable(l, "the index of words is damaged");
}

enum book_status book_check(struct book *b, struct st_arena *arena, const char **findings, int *n)
{
    struct look l = { b, arena, findings, 0 };

    look_by(&l, "PRAGMA integrity_check(20)", tell_page);
    look_by(&l, "PRAGMA foreign_key_check", tell_reference);
    look_at_index(&l);
    look_by(&l, "SELECT id, sha256, data FROM picture", tell_picture);
    *n = l.n;
    return BOOK_OK;
}

enum book_status book_index_anew(struct book *b)
{
    static const char CANNOT[] = "cannot make the index of words anew in";
    enum book_status s = book_run(b, "BEGIN IMMEDIATE", CANNOT);

    if (s != BOOK_OK)
        return s;
    s = book_run(b,
                 "INSERT INTO search (search) VALUES ('rebuild');" /* so that it can be emptied, whatever it held */
                 "DELETE FROM search;"
                 "INSERT INTO search (rowid, title, words) SELECT key, title, words FROM search_source;"
                 "COMMIT",
                 CANNOT);
    if (s != BOOK_OK)
        book_rollback(b);
    return s;
}

/* ---- size ---- */

static int64_t bytes_of(const char *path, const char *end)
{
    char name[1100];
    struct stat st;
    snprintf(name, sizeof name, "%.1090s%s", path, end);
    return stat(name, &st) == 0 ? (int64_t)st.st_size : 0;
}

static enum book_status one(struct book *b, const char *sql, int64_t *x)
{
    sqlite3_stmt *q = book_prepare(b, sql);
    if (!q)
        return b->failed;
    const bool got = sqlite3_step(q) == SQLITE_ROW;
    if (got)
        *x = sqlite3_column_int64(q, 0);
    const enum book_status s = got ? BOOK_OK : book_fail(b, "cannot read");
    book_release(b, q);
    return s;
}

enum book_status book_size(struct book *b, struct book_size *size)
{
    struct book_size z = { .bytes = bytes_of(b->path, ""), .log_bytes = bytes_of(b->path, "-wal") };
    int64_t free_pages = 0, page = 0;
    enum book_status s = one(b, "SELECT count(*) FROM deed", &z.deeds);

    for (int t = 0; s == BOOK_OK && t < BOOK_NTABLE; t++)
        s = book_count(b, (enum book_table)t, NULL, &z.rows[t]);
    if (s == BOOK_OK)
        s = one(b, "PRAGMA freelist_count", &free_pages);
    if (s == BOOK_OK)
        s = one(b, "PRAGMA page_size", &page);
    z.free_bytes = free_pages * page;
    if (s == BOOK_OK)
        *size = z;
    return s;
}
