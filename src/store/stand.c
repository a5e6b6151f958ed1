#include "store/stand.h"

#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

/* How much a row has to do with a batch, a lot or a bottling. */
enum touch { NOTHING, DRAWS, CHANGES };

/* holds: what the row gives later ones to stand on; leans: how it stands on earlier ones itself.  What is not here touches nothing. */
static const struct rule {
    enum book_table row, of;
    const char *column;
    enum touch holds, leans;
} RULE[] = {
    { BOOK_LOT, BOOK_LOT, "id", CHANGES, CHANGES },
    { BOOK_LOT, BOOK_BATCH, "from_batch", NOTHING, DRAWS },
    { BOOK_LOT_USE, BOOK_LOT, "lot_id", DRAWS, DRAWS },
    { BOOK_LOT_USE, BOOK_BATCH, "batch_id", CHANGES, CHANGES },
    { BOOK_BATCH, BOOK_BATCH, "id", CHANGES, CHANGES },
    { BOOK_BATCH, BOOK_BATCH, "from_batch", NOTHING, DRAWS },
    { BOOK_JAR, BOOK_BATCH, "batch_id", CHANGES, CHANGES },
    { BOOK_WEIGHING, BOOK_BATCH, "batch_id", CHANGES, CHANGES },
    { BOOK_WEIGHING, BOOK_LOT, "lot_id", DRAWS, DRAWS },
    { BOOK_READING, BOOK_BATCH, "batch_id", NOTHING, DRAWS },
    { BOOK_READING, BOOK_LOT, "lot_id", NOTHING, DRAWS },
    { BOOK_LOSS, BOOK_BATCH, "batch_id", CHANGES, CHANGES },
    { BOOK_BOTTLING, BOOK_BATCH, "batch_id", CHANGES, CHANGES },
    { BOOK_BOTTLING, BOOK_BOTTLING, "id", CHANGES, CHANGES },
    { BOOK_GONE, BOOK_BOTTLING, "bottling_id", DRAWS, DRAWS },
};
enum { RULES = sizeof RULE / sizeof *RULE };

struct thing {
    enum book_table of;
    int64_t id;
    enum touch holds, leans;
};
struct things {
    struct thing *t;
    size_t n;
};

static void add(struct things *all, struct thing one)
{
    for (size_t i = 0; i < all->n; i++) {
        struct thing *t = &all->t[i];
        if (t->of != one.of || t->id != one.id)
            continue;
        t->holds = one.holds > t->holds ? one.holds : t->holds;
        t->leans = one.leans > t->leans ? one.leans : t->leans;
        return;
    }
    all->t = x_realloc_array(all->t, all->n + 1, sizeof *all->t);
    all->t[all->n++] = one;
}

/* ---- what a row touches ---- */

static enum book_table table_of(const char *name)
{
    int t = 0;
    while (t < BOOK_NTABLE && strcmp(book_table_info((enum book_table)t)->name, name) != 0)
        t++;
    return (enum book_table)t;
}

static size_t column_of(const struct book_table_info *of, const char *name)
{
    size_t i = 0;
    while (strcmp(of->column[i].name, name) != 0) /* RULE names columns that are there */
        i++;
    return i;
}

/* A row of a changeset: a new one and one that goes stand there whole; of a changed one only its id, and the rest in the book. */
struct changed {
    sqlite3_changeset_iter *it;
    const struct book_table_info *of;
    int op;
    const void *row; /* for SQLITE_UPDATE; NULL when it is there no more */
};

static sqlite3_value *value_of(const struct changed *c, size_t column)
{
    sqlite3_value *v = NULL;
    const int code = c->op == SQLITE_INSERT ? sqlite3changeset_new(c->it, (int)column, &v)
                                            : sqlite3changeset_old(c->it, (int)column, &v);
    return code == SQLITE_OK ? v : NULL;
}

static int64_t id_in(const struct changed *c, size_t column)
{
    sqlite3_value *v = value_of(c, column);
    if (c->op == SQLITE_UPDATE && column > 0)
        return c->row ? book_integer(c->row, &c->of->column[column]) : BOOK_NO;
    return v && sqlite3_value_type(v) == SQLITE_INTEGER ? sqlite3_value_int64(v) : BOOK_NO;
}

/* What was counted says what is there, whatever was drawn before; later drawings stand on it where it found more. */
static void counted(const struct changed *c, struct thing *t)
{
    const struct book_table_info *of = c->of;
    const size_t why = column_of(of, "why"), amount = column_of(of, "amount");
    const char *text = NULL;
    double much = 0.0;

    if (c->op != SQLITE_UPDATE) {
        sqlite3_value *said = value_of(c, why), *of_it = value_of(c, amount);
        text = said ? (const char *)sqlite3_value_text(said) : NULL;
        much = of_it ? sqlite3_value_double(of_it) : 0.0;
    } else if (c->row) {
        text = book_text(c->row, &of->column[why]);
        much = book_real(c->row, &of->column[amount]);
    }
    if (text && strcmp(text, "counted") == 0) {
        t->leans = CHANGES;
        t->holds = much < 0.0 ? CHANGES : t->holds;
    }
}

static void add_touched(const struct changed *c, enum book_table table, struct things *all)
{
    for (size_t i = 0; i < RULES; i++) {
        const struct rule *r = &RULE[i];
        if (r->row != table)
            continue;
        struct thing t = { r->of, id_in(c, column_of(c->of, r->column)), r->holds, r->leans };
        if (t.id == BOOK_NO)
            continue;
        if (table == BOOK_LOT_USE && r->of == BOOK_LOT)
            counted(c, &t);
        add(all, t);
    }
}

static enum book_status add_row(struct book *b, sqlite3_changeset_iter *it, struct things *all)
{
    struct st_arena arena = { 0 };
    struct changed c = { .it = it };
    const char *name;
    int columns, indirect;
    enum book_status s = BOOK_OK;

    if (sqlite3changeset_op(it, &name, &columns, &c.op, &indirect) != SQLITE_OK)
        return book_fail_code(b, SQLITE_CORRUPT, "the journal", "cannot read");
    const enum book_table table = table_of(name);
    bool touches = false;
    for (size_t i = 0; i < RULES; i++)
        touches = touches || RULE[i].row == table;
    if (!touches)
        return BOOK_OK;
    c.of = book_table_info(table);
    if (c.op == SQLITE_UPDATE) {
        void *row = st_arena_alloc(&arena, c.of->size);
        s = book_get(b, table, id_in(&c, 0), &arena, row);
        c.row = s == BOOK_OK ? row : NULL;
    }
    if (s >= BOOK_OK)
        add_touched(&c, table, all);
    st_arena_done(&arena);
    return s < BOOK_OK ? s : BOOK_OK;
}

static enum book_status touched(struct book *b, const void *changes, size_t size, struct things *all)
{
    sqlite3_changeset_iter *it = NULL;
    enum book_status s = BOOK_OK;
    int code = sqlite3changeset_start(&it, (int)size, (void *)(uintptr_t)changes);

    if (code != SQLITE_OK)
        return book_fail_code(b, code, sqlite3_errstr(code), "cannot read");
    while (s == BOOK_OK && sqlite3changeset_next(it) == SQLITE_ROW)
        s = add_row(b, it, all);
    code = sqlite3changeset_finalize(it);
    return s == BOOK_OK && code != SQLITE_OK ? book_fail_code(b, code, sqlite3_errstr(code), "cannot read") : s;
}

/* ---- what stands on what ---- */

static bool leans_on(const struct things *later, const struct things *earlier, bool again)
{
    for (size_t i = 0; i < later->n; i++)
        for (size_t k = 0; k < earlier->n; k++) {
            const struct thing *l = &later->t[i], *e = &earlier->t[k];
            if (l->of != e->of || l->id != e->id || e->holds == NOTHING || l->leans == NOTHING)
                continue;
            if (e->holds == CHANGES || l->leans == CHANGES || (again && l->of == BOOK_BOTTLING))
                return true;
        }
    return false;
}

static const char *lend(sqlite3_stmt *q, int column, struct st_arena *arena)
{
    const char *text = book_column_text(q, column);
    return st_arena_strdup(arena, text ? text : "");
}

/* The deeds that are in force and were first entered after ?1, in that order. */
static const char IN_FORCE[] =
    "SELECT id, at, words, changes FROM ("
    "SELECT d.id, d.at, d.words, d.changes, (WITH RECURSIVE back (id, undoes, n) AS (SELECT d.id, d.undoes, 0 "
    "UNION ALL SELECT p.id, p.undoes, n + 1 FROM deed p JOIN back ON p.id = back.undoes) "
    "SELECT CASE WHEN max(n) % 2 = 0 THEN min(id) END FROM back) AS first "
    "FROM deed d LEFT JOIN deed u ON u.undoes = d.id WHERE d.id > ?1 AND u.id IS NULL) WHERE first > ?1 ORDER BY first";

/* Whether the deed at q stands on `held`; what it touches is then held, too. */
static enum book_status look_at(struct book *b, sqlite3_stmt *q, bool again, struct things *held, bool *stands)
{
    struct things own = { NULL, 0 };
    size_t size;
    const void *changes = book_column_blob(q, 3, &size);
    const enum book_status s = touched(b, changes, size, &own);

    *stands = s == BOOK_OK && leans_on(&own, held, again);
    for (size_t i = 0; *stands && i < own.n; i++)
        add(held, own.t[i]);
    free(own.t);
    return s;
}

/* The deed that d does again, and that one, in turn; d itself where it does none. */
static enum book_status first_of(struct book *b, const struct book_deed *d, int64_t *first)
{
    static const char FIRST[] =
        "WITH RECURSIVE back (id, undoes) AS (SELECT id, undoes FROM deed WHERE id = ?1 UNION ALL "
        "SELECT p.id, p.undoes FROM deed p JOIN back ON p.id = back.undoes) "
        "SELECT min(id) FROM back";
    sqlite3_stmt *q = book_prepare(b, FIRST);
    enum book_status s = BOOK_OK;

    if (!q)
        return b->failed;
    sqlite3_bind_int64(q, 1, d->id);
    if (sqlite3_step(q) == SQLITE_ROW)
        *first = sqlite3_column_int64(q, 0);
    else
        s = book_fail(b, "cannot read");
    book_release(b, q);
    return s;
}

enum book_status book_standing(struct book *b, const struct book_deed *d, const void *changes, size_t size, bool again,
                               struct st_arena *arena, struct book_deed **deed, int *n)
{
    int64_t after = d->id;
    struct things held = { NULL, 0 };
    struct book_deed *all = NULL;
    int k = 0, code = SQLITE_DONE;
    enum book_status s = again ? BOOK_OK : first_of(b, d, &after);
    if (s == BOOK_OK)
        s = touched(b, changes, size, &held);
    sqlite3_stmt *q = s == BOOK_OK ? book_prepare(b, IN_FORCE) : NULL;

    if (q)
        sqlite3_bind_int64(q, 1, after);
    else if (s == BOOK_OK)
        s = b->failed;
    while (s == BOOK_OK && (code = sqlite3_step(q)) == SQLITE_ROW) {
        bool stands;
        s = look_at(b, q, again, &held, &stands);
        if (s != BOOK_OK || !stands)
            continue;
        all = x_realloc_array(all, (size_t)k + 1, sizeof *all);
        all[k++] =
            (struct book_deed){ sqlite3_column_int64(q, 0), BOOK_NO, BOOK_NO, lend(q, 1, arena), lend(q, 2, arena) };
    }
    if (s == BOOK_OK && code != SQLITE_DONE)
        s = book_fail(b, "cannot read");
    book_release(b, q);
    *deed = st_arena_alloc(arena, (size_t)k * sizeof **deed + 1);
    for (int i = 0; i < k; i++)
        (*deed)[i] = all[k - 1 - i];
    *n = k;
    free(all);
    free(held.t);
    return s;
}
