#include "drink_sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "class_sheet.h"
#include "table.h"
#include "util/memory.h"

enum {
    KEY,
    COUNTRY,
    PLACES,
    TERM,
    G,
    ML,
    BY,
    DIFFER,
    GUIDANCE,
    GUIDANCE_MARK,
    GUIDANCE_SOURCE,
    MARK,
    SOURCE,
    NOTE,
    NFIELD
};
static const char *const COLUMN[NFIELD] = {
    "key",      "country",       "places",          "term", "g",      "ml",  "by", "differ",
    "guidance", "guidance_mark", "guidance_source", "mark", "source", "note"
};
enum { MOST_ROWS = 64 };

struct whole {
    struct st_drink_rows all; /* first, so that its address is that of the whole */
    char *text;
    struct st_drink_row row[MOST_ROWS];
};

static bool is_mark(const char *field)
{
    return strlen(field) == 1 && strchr("rsm", *field);
}

static int check(const struct st_table *t, const char *const f[NFIELD], const struct whole *w,
                 struct st_problem *problem)
{
    if (!*f[KEY] || !*f[COUNTRY])
        return st_table_problem(t, problem, "write it", "key or country is empty");
    if (*f[PLACES] && !st_sheet_places(f[PLACES]))
        return st_table_problem(t, problem, "eu, uk, us, au, nz or ca, ',' between", "there is no place '%.20s'",
                                f[PLACES]);
    if (!is_mark(f[MARK]) || !*f[SOURCE])
        return st_table_problem(t, problem, "write both", "it has no mark (r, s, m) or no source");
    if (*f[GUIDANCE] && (!is_mark(f[GUIDANCE_MARK]) || !*f[GUIDANCE_SOURCE]))
        return st_table_problem(t, problem, "write both", "its guidance has no mark (r, s, m) or no source");
    if ((*f[BY] && strcmp(f[BY], "ml") != 0) || !*f[G] != !*f[ML])
        return st_table_problem(t, problem, "by: ml or empty; g and ml go together", "by, g or ml does not fit");
    for (int i = 0; i < w->all.n; i++)
        if (strcmp(w->row[i].key, f[KEY]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the key '%.40s' stands twice", f[KEY]);
    return 0;
}

static int read_row(const struct st_table *t, const char *const f[NFIELD], struct whole *w, struct st_problem *problem)
{
    double g = (double)NAN, ml = (double)NAN;
    if (check(t, f, w, problem) || (*f[G] && st_table_number(t, f[G], "g", 1.0, 100.0, &g, problem)) ||
        (*f[ML] && st_table_number(t, f[ML], "ml", 1.0, 100.0, &ml, problem)))
        return -1;
    w->row[w->all.n++] = (struct st_drink_row){ .key = f[KEY],
                                                .country = f[COUNTRY],
                                                .term = f[TERM],
                                                .places = st_sheet_places(f[PLACES]),
                                                .g = g,
                                                .ml = ml,
                                                .by_volume = *f[BY] != '\0',
                                                .differ = f[DIFFER],
                                                .guidance = f[GUIDANCE],
                                                .guidance_mark = *f[GUIDANCE_MARK],
                                                .guidance_source = f[GUIDANCE_SOURCE],
                                                .mark = *f[MARK],
                                                .source = f[SOURCE],
                                                .note = f[NOTE] };
    return 0;
}

static int read_all(struct whole *w, struct st_problem *problem)
{
    struct st_table t;
    const char *field[NFIELD];
    int got = -1;
    if (st_table_open(&t, "drinks.tsv", w->text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, field, problem)) > 0) {
        if (w->all.n == MOST_ROWS)
            return st_table_problem(&t, problem, "64 are the most", "there are too many rows");
        if (read_row(&t, field, w, problem))
            return -1;
    }
    return got;
}

struct st_drink_rows *st_drink_sheet_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->text = x_strndup(text, size);
    w->all.row = w->row;
    if (read_all(w, problem) == 0)
        return &w->all;
    st_drink_sheet_free(&w->all);
    return NULL;
}

void st_drink_sheet_free(struct st_drink_rows *all)
{
    struct whole *w = (struct whole *)all;
    if (!w)
        return;
    free(w->text);
    free(w);
}
