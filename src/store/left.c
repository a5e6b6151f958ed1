#include "store/left.h"

#include <stdlib.h>
#include <string.h>

#include "store/book_inside.h"
#include "util/buf.h"
#include "util/memory.h"

/* Every bottling with the name of its batch is one walk through two tables, and where bottles went another; they are put together
 * here.  Told to do it in one statement, SQLite makes an index of its own for it and sorts rows as wide as they come, which takes
 * three times as long (bench/bench_book.c). */

static const char CANNOT[] = "cannot read";

/* ---- bottlings ---- */

/* Batches of one name follow each other often, and share it. */
static const char *text_of(sqlite3_stmt *q, int column, const char *before, struct st_arena *arena)
{
    const char *text = book_column_text(q, column);
    return before && strcmp(before, text) == 0 ? before : st_arena_strdup(arena, text);
}

static sqlite3_stmt *ask(struct book *b)
{
    struct st_buf sql = { 0 };
    st_buf_add(&sql, "SELECT ");
    book_add_columns(b, &sql, book_table_info(BOOK_BOTTLING), true);
    st_buf_add(&sql, ", its_code, its_name FROM bottling JOIN (SELECT id AS its, code AS its_code, name AS its_name "
                     "FROM batch) ON its = batch_id ORDER BY bottling.id");
    sqlite3_stmt *q = book_prepare(b, st_buf_text(&sql));
    st_buf_done(&sql);
    return q;
}

/* All, by id; at_home: all that were filled. */
static enum book_status read_bottlings(struct book *b, struct st_arena *arena, struct book_left **left, int *n)
{
    const struct book_table_info *of = book_table_info(BOOK_BOTTLING);
    const int extra = (int)of->n_column;
    struct st_buf all = { 0 };
    struct book_left one;
    int code;

    sqlite3_stmt *q = ask(b);
    if (!q)
        return b->failed;
    memset(&one, 0, sizeof one);
    while ((code = sqlite3_step(q)) == SQLITE_ROW) {
        book_take_row(q, of, arena, &one.row);
        one.batch = text_of(q, extra, one.batch, arena);
        one.name = text_of(q, extra + 1, one.name, arena);
        one.at_home = one.row.count;
        st_buf_add_n(&all, &one, sizeof one);
    }
    const enum book_status s = code == SQLITE_DONE ? BOOK_OK : book_fail(b, CANNOT);
    book_release(b, q);
    if (s == BOOK_OK) {
        *n = (int)(all.length / sizeof one);
        *left = st_arena_alloc(arena, all.length + 1);
        if (*n > 0)
            memcpy(*left, all.text, all.length);
    }
    st_buf_done(&all);
    return s;
}

/* ---- where bottles went ---- */

static int by_id(const void *pa, const void *pb)
{
    const struct book_left *a = pa, *b = pb;
    return (a->row.id > b->row.id) - (a->row.id < b->row.id);
}

/* left[n] by id. */
static enum book_status take_gone(struct book *b, struct book_left *left, int n)
{
    int code = SQLITE_DONE;
    sqlite3_stmt *q = book_prepare(b, "SELECT bottling_id, \"count\" - returned FROM gone");
    if (!q)
        return b->failed;
    while (n > 0 && (code = sqlite3_step(q)) == SQLITE_ROW) {
        const struct book_left key = { .row.id = sqlite3_column_int64(q, 0) };
        struct book_left *l = bsearch(&key, left, (size_t)n, sizeof *left, by_id);
        if (l)
            l->at_home -= sqlite3_column_int64(q, 1);
    }
    const enum book_status s = code == SQLITE_DONE ? BOOK_OK : book_fail(b, CANNOT);
    book_release(b, q);
    return s;
}

/* ---- in order ---- */

struct place {
    int64_t day; /* 20261004 */
    int at;      /* in the list by id */
};

static int64_t day_of(const char *iso)
{
    int64_t day = 0;
    for (; *iso; iso++)
        if (*iso >= '0' && *iso <= '9')
            day = 10 * day + (*iso - '0');
    return day;
}

static int by_day(const void *pa, const void *pb)
{
    const struct place *a = pa, *b = pb;
    if (a->day != b->day)
        return a->day < b->day ? -1 : 1;
    return a->at - b->at;
}

/* Those with bottles at home, by day; how many there are.  to: room for n. */
static int in_order(const struct book_left *all, int n, struct book_left *to)
{
    struct place *place = x_calloc((size_t)n + 1, sizeof *place);
    int k = 0;
    for (int i = 0; i < n; i++)
        if (all[i].at_home > 0)
            place[k++] = (struct place){ day_of(all[i].row.on_day), i };
    qsort(place, (size_t)k, sizeof *place, by_day);
    for (int i = 0; i < k; i++)
        to[i] = all[place[i].at];
    free(place);
    return k;
}

enum book_status book_bottles_left(struct book *b, int most, struct st_arena *arena, struct book_left **left, int *n,
                                   int *of)
{
    struct book_left *all = NULL;
    int filled = 0;
    enum book_status s = read_bottlings(b, arena, &all, &filled);
    if (s == BOOK_OK)
        s = take_gone(b, all, filled);
    if (s != BOOK_OK)
        return s;
    *left = st_arena_alloc(arena, (size_t)filled * sizeof **left + 1);
    *of = in_order(all, filled, *left);
    *n = most > 0 && *of > most ? most : *of;
    return BOOK_OK;
}
