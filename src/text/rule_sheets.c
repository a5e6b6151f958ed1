#include "rule_sheets.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rule_sheets_inside.h"
#include "util/memory.h"

const char *st_rule_sheet_name(enum st_rule_sheet s)
{
    static const char *const NAME[ST_NRULE_SHEET] = { "data/toxicants.tsv", "data/contents.tsv", "data/rules.tsv" };
    return NAME[s];
}

/* ---- what all three ask of a field ---- */

int st_rule_need(const struct st_table *t, const char *field, const char *what, struct st_problem *problem)
{
    return *field ? 0 : st_table_problem(t, problem, "write it", "the field `%s` is empty", what);
}

int st_rule_mark(const struct st_table *t, const char *field, char *mark, struct st_problem *problem)
{
    if (!*field || field[1] || !strchr("rsmc", *field))
        return st_table_problem(t, problem, "write r (read), s (second hand), m (from memory) or c (computed)",
                                "there is no mark `%.20s`", field);
    *mark = *field;
    return 0;
}

int st_rule_toxicant(const struct st_table *t, const struct st_rule_books *b, const char *slug,
                     struct st_problem *problem)
{
    for (int i = 0; i < b->n_toxicant; i++)
        if (strcmp(b->toxicant[i].slug, slug) == 0)
            return 0;
    return st_table_problem(t, problem, "give it a row in toxicants.tsv first", "there is no toxicant `%.60s`", slug);
}

/* ---- toxicants ---- */

enum { SLUG, NAME, FLAGS, HARM, TOX_MARK, TOX_SOURCE, NTOX };
static const char *const TOX_COLUMN[NTOX] = { "slug", "name", "flags", "harm", "mark", "source" };

static int toxicant(const struct st_table *t, const char *const f[NTOX], struct st_rule_reading *w,
                    struct st_problem *problem)
{
    struct st_toxicant *x = &w->toxicant[w->all.n_toxicant];
    for (int i = 0; i < NTOX; i++)
        if (st_rule_need(t, f[i], TOX_COLUMN[i], problem))
            return -1;
    for (int i = 0; i < w->all.n_toxicant; i++)
        if (strcmp(w->toxicant[i].slug, f[SLUG]) == 0)
            return st_table_problem(t, problem, "keep one of the two", "the toxicant `%.60s` stands twice", f[SLUG]);
    *x = (struct st_toxicant){
        .slug = f[SLUG], .name = f[NAME], .flags = f[FLAGS], .harm = f[HARM], .source = f[TOX_SOURCE]
    };
    if (st_rule_mark(t, f[TOX_MARK], &x->mark, problem))
        return -1;
    w->all.n_toxicant++;
    return 0;
}

static int read_toxicants(struct st_rule_reading *w, struct st_problem *problem)
{
    struct st_table t;
    const char *f[NTOX];
    int got = st_table_open(&t, "toxicants.tsv", w->text[ST_SHEET_TOXICANTS], TOX_COLUMN, NTOX, problem);
    if (got)
        return -1;
    while ((got = st_table_next(&t, f, problem)) > 0) {
        w->toxicant = x_realloc_array(w->toxicant, (size_t)w->all.n_toxicant + 1, sizeof *w->toxicant);
        w->all.toxicant = w->toxicant;
        if (toxicant(&t, f, w, problem))
            return -1;
    }
    return got;
}

/* ---- contents ---- */

enum { INGREDIENT, FLAG, DEGREE, TOXICANT, FOUND, CEILING, STONES, THROUGH, MARK, SOURCE, NOTE, NCONTENT };
static const char *const CONTENT_COLUMN[NCONTENT] = { "ingredient",  "flag",          "degree", "toxicant",
                                                      "found_mg_kg", "ceiling_mg_kg", "stones", "through",
                                                      "mark",        "source",        "note" };
static const double MOST_MG_KG = 1e6; /* all of it */

/* "1630..2934", or "" for not told. */
static int found(const struct st_table *t, const char *text, struct st_range *out, struct st_problem *problem)
{
    char first[24];
    double low, high;
    const char *dots = strstr(text, "..");
    *out = (struct st_range){ .known = false };
    if (!*text)
        return 0;
    const size_t n = dots ? (size_t)(dots - text) : 0;
    if (n == 0 || n >= sizeof first)
        return st_table_problem(t, problem, "write for example 24..30", "found_mg_kg is no range: `%.40s`", text);
    memcpy(first, text, n);
    first[n] = '\0';
    if (st_table_number(t, first, "found_mg_kg", 0.0, MOST_MG_KG, &low, problem) ||
        st_table_number(t, dots + 2, "found_mg_kg", low, MOST_MG_KG, &high, problem))
        return -1;
    *out = (struct st_range){ .known = true, .value = 0.5 * (low + high), .low = low, .high = high };
    return 0;
}

static int content_words(const struct st_table *t, const char *const f[NCONTENT], const struct st_rule_books *b,
                         struct st_content *c, struct st_problem *problem)
{
    static const int NEEDED[] = { INGREDIENT, FLAG, TOXICANT, SOURCE };
    for (size_t i = 0; i < sizeof NEEDED / sizeof NEEDED[0]; i++)
        if (st_rule_need(t, f[NEEDED[i]], CONTENT_COLUMN[NEEDED[i]], problem))
            return -1;
    *c = (struct st_content){ .flag = f[FLAG],
                              .degree = f[DEGREE],
                              .toxicant = f[TOXICANT],
                              .ceiling_mg_kg = (double)NAN,
                              .through = f[THROUGH],
                              .source = f[SOURCE],
                              .note = f[NOTE] };
    return st_rule_toxicant(t, b, f[TOXICANT], problem) || st_rule_mark(t, f[MARK], &c->mark, problem) ? -1 : 0;
}

static int content_figures(const struct st_table *t, const char *const f[NCONTENT], struct st_content *c,
                           struct st_problem *problem)
{
    if (found(t, f[FOUND], &c->found_mg_kg, problem))
        return -1;
    if (*f[STONES] && strcmp(f[STONES], "opened") != 0)
        return st_table_problem(t, problem, "write opened, or leave it empty", "stones are not `%.20s`", f[STONES]);
    c->stones = *f[STONES] != '\0';
    if (!*f[CEILING])
        return *f[THROUGH] ? st_table_problem(t, problem, "write what it comes to", "it says how, but has no ceiling")
                           : 0;
    if (st_table_number(t, f[CEILING], "ceiling_mg_kg", 0.0, MOST_MG_KG, &c->ceiling_mg_kg, problem))
        return -1;
    if (c->found_mg_kg.known && c->found_mg_kg.high > c->ceiling_mg_kg)
        return st_table_problem(t, problem, "raise the ceiling to it", "more was found than the ceiling says");
    return 0;
}

/* One of each ingredient of the list, which is cut in place; "any" becomes "". */
static int keep_each(const struct st_table *t, char *list, const struct st_content *c, struct st_rule_reading *w,
                     struct st_problem *problem)
{
    int *n = &w->all.n_content;
    for (char *at = list; *at;) {
        char *end = at + strcspn(at, ", ");
        char *next = end + strspn(end, ", ");
        *end = '\0';
        w->content = x_realloc_array(w->content, (size_t)*n + 1, sizeof *w->content);
        w->all.content = w->content;
        w->content[*n] = *c;
        w->content[*n].ingredient = strcmp(at, "any") == 0 ? "" : at;
        for (int i = 0; i < *n; i++) {
            const struct st_content *o = &w->content[i];
            if (strcmp(o->ingredient, w->content[*n].ingredient) == 0 && strcmp(o->flag, c->flag) == 0 &&
                strcmp(o->degree, c->degree) == 0 && strcmp(o->toxicant, c->toxicant) == 0)
                return st_table_problem(t, problem, "keep one of the two", "%.60s has two rows for this toxicant", at);
        }
        ++*n;
        at = next;
    }
    return 0;
}

static int read_contents(struct st_rule_reading *w, struct st_problem *problem)
{
    struct st_table t;
    const char *f[NCONTENT];
    char *text = w->text[ST_SHEET_CONTENTS];
    int got = st_table_open(&t, "contents.tsv", text, CONTENT_COLUMN, NCONTENT, problem);
    if (got)
        return -1;
    while ((got = st_table_next(&t, f, problem)) > 0) {
        struct st_content c;
        if (content_words(&t, f, &w->all, &c, problem) || content_figures(&t, f, &c, problem) ||
            keep_each(&t, text + (f[INGREDIENT] - text), &c, w, problem))
            return -1;
    }
    return got;
}

/* ---- all three ---- */

struct st_rule_books *st_rule_books_create(const struct st_rule_text text[ST_NRULE_SHEET], enum st_rule_sheet *wrong,
                                           struct st_problem *problem)
{
    static int (*const READ[ST_NRULE_SHEET])(
        struct st_rule_reading *, struct st_problem *) = { read_toxicants, read_contents, st_rule_rows_read };
    struct st_rule_reading *w = x_calloc(1, sizeof *w);
    for (int s = 0; s < ST_NRULE_SHEET; s++)
        w->text[s] = x_strndup(text[s].text, text[s].size);
    for (int s = 0; s < ST_NRULE_SHEET; s++)
        if (READ[s](w, problem)) {
            if (wrong)
                *wrong = (enum st_rule_sheet)s;
            st_rule_books_free(&w->all);
            return NULL;
        }
    return &w->all;
}

void st_rule_books_free(struct st_rule_books *b)
{
    struct st_rule_reading *w = (struct st_rule_reading *)b;
    if (!w)
        return;
    for (int s = 0; s < ST_NRULE_SHEET; s++)
        free(w->text[s]);
    free(w->toxicant);
    free(w->content);
    free(w->rule);
    free(w);
}
