#include "compounds.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "advice.h"
#include "table.h"
#include "util/arena.h"

enum column {
    MARKER,
    MW,
    LOG_P,
    WATER,
    LOW,
    HIGH,
    ETHANOLIC,
    MATRIX,
    BITTERNESS,
    CLASS,
    VOLUME,
    D_WATER,
    D_LOW,
    D_HIGH,
    SIGMA,
    S20,
    S40,
    S60,
    MARK,
    OTHER,
    NOTE,
    N_COLUMN
};

static const char *const COLUMN[N_COLUMN] = {
    [MARKER] = "marker",
    [MW] = "mw",
    [LOG_P] = "log_p",
    [WATER] = "water_mg_l",
    [LOW] = "threshold_low_mg_l",
    [HIGH] = "threshold_high_mg_l",
    [ETHANOLIC] = "threshold_ethanolic_mg_l",
    [MATRIX] = "ethanolic_matrix",
    [BITTERNESS] = "bitterness",
    [CLASS] = "class",
    [VOLUME] = "volume_cm3_mol",
    [D_WATER] = "d_water_m2_s",
    [D_LOW] = "d_tissue_low_m2_s",
    [D_HIGH] = "d_tissue_high_m2_s",
    [SIGMA] = "sigma",
    [S20] = "s20_mg_l",
    [S40] = "s40_mg_l",
    [S60] = "s60_mg_l",
    [MARK] = "mark",
    [OTHER] = "other_names",
    [NOTE] = "note",
};

static const char SOURCE[] = "[leffingwell1991] [yalkowsky_cosolvent] [hayduk_laudie1974]";

struct kept {
    struct st_compounds all; /* first: what is handed out */
    struct st_arena arena;
    struct st_compound *row;
};

/* Empty: unknown. */
static int number(const struct st_table *t, const char *field[], enum column c, double least, double *out,
                  struct st_problem *p)
{
    *out = (double)NAN;
    return field[c][0] ? st_table_number(t, field[c], COLUMN[c], least, 1e12, out, p) : 0;
}

/* "0.5-3": two numbers, or one for both. */
static int span(const struct st_table *t, const char *field, double *low, double *high, struct st_problem *p)
{
    char *end;
    *low = *high = (double)NAN;
    if (!*field)
        return 0;
    const double a = strtod(field, &end);
    const double b = end > field && *end == '-' ? strtod(end + 1, &end) : a;
    if (end == field || *end || !(a > 0.0 && b >= a))
        return st_table_problem(t, p, "write it as 0.5-3", "`%.40s` is no range of thresholds", field);
    *low = a;
    *high = b;
    return 0;
}

/* Bitter, astringent and coloured things follow the hump whatever oil would take of them; what has a slope is an oil.
 */
static enum st_action action_of(const struct st_compound *c)
{
    static const char *const HUMP[] = { "bitter", "astringent", "red colour", "walnut quinone" };
    for (size_t i = 0; i < sizeof HUMP / sizeof HUMP[0]; i++)
        if (strcmp(c->family, HUMP[i]) == 0)
            return ST_ACTION_HUMP;
    return isfinite(c->sigma) && c->sigma > 0.0 ? ST_ACTION_OIL : ST_ACTION_FREE;
}

static bool is_flavour(const struct st_compound *c)
{
    return st_marker_is_flavour(c->name) && strcmp(c->family, "toxicant") != 0 && strcmp(c->family, "cyanogen") != 0;
}

static int figures(const struct st_table *t, const char *f[], struct st_compound *c, struct st_problem *p)
{
    if (st_table_number(t, f[MW], "mw", 1.0, 1e5, &c->mw, p) || number(t, f, LOG_P, -20.0, &c->log_p, p) ||
        number(t, f, LOW, 0.0, &c->threshold_low, p) || number(t, f, HIGH, 0.0, &c->threshold_high, p) ||
        span(t, f[ETHANOLIC], &c->ethanolic_low, &c->ethanolic_high, p) ||
        number(t, f, BITTERNESS, 0.0, &c->bitterness, p) || number(t, f, D_WATER, 1e-12, &c->d_water, p) ||
        number(t, f, SIGMA, 0.0, &c->sigma, p))
        return -1;
    if (strcmp(f[WATER], "miscible") == 0)
        c->water_mg_l = (double)INFINITY;
    else if (number(t, f, WATER, 1e-9, &c->water_mg_l, p))
        return -1;
    return 0;
}

static int read_row(struct kept *k, const struct st_table *t, const char *f[], struct st_problem *p)
{
    struct st_compound *c = &k->row[k->all.n];
    c->name = f[MARKER];
    c->other_names = f[OTHER];
    c->family = f[CLASS];
    c->ethanolic_matrix = f[MATRIX];
    c->mark = f[MARK];
    c->source = SOURCE;
    c->note = f[NOTE];
    if (!c->name[0] || !c->family[0])
        return st_table_problem(t, p, "write its name and its class", "it has no name or no class");
    if (st_compound_find(&k->all, c->name))
        return st_table_problem(t, p, "keep one of them", "`%.60s` is there twice", c->name);
    if (figures(t, f, c, p))
        return -1;
    c->action = action_of(c);
    c->flavour = is_flavour(c);
    k->all.n++;
    return 0;
}

static int read_rows(struct kept *k, char *text, struct st_problem *p)
{
    struct st_table t;
    const char *field[N_COLUMN];
    int got;
    if (st_table_open(&t, "markers", text, COLUMN, N_COLUMN, p))
        return -1;
    while ((got = st_table_next(&t, field, p)) > 0) {
        if (k->all.n == ST_TABLE_ROWS)
            return st_table_problem(&t, p, "leave some out", "there are more than %d rows", ST_TABLE_ROWS);
        if (read_row(k, &t, field, p))
            return -1;
    }
    return got;
}

struct st_compounds *st_compounds_create(const char *text, size_t size, struct st_problem *problem)
{
    struct st_arena arena = { 0 };
    struct kept *k = st_arena_alloc(&arena, sizeof *k);
    k->row = st_arena_alloc(&arena, ST_TABLE_ROWS * sizeof *k->row);
    k->all.row = k->row;
    const int failed = read_rows(k, st_arena_strndup(&arena, text, size), problem);
    k->arena = arena;
    if (!failed)
        return &k->all;
    st_compounds_free(&k->all);
    return NULL;
}

void st_compounds_free(struct st_compounds *c)
{
    if (!c)
        return;
    struct st_arena arena = ((struct kept *)c)->arena;
    st_arena_done(&arena);
}
