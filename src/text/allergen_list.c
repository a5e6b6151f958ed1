#include "allergen_list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "class_sheet.h"
#include "model/line_goods.h"
#include "table.h"
#include "util/memory.h"

enum {
    KEY,
    LIST,
    PLACES,
    NAME,
    CODES,
    WORDS,
    WIDER,
    LISTED,
    SCOPE,
    EXEMPT,
    NOTE,
    DOCUMENT,
    ARTICLE,
    YEAR,
    MARK,
    SOURCE,
    NFIELD
};
static const char *const COLUMN[NFIELD] = { "key",     "list",   "places", "name",   "codes", "words",
                                            "wider",   "listed", "scope",  "exempt", "note",  "document",
                                            "article", "year",   "mark",   "source" };
enum { MOST_ROWS = 200 };

struct whole {
    struct st_allergen_lists all; /* first, so that its address is that of the whole */
    char *text;
    struct st_allergen_row row[MOST_ROWS];
};

/* Each of the one list is in the other, '|' between. */
static bool all_in(const char *some, const char *all)
{
    for (const char *at = some; *at; at += strspn(at, "|")) {
        char one[48];
        const size_t n = strcspn(at, "|");
        (void)snprintf(one, sizeof one, "%.*s", (int)n, at);
        if (n >= sizeof one || !st_in_list(all, '|', one))
            return false;
        at += n;
    }
    return true;
}

static int check(const struct st_table *t, const char *const f[NFIELD], const struct whole *w,
                 struct st_problem *problem)
{
    if (!*f[KEY] || !*f[LIST] || !*f[NAME] || !*f[DOCUMENT])
        return st_table_problem(t, problem, "write it", "key, list, name or document is empty");
    if (!st_sheet_places(f[PLACES]))
        return st_table_problem(t, problem, "eu, uk, us, au, nz or ca, ',' between", "there is no place '%.20s'",
                                f[PLACES]);
    if (strlen(f[MARK]) != 1 || !strchr("rsm", *f[MARK]) || !*f[SOURCE])
        return st_table_problem(t, problem, "write both", "it has no mark (r, s, m) or no source");
    if ((*f[WIDER] && !all_in(f[WIDER], f[CODES])) || (strcmp(f[LISTED], "yes") != 0 && strcmp(f[LISTED], "no") != 0))
        return st_table_problem(t, problem, "wider: some of its codes, or empty; listed: yes or no",
                                "wider or listed is another word");
    for (int i = 0; i < w->all.n; i++)
        if (strcmp(w->row[i].key, f[KEY]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the key '%.40s' stands twice", f[KEY]);
    return 0;
}

static int read_row(const struct st_table *t, const char *const f[NFIELD], struct whole *w, struct st_problem *problem)
{
    double year = 0.0;
    if (check(t, f, w, problem) || (*f[YEAR] && st_table_number(t, f[YEAR], "year", 1800.0, 2200.0, &year, problem)))
        return -1;
    w->row[w->all.n++] = (struct st_allergen_row){ .key = f[KEY],
                                                   .list = f[LIST],
                                                   .places = st_sheet_places(f[PLACES]),
                                                   .name = f[NAME],
                                                   .codes = f[CODES],
                                                   .words = f[WORDS],
                                                   .wider = f[WIDER],
                                                   .listed = strcmp(f[LISTED], "yes") == 0,
                                                   .scope = f[SCOPE],
                                                   .exempt = f[EXEMPT],
                                                   .note = f[NOTE],
                                                   .document = f[DOCUMENT],
                                                   .article = f[ARTICLE],
                                                   .year = (int)year,
                                                   .mark = *f[MARK],
                                                   .source = f[SOURCE] };
    return 0;
}

static int read_all(struct whole *w, struct st_problem *problem)
{
    struct st_table t;
    const char *field[NFIELD];
    int got = -1;
    if (st_table_open(&t, "allergens.tsv", w->text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, field, problem)) > 0) {
        if (w->all.n == MOST_ROWS)
            return st_table_problem(&t, problem, "200 are the most", "there are too many rows");
        if (read_row(&t, field, w, problem))
            return -1;
    }
    return got;
}

struct st_allergen_lists *st_allergen_list_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->text = x_strndup(text, size);
    w->all.row = w->row;
    if (read_all(w, problem) == 0)
        return &w->all;
    st_allergen_list_free(&w->all);
    return NULL;
}

void st_allergen_list_free(struct st_allergen_lists *all)
{
    struct whole *w = (struct whole *)all;
    if (!w)
        return;
    free(w->text);
    free(w);
}
