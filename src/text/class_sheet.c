#include "class_sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sheet.h"
#include "table.h"
#include "util/arena.h"
#include "util/memory.h"

enum {
    KEY,
    NAME,
    PLACE,
    DOCUMENT,
    ARTICLE,
    YEAR,
    STRENGTH,
    INVERT,
    MASS_PCT,
    YOLK,
    NEEDS,
    ASK,
    SAYS,
    MARK,
    SOURCE,
    NOTE,
    NFIELD
};
static const char *const COLUMN[NFIELD] = { "key",      "name",   "place",    "document", "article", "year",
                                            "strength", "invert", "mass_pct", "yolk",     "needs",   "ask",
                                            "says",     "mark",   "source",   "note" };

struct whole {
    struct st_classes all; /* first, so that its address is that of the whole */
    struct st_arena arena;
    struct st_class_row row[ST_MAX_CLASSES];
};

static const struct {
    const char *word;
    unsigned bit;
} PLACE_WORD[] = { { "eu", ST_PLACE_EU }, { "uk", ST_PLACE_UK }, { "us", ST_PLACE_US },
                   { "au", ST_PLACE_AU }, { "nz", ST_PLACE_NZ }, { "ca", ST_PLACE_CA } };

unsigned st_sheet_places(const char *field)
{
    unsigned bits = 0;
    for (const char *p = field; *p;) {
        const size_t n = strcspn(p, ",");
        unsigned bit = 0;
        for (size_t i = 0; i < sizeof PLACE_WORD / sizeof PLACE_WORD[0]; i++)
            if (strlen(PLACE_WORD[i].word) == n && strncmp(p, PLACE_WORD[i].word, n) == 0)
                bit = PLACE_WORD[i].bit;
        if (!bit)
            return 0;
        bits |= bit;
        p += n + (p[n] == ',');
    }
    return bits;
}

static int need(const struct st_table *t, struct whole *w, const char *text, struct st_class_row *row,
                struct st_problem *problem)
{
    static const char *const WORD[ST_NNEED] = { [ST_NEED_BASE] = "base",
                                                [ST_NEED_WITH] = "with",
                                                [ST_NEED_ONLY] = "only",
                                                [ST_NEED_WITHOUT] = "without",
                                                [ST_NEED_FLAVOURED] = "flavoured" };
    const size_t n = strcspn(text, "=");
    int kind = 0;
    while (kind < ST_NNEED && !(strlen(WORD[kind]) == n && strncmp(text, WORD[kind], n) == 0))
        kind++;
    if (kind == ST_NNEED || row->n_need == ST_MAX_NEEDS || (kind == ST_NEED_FLAVOURED) != (text[n] == '\0'))
        return st_table_problem(t, problem, "base=, with=, only=, without= or flavoured; four at most",
                                "there is no need '%.40s'", text);
    struct st_class_need *out = &row->need[row->n_need++];
    const char *list = text[n] ? text + n + 1 : "";
    const size_t sure = strcspn(list, "?");
    out->kind = (enum st_need_kind)kind;
    out->list = st_arena_strndup(&w->arena, list, sure);
    out->maybe = list[sure] ? list + sure + 1 : "";
    return 0;
}

static int needs(const struct st_table *t, struct whole *w, const char *field, struct st_class_row *row,
                 struct st_problem *problem)
{
    for (const char *p = field; *p;) {
        while (*p == ' ')
            p++;
        const size_t n = strcspn(p, ";");
        if (need(t, w, st_arena_strndup(&w->arena, p, n), row, problem))
            return -1;
        p += n + (p[n] == ';');
    }
    return 0;
}

static int figure(const struct st_table *t, const char *field, const char *what, double most, double *out,
                  struct st_problem *problem)
{
    *out = (double)NAN;
    return *field ? st_table_number(t, field, what, 0.0, most, out, problem) : 0;
}

/* "100", or "80-250" with a most. */
static int invert(const struct st_table *t, struct whole *w, const char *field, struct st_class_row *row,
                  struct st_problem *problem)
{
    const size_t n = strcspn(field, "-");
    return figure(t, st_arena_strndup(&w->arena, field, n), "invert", 2000.0, &row->invert, problem) ||
                   figure(t, field[n] ? field + n + 1 : "", "invert", 2000.0, &row->most_invert, problem)
               ? -1
               : 0;
}

static int words(const struct st_table *t, const char *const f[NFIELD], const struct whole *w, struct st_class_row *row,
                 struct st_problem *problem)
{
    if (!*f[KEY] || !*f[NAME] || !*f[SAYS] || !*f[DOCUMENT])
        return st_table_problem(t, problem, "write it", "key, name, document or says is empty");
    if ((row->places = st_sheet_places(f[PLACE])) == 0)
        return st_table_problem(t, problem, "eu, uk, us, au, nz or ca, ',' between", "there is no place '%.20s'",
                                f[PLACE]);
    if (strlen(f[MARK]) != 1 || !strchr("rsm", *f[MARK]) || !*f[SOURCE])
        return st_table_problem(t, problem, "write both", "it has no mark (r, s, m) or no source");
    for (int i = 0; i < w->all.n; i++)
        if (strcmp(w->row[i].key, f[KEY]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the key '%.40s' stands twice", f[KEY]);
    row->key = f[KEY];
    row->name = f[NAME];
    row->document = f[DOCUMENT];
    row->article = f[ARTICLE];
    row->ask = f[ASK];
    row->says = f[SAYS];
    row->mark = *f[MARK];
    row->source = f[SOURCE];
    row->note = f[NOTE];
    return 0;
}

static int read_row(const struct st_table *t, struct whole *w, const char *const f[NFIELD], struct st_problem *problem)
{
    struct st_class_row *row = &w->row[w->all.n];
    double year = 0.0;
    if (words(t, f, w, row, problem) || invert(t, w, f[INVERT], row, problem) ||
        figure(t, f[STRENGTH], "strength", 100.0, &row->strength, problem) ||
        figure(t, f[MASS_PCT], "mass_pct", 100.0, &row->mass_pct, problem) ||
        figure(t, f[YOLK], "yolk", 1000.0, &row->yolk, problem) || needs(t, w, f[NEEDS], row, problem) ||
        (*f[YEAR] && st_table_number(t, f[YEAR], "year", 1800.0, 2200.0, &year, problem)))
        return -1;
    row->year = (int)year;
    w->all.n++;
    return 0;
}

static int read_all(struct whole *w, char *text, struct st_problem *problem)
{
    struct st_table t;
    const char *field[NFIELD];
    int got = -1;
    if (st_table_open(&t, "classes.tsv", text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, field, problem)) > 0) {
        if (w->all.n == ST_MAX_CLASSES)
            return st_table_problem(&t, problem, "48 are the most", "there are too many rows");
        if (read_row(&t, w, field, problem))
            return -1;
    }
    return got;
}

struct st_classes *st_class_sheet_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->all.row = w->row;
    if (read_all(w, st_arena_strndup(&w->arena, text, size), problem) == 0)
        return &w->all;
    st_class_sheet_free(&w->all);
    return NULL;
}

void st_class_sheet_free(struct st_classes *all)
{
    struct whole *w = (struct whole *)all;
    if (!w)
        return;
    st_arena_done(&w->arena);
    free(w);
}
