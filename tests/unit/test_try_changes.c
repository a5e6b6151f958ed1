/* The difference of two tries: what was changed, what each change does by itself, and that the list is whole. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "catalogue_kit.h"
#include "plan_kit.h"
#include "text/recipe_yaml.h"
#include "text/try_changes.h"

/* Invented. */
static const char BASE[] = "title: Invented\n"
                           "measures: metric\n"
                           "currency: EUR\n"
                           "steps:\n"
                           "  - steep: jar\n"
                           "    words: Turn it now and then.\n"
                           "    vessel: 2 L jar\n"
                           "    add:\n"
                           "      - {line: \"500 g quinces, as bought\", trimmed: 80 %, price: 2.00}\n"
                           "      - 4 g cloves\n"
                           "      - {line: 700 mL vodka 40 %, price: 15.40}\n"
                           "    for: 4 weeks\n"
                           "    at: 20 °C\n"
                           "  - syrup: syrup\n"
                           "    add: [230 g sugar, 150 mL water]\n"
                           "  - blend: drink\n"
                           "    add: [all of jar, all of syrup]\n"
                           "  - rest: rested\n"
                           "    for: 1 month\n"
                           "  - bottle: bottles\n"
                           "    size: 500 mL\n";

struct two {
    struct st_catalogue *c[2];
    struct st_recipe_file file[2];
    struct st_try_changes changes;
};

static void read_one(struct two *t, int side, const char *text)
{
    struct st_problem p;
    t->c[side] = st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
    if (st_recipe_read("test", text, strlen(text), t->c[side], &t->file[side]) != 0)
        fail_msg("%s: %s\n%s", t->file[side].problem[0].what, t->file[side].problem[0].why, text);
}

static void compare(struct two *t, const char *a, const char *b)
{
    read_one(t, 0, a);
    read_one(t, 1, b);
    st_try_changes(&t->file[0].recipe, &t->file[1].recipe, NULL, NULL, 1, ST_MEASURES_METRIC, &t->changes);
}

static void drop(struct two *t)
{
    st_try_changes_done(&t->changes);
    for (int i = 0; i < 2; i++) {
        st_recipe_done(&t->file[i]);
        st_catalogue_free(t->c[i]);
    }
}

/* text with `was` replaced by `is`; the caller frees. */
static char *with(const char *text, const char *was, const char *is)
{
    struct st_buf out = { 0 };
    const char *at = strstr(text, was);
    if (!at)
        fail_msg("'%s' is not in the recipe", was);
    st_buf_add_n(&out, text, (size_t)(at - text));
    st_buf_add(&out, is);
    st_buf_add(&out, at + strlen(was));
    return st_buf_take(&out);
}

static void same_recipe_says_so(void **state)
{
    (void)state;
    struct two t = { 0 };
    struct st_buf out = { 0 };
    compare(&t, BASE, BASE);
    assert_int_equal(t.changes.n, 0);
    st_try_changes_print(&t.changes, &out);
    assert_string_equal(st_buf_text(&out), "Nothing changed.\n");
    drop(&t);
    char *b = with(BASE, "[230 g sugar, 150 mL water]", "[150 mL water, 0.23 kg sugar]"); /* the same, said otherwise */
    compare(&t, BASE, b);
    assert_int_equal(t.changes.n, t.changes.n_wording);
    drop(&t);
    free(b);
    st_buf_done(&out);
}

/* One change each: what it is called, and words that its sentence has. */
static const struct {
    const char *was, *is;
    enum st_try_what what;
    const char *text;
} ONE[] = {
    { "230 g sugar", "200 g sugar", ST_TRY_AMOUNT, "30 g less white sugar (200 g instead of 230 g)" },
    { "150 mL water", "150 mL water, 10 g honey", ST_TRY_ADDED, "10 g honey added to syrup" },
    { "      - 4 g cloves\n", "", ST_TRY_LEFT_OUT, "4 g clove bud left out of jar" },
    { "4 g cloves", "4 g crushed cloves", ST_TRY_CUT, "crushed instead of whole" },
    { "line: 700 mL vodka 40 %", "line: 700 mL vodka 50 %", ST_TRY_STRENGTH, "50 % instead of 40 %" },
    { "line: 700 mL vodka 40 %", "line: 700 mL rum 40 %", ST_TRY_INSTEAD, "700 mL vodka 40 %" },
    { "230 g sugar", "230 g honey", ST_TRY_INSTEAD, "230 g honey instead of 230 g" },
    { "trimmed: 80 %", "trimmed: 90 %", ST_TRY_TRIMMED, "90 % left after trimming" },
    { "price: 2.00", "price: 3.00", ST_TRY_PRICE, "3.00 EUR" },
    { "for: 4 weeks", "for: 6 weeks", ST_TRY_TIME, "6 weeks instead of 4 weeks" },
    { "at: 20 °C", "at: 12 °C", ST_TRY_TEMPERATURE, "12 °C instead of 20 °C" },
    { "at: 20 °C", "at: 20 °C\n    press: yes", ST_TRY_PRESS, "pressed instead of not pressed" },
    { "at: 20 °C", "at: 20 °C\n    drained: 400 g", ST_TRY_DRAINED, "400 g instead of not weighed" },
    { "at: 20 °C", "at: 20 °C\n    exchanged: 80 %", ST_TRY_EXCHANGED, "80 % instead of the usual" },
    { "2 L jar", "3 L jar", ST_TRY_VESSEL, "3 L instead of 2 L" },
    { "[230 g sugar, 150 mL water]", "[230 g sugar, 150 mL water]\n    boil_off: 30 g", ST_TRY_BOIL,
      "30 g boiled off" },
    { "for: 1 month", "for: 1 month\n    loss: 4 %", ST_TRY_LOSS, "4 % instead of the usual" },
    { "size: 500 mL", "size: 350 mL", ST_TRY_BOTTLE, "350 mL instead of" },
    { "  - rest: rested\n    for: 1 month\n", "", ST_TRY_STEP_LEFT_OUT, "rested" },
    { "currency: EUR", "currency: USD", ST_TRY_CURRENCY, "USD instead of EUR" },
    { "measures: metric\n", "measures: metric\nwish: {strength: 20-22 %}\n", ST_TRY_WISH, "20 to 22" },
    { "measures: metric\n", "measures: metric\nserving: 50 mL\n", ST_TRY_SERVING, "50 mL instead of 40 mL" },
    { "measures: metric\n", "measures: metric\ntools: {scale: 5 g}\n", ST_TRY_TOOLS, "tools" },
    { "measures: metric\n", "measures: metric\ningredients: {quinces: {sugars: 12 %}}\n", ST_TRY_FIGURES, "quince" },
    { "title: Invented", "title: Otherwise", ST_TRY_TITLE, "Otherwise" },
    { "Turn it now and then.", "Leave it.", ST_TRY_WORDS, "Leave it" },
    { "rest: rested", "rest: aged", ST_TRY_NAME, "aged" },
};

static const struct st_try_change *the(const struct st_try_changes *c, enum st_try_what what)
{
    for (int i = 0; i < c->n; i++)
        if (c->change[i].what == what)
            return &c->change[i];
    return NULL;
}

static void one_change_is_told_as_one(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof ONE / sizeof *ONE; i++) {
        struct two t = { 0 };
        char *b = with(BASE, ONE[i].was, ONE[i].is);
        compare(&t, BASE, b);
        const struct st_try_change *x = the(&t.changes, ONE[i].what);
        if (!x || !strstr(x->text, ONE[i].text))
            fail_msg("'%s' became '%s', and is told as '%s'", ONE[i].was, ONE[i].is,
                     x             ? x->text
                     : t.changes.n ? t.changes.change[0].text
                                   : "nothing");
        if (*t.changes.why.what)
            fail_msg("%s: %s", t.changes.why.what, t.changes.why.why);
        int deeds = 0;
        for (int k = 0; k < t.changes.n; k++)
            deeds += !t.changes.change[k].whole && t.changes.change[k].what != ONE[i].what;
        if (deeds)
            fail_msg("'%s' became '%s': told as %d other changes too (%s)", ONE[i].was, ONE[i].is, deeds,
                     t.changes.change[0].text);
        drop(&t);
        free(b);
    }
}

static double sugar_of(const struct st_recipe *r)
{
    struct st_problem p;
    struct st_foretold f;
    const struct st_options o = { .seed = 1 };
    struct st_plan *plan = st_plan_create(r, &p);
    assert_non_null(plan);
    assert_true(st_plan_run(plan, &o, &f) >= 0);
    const double x = f.fig[ST_FIG_SUGAR].value;
    st_foretold_done(&f);
    st_plan_free(plan);
    return x;
}

/* A single change by itself is the recipe so written, foretold on its own. */
static void alone_is_the_recipe_so_written(void **state)
{
    (void)state;
    struct two t = { 0 }, u = { 0 };
    char *less = with(BASE, "230 g sugar", "200 g sugar"), *both = with(less, "700 mL vodka", "600 mL vodka");
    char want[80];
    compare(&t, BASE, both);
    read_one(&u, 0, less);
    const double sugar = sugar_of(&u.file[0].recipe), before = sugar_of(&t.file[0].recipe);
    const struct st_try_change *x = NULL;
    for (int i = 0; i < t.changes.n; i++)
        if (strstr(t.changes.change[i].text, "less white sugar"))
            x = &t.changes.change[i];
    assert_non_null(x);
    assert_true(fabs(x->y[ST_FIG_SUGAR] - sugar) <= 1e-9 * sugar);
    snprintf(want, sizeof want, "sugar %.0f -> %.0f g/L", before, sugar);
    if (!strstr(x->does, want))
        fail_msg("'%s' is not in '%s'", want, x->does);
    assert_true(sugar < before);
    assert_true(x->alone == ST_TRY_RUN);
    for (int i = 1; i < t.changes.n; i++) /* the largest first */
        assert_true(t.changes.change[i - 1].weight >= t.changes.change[i].weight);
    /* together: the second recipe, not the sum */
    double joint = 0.0;
    for (int i = 0; i < t.changes.n_figure; i++)
        if (t.changes.figure[i].of == ST_FIG_SUGAR)
            joint = t.changes.figure[i].is[1].value;
    assert_true(fabs(joint - sugar_of(&t.file[1].recipe)) <= 1e-9 * sugar);
    drop(&t);
    st_recipe_done(&u.file[0]);
    st_catalogue_free(u.c[0]);
    free(less);
    free(both);
}

static void foretell(const struct st_recipe *r, struct st_foretold *f)
{
    struct st_problem p;
    const struct st_options o = { .seed = 1, .draws = 2000 };
    struct st_plan *plan = st_plan_create(r, &p);
    assert_non_null(plan);
    assert_true(st_plan_run(plan, &o, f) >= 0);
    st_plan_free(plan);
}

static const struct st_try_figure *figure_of(const struct st_try_changes *c, enum st_figure of)
{
    for (int i = 0; i < c->n_figure; i++)
        if (c->figure[i].of == of)
            return &c->figure[i];
    fail_msg("nothing is said of %s", st_figure_info(of)->name);
    return NULL;
}

/* With draws. */
static void compare_drawn(struct two *t, const char *a, const char *b)
{
    struct st_foretold f[2];
    memset(t, 0, sizeof *t);
    read_one(t, 0, a);
    read_one(t, 1, b);
    foretell(&t->file[0].recipe, &f[0]);
    foretell(&t->file[1].recipe, &f[1]);
    st_try_changes(&t->file[0].recipe, &t->file[1].recipe, &f[0], &f[1], 1, ST_MEASURES_METRIC, &t->changes);
    st_foretold_done(&f[0]);
    st_foretold_done(&f[1]);
}

static double width(const struct st_interval *x)
{
    return x->high - x->low;
}

static bool meet(const struct st_try_figure *g)
{
    return g->is[0].low <= g->is[1].high && g->is[1].low <= g->is[0].high;
}

/* The same fruit in both: what nobody knows of it cancels, and 30 g of sugar are told though the two drinks by
 * themselves could be one. */
static void shared_doubts_cancel(void **state)
{
    (void)state;
    struct two t;
    char *less = with(BASE, "230 g sugar", "200 g sugar");
    compare_drawn(&t, BASE, less);
    const struct st_try_figure *g = figure_of(&t.changes, ST_FIG_SUGAR);
    assert_true(meet(g));
    assert_true(g->told);
    assert_true(g->by.high < 0.0);
    assert_true(width(&g->by) < 0.25 * width(&g->is[0]));
    assert_non_null(strstr(g->text, "g/L less sugar, likely between "));
    assert_true(fabs(g->by.value - (g->is[1].value - g->is[0].value)) < 1e-9 * g->is[0].value);
    drop(&t);
    free(less);
}

/* Another lot of fruit with its own doubt: nothing cancels, and what the two differ by is as unsure as both together. */
static void other_fruit_has_its_own_doubt(void **state)
{
    (void)state;
    struct two t, u;
    char *a = with(BASE, "measures: metric\n", "measures: metric\ningredients: {quinces: {sugars: 8-14 %}}\n"),
         *less = with(a, "230 g sugar", "200 g sugar"), *lot = with(less, "sugars: 8-14 %", "sugars: 8-14.2 %");
    compare_drawn(&t, a, less);
    compare_drawn(&u, a, lot);
    const struct st_try_figure *same = figure_of(&t.changes, ST_FIG_SUGAR),
                               *other = figure_of(&u.changes, ST_FIG_SUGAR);
    assert_true(width(&other->by) > 2.0 * width(&same->by));
    /* independent halves add as squares do; what is left shared (the liquor that the fruit keeps) makes it less */
    assert_true(width(&other->by) < hypot(width(&other->is[0]), width(&other->is[1])));
    assert_true(same->told);
    drop(&t);
    drop(&u);
    free(a);
    free(less);
    free(lot);
}

/* One weighed line each: shared figures of the scale aside, what is read twice is read with two errors. */
static void each_making_is_weighed_anew(void **state)
{
    (void)state;
    struct two t;
    char *cup = with(BASE, "230 g sugar", "1 cup sugar"), *cups = with(BASE, "230 g sugar", "1 1/8 cups sugar");
    compare_drawn(&t, cup, cups);
    const struct st_try_figure *g = figure_of(&t.changes, ST_FIG_SUGAR);
    assert_true(width(&g->by) > 0.15 * g->by.value); /* a cup is filled twice: not the same filling */
    drop(&t);
    free(cup);
    free(cups);
}

static void what_is_too_little_could_not_be_told(void **state)
{
    (void)state;
    struct two t;
    /* two grams more, against what one filling of a cup may differ by from the next */
    char *cup = with(BASE, "[230 g sugar, 150 mL water]", "[1 cup sugar, 150 mL water]"),
         *knife = with(BASE, "[230 g sugar, 150 mL water]", "[1 cup sugar, 2 g sugar, 150 mL water]");
    compare_drawn(&t, cup, knife);
    const struct st_try_figure *g = figure_of(&t.changes, ST_FIG_SUGAR);
    assert_false(g->told);
    assert_true(g->by.low < 0.0 && g->by.high > 0.0);
    assert_non_null(strstr(g->text, "no difference that could be told, likely between "));
    assert_non_null(strstr(g->text, " less and "));
    drop(&t);
    free(cup);
    free(knife);
}

/* Strength, acid and volume go the same way. */
static void other_figures_are_told_too(void **state)
{
    (void)state;
    static const struct {
        const char *was, *is;
        enum st_figure of;
        const char *text;
    } CASE[] = {
        { "line: 700 mL vodka 40 %", "line: 700 mL vodka 43 %", ST_FIG_STRENGTH, "% vol stronger, likely between " },
        { "150 mL water", "190 mL water", ST_FIG_VOLUME, "mL more, likely between " },
        { "150 mL water", "150 mL water, 5 g citric acid", ST_FIG_ACID, "g/L more acid, likely between " },
        { "150 mL water", "190 mL water", ST_FIG_STRENGTH, "% vol weaker, likely between " },
        { "500 g quinces", "600 g quinces", ST_FIG_ACID, "g/L more acid, likely between " },
    };
    for (size_t i = 0; i < sizeof CASE / sizeof *CASE; i++) {
        struct two t;
        char *b = with(BASE, CASE[i].was, CASE[i].is);
        compare_drawn(&t, BASE, b);
        const struct st_try_figure *g = figure_of(&t.changes, CASE[i].of);
        if (!g->told || !strstr(g->text, CASE[i].text))
            fail_msg("'%s' -> '%s': %s", CASE[i].was, CASE[i].is, g->text);
        assert_true(width(&g->by) < width(&g->is[0]));
        drop(&t);
        free(b);
    }
}

/* The same recipe under other names of its steps hangs on the same unknowns. */
static void a_name_is_no_doubt(void **state)
{
    (void)state;
    struct two t, u;
    char *less = with(BASE, "230 g sugar", "200 g sugar"), *named = with(less, "steep: jar", "steep: first"),
         *so = with(named, "all of jar", "all of first");
    compare_drawn(&t, BASE, less);
    compare_drawn(&u, BASE, so);
    assert_true(width(&figure_of(&t.changes, ST_FIG_SUGAR)->by) == width(&figure_of(&u.changes, ST_FIG_SUGAR)->by));
    drop(&t);
    drop(&u);
    free(less);
    free(named);
    free(so);
}

static void words_changed_alike_are_told_once(void **state)
{
    (void)state;
    struct two t = { 0 };
    struct st_buf out = { 0 };
    char *a1 = with(BASE, "Turn it now and then.", "Steep, strain and bottle."),
         *a = with(a1, "  - rest: rested\n", "  - rest: rested\n    words: Steep, strain and bottle.\n"),
         *b1 = with(BASE, "Turn it now and then.", "Leave it, sieve it, bottle it."),
         *b = with(b1, "  - rest: rested\n", "  - rest: rested\n    words: Leave it, sieve it, bottle it.\n");
    compare(&t, a, b);
    st_try_changes_print(&t.changes, &out);
    assert_non_null(strstr(st_buf_text(&out), "Words of jar and rested: \"Leave it, sieve it, bottle it.\""));
    const char *first = strstr(st_buf_text(&out), "Leave it");
    assert_null(strstr(first + 1, "Leave it"));
    st_buf_done(&out);
    drop(&t);
    free(a1);
    free(a);
    free(b1);
    free(b);
}

static void moved_and_renamed(void **state)
{
    (void)state;
    struct two t = { 0 };
    char *moved = with(BASE, "      - 4 g cloves\n", ""),
         *there = with(moved, "150 mL water", "150 mL water, 4 g cloves");
    compare(&t, BASE, there);
    assert_int_equal(t.changes.n, 1);
    assert_int_equal(t.changes.change[0].what, ST_TRY_MOVED);
    assert_non_null(strstr(t.changes.change[0].text, "goes into syrup instead of jar"));
    drop(&t);
    char *named = with(BASE, "steep: jar", "steep: first"), *so = with(named, "all of jar", "all of first");
    compare(&t, BASE, so);
    assert_int_equal(t.changes.n, 1);
    assert_int_equal(t.changes.change[0].what, ST_TRY_NAME);
    drop(&t);
    char *new = with(BASE, "  - blend: drink\n",
                     "  - steep: second\n    add: [fruit of jar, 200 mL vodka 40 %]\n    for: 1 "
                     "week\n  - blend: drink\n"),
         *taken = with(new, "[all of jar, all of syrup]", "[all of jar, all of second, all of syrup]");
    compare(&t, BASE, taken);
    const struct st_try_change *x = the(&t.changes, ST_TRY_STEP_ADDED);
    assert_non_null(x);
    assert_true(x->alone == ST_TRY_RUN || x->alone == ST_TRY_TOGETHER);
    assert_non_null(strstr(x->text, "200 mL vodka 40 %"));
    int n = 0; /* the new step and what takes from it are one change, run once */
    for (int i = 0; i < t.changes.n; i++)
        n += t.changes.change[i].alone == ST_TRY_RUN;
    assert_int_equal(n, 1);
    drop(&t);
    char *turned = with(BASE, "[230 g sugar, 150 mL water]", "[230 g sugar, water to 300 mL]"),
         *back = with(BASE, "[230 g sugar, 150 mL water]", "[water to 300 mL, 230 g sugar]");
    compare(&t, turned, back); /* what is filled up before the sugar is more */
    assert_non_null(the(&t.changes, ST_TRY_ORDER));
    drop(&t);
    char *texts[] = { moved, there, named, so, new, taken, turned, back };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        free(texts[i]);
}

/* What cannot be foretold is still told. */
static void without_figures(void **state)
{
    (void)state;
    struct two t = { 0 };
    struct st_buf out = { 0 };
    char *odd = with(BASE, "steps:\n", "ingredients: {odd root: {kind: root_dry, sugars: 0 %}}\nsteps:\n"),
         *bad = with(odd, "4 g cloves", "1 L odd root"), *less = with(bad, "230 g", "200 g");
    read_one(&t, 0, bad); /* nobody has weighed a litre of it */
    read_one(&t, 1, less);
    st_try_changes(&t.file[0].recipe, &t.file[1].recipe, NULL, NULL, 1, ST_MEASURES_US, &t.changes);
    st_try_changes_print(&t.changes, &out);
    assert_non_null(strstr(st_buf_text(&out), "30 g less white sugar"));
    assert_non_null(strstr(st_buf_text(&out), "cannot be told"));
    assert_int_equal(t.changes.n_figure, 0);
    drop(&t);
    free(odd);
    free(bad);
    free(less);
    st_buf_done(&out);
}

/* ---- hundreds of random pairs ---- */

static uint64_t dice;

static int roll(int n)
{
    dice = dice * 6364136223846793005u + 1442695040888963407u;
    return (int)((dice >> 33) % (uint64_t)n);
}

enum { POOL = 8, STEPS = 8, LINES = 12 };
static struct st_ingredient pool[POOL];

struct made {
    struct st_recipe r;
    struct st_step step[STEPS];
    struct st_line line[STEPS][LINES];
};

static const char *const IDS[] = { "jar", "syrup", "drink", "rested", "clear", "late", "new", "other" };

static struct st_line random_line(void)
{
    struct st_line l = kit_line(&pool[roll(POOL)], roll(2) ? kit_g(10 + roll(40)) : kit_ml(10 + roll(40)));
    l.text = "a line";
    return l;
}

static void fix(struct made *m)
{
    for (int s = 0; s < m->r.n_step; s++)
        m->step[s].line = m->line[s];
    m->r.step = m->step;
}

static void make(struct made *m)
{
    const enum st_do kind[] = { ST_DO_STEEP, ST_DO_SYRUP, ST_DO_BLEND, ST_DO_REST, ST_DO_FILTER };
    memset(m, 0, sizeof *m);
    for (int s = 0; s < 5; s++) {
        m->step[s] = kit_step(IDS[s], kind[s], m->line[s], 0);
        for (int n = s < 2 ? 2 + roll(4) : 0; n > 0; n--)
            m->line[s][m->step[s].n_line++] = random_line();
    }
    m->line[2][0] = kit_from(0, ST_LIQUOR, kit_all());
    m->line[2][1] = kit_from(1, ST_LIQUOR, kit_all());
    m->step[2].n_line = 2;
    m->line[3][0] = kit_from(2, ST_LIQUOR, kit_all());
    m->line[4][0] = kit_from(3, ST_LIQUOR, kit_all());
    m->step[3].n_line = m->step[4].n_line = 1;
    m->r = kit_recipe(m->step, 5);
    fix(m);
}

static void out_of(struct made *m, int s, int i)
{
    for (int k = i; k + 1 < m->step[s].n_line; k++)
        m->line[s][k] = m->line[s][k + 1];
    m->step[s].n_line--;
}

/* One step more before the last: what the last took, it takes. */
static void one_more(struct made *m)
{
    const int n = m->r.n_step;
    if (n >= STEPS)
        return;
    m->step[n] = m->step[n - 1];
    memcpy(m->line[n], m->line[n - 1], sizeof m->line[n]);
    m->step[n - 1] = kit_step(IDS[n], ST_DO_REST, m->line[n - 1], 1);
    m->line[n - 1][0] = kit_from(n - 2, ST_LIQUOR, kit_all());
    m->line[n][0] = kit_from(n - 1, ST_LIQUOR, kit_all());
    m->r.n_step = n + 1;
    fix(m);
}

/* The first two change places. */
static void turn(struct made *m)
{
    const struct st_step s = m->step[0];
    struct st_line l[LINES];
    memcpy(l, m->line[0], sizeof l);
    m->step[0] = m->step[1];
    memcpy(m->line[0], m->line[1], sizeof l);
    m->step[1] = s;
    memcpy(m->line[1], l, sizeof l);
    for (int t = 2; t < m->r.n_step; t++)
        for (int i = 0; i < m->step[t].n_line; i++)
            if (m->line[t][i].from_step == 0 || m->line[t][i].from_step == 1)
                m->line[t][i].from_step = 1 - m->line[t][i].from_step;
    fix(m);
}

static void change_a_line(struct made *m, int what)
{
    const int s = roll(2), n = m->step[s].n_line;
    if (n == 0 || n + 1 >= LINES)
        return;
    struct st_line *l = &m->line[s][roll(n)];
    switch (what) {
    case 0: l->amount.value = l->amount.low = l->amount.high = 5 + roll(60); break;
    case 1: l->strength = kit_sharp(20 + roll(60)); break;
    case 2: l->gross = !l->gross; break;
    case 3: l->trimmed_share = kit_sharp(0.5 + 0.01 * roll(40)); break;
    case 4: l->price = 1 + roll(9); break;
    case 5: m->line[s][m->step[s].n_line++] = random_line(); break;
    case 6: out_of(m, s, (int)(l - m->line[s])); break;
    case 7: l->what = &pool[roll(POOL)]; break;
    case 8: l->amount = roll(2) ? kit_ml(20) : kit_g(20); break;
    case 9:
        if (m->step[1 - s].n_line + 1 < LINES) {
            m->line[1 - s][m->step[1 - s].n_line++] = *l;
            out_of(m, s, (int)(l - m->line[s]));
        }
        break;
    case 10: { /* only their order */
        const struct st_line first = m->line[s][0];
        out_of(m, s, 0);
        m->line[s][m->step[s].n_line++] = first;
        break;
    }
    default: l->temperature_K = kit_sharp(280 + roll(20)); break;
    }
}

static void change(struct made *m)
{
    const int s = roll(m->r.n_step), what = roll(24);
    struct st_step *x = &m->step[s];
    switch (what) {
    case 12: x->time = kit_amount(ST_DIM_TIME, 86400.0 * (1 + roll(30))); break;
    case 13: x->temperature_K = kit_sharp(280 + roll(20)); break;
    case 14: x->press = !x->press; break;
    case 15: x->vessel_ml = 1000.0 * roll(4); break;
    case 16: x->loss_share = kit_sharp(0.01 * roll(9)); break;
    case 17: x->drained_solids_g = kit_sharp(100 + roll(200)); break;
    case 18: x->id = IDS[5 + roll(3)]; break;
    case 19: one_more(m); break;
    case 20: turn(m); break;
    case 21: m->r.serving_ml = 30 + roll(20); break;
    case 22:
        m->line[2][0].amount = roll(2) ? kit_ml(100 + roll(100)) : kit_amount(ST_DIM_PIECE, 0.1 * (1 + roll(9)));
        break;
    case 23: x->bottles = roll(4); break;
    default: change_a_line(m, what); break;
    }
}

static int by_text(const void *p, const void *q)
{
    const char *const *x = p, *const *y = q;
    return strcmp(*x, *y);
}

static void range_text(struct st_buf *out, struct st_range r)
{
    if (r.known)
        st_buf_printf(out, "[%.9g %.9g %.9g]", r.low, r.value, r.high);
    else
        st_buf_add(out, "[]");
}

static char *line_text(const struct st_line *l)
{
    struct st_buf b = { 0 };
    st_buf_printf(&b, "%s %d %d %d %.9g %d %d %d %.9g", l->what ? l->what->slug : "", l->from_step, (int)l->part,
                  (int)l->amount.dim, l->amount.value, (int)l->amount.open, l->gross, l->weighing_unsaid, l->price);
    range_text(&b, l->strength);
    range_text(&b, l->trimmed_share);
    range_text(&b, l->temperature_K);
    return st_buf_take(&b);
}

/* All that is meant, written down by other code than what is tested: names left out, the lines of a step sorted. */
static char *meaning(const struct st_recipe *r)
{
    struct st_buf b = { 0 };
    st_buf_printf(&b, "%.9g\n", r->serving_ml);
    for (int s = 0; s < r->n_step; s++) {
        const struct st_step *x = &r->step[s];
        char *line[64];
        st_buf_printf(&b, "%d %d %.9g %d %.9g %d", (int)x->kind, (int)x->time.dim, x->time.value, x->press,
                      x->vessel_ml, x->bottles);
        range_text(&b, x->temperature_K);
        range_text(&b, x->loss_share);
        range_text(&b, x->drained_solids_g);
        assert_true(x->n_line < 64);
        for (int i = 0; i < x->n_line; i++)
            line[i] = line_text(&x->line[i]);
        qsort(line, (size_t)x->n_line, sizeof *line, by_text);
        for (int i = 0; i < x->n_line; i++) {
            st_buf_printf(&b, "\n  %s", line[i]);
            free(line[i]);
        }
        st_buf_add(&b, "\n");
    }
    return st_buf_take(&b);
}

static bool same_meaning(const struct st_recipe *a, const struct st_recipe *b)
{
    char *x = meaning(a), *y = meaning(b);
    const bool same = strcmp(x, y) == 0;
    free(x);
    free(y);
    return same;
}

/* Apply the changes for which whole is so (or all), and see that only the others are left between that and b. */
static void applied(const struct st_try_changes *c, const struct st_recipe *b, int which, int round)
{
    struct st_arena arena = { 0 };
    bool take[400] = { false };
    struct st_try_changes left;
    assert_true(c->n < 400);
    for (int i = 0; i < c->n; i++)
        take[i] = which == 2 || c->change[i].whole == (which == 1);
    const struct st_recipe *made = st_try_apply(c, take, &arena);
    st_try_find(made, b, &left);
    for (int i = 0; i < left.n; i++)
        if (which == 2 || (which == 0 && !left.change[i].whole))
            fail_msg("pair %d: with %s applied there is left: %s", round, which == 2 ? "all" : "the small ones",
                     left.change[i].text);
    if (which == 2 && !same_meaning(made, b))
        fail_msg("pair %d: with all applied it means something else", round);
    st_try_changes_done(&left);
    st_arena_done(&arena);
}

static enum st_try_what mirrored(enum st_try_what w)
{
    switch (w) {
    case ST_TRY_ADDED: return ST_TRY_LEFT_OUT;
    case ST_TRY_LEFT_OUT: return ST_TRY_ADDED;
    case ST_TRY_STEP_ADDED: return ST_TRY_STEP_LEFT_OUT;
    case ST_TRY_STEP_LEFT_OUT: return ST_TRY_STEP_ADDED;
    default: return w;
    }
}

static void turned_round(const struct st_try_changes *c, int round)
{
    struct st_try_changes d;
    int n[ST_NTRY] = { 0 };
    st_try_find(c->recipe[1], c->recipe[0], &d);
    for (int i = 0; i < c->n; i++)
        n[mirrored(c->change[i].what)]++;
    for (int i = 0; i < d.n; i++)
        n[d.change[i].what]--;
    for (int w = 0; w < ST_NTRY; w++)
        if (n[w])
            fail_msg("pair %d: turned round, %s is told %d times more or less", round,
                     st_try_what_name((enum st_try_what)w), n[w]);
    st_try_changes_done(&d);
}

static void random_pairs(void **state)
{
    (void)state;
    static struct made a, b;
    static const char *const NAMES[POOL] = { "plum", "pear", "clove", "seed", "vodka", "rum", "sugar", "honey" };
    static const enum st_kind KINDS[POOL] = { ST_KIND_FRESH_FRUIT, ST_KIND_FRESH_FRUIT, ST_KIND_SEED,  ST_KIND_SEED,
                                              ST_KIND_SPIRIT,      ST_KIND_SPIRIT,      ST_KIND_SUGAR, ST_KIND_SUGAR };
    int same = 0, other = 0;
    for (int i = 0; i < POOL; i++)
        pool[i] = kit_ingredient(NAMES[i], KINDS[i]);
    for (int round = 0; round < 1000; round++) {
        struct st_try_changes c;
        dice = 0x9e3779b97f4a7c15u * (uint64_t)(round + 1);
        make(&a);
        b = a;
        fix(&b);
        for (int n = roll(6); n > 0; n--)
            change(&b);
        st_try_find(&a.r, &b.r, &c);
        const bool equal = same_meaning(&a.r, &b.r);
        if (equal != (c.n == c.n_wording))
            fail_msg("pair %d: %s, but %d changes are told", round, equal ? "the same" : "not the same", c.n);
        same += equal;
        other += !equal;
        for (int i = 0; i < c.n; i++)
            assert_true(*c.change[i].text);
        for (int which = 0; which < 3; which++)
            applied(&c, &b.r, which, round);
        turned_round(&c, round);
        st_try_changes_done(&c);
    }
    assert_true(same > 50 && other > 500); /* both were tried */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_recipe_says_so),
        cmocka_unit_test(one_change_is_told_as_one),
        cmocka_unit_test(alone_is_the_recipe_so_written),
        cmocka_unit_test(shared_doubts_cancel),
        cmocka_unit_test(other_fruit_has_its_own_doubt),
        cmocka_unit_test(each_making_is_weighed_anew),
        cmocka_unit_test(what_is_too_little_could_not_be_told),
        cmocka_unit_test(other_figures_are_told_too),
        cmocka_unit_test(a_name_is_no_doubt),
        cmocka_unit_test(words_changed_alike_are_told_once),
        cmocka_unit_test(moved_and_renamed),
        cmocka_unit_test(without_figures),
        cmocka_unit_test(random_pairs),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
