/* Reads data/guest.tsv. */
#include <stdlib.h>
#include <string.h>

#include "guest.h"
#include "table.h"
#include "util/memory.h"

enum { KEY, NAMES, KIND, CODES, SAYS, NFIELD };
static const char *const COLUMN[NFIELD] = { "key", "names", "kind", "codes", "says" };
static const char *const KIND_WORD[ST_NGUEST_KIND] = {
    [ST_GUEST_ALLERGEN] = "allergen", [ST_GUEST_CAUTION] = "caution",       [ST_GUEST_SLUG] = "slug",
    [ST_GUEST_VEGAN] = "vegan",       [ST_GUEST_VEGETARIAN] = "vegetarian", [ST_GUEST_ALCOHOL] = "alcohol",
    [ST_GUEST_SUGAR] = "sugar",       [ST_GUEST_NOBODY_KNOWS] = "unknown",
};
enum { MOST_ROWS = 96 };

struct whole {
    struct st_guest_rows all; /* first, so that its address is that of the whole */
    char *text;
    struct st_guest_row row[MOST_ROWS];
};

static int read_row(const struct st_table *t, const char *const f[NFIELD], struct whole *w, struct st_problem *problem)
{
    int kind = 0;
    while (kind < ST_NGUEST_KIND && strcmp(f[KIND], KIND_WORD[kind]) != 0)
        kind++;
    if (!*f[KEY] || !*f[NAMES])
        return st_table_problem(t, problem, "write it", "key or names is empty");
    if (kind == ST_NGUEST_KIND)
        return st_table_problem(t, problem, "allergen, caution, slug, vegan, vegetarian, alcohol, sugar or unknown",
                                "there is no kind '%.20s'", f[KIND]);
    if ((kind <= ST_GUEST_SLUG) != (*f[CODES] != '\0'))
        return st_table_problem(t, problem, "only allergen, caution and slug have them", "codes do not fit the kind");
    for (int i = 0; i < w->all.n; i++)
        if (strcmp(w->row[i].key, f[KEY]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the key '%.40s' stands twice", f[KEY]);
    w->row[w->all.n++] = (struct st_guest_row){ f[KEY], f[NAMES], (enum st_guest_kind)kind, f[CODES], f[SAYS] };
    return 0;
}

static int read_all(struct whole *w, struct st_problem *problem)
{
    struct st_table t;
    const char *field[NFIELD];
    int got = -1;
    if (st_table_open(&t, "guest.tsv", w->text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, field, problem)) > 0) {
        if (w->all.n == MOST_ROWS)
            return st_table_problem(&t, problem, "96 are the most", "there are too many rows");
        if (read_row(&t, field, w, problem))
            return -1;
    }
    return got;
}

struct st_guest_rows *st_guest_sheet_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->text = x_strndup(text, size);
    w->all.row = w->row;
    if (read_all(w, problem) == 0)
        return &w->all;
    st_guest_sheet_free(&w->all);
    return NULL;
}

void st_guest_sheet_free(struct st_guest_rows *all)
{
    struct whole *w = (struct whole *)all;
    if (!w)
        return;
    free(w->text);
    free(w);
}
