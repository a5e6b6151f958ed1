#include "store/search.h"

#include <assert.h>
#include <string.h>

#include "store/book_inside.h"
#include "util/buf.h"

static const char CANNOT[] = "cannot search";

enum { WORDS = 16, WORD_BYTES = 120, RANKED = 2000 };

/* ---- what is asked ---- */

static bool is_space(unsigned char c)
{
    return c <= ' ';
}

/* A letter or figure in it?  What is beyond ASCII counts as one: the index knows better, and finds nothing. */
static bool says_something(const char *word, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const unsigned char c = (unsigned char)word[i];
        if (c >= 0x80 || (c >= '0' && c <= '9') || ((c | 0x20) >= 'a' && (c | 0x20) <= 'z'))
            return true;
    }
    return false;
}

static bool single_letter(const char *word, size_t n)
{
    size_t letters = 0;
    for (size_t i = 0; i < n; i++)
        letters += ((unsigned char)word[i] & 0xc0) != 0x80;
    return letters < 2;
}

/* A word between quotes has no meaning to FTS5 but its letters; a quote in it is written twice. */
static void add_word(struct st_buf *match, const char *word, size_t n)
{
    if (match->length > 0)
        st_buf_char(match, ' ');
    st_buf_char(match, '"');
    for (size_t i = 0; i < n; i++) {
        if (word[i] == '"')
            st_buf_char(match, '"');
        st_buf_char(match, word[i]);
    }
    st_buf_add(match, single_letter(word, n) ? "\"" : "\"*");
}

static void match_text(const char *words, struct st_buf *match)
{
    for (int k = 0; *words && k < WORDS;) {
        size_t n = 0;
        while (*words && is_space((unsigned char)*words))
            words++;
        while (words[n] && !is_space((unsigned char)words[n]))
            n++;
        if (n <= WORD_BYTES && says_something(words, n)) {
            add_word(match, words, n);
            k++;
        }
        words += n;
    }
}

/* ---- what is found ---- */

/* The number of a kind in the index's keys (migrate_003.sql), and what its rows are called. */
static const struct kind {
    enum book_table table;
    const char *name; /* of the row ?1 */
} KIND[] = {
    { BOOK_NTABLE, NULL },
    { BOOK_PHOTO, "SELECT coalesce(b.code || ' ' || b.name, l.code || ' ' || l.name, f.name) || ': photo' FROM photo p "
                  "LEFT JOIN batch b ON b.id = p.batch_id LEFT JOIN lot l ON l.id = p.lot_id "
                  "LEFT JOIN reference f ON f.id = p.reference_id WHERE p.id = ?1" },
    { BOOK_READING,
      "SELECT coalesce(b.code || ' ' || b.name || ': ', l.code || ' ' || l.name || ': ', f.name || ': ', '') "
      "|| r.kind FROM reading r LEFT JOIN batch b ON b.id = r.batch_id LEFT JOIN lot l ON l.id = r.lot_id "
      "LEFT JOIN reference f ON f.id = r.reference_id WHERE r.id = ?1" },
    { BOOK_GONE,
      "SELECT o.code || ' ' || b.name || ': ' || g.person FROM gone g JOIN bottling o ON o.id = g.bottling_id "
      "JOIN batch b ON b.id = o.batch_id WHERE g.id = ?1" },
    { BOOK_BOTTLING,
      "SELECT o.code || ' ' || b.name FROM bottling o JOIN batch b ON b.id = o.batch_id WHERE o.id = ?1" },
    { BOOK_BATCH, "SELECT code || ' ' || name FROM batch WHERE id = ?1" },
    { BOOK_LOT, "SELECT code || ' ' || name FROM lot WHERE id = ?1" },
    { BOOK_TRY,
      "SELECT r.name || CASE t.side WHEN '' THEN '' ELSE ', ' || t.side END || ', try ' || t.number FROM try t "
      "JOIN recipe r ON r.id = t.recipe_id WHERE t.id = ?1" },
    { BOOK_RECIPE, "SELECT name FROM recipe WHERE id = ?1" },
    { BOOK_REFERENCE, "SELECT name FROM reference WHERE id = ?1" },
};

/* A text in one line, blanks single. */
static const char *one_line(const char *text, struct st_arena *arena)
{
    char *to = st_arena_strdup(arena, text ? text : "");
    size_t n = 0;
    for (const char *at = to; *at; at++)
        if (!is_space((unsigned char)*at))
            to[n++] = *at;
        else if (n > 0 && to[n - 1] != ' ')
            to[n++] = ' ';
    to[n - (n > 0 && to[n - 1] == ' ')] = '\0';
    return to;
}

/* The one text that a statement gives for a row. */
static enum book_status one_text(struct book *b, sqlite3_stmt *q, struct st_arena *arena, const char **text)
{
    enum book_status s = BOOK_OK;
    const int code = sqlite3_step(q);

    if (code == SQLITE_ROW || code == SQLITE_DONE)
        *text = one_line(code == SQLITE_ROW ? book_column_text(q, 0) : "", arena);
    else
        s = book_fail(b, CANNOT);
    book_release(b, q);
    return s;
}

static enum book_status row_of(struct book *b, int64_t key, struct book_hit *h)
{
    const size_t kind = (size_t)(key >> 40);
    if (kind == 0 || kind >= sizeof KIND / sizeof *KIND)
        return book_say(b, BOOK_E_DAMAGED, "have it looked through: stillroom backup --check",
                        "its index of words names a row that cannot be");
    *h = (struct book_hit){ .table = KIND[kind].table, .id = key & (((int64_t)1 << 40) - 1) };
    return BOOK_OK;
}

static enum book_status tell(struct book *b, const char *match, int64_t key, struct st_arena *arena, struct book_hit *h)
{
    static const char SNIPPET[] =
        "SELECT snippet(search, -1, '', '', '...', 16) FROM search WHERE search MATCH ?1 AND rowid = ?2";

    sqlite3_stmt *q = book_prepare(b, KIND[key >> 40].name);
    if (!q)
        return b->failed;
    sqlite3_bind_int64(q, 1, h->id);
    enum book_status s = one_text(b, q, arena, &h->name);
    if (s != BOOK_OK)
        return s;
    q = book_prepare(b, SNIPPET);
    if (!q)
        return b->failed;
    sqlite3_bind_text(q, 1, match, -1, SQLITE_STATIC);
    sqlite3_bind_int64(q, 2, key);
    return one_text(b, q, arena, &h->snippet);
}

/* keys: most of them have room; *n were found. */
static enum book_status find_keys(struct book *b, const char *match, int most, int64_t *keys, int *n)
{
    static const char RANK[] = "SELECT key FROM (SELECT rowid AS key, bm25(search, 4.0, 1.0) AS fit FROM search "
                               "WHERE search MATCH ?1 ORDER BY rowid DESC LIMIT ?3) ORDER BY fit, key DESC LIMIT ?2";
    sqlite3_stmt *q = book_prepare(b, RANK);
    int code;

    if (!q)
        return b->failed;
    sqlite3_bind_text(q, 1, match, -1, SQLITE_STATIC);
    sqlite3_bind_int(q, 2, most);
    sqlite3_bind_int(q, 3, RANKED);
    *n = 0;
    while ((code = sqlite3_step(q)) == SQLITE_ROW)
        keys[(*n)++] = sqlite3_column_int64(q, 0);
    const enum book_status s = code == SQLITE_DONE ? BOOK_OK : book_fail(b, CANNOT);
    book_release(b, q);
    return s;
}

static enum book_status find(struct book *b, const char *words, int most, bool told, struct st_arena *arena,
                             struct book_hit **hits, int *n)
{
    struct st_buf match = { 0 };
    enum book_status s = BOOK_OK;
    int found = 0;

    assert(most > 0);
    if (most > RANKED)
        most = RANKED;
    match_text(words, &match);
    int64_t *keys = st_arena_alloc(arena, (size_t)most * sizeof *keys);
    if (match.length > 0)
        s = find_keys(b, st_buf_text(&match), most, keys, &found);
    struct book_hit *all = st_arena_alloc(arena, (size_t)found * sizeof *all + 1);
    for (int i = 0; s == BOOK_OK && i < found; i++) {
        s = row_of(b, keys[i], &all[i]);
        if (s == BOOK_OK && told)
            s = tell(b, st_buf_text(&match), keys[i], arena, &all[i]);
    }
    st_buf_done(&match);
    if (s == BOOK_OK) {
        *hits = all;
        *n = found;
    }
    return s;
}

enum book_status book_search(struct book *b, const char *words, int most, struct st_arena *arena,
                             struct book_hit **hits, int *n)
{
    return find(b, words, most, true, arena, hits, n);
}

enum book_status book_search_rows(struct book *b, const char *words, int most, struct st_arena *arena,
                                  struct book_hit **hits, int *n)
{
    return find(b, words, most, false, arena, hits, n);
}
