#include "rescue.h"

#include <stdlib.h>
#include <string.h>

#include "sheet.h"
#include "table.h"
#include "util/memory.h"

enum { WHAT, KEY, NAME, WORDS, ASKS, VERDICT, BECAUSE, DEED, MARK, SOURCE, NFIELD };
static const char *const COLUMN[NFIELD] = { "what",    "key",     "name", "words", "asks",
                                            "verdict", "because", "todo", "mark",  "source" };
enum { MOST_ASKS = 32, MOST_ROWS = 96 };

struct whole {
    struct st_rescue_book book; /* first, so that its address is that of the whole */
    char *text;
    struct st_rescue_ask ask[MOST_ASKS];
    struct st_rescue_row row[MOST_ROWS];
};

const char *st_rescue_verdict_name(enum st_rescue_verdict v)
{
    return v == ST_RESCUE_BIN ? "bin" : v == ST_RESCUE_FIX ? "fix" : "keep";
}

static bool verdict_of(const char *word, size_t n, enum st_rescue_verdict *v)
{
    for (int i = 0; i < ST_NRESCUE; i++) {
        const char *name = st_rescue_verdict_name((enum st_rescue_verdict)i);
        if (strlen(name) == n && memcmp(name, word, n) == 0) {
            *v = (enum st_rescue_verdict)i;
            return true;
        }
    }
    return false;
}

static const struct st_rescue_ask *find_ask(const struct whole *w, const char *key, size_t n)
{
    for (int i = 0; i < w->book.n_ask; i++)
        if (strlen(w->ask[i].key) == n && memcmp(w->ask[i].key, key, n) == 0)
            return &w->ask[i];
    return NULL;
}

/* One "weak=bin" of a list, n bytes. */
static int one_ask(const struct st_table *t, const struct whole *w, const char *text, size_t n,
                   struct st_rescue_row *row, struct st_problem *problem)
{
    const char *equal = memchr(text, '=', n);
    const size_t key = equal ? (size_t)(equal - text) : n;
    enum st_rescue_verdict then = ST_RESCUE_KEEP;
    const struct st_rescue_ask *ask = find_ask(w, text, key);

    if (!ask)
        return st_table_problem(t, problem, "questions are rows of what: ask, above it", "there is no question '%.*s'",
                                (int)(key < 40 ? key : 40), text);
    if (!equal || !verdict_of(equal + 1, n - key - 1, &then) || then < row->verdict)
        return st_table_problem(t, problem, "write for example weak=bin",
                                "question '%.30s' has no verdict, or one better than the row's", ask->key);
    if (row->n_ask == ST_RESCUE_ASKS)
        return st_table_problem(t, problem, "8 are the most", "there are too many questions");
    row->ask[row->n_ask].ask = ask;
    row->ask[row->n_ask++].then = then;
    return 0;
}

static int all_asks(const struct st_table *t, const struct whole *w, const char *text, struct st_rescue_row *row,
                    struct st_problem *problem)
{
    while (*text) {
        const size_t n = strcspn(text, "|");
        if (one_ask(t, w, text, n, row, problem))
            return -1;
        text += n + (text[n] == '|');
    }
    return 0;
}

static bool key_stands(const struct whole *w, const char *key)
{
    for (int i = 0; i < w->book.n_row; i++)
        if (strcmp(w->row[i].key, key) == 0)
            return true;
    return find_ask(w, key, strlen(key)) != NULL;
}

/* What rows of both sorts must have. */
static int common(const struct st_table *t, const struct whole *w, const char *const f[NFIELD],
                  struct st_problem *problem)
{
    if (!*f[KEY] || !*f[NAME] || !*f[BECAUSE] || !*f[DEED])
        return st_table_problem(t, problem, "write it", "key, name, because or todo is empty");
    if (!st_sheet_is_mark(f[MARK]) || !*f[SOURCE])
        return st_table_problem(t, problem, "write both", "it has no mark (r, m, c, p) or no source");
    if (key_stands(w, f[KEY]))
        return st_table_problem(t, problem, "keep one of the two", "the key '%.40s' stands twice", f[KEY]);
    return 0;
}

static int read_ask(const struct st_table *t, struct whole *w, const char *const f[NFIELD], struct st_problem *problem)
{
    if (*f[WORDS] || *f[ASKS] || *f[VERDICT])
        return st_table_problem(t, problem, "leave them empty", "a question has no words, asks or verdict of its own");
    if (w->book.n_ask == MOST_ASKS)
        return st_table_problem(t, problem, "32 are the most", "there are too many questions");
    w->ask[w->book.n_ask++] = (struct st_rescue_ask){ f[KEY], f[NAME], f[BECAUSE], f[DEED], f[SOURCE], f[MARK][0] };
    return 0;
}

static int read_sight(const struct st_table *t, struct whole *w, const char *const f[NFIELD],
                      struct st_problem *problem)
{
    if (w->book.n_row == MOST_ROWS)
        return st_table_problem(t, problem, "96 are the most", "there are too many rows");
    struct st_rescue_row *row = &w->row[w->book.n_row];
    if (!verdict_of(f[VERDICT], strlen(f[VERDICT]), &row->verdict))
        return st_table_problem(t, problem, "keep, fix or bin", "there is no verdict '%.20s'", f[VERDICT]);
    if (all_asks(t, w, f[ASKS], row, problem))
        return -1;
    row->key = f[KEY];
    row->name = f[NAME];
    row->words = f[WORDS];
    row->because = f[BECAUSE];
    row->todo = f[DEED];
    row->source = f[SOURCE];
    row->mark = f[MARK][0];
    w->book.n_row++;
    return 0;
}

static int read_all(struct whole *w, struct st_problem *problem)
{
    struct st_table t;
    const char *f[NFIELD];
    int got = -1;

    if (st_table_open(&t, "rescue.tsv", w->text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, f, problem)) > 0) {
        const bool asks = strcmp(f[WHAT], "ask") == 0;
        if (!asks && strcmp(f[WHAT], "sight") != 0)
            return st_table_problem(&t, problem, "ask or sight", "'%.20s' is no sort of row", f[WHAT]);
        if (common(&t, w, f, problem) || (asks ? read_ask : read_sight)(&t, w, f, problem))
            return -1;
    }
    return got;
}

struct st_rescue_book *st_rescue_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->text = x_strndup(text, size);
    w->book.ask = w->ask;
    w->book.row = w->row;
    if (read_all(w, problem) == 0)
        return &w->book;
    st_rescue_free(&w->book);
    return NULL;
}

void st_rescue_free(struct st_rescue_book *book)
{
    struct whole *w = (struct whole *)book;
    if (!w)
        return;
    free(w->text);
    free(w);
}
