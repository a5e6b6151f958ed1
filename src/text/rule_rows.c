#include <math.h>
#include <string.h>

#include "rule_sheets_inside.h"
#include "util/memory.h"

enum {
    ID,
    PLACES,
    STANDING,
    SCOPE,
    TOXICANT,
    PLANT,
    UNIT,
    LIMIT,
    ASKS,
    DOCUMENT,
    ARTICLE,
    YEAR,
    MARK,
    SOURCE,
    SAYS,
    NFIELD
};
static const char *const COLUMN[NFIELD] = { "id",      "places", "standing", "scope",  "toxicant",
                                            "plant",   "unit",   "limit",    "asks",   "document",
                                            "article", "year",   "mark",     "source", "says" };

/* ---- words ---- */

static const char *const UNIT_WORDS[ST_RULE_NUNIT] = {
    [ST_RULE_MG_KG] = "mg/kg",
    [ST_RULE_MG_KG_PER_PCT_VOL] = "mg/kg per % vol",
    [ST_RULE_MG_L] = "mg/L",
    [ST_RULE_MG_KG_BW_DAY] = "mg/kg body weight a day",
    [ST_RULE_MG_PERSON_DAY] = "mg a person a day",
    [ST_RULE_G_HL_ALCOHOL] = "g/hL alcohol",
    [ST_RULE_G_L_ETHANOL] = "g/L ethanol",
    [ST_RULE_PRESENT] = "present",
};

static const char *const SCOPE_WORDS[ST_NSCOPE] = {
    [ST_SCOPE_ANY] = "any",
    [ST_SCOPE_TO_25] = "up to 25 % vol",
    [ST_SCOPE_OVER_25] = "over 25 % vol",
    [ST_SCOPE_ARTEMISIA] = "from artemisia",
    [ST_SCOPE_NOT_ARTEMISIA] = "not from artemisia",
    [ST_SCOPE_MINT] = "mint",
    [ST_SCOPE_BITTER] = "bitter",
    [ST_SCOPE_NOT_BITTER] = "not bitter",
    [ST_SCOPE_SPIRIT_DRINK] = "spirit drink",
    [ST_SCOPE_UNDER_15] = "under 15 % vol",
    [ST_SCOPE_INGREDIENT] = "ingredient",
    [ST_SCOPE_BASE_SPIRIT] = "base spirit",
    [ST_SCOPE_ADDED] = "added",
    [ST_SCOPE_OTHER_FOOD] = "other food",
};

static const struct {
    const char *word;
    unsigned bit;
} PLACE[] = {
    { "eu", ST_PLACE_EU }, { "uk", ST_PLACE_UK }, { "us", ST_PLACE_US },         { "au", ST_PLACE_AU },
    { "nz", ST_PLACE_NZ }, { "ca", ST_PLACE_CA }, { "health", ST_PLACE_HEALTH }, { "old", ST_PLACE_OLD },
};
enum { NPLACE = sizeof PLACE / sizeof PLACE[0] };

const char *st_rule_unit_words(enum st_rule_unit u)
{
    return UNIT_WORDS[u];
}

const char *st_rule_scope_words(enum st_rule_scope s)
{
    return SCOPE_WORDS[s];
}

unsigned st_rule_places(const char *list)
{
    unsigned all = 0;
    for (const char *at = list + strspn(list, ", "); *at;) {
        const size_t n = strcspn(at, ", ");
        int i = 0;
        while (i < NPLACE && !(strlen(PLACE[i].word) == n && memcmp(PLACE[i].word, at, n) == 0))
            i++;
        if (i == NPLACE)
            return 0;
        all |= PLACE[i].bit;
        at += n + strspn(at + n, ", ");
    }
    return all;
}

/* Which of the words it is; -1 with *problem. */
static int one_of(const struct st_table *t, const char *field, const char *what, const char *const word[], int n,
                  struct st_problem *problem)
{
    for (int i = 0; i < n; i++)
        if (strcmp(word[i], field) == 0)
            return i;
    return st_table_problem(t, problem, "take one of the words that data/README.md lists", "there is no %s `%.40s`",
                            what, field);
}

/* ---- rows ---- */

static int needed(const struct st_table *t, const char *const f[NFIELD], const struct st_rule_books *b,
                  struct st_problem *problem)
{
    for (int i = 0; i < NFIELD; i++)
        if (i != PLANT && i != LIMIT && st_rule_need(t, f[i], COLUMN[i], problem))
            return -1;
    for (int i = 0; i < b->n_rule; i++)
        if (strcmp(b->rule[i].id, f[ID]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the rule `%.60s` stands twice", f[ID]);
    return st_rule_toxicant(t, b, f[TOXICANT], problem);
}

static int words(const struct st_table *t, const char *const f[NFIELD], struct st_rule *r, struct st_problem *problem)
{
    static const char *const STANDING_WORDS[] = { "in force", "repealed", "proposed", "benchmark" };
    static const char *const ASKS_WORDS[] = { "at most", "from" };
    const int scope = one_of(t, f[SCOPE], "scope", SCOPE_WORDS, ST_NSCOPE, problem);
    const int unit = scope < 0 ? -1 : one_of(t, f[UNIT], "unit", UNIT_WORDS, ST_RULE_NUNIT, problem);
    const int standing = unit < 0 ? -1 : one_of(t, f[STANDING], "standing", STANDING_WORDS, 4, problem);
    const int asks = standing < 0 ? -1 : one_of(t, f[ASKS], "word for what it asks", ASKS_WORDS, 2, problem);
    if (asks < 0)
        return -1;
    r->scope = (enum st_rule_scope)scope;
    r->unit = (enum st_rule_unit)unit;
    r->in_force = standing == 0;
    r->at_least = asks == 1;
    r->places = st_rule_places(f[PLACES]);
    if (!r->places)
        return st_table_problem(t, problem, "take eu, uk, us, au, nz, ca, health or old", "no such place: `%.40s`",
                                f[PLACES]);
    if ((r->places & ST_PLACE_OLD) && r->in_force)
        return st_table_problem(t, problem, "write repealed, or name the place", "an old rule cannot be in force");
    return 0;
}

static int figures(const struct st_table *t, const char *const f[NFIELD], struct st_rule *r, struct st_problem *problem)
{
    double year;
    if (st_table_number(t, f[YEAR], "year", 1900.0, 2200.0, &year, problem) ||
        st_rule_mark(t, f[MARK], &r->mark, problem))
        return -1;
    r->year = (int)year;
    r->limit = (double)NAN;
    if (r->unit != ST_RULE_PRESENT)
        return st_table_number(t, f[LIMIT], "limit", 0.0, 1e6, &r->limit, problem);
    return *f[LIMIT] ? st_table_problem(t, problem, "leave it empty", "where the unit is `present` there is no limit")
                     : 0;
}

static int one_rule(const struct st_table *t, const char *const f[NFIELD], struct st_rule_reading *w,
                    struct st_problem *problem)
{
    struct st_rule *r = &w->rule[w->all.n_rule];
    *r = (struct st_rule){ .id = f[ID],
                           .document = f[DOCUMENT],
                           .article = f[ARTICLE],
                           .toxicant = f[TOXICANT],
                           .plant = f[PLANT],
                           .says = f[SAYS],
                           .source = f[SOURCE] };
    if (needed(t, f, &w->all, problem) || words(t, f, r, problem) || figures(t, f, r, problem))
        return -1;
    w->all.n_rule++;
    return 0;
}

int st_rule_rows_read(struct st_rule_reading *w, struct st_problem *problem)
{
    struct st_table t;
    const char *f[NFIELD];
    int got = st_table_open(&t, "rules.tsv", w->text[ST_SHEET_RULES], COLUMN, NFIELD, problem);
    if (got)
        return -1;
    while ((got = st_table_next(&t, f, problem)) > 0) {
        w->rule = x_realloc_array(w->rule, (size_t)w->all.n_rule + 1, sizeof *w->rule);
        w->all.rule = w->rule;
        if (one_rule(&t, f, w, problem))
            return -1;
    }
    return got;
}
