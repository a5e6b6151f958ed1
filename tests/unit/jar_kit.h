#ifndef ST_TESTS_JAR_KIT_H
#define ST_TESTS_JAR_KIT_H

/* The sheets that jars are made with, and small words for tests of jars. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "model/jar.h"
#include "text/compounds.h"
#include "text/habits.h"
#include "text/ingredients.h"
#include "util/file.h"

/* cmocka compares floats only. */
#define assert_about(a, b, within)                                                                                     \
    do {                                                                                                               \
        const double about_a = (a), about_b = (b);                                                                     \
        if (!(fabs(about_a - about_b) <= (within)))                                                                    \
            fail_msg("%s is %.9g, wanted %.9g within %g", #a, about_a, about_b, (double)(within));                     \
    } while (0)

#define DAY 86400.0

static struct st_buf kit_sheet, kit_markers, kit_rows;
static struct st_catalogue *kit_all;
static struct st_compounds *kit_compounds;
static struct st_habits *kit_habits;
static struct st_jar_books kit_books;

static inline int kit_load(void **state)
{
    struct st_problem p = { 0 };
    (void)state;
    if (st_file_read("data/ingredients.sheet", 4u << 20, &kit_sheet) ||
        st_file_read("data/markers.tsv", 1u << 20, &kit_markers) ||
        st_file_read("data/habits.tsv", 1u << 20, &kit_rows))
        return -1;
    kit_all = st_catalogue_create(st_buf_text(&kit_sheet), kit_sheet.length, &p);
    kit_compounds = kit_all ? st_compounds_create(st_buf_text(&kit_markers), kit_markers.length, &p) : NULL;
    kit_habits = kit_compounds ? st_habits_create(st_buf_text(&kit_rows), kit_rows.length, kit_compounds, &p) : NULL;
    if (!kit_habits)
        print_error("%d:%d: %s: %s; %s\n", p.at.line, p.at.column, p.what, p.why, p.try_);
    kit_books = (struct st_jar_books){ kit_habits, kit_compounds, NULL };
    return kit_habits ? 0 : -1;
}

static inline int kit_unload(void **state)
{
    (void)state;
    st_habits_free(kit_habits);
    st_compounds_free(kit_compounds);
    st_catalogue_free(kit_all);
    st_buf_done(&kit_sheet);
    st_buf_done(&kit_markers);
    st_buf_done(&kit_rows);
    return 0;
}

static inline const struct st_ingredient *kit_must(const char *name)
{
    const struct st_ingredient *in = st_catalogue_find(kit_all, name, strlen(name));
    if (!in)
        fail_msg("'%s' is not found", name);
    return in;
}

static inline struct st_jar_piece *kit_add(struct st_jar *j, const char *name, double g, int stage)
{
    struct st_jar_piece *p = st_jar_add(j, kit_must(name), g, stage);
    if (!p)
        fail_msg("no room for %s", name);
    return p;
}

static inline void kit_run(const struct st_jar *j, const struct st_jar_options *o, struct st_jar_told *t)
{
    const enum st_status s = st_jar_run(j, o, t);
    if (s < 0)
        fail_msg("the jar does not run: %s", st_status_text(s));
}

/* The curve of a piece by its name; what begins with it is enough. */
static inline const struct st_jar_curve *kit_curve(const struct st_jar_told *t, int piece, const char *name)
{
    for (int i = 0; i < t->n_curve; i++)
        if (t->curve[i].piece == piece && strncmp(t->curve[i].name, name, strlen(name)) == 0)
            return &t->curve[i];
    fail_msg("piece %d has no curve of %s", piece, name);
    return NULL;
}

/* Its share at the last told time that is not after t_s. */
static inline double kit_share(const struct st_jar_told *t, const struct st_jar_curve *c, double t_s)
{
    int at = 0;
    for (int i = 0; i < t->n_time; i++)
        if (t->t_s[i] <= t_s * (1.0 + 1e-9))
            at = i;
    return c->share.at[at].value;
}

#endif
