#include "store/book_inside.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/buf.h"
#include "util/memory.h"

/* Rows of any table by its description: the text of a statement is made of names of tables and columns alone, which are
 * constants of tables.c; values are bound. */

static const char WRITE[] = "cannot write to", READ[] = "cannot read";

/* ---- writing ---- */

static int bind(sqlite3_stmt *q, int at, const void *row, const struct book_column *c)
{
    switch (c->type) {
    case BOOK_INTEGER: {
        const int64_t x = book_integer(row, c);
        return x == BOOK_NO ? sqlite3_bind_null(q, at) : sqlite3_bind_int64(q, at, x);
    }
    case BOOK_REAL: {
        const double x = book_real(row, c);
        return isnan(x) ? sqlite3_bind_null(q, at) : sqlite3_bind_double(q, at, x);
    }
    case BOOK_BLOB: {
        const struct book_blob x = book_blob(row, c);
        if (x.bytes)
            return sqlite3_bind_blob64(q, at, x.bytes, x.size, SQLITE_STATIC);
        return c->needed ? sqlite3_bind_zeroblob(q, at, 0) : sqlite3_bind_null(q, at);
    }
    case BOOK_TEXT: break;
    }
    const char *x = book_text(row, c);
    if (!x && c->needed)
        x = "";
    return x ? sqlite3_bind_text(q, at, x, -1, SQLITE_STATIC) : sqlite3_bind_null(q, at);
}

static void insert_text(const struct book_table_info *of, struct st_buf *sql)
{
    st_buf_printf(sql, "INSERT INTO \"%s\" (", of->name);
    for (size_t i = 0; i < of->n_column; i++)
        st_buf_printf(sql, "%s\"%s\"", i ? ", " : "", of->column[i].name);
    st_buf_add(sql, ") VALUES (");
    for (size_t i = 0; i < of->n_column; i++)
        st_buf_printf(sql, "%s?%zu", i ? ", " : "", i + 1);
    st_buf_char(sql, ')');
}

static void update_text(const struct book_table_info *of, struct st_buf *sql)
{
    st_buf_printf(sql, "UPDATE \"%s\" SET ", of->name);
    for (size_t i = 1; i < of->n_column; i++)
        st_buf_printf(sql, "%s\"%s\" = ?%zu", i > 1 ? ", " : "", of->column[i].name, i + 1);
    st_buf_add(sql, " WHERE id = ?1");
}

/* Prepare, bind all columns (id NULL where it is 0), run once. */
static enum book_status write_row(struct book *b, const struct book_table_info *of, const char *sql, const void *row)
{
    sqlite3_stmt *q = book_prepare(b, sql);
    int code = q ? SQLITE_OK : SQLITE_ERROR;

    for (size_t i = 0; i < of->n_column && code == SQLITE_OK; i++)
        code = i == 0 && book_integer(row, &of->column[0]) == 0 ? sqlite3_bind_null(q, 1)
                                                                : bind(q, (int)i + 1, row, &of->column[i]);
    if (code == SQLITE_OK)
        code = sqlite3_step(q);
    const enum book_status s = code == SQLITE_DONE ? BOOK_OK : book_fail(b, WRITE);
    book_release(b, q);
    return s;
}

enum book_status book_insert(struct book *b, const struct book_table_info *of, const void *row)
{
    struct st_buf sql = { 0 };
    insert_text(of, &sql);
    const enum book_status s = write_row(b, of, st_buf_text(&sql), row);
    st_buf_done(&sql);
    return s;
}

enum book_status book_put(struct book *b, enum book_table t, const void *row, int64_t *id)
{
    const struct book_table_info *of = book_table_info(t);
    const int64_t has = book_integer(row, &of->column[0]);
    struct st_buf sql = { 0 };
    enum book_status s;

    assert(book_in_deed(b));
    if (has == BOOK_NO || has == 0) {
        s = book_insert(b, of, row);
        if (s == BOOK_OK && id)
            *id = sqlite3_last_insert_rowid(b->db);
        return s;
    }
    update_text(of, &sql);
    s = write_row(b, of, st_buf_text(&sql), row);
    st_buf_done(&sql);
    if (s == BOOK_OK && sqlite3_changes(b->db) == 0)
        return book_say(b, BOOK_NONE, "list them to see which there are", "it has no %s %lld", of->name,
                        (long long)has);
    if (s == BOOK_OK && id)
        *id = has;
    return s;
}

enum book_status book_put_as(struct book *b, enum book_table t, const void *row)
{
    assert(book_in_deed(b));
    /* until the end of this transaction */
    const enum book_status s = book_run(b, "PRAGMA defer_foreign_keys = ON", WRITE);
    return s == BOOK_OK ? book_insert(b, book_table_info(t), row) : s;
}

enum book_status book_drop(struct book *b, enum book_table t, int64_t id)
{
    char sql[100];
    enum book_status s = BOOK_OK;

    assert(book_in_deed(b));
    snprintf(sql, sizeof sql, "DELETE FROM \"%s\" WHERE id = ?1", book_table_info(t)->name);
    sqlite3_stmt *q = book_prepare(b, sql);
    if (!q)
        return b->failed;
    sqlite3_bind_int64(q, 1, id);
    if (sqlite3_step(q) != SQLITE_DONE)
        s = book_fail(b, WRITE);
    else if (sqlite3_changes(b->db) == 0)
        s = book_say(b, BOOK_NONE, "list them to see which there are", "it has no %s %lld", book_table_info(t)->name,
                     (long long)id);
    book_release(b, q);
    return s;
}

/* ---- reading ---- */

static struct book_blob lend_blob(sqlite3_stmt *q, int at, struct st_arena *arena)
{
    size_t size;
    const void *bytes = book_column_blob(q, at, &size);
    void *to = st_arena_alloc(arena, size + 1);
    if (size > 0)
        memcpy(to, bytes, size);
    return (struct book_blob){ to, size };
}

/* A text of a row; where the row before it (or NULL) had the same there, that one. */
static const char *lend_text(sqlite3_stmt *q, int at, const char *before, struct st_arena *arena)
{
    const char *text = book_column_text(q, at);
    const int length = text ? sqlite3_column_bytes(q, at) : 0;

    if (!text)
        return NULL;
    if (length == 0)
        return "";
    if (before && strcmp(before, text) == 0)
        return before;
    return st_arena_strndup(arena, text, (size_t)length);
}

/* row: zeros, or the row before it of the same arena. */
static void take_column(sqlite3_stmt *q, int at, const struct book_column *c, struct st_arena *arena, void *row)
{
    char *to = (char *)row + c->offset;

    if (c->type == BOOK_TEXT) { /* most columns: SQLite is not asked for their type, NULL says it */
        const char *x;
        memcpy(&x, to, sizeof x);
        x = lend_text(q, at, x, arena);
        memcpy(to, &x, sizeof x);
        return;
    }
    const bool no = sqlite3_column_type(q, at) == SQLITE_NULL;
    if (c->type == BOOK_INTEGER) {
        const int64_t x = no ? BOOK_NO : sqlite3_column_int64(q, at);
        memcpy(to, &x, sizeof x);
    } else if (c->type == BOOK_REAL) {
        const double x = no ? (double)NAN : sqlite3_column_double(q, at);
        memcpy(to, &x, sizeof x);
    } else {
        const struct book_blob x = no ? (struct book_blob){ NULL, 0 } : lend_blob(q, at, arena);
        memcpy(to, &x, sizeof x);
    }
}

void book_take_row(sqlite3_stmt *q, const struct book_table_info *of, struct st_arena *arena, void *row)
{
    for (size_t i = 0; i < of->n_column; i++)
        take_column(q, (int)i, &of->column[i], arena, row);
}

static const char *column_named(const struct book_table_info *of, const char *name)
{
    for (size_t i = 0; i < of->n_column; i++)
        if (strcmp(of->column[i].name, name) == 0)
            return of->column[i].name;
    assert(false && "a column of this table");
    return "id";
}

static void where(struct st_buf *sql, const struct book_table_info *of, const struct book_wanted *w)
{
    if (w && w->column && !w->text && w->integer == BOOK_NO)
        st_buf_printf(sql, " WHERE \"%s\" IS NULL", column_named(of, w->column));
    else if (w && w->column)
        st_buf_printf(sql, " WHERE \"%s\" = ?1", column_named(of, w->column));
}

static char *columns_of(const struct book_table_info *of, bool brief)
{
    struct st_buf text = { 0 };
    for (size_t i = 0; i < of->n_column; i++) {
        const char *name = of->column[i].name;
        const bool left_out =
            brief && (strcmp(name, "text") == 0 || strcmp(name, "said") == 0 || strcmp(name, "facts") == 0);
        st_buf_printf(&text, left_out ? "%sNULL AS \"%s\"" : "%s\"%s\"", i ? ", " : "", name);
    }
    return text.text;
}

/* They are asked for once a row where rows are looked up one by one, so they are put together once a book; tables that are not in
 * book_table_info (the journal) each time. */
void book_add_columns(struct book *b, struct st_buf *sql, const struct book_table_info *of, bool brief)
{
    const size_t t = (size_t)(of - book_table_info((enum book_table)0));
    if (of < book_table_info((enum book_table)0) || t >= BOOK_NTABLE) {
        char *columns = columns_of(of, brief);
        st_buf_add(sql, columns);
        free(columns);
        return;
    }
    if (!b->columns[t][brief])
        b->columns[t][brief] = columns_of(of, brief);
    st_buf_add(sql, b->columns[t][brief]);
}

static void select_text(struct book *b, struct st_buf *sql, const struct book_table_info *of,
                        const struct book_wanted *w)
{
    st_buf_add(sql, "SELECT ");
    book_add_columns(b, sql, of, w && w->brief);
    st_buf_printf(sql, " FROM \"%s\"", of->name);
    where(sql, of, w);
    const char *way = w && w->backward ? " DESC" : "";
    if (w && w->order)
        st_buf_printf(sql, " ORDER BY \"%s\"%s, id%s", column_named(of, w->order), way, way);
    else
        st_buf_printf(sql, " ORDER BY id%s", way);
    if (w && w->most > 0)
        st_buf_printf(sql, " LIMIT %d", w->most);
}

static sqlite3_stmt *prepare_wanted(struct book *b, struct st_buf *sql, const struct book_wanted *w)
{
    sqlite3_stmt *q = book_prepare(b, st_buf_text(sql));
    st_buf_done(sql);
    if (q && w && w->column && w->text)
        sqlite3_bind_text(q, 1, w->text, -1, SQLITE_STATIC);
    else if (q && w && w->column && w->integer != BOOK_NO)
        sqlite3_bind_int64(q, 1, w->integer);
    return q;
}

enum book_status book_list(struct book *b, enum book_table t, const struct book_wanted *w, struct st_arena *arena,
                           void *rows, int *n)
{
    const struct book_table_info *of = book_table_info(t);
    struct st_buf sql = { 0 }, all = { 0 };
    int k = 0, code;

    select_text(b, &sql, of, w);
    sqlite3_stmt *q = prepare_wanted(b, &sql, w);
    if (!q)
        return b->failed;
    void *row = x_calloc(1, of->size);
    while ((code = sqlite3_step(q)) == SQLITE_ROW) {
        book_take_row(q, of, arena, row);
        st_buf_add_n(&all, row, of->size);
        k++;
    }
    const enum book_status s = code == SQLITE_DONE ? BOOK_OK : book_fail(b, READ);
    book_release(b, q);
    if (s == BOOK_OK) {
        void *to = st_arena_alloc(arena, all.length + 1);
        if (k > 0)
            memcpy(to, all.text, all.length);
        memcpy(rows, &to, sizeof to);
        *n = k;
    }
    free(row);
    st_buf_done(&all);
    return s;
}

enum book_status book_walk(struct book *b, const struct book_table_info *of, bool (*each)(void *arg, const void *row),
                           void *arg)
{
    struct st_buf sql = { 0 };
    bool go_on = true;
    int code = SQLITE_DONE;

    select_text(b, &sql, of, NULL);
    sqlite3_stmt *q = prepare_wanted(b, &sql, NULL);
    if (!q)
        return b->failed;
    void *row = x_calloc(1, of->size);
    while (go_on && (code = sqlite3_step(q)) == SQLITE_ROW) {
        struct st_arena arena = { 0 };
        memset(row, 0, of->size);
        book_take_row(q, of, &arena, row);
        go_on = each(arg, row);
        st_arena_done(&arena);
    }
    const enum book_status s = !go_on || code == SQLITE_DONE ? BOOK_OK : book_fail(b, READ);
    book_release(b, q);
    free(row);
    return s;
}

enum book_status book_find(struct book *b, enum book_table t, const struct book_wanted *w, struct st_arena *arena,
                           void *row)
{
    struct book_wanted first = w ? *w : (struct book_wanted){ .column = NULL };
    void *rows = NULL;
    int n = 0;

    first.most = 1;
    const enum book_status s = book_list(b, t, &first, arena, &rows, &n);
    if (s != BOOK_OK)
        return s;
    if (n == 0)
        return book_say(b, BOOK_NONE, "list them to see which there are", "it has no such %s",
                        book_table_info(t)->name);
    memcpy(row, rows, book_table_info(t)->size);
    return BOOK_OK;
}

enum book_status book_get(struct book *b, enum book_table t, int64_t id, struct st_arena *arena, void *row)
{
    const struct book_wanted w = { .column = "id", .integer = id };
    return book_find(b, t, &w, arena, row);
}

enum book_status book_count(struct book *b, enum book_table t, const struct book_wanted *w, int64_t *n)
{
    const struct book_table_info *of = book_table_info(t);
    struct st_buf sql = { 0 };
    enum book_status s = BOOK_OK;

    st_buf_printf(&sql, "SELECT count(*) FROM \"%s\"", of->name);
    where(&sql, of, w);
    sqlite3_stmt *q = prepare_wanted(b, &sql, w);
    if (!q)
        return b->failed;
    if (sqlite3_step(q) == SQLITE_ROW)
        *n = sqlite3_column_int64(q, 0);
    else
        s = book_fail(b, READ);
    book_release(b, q);
    return s;
}

/* ---- settings ---- */

enum book_status book_setting(struct book *b, const char *name, struct st_arena *arena, const char **value)
{
    const struct book_wanted w = { .column = "name", .text = name };
    struct book_setting row = { .value = "" };
    const enum book_status s = book_find(b, BOOK_SETTING, &w, arena, &row);

    if (s < 0)
        return s;
    *value = row.value;
    return BOOK_OK;
}

enum book_status book_set(struct book *b, const char *name, const char *value)
{
    const struct book_wanted w = { .column = "name", .text = name };
    struct book_setting row = { .id = BOOK_NO };
    struct st_arena arena = { 0 };
    enum book_status s = book_find(b, BOOK_SETTING, &w, &arena, &row);

    if (s == BOOK_NONE) {
        book_row_init(BOOK_SETTING, &row);
        row.name = name;
    }
    row.value = value;
    if (s == BOOK_OK && !*value)
        s = book_drop(b, BOOK_SETTING, row.id);
    else if (s >= 0)
        s = *value ? book_put(b, BOOK_SETTING, &row, NULL) : BOOK_OK;
    st_arena_done(&arena);
    return s;
}
