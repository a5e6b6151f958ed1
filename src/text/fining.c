#include "fining.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sheet.h"
#include "table.h"
#include "util/memory.h"

enum {
    KEY,
    NAME,
    NAMES,
    ROLE,
    LOW,
    HIGH,
    MOST,
    UNIT,
    ACTS,
    AGAINST,
    PREPARE,
    ALLERGEN,
    SCOPE,
    DIET,
    LOSS_LOW,
    LOSS_HIGH,
    LOSS_ML,
    MARK,
    SOURCE,
    NOTE,
    NFIELD
};
static const char *const COLUMN[NFIELD] = { "key",           "name",      "names", "role",   "low",
                                            "high",          "most",      "unit",  "acts",   "against",
                                            "prepare",       "allergen",  "scope", "diet",   "loss_low_pct",
                                            "loss_high_pct", "loss_ml_g", "mark",  "source", "note" };
enum { MOST_ROWS = 64 };

struct whole {
    struct st_agents all; /* first, so that its address is that of the whole */
    char *text;
    struct st_agent row[MOST_ROWS];
};

/* "10-20", or "" for not known. */
static int two_figures(const struct st_table *t, const char *text, double *low, double *high,
                       struct st_problem *problem)
{
    char first[24];
    *low = *high = (double)NAN;
    if (!*text)
        return 0;
    const size_t n = strcspn(text, "-");
    if (text[n] != '-' || n >= sizeof first)
        return st_table_problem(t, problem, "write for example 2-4", "loss_ml_g is no range: '%.20s'", text);
    memcpy(first, text, n);
    first[n] = '\0';
    if (st_table_number(t, first, "loss_ml_g", 0.0, 1e3, low, problem))
        return -1;
    return st_table_number(t, text + n + 1, "loss_ml_g", *low, 1e3, high, problem);
}

static bool role_of(const char *word, enum st_agent_role *role)
{
    static const char *const ROLE_WORD[ST_NAGENT_ROLE] = { [ST_AGENT_FINE] = "fine",
                                                           [ST_AGENT_NEAT] = "neat",
                                                           [ST_AGENT_FRUIT] = "fruit",
                                                           [ST_AGENT_WASH] = "wash",
                                                           [ST_AGENT_FILTER] = "filter" };
    for (int i = 0; i < ST_NAGENT_ROLE; i++)
        if (strcmp(word, ROLE_WORD[i]) == 0) {
            *role = (enum st_agent_role)i;
            return true;
        }
    return false;
}

static bool unit_fits(const char *unit, struct st_agent *a)
{
    a->by_volume = strcmp(unit, "mL/L") == 0;
    return a->role == ST_AGENT_FILTER ? strcmp(unit, "um") == 0 : a->by_volume || strcmp(unit, "mg/L") == 0;
}

/* "tannin|protein"; "" for no haze. */
static bool acts_of(const char *list, unsigned *acts)
{
    static const struct {
        const char *word;
        enum st_cloud is;
    } WORD[] = { { "oil", ST_CLOUD_OIL },
                 { "pulp", ST_CLOUD_PULP },
                 { "pectin", ST_CLOUD_PECTIN },
                 { "tannin", ST_CLOUD_TANNIN },
                 { "protein", ST_CLOUD_PROTEIN } };
    *acts = 0;
    while (*list) {
        const size_t n = strcspn(list, "|");
        size_t i = 0;
        while (i < sizeof WORD / sizeof *WORD && (strlen(WORD[i].word) != n || strncmp(WORD[i].word, list, n) != 0))
            i++;
        if (i == sizeof WORD / sizeof *WORD)
            return false;
        *acts |= WORD[i].is;
        list += n + (list[n] == '|');
    }
    return true;
}

static int figures(const struct st_table *t, const char *const f[NFIELD], struct st_agent *a,
                   struct st_problem *problem)
{
    double low, high;
    a->most = (double)NAN;
    if (st_table_number(t, f[LOW], "low", 0.0, 1e6, &a->low, problem) ||
        st_table_number(t, f[HIGH], "high", a->low, 1e6, &a->high, problem) ||
        (*f[MOST] && st_table_number(t, f[MOST], "most", a->high, 1e6, &a->most, problem)) ||
        st_table_number(t, f[LOSS_LOW], "loss_low_pct", 0.0, 100.0, &low, problem) ||
        st_table_number(t, f[LOSS_HIGH], "loss_high_pct", low, 100.0, &high, problem))
        return -1;
    a->loss_low = 0.01 * low;
    a->loss_high = 0.01 * high;
    return two_figures(t, f[LOSS_ML], &a->ml_low, &a->ml_high, problem);
}

static int words(const struct st_table *t, const char *const f[NFIELD], const struct whole *w, struct st_agent *a,
                 struct st_problem *problem)
{
    if (!*f[KEY] || !*f[NAME] || !*f[AGAINST] || !*f[PREPARE])
        return st_table_problem(t, problem, "write it", "key, name, against or prepare is empty");
    if (!role_of(f[ROLE], &a->role))
        return st_table_problem(t, problem, "fine, neat, fruit, wash or filter", "there is no role '%.20s'", f[ROLE]);
    if (!unit_fits(f[UNIT], a))
        return st_table_problem(t, problem, "mg/L or mL/L; um for a filter",
                                "the unit '%.20s' does not go with its role", f[UNIT]);
    if (!acts_of(f[ACTS], &a->acts))
        return st_table_problem(t, problem, "oil, pulp, pectin, tannin or protein, '|' between; none for odour",
                                "'%.40s' is no haze to act on", f[ACTS]);
    if (!st_sheet_is_mark(f[MARK]) || !*f[SOURCE])
        return st_table_problem(t, problem, "write both", "it has no mark (r, m, c, p) or no source");
    if (!*f[ALLERGEN] != !*f[SCOPE])
        return st_table_problem(t, problem, "write for example egg and eu_us", "an allergen has its scope beside it");
    for (int i = 0; i < w->all.n; i++)
        if (strcmp(w->row[i].key, f[KEY]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the key '%.40s' stands twice", f[KEY]);
    a->key = f[KEY];
    a->name = f[NAME];
    a->names = f[NAMES];
    a->against = f[AGAINST];
    a->prepare = f[PREPARE];
    a->allergen = f[ALLERGEN];
    a->scope = f[SCOPE];
    a->diet = f[DIET];
    a->mark = f[MARK][0];
    a->source = f[SOURCE];
    a->note = f[NOTE];
    return 0;
}

static int read_all(struct whole *w, struct st_problem *problem)
{
    struct st_table t;
    const char *field[NFIELD];
    int got = -1;
    if (st_table_open(&t, "fining.tsv", w->text, COLUMN, NFIELD, problem))
        return -1;
    while ((got = st_table_next(&t, field, problem)) > 0) {
        if (w->all.n == MOST_ROWS)
            return st_table_problem(&t, problem, "64 are the most", "there are too many rows");
        struct st_agent *a = &w->row[w->all.n];
        if (words(&t, field, w, a, problem) || figures(&t, field, a, problem))
            return -1;
        w->all.n++;
    }
    return got;
}

struct st_agents *st_fining_create(const char *text, size_t size, struct st_problem *problem)
{
    struct whole *w = x_calloc(1, sizeof *w);
    w->text = x_strndup(text, size);
    w->all.row = w->row;
    if (read_all(w, problem) == 0)
        return &w->all;
    st_fining_free(&w->all);
    return NULL;
}

void st_fining_free(struct st_agents *all)
{
    struct whole *w = (struct whole *)all;
    if (!w)
        return;
    free(w->text);
    free(w);
}
