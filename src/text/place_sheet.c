#include "place_sheet.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "rule_sheets.h"
#include "table.h"
#include "util/memory.h"

enum { PLACE, NAME, PLACES, YEAR, KNOWN, UNKNOWN, FIRST, NFIELD };
static const char *const COLUMN[NFIELD] = { "place", "name", "places", "year", "known", "unknown", "first" };

struct whole {
    struct st_homes all; /* first, so that its address is that of the whole */
    char *text;
    struct st_home *home;
};

static int one_home(const struct st_table *t, const char *const f[NFIELD], const struct whole *w, struct st_home *h,
                    struct st_problem *problem)
{
    double year;
    for (int i = 0; i < NFIELD; i++)
        if (!*f[i])
            return st_table_problem(t, problem, "write it", "the field `%s` is empty", COLUMN[i]);
    for (int i = 0; i < w->all.n; i++)
        if (strcmp(w->home[i].code, f[PLACE]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the place `%.40s` stands twice", f[PLACE]);
    *h = (struct st_home){ .code = f[PLACE],
                           .name = f[NAME],
                           .places = st_rule_places(f[PLACES]),
                           .known = f[KNOWN],
                           .unknown = f[UNKNOWN],
                           .first = f[FIRST] };
    if (!h->places)
        return st_table_problem(t, problem, "take eu, uk, us, au, nz, ca, health or old", "no such place: `%.60s`",
                                f[PLACES]);
    if (st_table_number(t, f[YEAR], "year", 1900.0, 2200.0, &year, problem))
        return -1;
    h->year = (int)year;
    return 0;
}

static int read_all(struct whole *w, struct st_problem *problem)
{
    struct st_table t;
    const char *f[NFIELD];
    int got = -1;
    if (st_table_open(&t, "places.tsv", w->text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, f, problem)) > 0) {
        w->home = x_realloc_array(w->home, (size_t)w->all.n + 1, sizeof *w->home);
        w->all.home = w->home;
        if (one_home(&t, f, w, &w->home[w->all.n], problem))
            return -1;
        w->all.n++;
    }
    if (got == 0 && w->all.n == 0)
        return st_table_problem(&t, problem, "write at least the one that holds when nobody says", "it has no place");
    return got;
}

struct st_homes *st_homes_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->text = x_strndup(text, size);
    if (read_all(w, problem) == 0)
        return &w->all;
    st_homes_free(&w->all);
    return NULL;
}

void st_homes_free(struct st_homes *all)
{
    struct whole *w = (struct whole *)all;
    if (!w)
        return;
    free(w->home);
    free(w->text);
    free(w);
}

/* What people also say, and the code of that. */
static const char *const ALSO[][2] = { { "gb", "uk" },      { "great britain", "uk" }, { "britain", "uk" },
                                       { "england", "uk" }, { "scotland", "uk" },      { "usa", "us" },
                                       { "america", "us" }, { "europe", "eu" },        { "any", "strictest" } };

static const struct st_home *called(const struct st_homes *all, const char *words)
{
    for (int i = 0; i < all->n; i++)
        if (strcasecmp(all->home[i].code, words) == 0 || strcasecmp(all->home[i].name, words) == 0)
            return &all->home[i];
    return NULL;
}

const struct st_home *st_home_find(const struct st_homes *all, const char *words)
{
    if (!words || !*words)
        return &all->home[0];
    const struct st_home *found = called(all, words);
    for (size_t k = 0; k < sizeof ALSO / sizeof *ALSO && !found; k++)
        if (strcasecmp(ALSO[k][0], words) == 0)
            found = called(all, ALSO[k][1]);
    return found;
}
