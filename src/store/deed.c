#include "store/stand.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/memory.h"

/* A deed is one transaction; its changeset goes into the journal with it. */

static const char WHAT[] = "cannot write to";

bool book_in_deed(const struct book *b)
{
    return b->session != NULL;
}

/* Which tables are in the journal: those of book_table_info, but for the bytes of pictures. */
static int of_ours(void *arg, const char *table)
{
    (void)arg;
    for (int t = 0; t < BOOK_NTABLE; t++) {
        const struct book_table_info *of = book_table_info((enum book_table)t);
        if (strcmp(of->name, table) == 0)
            return !of->unjournaled;
    }
    return 0;
}

/* At most n bytes of text, not cut within a letter. */
static char *cut(const char *text, size_t n)
{
    size_t length = strlen(text);
    if (length > n) {
        length = n;
        while (length > 0 && ((unsigned char)text[length] & 0xc0) == 0x80)
            length--;
    }
    return x_strndup(text, length);
}

enum book_status book_begin(struct book *b, const char *at, const char *words)
{
    assert(!book_in_deed(b));
    if (b->read_only)
        return book_fail_code(b, SQLITE_READONLY, "opened for reading", WHAT);
    enum book_status s = book_run(b, "BEGIN IMMEDIATE", WHAT);
    if (s != BOOK_OK)
        return s;
    int code = sqlite3session_create(b->db, "main", &b->session);
    if (code == SQLITE_OK) {
        sqlite3session_table_filter(b->session, of_ours, NULL);
        code = sqlite3session_attach(b->session, NULL);
    }
    if (code != SQLITE_OK) {
        s = book_fail_code(b, code, sqlite3_errstr(code), WHAT);
        book_rollback(b);
        sqlite3session_delete(b->session);
        b->session = NULL;
        return s;
    }
    b->at = cut(at, 40);
    b->words = cut(words, 400);
    return BOOK_OK;
}

void book_reword(struct book *b, const char *words)
{
    assert(book_in_deed(b));
    free(b->words);
    b->words = cut(words, 400);
}

static void forget(struct book *b)
{
    sqlite3session_delete(b->session);
    b->session = NULL;
    free(b->at);
    free(b->words);
    b->at = b->words = NULL;
}

void book_cancel(struct book *b)
{
    if (!book_in_deed(b))
        return;
    forget(b);
    book_rollback(b);
}

/* The row of the journal. */
static enum book_status note(struct book *b, const void *changes, int size, int64_t undoes)
{
    sqlite3_stmt *q = book_prepare(b, "INSERT INTO deed (at, words, changes, undoes) VALUES (?1, ?2, ?3, ?4)");
    enum book_status s = BOOK_OK;

    if (!q)
        return b->failed;
    sqlite3_bind_text(q, 1, b->at, -1, SQLITE_STATIC);
    sqlite3_bind_text(q, 2, b->words, -1, SQLITE_STATIC);
    sqlite3_bind_blob(q, 3, changes, size, SQLITE_STATIC);
    if (undoes != BOOK_NO)
        sqlite3_bind_int64(q, 4, undoes);
    if (sqlite3_step(q) != SQLITE_DONE)
        s = book_fail(b, WHAT);
    book_release(b, q);
    return s;
}

static enum book_status end(struct book *b, int64_t undoes)
{
    void *changes = NULL;
    int size = 0;
    enum book_status s = BOOK_OK;

    assert(book_in_deed(b));
    const int code = sqlite3session_changeset(b->session, &size, &changes);
    if (code != SQLITE_OK)
        s = book_fail_code(b, code, sqlite3_errstr(code), WHAT);
    if (s == BOOK_OK && size > 0)
        s = note(b, changes, size, undoes);
    sqlite3_free(changes);
    if (s == BOOK_OK)
        s = book_run(b, "COMMIT", WHAT);
    if (s == BOOK_OK)
        forget(b);
    else
        book_cancel(b);
    return s;
}

enum book_status book_end(struct book *b)
{
    return end(b, BOOK_NO);
}

/* ---- the journal ---- */

static const char *lend(sqlite3_stmt *q, int column, struct st_arena *arena)
{
    const char *text = book_column_text(q, column);
    return st_arena_strdup(arena, text ? text : "");
}

static int64_t id_or_no(sqlite3_stmt *q, int column)
{
    return sqlite3_column_type(q, column) == SQLITE_NULL ? BOOK_NO : sqlite3_column_int64(q, column);
}

static void read_deed(sqlite3_stmt *q, struct st_arena *arena, struct book_deed *d)
{
    d->id = sqlite3_column_int64(q, 0);
    d->at = lend(q, 1, arena);
    d->words = lend(q, 2, arena);
    d->undoes = id_or_no(q, 3);
    d->undone_by = id_or_no(q, 4);
}

#define DEED "SELECT d.id, d.at, d.words, d.undoes, u.id, d.changes FROM deed d LEFT JOIN deed u ON u.undoes = d.id "

enum book_status book_deeds(struct book *b, int most, struct st_arena *arena, struct book_deed **deeds, int *n)
{
    sqlite3_stmt *q = book_prepare(b, DEED "ORDER BY d.id DESC LIMIT ?1");
    struct book_deed *all = NULL;
    int k = 0, code;

    if (!q)
        return b->failed;
    sqlite3_bind_int(q, 1, most);
    while ((code = sqlite3_step(q)) == SQLITE_ROW) {
        all = x_realloc_array(all, (size_t)k + 1, sizeof *all);
        read_deed(q, arena, &all[k++]);
    }
    const enum book_status s = code == SQLITE_DONE ? BOOK_OK : book_fail(b, "cannot read");
    book_release(b, q);
    if (s == BOOK_OK) {
        *deeds = st_arena_alloc(arena, (size_t)k * sizeof **deeds + 1);
        if (k > 0)
            memcpy(*deeds, all, (size_t)k * sizeof *all);
        *n = k;
    }
    free(all);
    return s;
}

/* ---- undo ---- */

/* The deed to take back: of this id, or the last that stands; `again`: the last taking back that stands.  A deed stands
 * while none undoes it; the taking back of a taking back counts as a doing. */
static sqlite3_stmt *find_deed(struct book *b, int64_t id, bool again)
{
    static const char BY_ID[] = DEED "WHERE d.id = ?1 AND u.id IS NULL";
    /* From the newest on, so that the first one will do: how often was taken back what it takes back? */
    static const char LAST[] =
        DEED "WHERE u.id IS NULL AND ?1 = (WITH RECURSIVE back (undoes, n) AS (SELECT d.undoes, 0 "
             "UNION ALL SELECT p.undoes, n + 1 FROM deed p JOIN back ON p.id = back.undoes) "
             "SELECT (1 + max(n)) % 2 FROM back) ORDER BY d.id DESC LIMIT 1";
    sqlite3_stmt *q = book_prepare(b, id == BOOK_NO ? LAST : BY_ID);
    if (q)
        sqlite3_bind_int64(q, 1, id == BOOK_NO ? !again : id);
    return q;
}

static const char TOOK[] = "took back: ";

/* Of a taking back, what it took back. */
static const char *undone_words(const char *words)
{
    return strncmp(words, TOOK, strlen(TOOK)) == 0 ? words + strlen(TOOK) : words;
}

struct standing_in_the_way {
    bool met;
    char table[40];
    int why;
};

static int on_conflict(void *arg, int why, sqlite3_changeset_iter *it)
{
    struct standing_in_the_way *w = arg;
    const char *table = NULL;
    int columns, deed;

    if (!w->met) {
        w->met = true;
        w->why = why;
        if (why != SQLITE_CHANGESET_FOREIGN_KEY && sqlite3changeset_op(it, &table, &columns, &deed, NULL) == SQLITE_OK)
            snprintf(w->table, sizeof w->table, "%.39s", table);
    }
    return SQLITE_CHANGESET_ABORT;
}

static enum book_status told_conflict(struct book *b, const struct book_deed *d, const struct standing_in_the_way *w,
                                      bool again)
{
    static const char TRY[] = "undo what was done after it first; stillroom undo --list shows it";
    const char *done = undone_words(d->words);

    if (w->why == SQLITE_CHANGESET_FOREIGN_KEY && again)
        return book_say(b, BOOK_E_CONFLICT, "enter it anew",
                        "\"%.200s\" cannot be done again: what it refers to is not there any more", done);
    if (w->why == SQLITE_CHANGESET_FOREIGN_KEY)
        return book_say(b, BOOK_E_CONFLICT, TRY, "\"%.200s\" cannot be undone: something entered later builds on it",
                        done);
    if (again)
        return book_say(b, BOOK_E_CONFLICT, "enter it anew, or undo first what was done since",
                        "\"%.200s\" cannot be done again: the same %s was changed since", done,
                        w->table[0] ? w->table : "row");
    return book_say(b, BOOK_E_CONFLICT, TRY, "\"%.200s\" cannot be undone: the same %s was changed after it", done,
                    w->table[0] ? w->table : "row");
}

static void shorten(const char *words, char *out, size_t size)
{
    char *short_ = cut(words, size - 4);
    snprintf(out, size, "%s%s", short_, strlen(short_) < strlen(words) ? "..." : "");
    free(short_);
}

/* "27, 24, 19 and 5 more", as many as may be said. */
static void numbers(const struct book_deed *deed, int n, char *out, size_t size)
{
    enum { MOST = 12 };
    size_t used = 0;
    for (int i = 0; i < n && i < MOST; i++)
        used += (size_t)snprintf(out + used, size - used, "%s%lld", i > 0 ? ", " : "", (long long)deed[i].id);
    if (n > MOST)
        snprintf(out + used, size - used, " and %d more", n - MOST);
}

/* Later deeds stand on it: which, and in which order they can be taken back. */
static enum book_status told_standing(struct book *b, const struct book_deed *d, const struct book_deed *deed, int n,
                                      bool again)
{
    char list[300], try_[400], more[40] = "", done[80], other[80];

    numbers(deed, n, list, sizeof list);
    if (n == 1)
        snprintf(try_, sizeof try_, "take that one back first: stillroom undo --deed %s", list);
    else
        snprintf(try_, sizeof try_, "take back first, in this order: %s (stillroom undo --deed %lld, ...)", list,
                 (long long)deed[0].id);
    if (n > 1)
        snprintf(more, sizeof more, " and %d more %s", n - 1, n > 2 ? "deeds" : "deed");
    shorten(undone_words(d->words), done, sizeof done);
    shorten(deed[0].words, other, sizeof other);
    return book_say(b, BOOK_E_CONFLICT, try_, "\"%s\" cannot be %s by itself: %s \"%s\" (%lld)%s", done,
                    again ? "done again" : "undone", again ? "in its way came" : "on it stands", other,
                    (long long)deed[0].id, more);
}

static enum book_status apply_inverse(struct book *b, sqlite3_stmt *q, const struct book_deed *d, bool again,
                                      struct st_arena *arena)
{
    struct standing_in_the_way way = { .met = false };
    void *inverse = NULL;
    int size = 0;

    size_t length;
    const void *changes = book_column_blob(q, 5, &length);
    struct book_deed *standing;
    int n;
    const enum book_status s = book_standing(b, d, changes, length, again, arena, &standing, &n);
    if (s != BOOK_OK)
        return s;
    if (n > 0)
        return told_standing(b, d, standing, n, again);
    int code = sqlite3changeset_invert((int)length, changes, &size, &inverse);
    if (code == SQLITE_OK)
        code = sqlite3changeset_apply(b->db, size, inverse, NULL, on_conflict, &way);
    sqlite3_free(inverse);
    if (code == SQLITE_OK)
        return BOOK_OK;
    return way.met ? told_conflict(b, d, &way, again) : book_fail_code(b, code, sqlite3_errstr(code), WHAT);
}

static enum book_status take_back(struct book *b, const char *at, int64_t id, bool again, struct st_arena *arena,
                                  struct book_deed *out)
{
    static const char LIST[] = "stillroom undo --list shows what was done";
    struct book_deed d = { .id = BOOK_NO };
    char words[480];
    enum book_status s = book_begin(b, at, "");
    if (s != BOOK_OK)
        return s;
    sqlite3_stmt *q = find_deed(b, id, again);
    const int code = q ? sqlite3_step(q) : SQLITE_ERROR;
    if (code == SQLITE_DONE)
        s = id == BOOK_NO
                ? book_say(b, BOOK_NONE, LIST, again ? "there is nothing to do again" : "there is nothing to undo")
                : book_say(b, BOOK_NONE, LIST, "it has no deed %lld that still stands", (long long)id);
    else if (code != SQLITE_ROW)
        s = q ? book_fail(b, "cannot read") : b->failed;
    else {
        read_deed(q, arena, &d);
        again = again || (d.undoes != BOOK_NO && undone_words(d.words) != d.words);
        snprintf(words, sizeof words, "%s%s", again ? "did again: " : TOOK, undone_words(d.words));
        free(b->words);
        b->words = cut(words, 400);
        s = apply_inverse(b, q, &d, again, arena);
    }
    book_release(b, q);
    if (s != BOOK_OK) {
        book_cancel(b);
        return s;
    }
    s = end(b, d.id);
    if (s == BOOK_OK)
        *out = d;
    return s;
}

enum book_status book_undo(struct book *b, const char *at, int64_t id, struct st_arena *arena, struct book_deed *undone)
{
    return take_back(b, at, id, false, arena, undone);
}

enum book_status book_redo(struct book *b, const char *at, struct st_arena *arena, struct book_deed *redone)
{
    return take_back(b, at, BOOK_NO, true, arena, redone);
}
