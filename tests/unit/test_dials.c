/* Dials: a plan whose amounts are turned gives what a plan of the changed recipe gives, for every example. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "plan_kit.h"
#include "text/ingredients.h"
#include "text/recipe_yaml.h"
#include "util/buf.h"
#include "util/embedded.h"
#include "util/file.h"

static const char *const EXAMPLE[] = { "apricot_spice_two_jars", "cherry_kernel",  "coffee_cream",     "damson_fresh_fruit",
                                       "gentian_bitter",         "lemon_peel",     "quince_two_pours", "raspberry_us_cups" };

/* Recipes that ask what the examples do not: covered, filled to a mark, made up to a volume and a weight, boiled down,
 * taken in parts, weighed, priced. */
static const char *const ODD[] = {
    "schema_version: 1\ntitle: covered\nsteps:\n"
    "  - steep: jar\n    add: [500 g damsons, vodka 40 % to cover, 100 g sugar]\n    for: 4 weeks\n"
    "  - bottle: out\n    size: 500 mL\n",
    "schema_version: 1\ntitle: filled\nsteps:\n"
    "  - steep: jar\n    vessel: 2 L jar\n    add: [500 g damsons, 200 g sugar, fill the jar with vodka 40 %]\n",
    "schema_version: 1\ntitle: to a volume\nsteps:\n"
    "  - blend: mix\n    add: [500 mL vodka 96 %, 300 g sugar, water to 1500 mL]\n",
    "schema_version: 1\ntitle: to a weight and boiled down\nsteps:\n"
    "  - syrup: syrup\n    add: [500 g sugar, 500 g water]\n    boil_down_to: 700 mL\n"
    "  - blend: mix\n    add: [200 mL vodka 80 %, all of syrup, water to 1500 g]\n",
    "schema_version: 1\ntitle: parts\ncurrency: EUR\nmeasures: us\nsteps:\n"
    "  - steep: jar\n    add: [{line: 1 L vodka 40 %, price: 20}, {line: 400 g sloes, price: 1}]\n    drained: 450 g\n"
    "  - blend: mix\n    add: [300 mL of jar, {line: 2 tbsp honey, price: 1}, {line: 1 cup sugar, price: 1}, half of jar]\n"
};

static struct st_catalogue *new_catalogue(void)
{
    const struct st_embedded *sheet = st_embedded_find("data/ingredients.sheet");
    struct st_problem p = { 0 };
    assert_non_null(sheet);
    struct st_catalogue *c = st_catalogue_create((const char *)sheet->bytes, sheet->size, &p);
    assert_non_null(c);
    return c;
}

static void read_text(const char *name, const char *text, size_t size, struct st_catalogue *c, struct st_recipe_file *f)
{
    const int result = st_recipe_read(name, text, size, c, f);
    if (result != 0)
        fail_msg("%s: %d: %s: %s", name, result, f->problem[0].what, f->problem[0].why);
}

/* ---- numbers that look random and are the same each time ---- */

static double shuffled(unsigned *state)
{
    *state = *state * 1664525u + 1013904223u;
    return (double)(*state >> 8) / 16777216.0;
}

static bool can_turn(const struct st_recipe *r, int step, int line)
{
    const struct st_amount *a = &r->step[step].line[line].amount;
    return a->open == ST_CLOSED && a->dim != ST_DIM_OPEN && a->value > 0.0;
}

static int dials_of(const struct st_recipe *r, struct st_dial dial[ST_MAX_DIALS])
{
    int n = 0;
    for (int s = 0; s < r->n_step; s++)
        for (int l = 0; l < r->step[s].n_line && n < ST_MAX_DIALS; l++)
            if (can_turn(r, s, l))
                dial[n++] = (struct st_dial){ s, l, ST_DIAL_AMOUNT };
    return n;
}

static void turn(struct st_recipe *r, const struct st_dial *d, double by)
{
    struct st_line *l = &r->step[d->step].line[d->line];
    struct st_amount *a = &l->amount;
    if (d->of == ST_DIAL_STRENGTH) {
        l->strength = kit_sharp(by);
        return;
    }
    a->value *= by, a->low *= by, a->high *= by, a->written *= by;
    a->fills *= by;
    if (!a->make_up_to)
        l->price *= by;
}

/* Lines are changed in place, and put back by the copy. */
static struct st_line *keep_lines(const struct st_recipe *r)
{
    size_t n = 0;
    for (int s = 0; s < r->n_step; s++)
        n += (size_t)r->step[s].n_line;
    struct st_line *kept = malloc((n + 1) * sizeof *kept), *next = kept;
    assert_non_null(kept);
    for (int s = 0; s < r->n_step; s++)
        for (int l = 0; l < r->step[s].n_line; l++)
            *next++ = r->step[s].line[l];
    return kept;
}

static void put_back(struct st_recipe *r, const struct st_line *kept)
{
    for (int s = 0; s < r->n_step; s++)
        for (int l = 0; l < r->step[s].n_line; l++)
            r->step[s].line[l] = *kept++;
}

static void same(const char *name, int f, double got, double expected, double rel)
{
    if (isnan(expected) && isnan(got))
        return;
    if (!(fabs(got - expected) <= rel * fmax(fabs(expected), 1e-3)))
        fail_msg("%s: %s = %.17g, a fresh plan gives %.17g (%.2g)", name, st_figure_info((enum st_figure)f)->key, got,
                 expected, got / expected - 1.0);
}

/* One setting of the dials: the turned plan, and a plan of the recipe so changed.  Returns 1 when both refuse. */
static int compare(const char *name, struct st_recipe *r, const struct st_plan *p, const struct st_dial *dial, int n,
                   const double *factor, bool draws)
{
    struct st_problem problem;
    struct st_line *kept = keep_lines(r);
    double y[ST_NFIG];
    struct st_foretold at, fresh;
    const struct st_options o = { 7, draws ? 200 : 0, false };
    const enum st_status s = st_plan_at(p, factor, y), run = st_plan_run_at(p, &o, factor, &at);
    assert_int_equal(run < 0, st_plan_dial_problem(p, factor, &problem));

    for (int k = 0; k < n; k++)
        turn(r, &dial[k], factor[k]);
    struct st_plan *q = st_plan_create(r, &problem);
    if (!q) {
        if (s >= 0 || run >= 0)
            fail_msg("%s: a fresh plan says %s: %s", name, problem.what, problem.why);
    } else {
        if (s < 0 || run < 0)
            fail_msg("%s: refused (%d, %d), a fresh plan is not", name, (int)s, (int)run);
        assert_true(st_plan_run(q, &o, &fresh) >= 0);
        for (int f = 0; f < ST_NFIG; f++) {
            if (fresh.fig[f].known || !draws) /* with draws, a figure that some of them leave is not known */
                same(name, f, y[f], fresh.fig[f].value, 1e-12);
            same(name, f, at.fig[f].value, fresh.fig[f].value, 1e-12);
            same(name, f, at.fig[f].low, fresh.fig[f].low, 1e-12);
            same(name, f, at.fig[f].high, fresh.fig[f].high, 1e-12);
        }
        assert_int_equal(at.n_note, fresh.n_note);
        st_foretold_done(&fresh);
        st_plan_free(q);
    }
    st_foretold_done(&at);
    put_back(r, kept);
    free(kept);
    return !q;
}

static void turn_all(const char *name, struct st_recipe *r)
{
    struct st_dial dial[ST_MAX_DIALS];
    struct st_problem problem;
    const int n = dials_of(r, dial);
    unsigned state = 12345u;
    int refused = 0;
    enum { TRIES = 60 };
    struct st_plan *p = st_plan_create_dials(r, dial, n, &problem);
    if (!p)
        fail_msg("%s: %s: %s", name, problem.what, problem.why);
    for (int i = 0; i < TRIES; i++) {
        double factor[ST_MAX_DIALS];
        const double reach = i < 20 ? 0.2 : i < 40 ? 1.0 : 3.0; /* to 1.2, 2.7, 20 times and a part of that */
        for (int k = 0; k < n; k++)
            factor[k] = exp(reach * (2.0 * shuffled(&state) - 1.0));
        refused += compare(name, r, p, dial, n, factor, i % 20 == 0);
    }
    if (refused > TRIES / 2)
        fail_msg("%s: refused %d of %d times: nothing is tested", name, refused, (int)TRIES);
    st_plan_free(p);
}

static void examples_turned(void **state)
{
    struct st_catalogue *c = new_catalogue();
    (void)state;
    for (size_t i = 0; i < sizeof EXAMPLE / sizeof *EXAMPLE; i++) {
        char path[200];
        struct st_recipe_file f;
        (void)snprintf(path, sizeof path, "examples/%s.yaml", EXAMPLE[i]);
        struct st_buf text = { 0 };
        assert_int_equal(st_file_read(path, 1 << 20, &text), 0);
        read_text(path, st_buf_text(&text), text.length, c, &f);
        turn_all(EXAMPLE[i], &f.recipe);
        st_recipe_done(&f);
        st_buf_done(&text);
    }
    st_catalogue_free(c);
}

static void odd_ones_turned(void **state)
{
    struct st_catalogue *c = new_catalogue();
    (void)state;
    for (size_t i = 0; i < sizeof ODD / sizeof *ODD; i++) {
        struct st_recipe_file f;
        read_text(ODD[i], ODD[i], strlen(ODD[i]), c, &f);
        turn_all(f.recipe.title, &f.recipe);
        st_recipe_done(&f);
    }
    st_catalogue_free(c);
}

/* ---- one mixture: strengths, errors, batches, refusals ---- */

struct mixture {
    struct st_ingredient spirit, sugar, water;
    struct st_line line[3];
    struct st_step step;
    struct st_recipe r;
};

static void mix(struct mixture *m)
{
    m->spirit = kit_spirit(60), m->sugar = kit_sugar(), m->water = kit_water();
    m->line[0] = kit_line(&m->spirit, kit_ml(500));
    m->line[1] = kit_line(&m->sugar, kit_g(200));
    m->line[2] = kit_line(&m->water, kit_ml(300));
    m->step = kit_step("mix", ST_DO_BLEND, m->line, 3);
    m->r = kit_recipe(&m->step, 1);
    kit_sharp_tools(&m->r);
}

static void strength_turned(void **state)
{
    const struct st_dial dial[2] = { { 0, 0, ST_DIAL_STRENGTH }, { 0, 2, ST_DIAL_AMOUNT } };
    struct mixture m;
    struct st_problem problem;
    (void)state;
    mix(&m);
    struct st_plan *p = st_plan_create_dials(&m.r, dial, 2, &problem);
    assert_non_null(p);
    assert_true(fabs(st_plan_dial_written(p, 0) - 60.0) < 1e-12 && fabs(st_plan_dial_written(p, 1) - 1.0) < 1e-12);
    for (double q = 2.0; q <= 100.0; q += 3.5) {
        const double factor[2] = { q, q / 50.0 };
        assert_int_equal(compare("mixture", &m.r, p, dial, 2, factor, true), 0);
    }
    const double none[2] = { 0.0, 1.0 }, above[2] = { 100.1, 1.0 }, less[2] = { 60.0, -0.1 }, no_number[2] = { 60.0, (double)NAN };
    double y[ST_NFIG] = { 42.0 };
    assert_int_equal(st_plan_at(p, none, y), ST_E_DOMAIN);
    assert_int_equal(st_plan_at(p, above, y), ST_E_DOMAIN);
    assert_int_equal(st_plan_at(p, less, y), ST_E_DOMAIN);
    assert_int_equal(st_plan_at(p, no_number, y), ST_E_DOMAIN);
    assert_true(y[0] == 42.0);
    st_plan_free(p);
}

/* A factor doubles an error that is a share, and leaves an error of reading as it is. */
static double half_width(const struct st_plan *p, double factor)
{
    const struct st_options o = { 3, 4000, false };
    struct st_foretold f;
    assert_true(st_plan_run_at(p, &o, &factor, &f) >= 0);
    const double half = 0.5 * (f.fig[ST_FIG_MASS].high - f.fig[ST_FIG_MASS].low);
    st_foretold_done(&f);
    return half;
}

static void errors_follow_their_kind(void **state)
{
    const struct st_dial dial = { 0, 1, ST_DIAL_AMOUNT };
    struct mixture m;
    struct st_problem problem;
    (void)state;
    for (int share = 0; share < 2; share++) {
        mix(&m);
        m.line[0].amount = kit_g(500); /* the strength of a label does not change a weight */
        m.line[1].amount.tool = share ? ST_TOOL_CUP : ST_TOOL_SCALE;
        m.r.tools.of[ST_TOOL_CUP].scale = 0.05;
        m.r.tools.of[ST_TOOL_SCALE].step = 5.0;
        struct st_plan *p = st_plan_create_dials(&m.r, &dial, 1, &problem);
        assert_non_null(p);
        const double once = half_width(p, 1.0), twice = half_width(p, 2.0);
        assert_true(fabs(twice / once - (share ? 2.0 : 1.0)) < 1e-9); /* the same draws, so no noise */
        st_plan_free(p);
    }
}

/* A batch is its points one by one, whatever its size; a point that fails spoils no other. */
static void batches(void **state)
{
    enum { N = 300 };
    const struct st_dial dial[2] = { { 0, 0, ST_DIAL_AMOUNT }, { 0, 1, ST_DIAL_AMOUNT } };
    static double factor[2 * N], y[ST_NFIG * N];
    struct mixture m;
    struct st_problem problem;
    (void)state;
    mix(&m);
    struct st_plan *p = st_plan_create_dials(&m.r, dial, 2, &problem);
    struct st_plan_room *room = st_plan_room_create(p);
    assert_non_null(room);
    for (int i = 0; i < N; i++) {
        factor[i] = 0.2 + 0.01 * i;
        factor[N + i] = i == 150 ? -1.0 : 2.0 - 0.005 * i;
    }
    assert_int_equal(st_plan_at_n(p, room, N, factor, y), ST_E_DOMAIN);
    for (int i = 0; i < N; i++) {
        const double at[2] = { factor[i], factor[N + i] };
        double one[ST_NFIG];
        const enum st_status s = st_plan_at(p, at, one);
        assert_int_equal(s < 0, i == 150);
        for (int f = 0; f < ST_NFIG; f++)
            if (i == 150)
                assert_true(isnan(y[f * N + i]));
            else
                same("batch", f, y[f * N + i], one[f], 1e-15);
    }
    st_plan_room_free(room);
    st_plan_free(p);
}

/* The program with drawn inputs has the dials as inputs of its own. */
static void dials_are_inputs(void **state)
{
    const struct st_dial dial = { 0, 1, ST_DIAL_AMOUNT };
    const double factor = 1.7;
    double y[ST_NFIG], at[ST_NFIG];
    struct mixture m;
    struct st_problem problem;
    (void)state;
    mix(&m);
    struct st_plan *p = st_plan_create_dials(&m.r, &dial, 1, &problem);
    const int n = st_plan_n_inputs(p), k = st_plan_dial_input(p, 0);
    double *x = malloc((size_t)n * sizeof *x);
    assert_non_null(x);
    assert_true(k >= 0 && k < n);
    st_plan_inputs(p, 1, 0, 1, x);
    assert_true(x[k] == 1.0);
    for (int draw = 0; draw < 2; draw++) {
        st_plan_inputs(p, 1, (uint64_t)draw, 1, x);
        x[k] = factor;
        assert_true(st_plan_evaluate(p, 1, x, y) >= 0);
        assert_true(st_plan_at(p, &factor, at) >= 0);
        assert_true(fabs(y[ST_FIG_MASS] - at[ST_FIG_MASS]) < 5.0); /* the label's strength is drawn */
    }
    assert_int_equal(st_plan_dial_input(p, 1), -1);
    free(x);
    st_plan_free(p);
}

static void not_turned(const struct st_recipe *r, struct st_dial a, struct st_dial b, int n, const char *word)
{
    const struct st_dial dial[2] = { a, b };
    struct st_problem problem = { { 0, 0 }, "", "", "", 0 };
    assert_null(st_plan_create_dials(r, dial, n, &problem));
    if (!strstr(problem.what, word) && !strstr(problem.why, word))
        fail_msg("refused with '%s: %s', not about '%s'", problem.what, problem.why, word);
}

static void what_cannot_be_turned(void **state)
{
    const struct st_dial sugar = { 0, 1, ST_DIAL_AMOUNT }, of_spirit = { 0, 0, ST_DIAL_STRENGTH },
                         of_sugar = { 0, 1, ST_DIAL_STRENGTH }, nowhere = { 0, 3, ST_DIAL_AMOUNT };
    struct mixture m;
    (void)state;
    mix(&m);
    not_turned(&m.r, nowhere, sugar, 1, "line");
    not_turned(&m.r, sugar, sugar, 2, "twice");
    not_turned(&m.r, of_sugar, sugar, 1, "strength");
    not_turned(&m.r, sugar, sugar, ST_MAX_DIALS + 1, "too many");
    m.line[0].temperature_K = kit_sharp(303.15);
    not_turned(&m.r, of_spirit, sugar, 1, "temperature");
    mix(&m);
    m.line[1].amount = kit_g(0);
    not_turned(&m.r, sugar, sugar, 1, "nothing");
    m.line[1].amount = (struct st_amount){ .dim = ST_DIM_OPEN, .open = ST_OPEN_TASTE };
    not_turned(&m.r, sugar, sugar, 1, "open");
}

/* Taking all that a step gave leaves nothing for a later line: told, with the line. */
static void nothing_left_is_refused(void **state)
{
    struct mixture m;
    struct st_problem problem;
    const struct st_dial dial = { 1, 0, ST_DIAL_AMOUNT };
    (void)state;
    mix(&m);
    struct st_line take[2] = { kit_from(0, ST_LIQUOR, kit_g(500)), kit_from(0, ST_LIQUOR, kit_all()) };
    take[1].at.line = 77;
    struct st_step step[2] = { m.step, kit_step("drink", ST_DO_BLEND, take, 2) };
    struct st_recipe r = kit_recipe(step, 2);
    kit_sharp_tools(&r);
    struct st_plan *p = st_plan_create_dials(&r, &dial, 1, &problem);
    assert_non_null(p);
    double few = 1.5, many = 3.0, y[ST_NFIG];
    assert_true(st_plan_at(p, &few, y) >= 0);
    assert_false(st_plan_dial_problem(p, &few, &problem));
    assert_int_equal(st_plan_at(p, &many, y), ST_E_REFUSED);
    assert_true(st_plan_dial_problem(p, &many, &problem));
    assert_int_equal(problem.at.line, 77);
    st_plan_free(p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(examples_turned),
        cmocka_unit_test(odd_ones_turned),
        cmocka_unit_test(strength_turned),
        cmocka_unit_test(errors_follow_their_kind),
        cmocka_unit_test(batches),
        cmocka_unit_test(dials_are_inputs),
        cmocka_unit_test(what_cannot_be_turned),
        cmocka_unit_test(nothing_left_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
