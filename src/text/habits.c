#include "habits.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "table.h"
#include "util/arena.h"

enum column { FOR, CUT, OF, BODY, A, W, WASH, D, AT, REF, K, BIOT, EA, LATE, MARK, SOURCE, NOTE, N_COLUMN };

static const char *const COLUMN[N_COLUMN] = {
    [FOR] = "for",     [CUT] = "cut",   [OF] = "of",         [BODY] = "body",     [A] = "a_mm",    [W] = "w",
    [WASH] = "wash_h", [D] = "d_m2_s",  [AT] = "at_pct_vol", [REF] = "ref",       [K] = "k",       [BIOT] = "biot",
    [EA] = "ea_kj",    [LATE] = "late", [MARK] = "mark",     [SOURCE] = "source", [NOTE] = "note",
};

struct kept {
    struct st_habits all; /* first: what is handed out */
    struct st_arena arena;
    struct st_habit_row *row;
    const struct st_compounds *compounds;
};

struct reader {
    struct kept *k;
    const struct st_table *t;
    const char **f;
    struct st_problem *p;
};

/* "3.5 x1.4", with `sign` before the second number: value and spread; without it the spread given. */
static int spread(const struct reader *r, enum column c, char sign, double most, struct st_spread *out)
{
    char *end;
    const char *field = r->f[c];
    if (!*field)
        return 0;
    const double value = strtod(field, &end);
    double by = out->times;
    bool ok = end > field && value > 0.0 && value <= most;
    if (ok && *end == ' ') {
        const char *at = end + 1;
        ok = *at == sign;
        by = ok ? strtod(at + 1, &end) : by;
        ok = ok && end > at + 1 && by > 0.0 && by < 1000.0;
    }
    if (!ok || *end || (sign == 'x' && by < 1.0))
        return st_table_problem(r->t, r->p, "write the middle and its spread, as 3.5 x1.4", "%s is `%.40s`", COLUMN[c],
                                field);
    *out = (struct st_spread){ value, by };
    return 0;
}

static int scaled(const struct reader *r, enum column c, double most, double unit, struct st_spread *out)
{
    out->times = 1.0;
    if (spread(r, c, 'x', most, out))
        return -1;
    out->value *= unit;
    return 0;
}

static int skin(const struct reader *r, struct st_spread *out)
{
    if (strcmp(r->f[BIOT], "inf") != 0)
        return scaled(r, BIOT, 1e6, 1.0, out);
    *out = (struct st_spread){ (double)INFINITY, 1.0 };
    return 0;
}

/* "a,b": kinds or ingredients.  One ingredient a row is kept in *slugs as it stands. */
static int for_whom(const struct reader *r, struct st_habit_row *row)
{
    row->ingredient = "";
    for (const char *at = r->f[FOR]; *at;) {
        const size_t n = strcspn(at, ",");
        int kind = 0;
        while (kind < ST_NKIND &&
               !(strlen(st_kind_name((enum st_kind)kind)) == n && memcmp(st_kind_name((enum st_kind)kind), at, n) == 0))
            kind++;
        if (kind < ST_NKIND)
            row->of_kind[kind] = true;
        else
            row->ingredient = r->f[FOR];
        at += n + (at[n] == ',');
    }
    return r->f[FOR][0] ? 0 : st_table_problem(r->t, r->p, "name kinds or ingredients", "it says not for whom");
}

static int named(const struct reader *r, enum column c, const char *(*name)(int), int n, int *out)
{
    for (int i = 0; i < n; i++)
        if (strcmp(name(i), r->f[c]) == 0) {
            *out = i;
            return 0;
        }
    return st_table_problem(r->t, r->p, "use one of the words of data/README.md", "%s is `%.40s`", COLUMN[c], r->f[c]);
}

static const char *cut_name(int i)
{
    return st_cut_name((enum st_cut)i);
}

static const char *of_name(int i)
{
    return st_of_name((enum st_of)i);
}

static const char *body_name(int i)
{
    static const char *const NAME[] = { "sphere", "cylinder", "slab" };
    return NAME[i];
}

static int words(const struct reader *r, struct st_habit_row *row)
{
    int cut = 0, of = 0, body = 0;
    row->has_body = r->f[BODY][0] != '\0';
    if (for_whom(r, row) || named(r, CUT, cut_name, ST_NCUT, &cut) || named(r, OF, of_name, ST_NOF, &of) ||
        (row->has_body && named(r, BODY, body_name, 3, &body)))
        return -1;
    row->cut = (enum st_cut)cut;
    row->of = (enum st_of)of;
    row->body = (enum st_body)body;
    row->none = strcmp(r->f[LATE], "none") == 0;
    row->late = row->none ? "" : r->f[LATE];
    row->mark = r->f[MARK][0];
    row->source = r->f[SOURCE];
    row->note = r->f[NOTE];
    if (!strchr("rmp", row->mark) || r->f[MARK][1] || !row->mark || !row->source[0])
        return st_table_problem(r->t, r->p, "give a mark (r, m, p) and a source", "mark is `%.20s`, source `%.40s`",
                                r->f[MARK], row->source);
    return 0;
}

static int tissue(const struct reader *r, struct st_habit_row *row)
{
    struct st_spread ea = { 0.0, 10.0 };
    if (scaled(r, WASH, 1000.0, 1.0 / 3600.0, &row->wash) || scaled(r, D, 1e-7, 1.0, &row->d) ||
        scaled(r, K, 1000.0, 1.0, &row->k) || spread(r, EA, 'x', 200.0, &ea))
        return -1;
    row->ea_kj = ea.value;
    row->ea_sd = ea.times;
    row->at_pct_vol = (double)NAN;
    if (r->f[AT][0] && st_table_number(r->t, r->f[AT], COLUMN[AT], 0.0, 100.0, &row->at_pct_vol, r->p))
        return -1;
    if (row->d.value > 0.0) { /* a D is told with what it is of */
        const struct st_compound *c = r->f[REF][0] ? st_compound_find(r->k->compounds, r->f[REF]) : NULL;
        if (r->f[REF][0] && !c)
            return st_table_problem(r->t, r->p, "name a row of data/markers.tsv", "ref is `%.40s`", r->f[REF]);
        if (isnan(row->at_pct_vol))
            return st_table_problem(r->t, r->p, "write at_pct_vol", "a D without the strength it is meant for");
        row->d_ref = st_compound_d_water(c);
    }
    return 0;
}

static int shape(const struct reader *r, struct st_habit_row *row)
{
    struct st_spread w = { 0.0, 1.0 };
    if (scaled(r, A, 200.0, 1e-3, &row->a_m) || spread(r, W, 's', 0.99, &w) || skin(r, &row->biot))
        return -1;
    row->has_w = w.value > 0.0;
    row->w = w.value;
    row->w_sd = w.times;
    return 0;
}

static int read_rows(struct kept *k, char *text, struct st_problem *p)
{
    struct st_table t;
    const char *field[N_COLUMN];
    struct reader r = { k, &t, field, p };
    int got;
    if (st_table_open(&t, "habits", text, COLUMN, N_COLUMN, p))
        return -1;
    while ((got = st_table_next(&t, field, p)) > 0) {
        if (k->all.n == ST_TABLE_ROWS)
            return st_table_problem(&t, p, "leave some out", "there are more than %d rows", ST_TABLE_ROWS);
        struct st_habit_row *row = &k->row[k->all.n++];
        row->line = t.line;
        if (words(&r, row) || shape(&r, row) || tissue(&r, row))
            return -1;
    }
    return got;
}

struct st_habits *st_habits_create(const char *text, size_t size, const struct st_compounds *compounds,
                                   struct st_problem *problem)
{
    struct st_arena arena = { 0 };
    struct kept *k = st_arena_alloc(&arena, sizeof *k);
    k->row = st_arena_alloc(&arena, ST_TABLE_ROWS * sizeof *k->row);
    k->all.row = k->row;
    k->compounds = compounds;
    const int failed = read_rows(k, st_arena_strndup(&arena, text, size), problem);
    k->compounds = NULL;
    k->arena = arena;
    if (!failed)
        return &k->all;
    st_habits_free(&k->all);
    return NULL;
}

void st_habits_free(struct st_habits *h)
{
    if (!h)
        return;
    struct st_arena arena = ((struct kept *)h)->arena;
    st_arena_done(&arena);
}
