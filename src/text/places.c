#include "places.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "rule_sheets.h"
#include "table.h"
#include "util/embedded.h"
#include "util/memory.h"

enum { SLUG, NAME, PLACES, YEAR, KNOWN, UNKNOWN, FIRST, NFIELD };
static const char *const COLUMN[NFIELD] = { "place", "name", "places", "year", "known", "unknown", "first" };

static int read_row(const struct st_table *t, const char *const f[NFIELD], struct st_places *p,
                    struct st_problem *problem)
{
    double year;
    for (int i = 0; i < NFIELD; i++)
        if (!*f[i])
            return st_table_problem(t, problem, "every field of a place is needed", "'%s' is empty", COLUMN[i]);
    if (p->n == ST_MAX_PLACES)
        return st_table_problem(t, problem, "take some out", "there are more than %d places", ST_MAX_PLACES);
    for (int i = 0; i < p->n; i++)
        if (strcmp(p->row[i].slug, f[SLUG]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the place '%.20s' stands twice", f[SLUG]);
    const unsigned bits = st_rule_places(f[PLACES]);
    if (!bits)
        return st_table_problem(t, problem, "places are eu uk us au nz ca health old", "'%.40s' is no place",
                                f[PLACES]);
    if (st_table_number(t, f[YEAR], "year", 1900, 2200, &year, problem))
        return -1;
    p->row[p->n++] = (struct st_law_place){ f[SLUG], f[NAME], bits, (int)year, f[KNOWN], f[UNKNOWN], f[FIRST] };
    return 0;
}

struct st_places *st_places_create(const char *text, size_t size, struct st_problem *problem)
{
    struct st_places *p = x_calloc(1, sizeof *p);
    const char *field[NFIELD];
    struct st_table t;

    p->text = x_malloc(size + 1);
    memcpy(p->text, text, size);
    p->text[size] = '\0';
    int more = st_table_open(&t, "places.tsv", p->text, COLUMN, NFIELD, problem) ? -1 : 1;
    while (more > 0) {
        more = st_table_next(&t, field, problem);
        if (more > 0 && read_row(&t, field, p, problem))
            more = -1;
    }
    if (more == 0 && p->n == 0)
        more =
            st_table_problem(&t, problem, "the first row holds where a maker does not say", "there is no place in it");
    if (more == 0)
        return p;
    st_places_free(p);
    return NULL;
}

struct st_places *st_places_built(struct st_problem *problem)
{
    const struct st_embedded *e = st_embedded_find("data/places.tsv");
    if (e)
        return st_places_create((const char *)e->bytes, e->size, problem);
    *problem = (struct st_problem){ .what = "data/places.tsv is missing",
                                    .why = "it was not built into this program",
                                    .try_ = "build it again from its sources" };
    return NULL;
}

void st_places_free(struct st_places *p)
{
    if (!p)
        return;
    free(p->text);
    free(p);
}

/* What people also say; the slug before the colon. */
static const char *const ALSO[] = { "uk:gb",      "uk:great britain", "uk:britain", "uk:england",    "us:usa",
                                    "us:america", "eu:europe",        "au:aus",     "strictest:any", "strictest:all" };

const struct st_law_place *st_place_named(const struct st_places *p, const char *name)
{
    for (int i = 0; i < p->n; i++)
        if (strcasecmp(p->row[i].slug, name) == 0 || strcasecmp(p->row[i].name, name) == 0)
            return &p->row[i];
    for (size_t k = 0; k < sizeof ALSO / sizeof *ALSO; k++) {
        const char *also = strchr(ALSO[k], ':') + 1;
        const size_t slug = (size_t)(also - ALSO[k] - 1);
        for (int i = 0; i < p->n && strcasecmp(also, name) == 0; i++)
            if (strlen(p->row[i].slug) == slug && strncmp(p->row[i].slug, ALSO[k], slug) == 0)
                return &p->row[i];
    }
    return NULL;
}

const char *st_places_list(const struct st_places *p, char *buf, size_t size)
{
    size_t used = 0;
    if (size)
        buf[0] = '\0';
    for (int i = 0; i < p->n && used < size; i++) {
        const int w = snprintf(buf + used, size - used, "%s%s",
                               !i              ? ""
                               : i == p->n - 1 ? " or "
                                               : ", ",
                               p->row[i].slug);
        used += w > 0 ? (size_t)w : 0;
    }
    return buf;
}
