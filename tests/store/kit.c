#include "store/kit.h"

#include <dirent.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "util/buf.h"
#include "util/file.h"

enum { MOST_BYTES = 1 << 30 };

/* ---- files ---- */

void kit_make(struct kit *k)
{
    snprintf(k->folder, sizeof k->folder, "/tmp/st_store_XXXXXX");
    if (!mkdtemp(k->folder))
        fail_msg("no folder in /tmp");
    snprintf(k->book, sizeof k->book, "%s/book", k->folder);
}

static void take_away(const char *path)
{
    DIR *d = opendir(path);
    struct dirent *e;

    if (!d) {
        unlink(path);
        return;
    }
    chmod(path, 0700);
    while ((e = readdir(d)) != NULL) {
        char in[600];
        if (strcmp(e->d_name, ".") == 0 || strcmp(e->d_name, "..") == 0)
            continue;
        snprintf(in, sizeof in, "%.300s/%.255s", path, e->d_name);
        take_away(in);
    }
    closedir(d);
    rmdir(path);
}

void kit_done(struct kit *k)
{
    take_away(k->folder);
}

const char *kit_file(const struct kit *k, const char *name)
{
    static char path[4][160];
    static int at;
    at = (at + 1) % 4;
    snprintf(path[at], sizeof path[at], "%s/%s", k->folder, name);
    return path[at];
}

char *kit_read(const char *path, size_t *size)
{
    struct st_buf b = { 0 };
    const int ill = st_file_read(path, MOST_BYTES, &b);
    if (ill)
        fail_msg("%s: %s", path, strerror(ill));
    *size = b.length;
    st_buf_char(&b, '\0');
    return st_buf_take(&b);
}

void kit_copy(const char *from, const char *to)
{
    size_t size;
    char *bytes = kit_read(from, &size);
    FILE *f = fopen(to, "wb");
    if (!f || fwrite(bytes, 1, size, f) != size || fclose(f) != 0)
        fail_msg("cannot write %s", to);
    free(bytes);
}

/* ---- the book ---- */

struct book *kit_open(const struct kit *k)
{
    struct book *b;
    if (book_open(k->book, BOOK_WRITE, &b) != BOOK_OK)
        fail_msg("%s: %s", book_said(b)->what, book_said(b)->why);
    return b;
}

int64_t kit_add_lot(struct book *b, const char *code, const char *name, const char *words)
{
    struct book_lot lot;
    int64_t id = 0;

    book_row_init(BOOK_LOT, &lot);
    lot.code = code;
    lot.kind = "bought";
    lot.name = name;
    lot.words = words;
    lot.dim = "g";
    lot.amount = 100.0;
    assert_int_equal(book_begin(b, KIT_AT, name), BOOK_OK);
    assert_int_equal(book_put(b, BOOK_LOT, &lot, &id), BOOK_OK);
    assert_int_equal(book_end(b), BOOK_OK);
    return id;
}

/* ---- by SQLite alone ---- */

static void add_value(struct st_buf *out, sqlite3_stmt *q, int i)
{
    const unsigned char *bytes = sqlite3_column_blob(q, i);
    const int type = sqlite3_column_type(q, i), n = sqlite3_column_bytes(q, i);

    if (type == SQLITE_FLOAT)
        st_buf_printf(out, "%a", sqlite3_column_double(q, i));
    else if (type == SQLITE_NULL)
        st_buf_add(out, "NULL");
    else if (type == SQLITE_BLOB)
        for (int k = 0; k < n; k++)
            st_buf_printf(out, "%02x", bytes[k]);
    else
        st_buf_add(out, (const char *)sqlite3_column_text(q, i));
}

static void add_rows(sqlite3 *db, const char *sql, struct st_buf *out)
{
    sqlite3_stmt *q = NULL;
    int code;

    if (sqlite3_prepare_v2(db, sql, -1, &q, &sql) != SQLITE_OK)
        fail_msg("%s: %s", sql, sqlite3_errmsg(db));
    while ((code = sqlite3_step(q)) == SQLITE_ROW) {
        for (int i = 0; i < sqlite3_column_count(q); i++) {
            st_buf_add(out, i ? "|" : "");
            add_value(out, q, i);
        }
        st_buf_char(out, '\n');
    }
    if (code != SQLITE_DONE)
        fail_msg("%s: %s", sqlite3_sql(q), sqlite3_errmsg(db));
    sqlite3_finalize(q);
    if (*sql)
        add_rows(db, sql, out);
}

char *kit_ask(const char *path, const char *sql)
{
    sqlite3 *db = NULL;
    struct st_buf out = { 0 };

    if (sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
        fail_msg("%s: %s", path, sqlite3_errmsg(db));
    sqlite3_busy_timeout(db, 10000);
    add_rows(db, sql, &out);
    sqlite3_close(db);
    st_buf_char(&out, '\0');
    return st_buf_take(&out);
}

int64_t kit_number(const char *path, const char *sql)
{
    char *text = kit_ask(path, sql);
    const int64_t x = strtoll(text, NULL, 10);
    free(text);
    return x;
}

static void gives(const char *path, const char *sql, const char *wanted)
{
    char *got = kit_ask(path, sql);
    if (strcmp(got, wanted) != 0)
        fail_msg("%s of %s gives: %s", sql, path, got);
    free(got);
}

void kit_is_sound(const char *path)
{
    gives(path, "PRAGMA integrity_check", "ok\n");
    gives(path, "PRAGMA foreign_key_check", "");
    gives(path, "INSERT INTO search (search) VALUES ('integrity-check')", "");
    gives(path, "SELECT * FROM search_source EXCEPT SELECT rowid, title, words FROM search", "");
    gives(path, "SELECT rowid, title, words FROM search EXCEPT SELECT * FROM search_source", "");
}
