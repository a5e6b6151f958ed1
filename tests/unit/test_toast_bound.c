/* No toasting lowers a bound on a poison: a recipe with kernels in it has the same cautions, and as much amygdalin at
 * most, with and without a toast step of any time and heat; and so have the documents that the program writes of it,
 * where what a toast does is told, too.  The recipes are invented. */
#include "steep_kit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "api/doc.h"
#include "api/steep_task.h"
#include "model/foresee.h"
#include "model/random.h"
#include "text/cautions.h"
#include "text/recipe_yaml.h"

#define KERNELS "20 g bitter apricot kernels\", \"10 g cherry stones"
#define FRUIT   "\"600 g sour cherries, as bought, with stones\", 750 mL vodka 50 %"

struct told {
    struct st_cautions cautions;
    double amygdalin, amygdalin_high; /* mg/L, NaN: not followed */
};

static void foretell(const char *text, struct told *out)
{
    struct st_recipe_file file;
    struct st_problem problem = { 0 };
    struct st_foretold f;
    const struct st_options options = { .seed = 1, .draws = 400 };
    if (st_recipe_read("kernels.yaml", text, strlen(text), all, &file) != 0)
        fail_msg("not read: %s; %s", file.problem[0].what, file.problem[0].why);
    struct st_plan *plan = st_plan_create(&file.recipe, &problem);
    if (!plan)
        fail_msg("no plan: %s; %s", problem.what, problem.why);
    assert_true(st_plan_run(plan, &options, &f) >= 0);
    st_cautions_collect(&file.recipe, &f, NULL, &out->cautions);
    out->amygdalin = out->amygdalin_high = (double)NAN;
    for (int m = 0; m < f.n_marker; m++)
        if (strcmp(f.marker[m], "amygdalin") == 0) {
            out->amygdalin = f.marker_mg_l[m].value;
            out->amygdalin_high = f.marker_mg_l[m].high;
        }
    for (int i = 0; i < out->cautions.n; i++) /* texts of the recipe go with it; codes are static */
        out->cautions.item[i].source = "";
    st_foretold_done(&f);
    st_plan_free(plan);
    st_recipe_done(&file);
}

static int times_told(const struct st_cautions *in, const struct st_caution *c)
{
    int n = 0;
    for (int i = 0; i < in->n; i++) {
        const struct st_caution *d = &in->item[i];
        n += d->level == c->level && strcmp(d->code, c->code) == 0 && strcmp(d->what, c->what) == 0 &&
             strcmp(d->because, c->because) == 0;
    }
    return n;
}

/* Everything that one tells, the other tells as often, in the same words. */
static void as_much(const struct told *with, const struct told *without, const char *how)
{
    for (int i = 0; i < without->cautions.n; i++) {
        const struct st_caution *c = &without->cautions.item[i];
        if (times_told(&with->cautions, c) != times_told(&without->cautions, c))
            fail_msg("%s: '%s' is not told as without toasting", how, c->what);
    }
    if (!(with->amygdalin >= without->amygdalin * (1.0 - 1e-9)) ||
        !(with->amygdalin_high >= without->amygdalin_high * (1.0 - 1e-9)))
        fail_msg("%s: amygdalin %g (at most %g), without toasting %g (at most %g)", how, with->amygdalin,
                 with->amygdalin_high, without->amygdalin, without->amygdalin_high);
}

static void raw_recipe(struct told *out)
{
    foretell("schema_version: 1\ntitle: Kernels (invented)\nmeasures: metric\nsteps:\n"
             "  - steep: jar\n    add: [\"" KERNELS "\", " FRUIT "]\n    for: 4 weeks\n"
             "  - filter: clear\n",
             out);
}

static void toasted_recipe(double minutes, double t_C, const char *loss, struct told *out)
{
    char text[800];
    (void)snprintf(text, sizeof text,
                   "schema_version: 1\ntitle: Kernels (invented)\nmeasures: metric\nsteps:\n"
                   "  - toast: oven\n    add: [\"" KERNELS "\"]\n    for: %.0f minutes\n    at: %.0f C\n%s"
                   "  - steep: jar\n    add: [all of oven, %s]\n    for: 4 weeks\n"
                   "  - filter: clear\n",
                   minutes, t_C, loss, FRUIT);
    foretell(text, out);
}

static void no_toast_lowers_a_bound(void **state)
{
    static struct told raw, toasted;
    double u[3 * 60];
    char how[100];
    (void)state;
    raw_recipe(&raw);
    st_uniform_n(20, 1, 0, sizeof u / sizeof u[0], u);
    for (int i = 0; i < 60; i++) {
        const double minutes = 1.0 + 600.0 * u[3 * i] * u[3 * i], t_C = 20.0 + 280.0 * u[3 * i + 1];
        (void)snprintf(how, sizeof how, "%.0f min at %.0f C", minutes, t_C);
        toasted_recipe(minutes, t_C, u[3 * i + 2] < 0.5 ? "" : "    loss: 2-5 %\n", &toasted);
        as_much(&toasted, &raw, how);
    }
}

/* ---- the documents ---- */

/* Every marker that is followed; poisons are, and are not written into a document. */
static json_t *followed(const struct st_foretold *f)
{
    json_t *o = json_object();
    for (int m = 0; m < f->n_marker; m++)
        json_object_set_new(o, f->marker[m], st_doc_interval(&f->marker_mg_l[m]));
    return o;
}

/* {"foresee": what foresee writes, "steep": what steep writes, "followed"}. */
static json_t *documents(const char *text)
{
    static struct st_recipe_file file;
    static struct st_cautions cautions;
    struct st_problem problem = { 0 };
    struct st_foretold f;
    const struct st_options options = { .seed = 1, .draws = 200 };
    if (st_recipe_read("kernels.yaml", text, strlen(text), all, &file) != 0)
        fail_msg("not read: %s; %s", file.problem[0].what, file.problem[0].why);
    struct st_plan *plan = st_plan_create(&file.recipe, &problem);
    if (!plan)
        fail_msg("no plan: %s; %s", problem.what, problem.why);
    assert_true(st_plan_run(plan, &options, &f) >= 0);
    st_cautions_collect(&file.recipe, &f, NULL, &cautions);
    const struct st_bottle bottle = {
        .file = &file, .recipe = &file.recipe, .out = &f, .cautions = &cautions, .seed = 1, .draws = 200
    };
    json_t *both = json_pack("{s:o, s:o}", "foresee", st_doc_foresee(&bottle), "followed", followed(&f));
    static struct st_steep_task task;
    task = (struct st_steep_task){ .recipe = &file.recipe, .books = books, .seed = 1, .draws = 4 };
    if (!st_steep_task_run(&task, &problem))
        fail_msg("no jar: %s; %s", problem.what, problem.why);
    st_cautions_collect(&file.recipe, NULL, NULL, &cautions);
    json_object_set_new(both, "steep", st_doc_steep(&task, &cautions, NULL));
    st_steep_task_done(&task);
    st_foretold_done(&f);
    st_plan_free(plan);
    st_recipe_done(&file);
    return both;
}

static int cautions_like(const json_t *in, const json_t *c)
{
    static const char *const SAME[] = { "level", "code", "what", "because", "source" };
    int n = 0;
    size_t i;
    json_t *d;
    json_array_foreach(in, i, d)
    {
        bool same = true;
        for (size_t k = 0; k < sizeof SAME / sizeof *SAME; k++)
            same = same && json_equal(json_object_get(c, SAME[k]), json_object_get(d, SAME[k]));
        n += same;
    }
    return n;
}

static int lacks_cautions(const json_t *with, const json_t *without, char *what, size_t size)
{
    int n = 0;
    for (size_t i = 0; i < json_array_size(without); i++) {
        const json_t *c = json_array_get(without, i);
        if (cautions_like(with, c) >= cautions_like(without, c))
            continue;
        n++;
        (void)snprintf(what, size, "caution: %s", json_string_value(json_object_get(c, "what")));
    }
    return n;
}

static int lacks_markers(const json_t *with, json_t *without, char *what, size_t size)
{
    static const char *const END[] = { "value", "low", "high" };
    int n = 0;
    const char *name;
    json_t *x;
    json_object_foreach(without, name, x)
    {
        for (int e = 0; e < 3; e++) {
            const double was = json_number_value(json_object_get(x, END[e]));
            const json_t *is = json_object_get(json_object_get(with, name), END[e]);
            if (json_is_number(is) && json_number_value(is) >= was * (1.0 - 1e-9))
                continue;
            n++;
            (void)snprintf(what, size, "%s of %s: %g, without toasting %g", END[e], name, json_number_value(is), was);
        }
    }
    return n;
}

/* Cautions and markers of one that the other lacks, or has less of; 0: it has all. */
static int lacks(const json_t *with, const json_t *without, char *what, size_t size)
{
    const json_t *with_f = json_object_get(with, "foresee"), *without_f = json_object_get(without, "foresee");
    return lacks_cautions(json_object_get(with_f, "cautions"), json_object_get(without_f, "cautions"), what, size) +
           lacks_cautions(json_object_get(json_object_get(with, "steep"), "cautions"),
                          json_object_get(json_object_get(without, "steep"), "cautions"), what, size) +
           lacks_markers(json_object_get(with_f, "markers_mg_l"), json_object_get(without_f, "markers_mg_l"), what,
                         size) +
           lacks_markers(json_object_get(with, "followed"), json_object_get(without, "followed"), what, size);
}

/* What is told of the toast says of itself that it lowers nothing, of every kernel; how many kernels there were. */
static int kernels_told(const json_t *both)
{
    int n = 0;
    const json_t *toasting = json_object_get(json_object_get(both, "steep"), "toasting");
    for (size_t i = 0; i < json_array_size(toasting); i++) {
        const json_t *pieces = json_object_get(json_array_get(toasting, i), "pieces");
        for (size_t k = 0; k < json_array_size(pieces); k++) {
            const json_t *cyanide = json_object_get(json_array_get(pieces, k), "cyanide");
            if (!json_is_object(cyanide))
                continue;
            n++;
            assert_true(json_is_false(json_object_get(cyanide, "lowers_a_bound")));
            assert_non_null(strstr(json_string_value(json_object_get(cyanide, "words")), "lowers no worst case"));
            const json_t *left = json_object_get(cyanide, "amygdalin_left");
            if (json_is_object(left))
                assert_true(json_number_value(json_object_get(left, "high")) >= 0.1);
        }
    }
    return n;
}

static const struct {
    const char *kernels, *fruit;
    int n;
} SET[] = {
    { "\"20 g bitter apricot kernels\", \"10 g cherry stones\"", FRUIT, 2 },
    { "\"15 g mahleb\"", "700 mL vodka 40 %", 1 },
    { "\"30 g sweet almonds, chopped\", \"8 g peach kernels\"", "200 g sugar, 700 mL vodka 40 %", 2 },
    { "\"12 plum kernels, crushed\", \"5 g coriander seed\"", "700 mL vodka 50 %", 1 },
};
enum { SETS = sizeof SET / sizeof *SET };

static void write_set(int k, const char *toast, char *text, size_t size)
{
    const bool is = toast != NULL;
    (void)snprintf(text, size,
                   "schema_version: 1\ntitle: Kernels (invented)\nmeasures: metric\nsteps:\n%s%s%s%s"
                   "  - steep: jar\n    add: [%s, %s]\n    for: 4 weeks\n  - filter: clear\n",
                   is ? "  - toast: dry\n    add: [" : "", is ? SET[k].kernels : "", is ? "]\n" : "", is ? toast : "",
                   is ? "all of dry" : SET[k].kernels, SET[k].fruit);
}

/* A toast of any time, heat and place, each of them told or not. */
static void any_toast(const double u[6], char *how, size_t size)
{
    static const char *const WHERE[] = { "", "    words: In the oven.\n", "    words: In a dry pan.\n",
                                         "    words: On a tray, fan oven, until golden.\n" };
    char time[60] = "", heat[60] = "";
    if (u[0] > 0.1)
        (void)snprintf(time, sizeof time, "    for: %.0f minutes\n", 1.0 + 600.0 * u[1] * u[1]);
    if (u[2] > 0.1)
        (void)snprintf(heat, sizeof heat, u[2] > 0.6 ? "    at: %.0f C\n" : "    at: %.0f-300 C\n",
                       20.0 + 270.0 * u[3]);
    (void)snprintf(how, size, "%s%s%s%s", WHERE[(int)(4.0 * u[4])], time, heat, u[5] < 0.5 ? "" : "    loss: 2-5 %\n");
}

static void no_toast_lowers_anything_written(void **state)
{
    enum { TOASTS = 200 };
    static double u[TOASTS][6];
    char text[1200], how[300], what[200] = "";
    json_t *raw[SETS];
    (void)state;
    for (int k = 0; k < SETS; k++) {
        write_set(k, NULL, text, sizeof text);
        raw[k] = documents(text);
        assert_int_equal(kernels_told(raw[k]), 0);
    }
    st_uniform_n(21, 1, 0, sizeof u / sizeof u[0][0], u[0]);
    for (int i = 0; i < TOASTS; i++) {
        const int k = i % SETS;
        any_toast(u[i], how, sizeof how);
        write_set(k, how, text, sizeof text);
        json_t *toasted = documents(text);
        assert_int_equal(kernels_told(toasted), SET[k].n);
        if (lacks(toasted, raw[k], what, sizeof what))
            fail_msg("%s\n%s", what, text);
        json_decref(toasted);
    }
    for (int k = 0; k < SETS; k++)
        json_decref(raw[k]);
}

/* ... and that comparison can fail, too: by a caution that is gone, a marker that is gone or a little less. */
static void less_written_would_be_seen(void **state)
{
    char text[1200], what[200] = "";
    (void)state;
    write_set(0, NULL, text, sizeof text);
    json_t *raw = documents(text), *less = json_deep_copy(raw);
    json_t *markers = json_object_get(less, "followed");
    json_t *amygdalin = json_object_get(markers, "amygdalin");
    assert_int_equal(lacks(less, raw, what, sizeof what), 0);
    json_object_set_new(amygdalin, "high", json_real(0.999 * json_number_value(json_object_get(amygdalin, "high"))));
    assert_int_equal(lacks(less, raw, what, sizeof what), 1);
    json_object_del(markers, "amygdalin");
    assert_int_equal(lacks(less, raw, what, sizeof what), 3);
    assert_true(json_array_size(json_object_get(json_object_get(less, "steep"), "cautions")) > 0);
    json_array_remove(json_object_get(json_object_get(less, "steep"), "cautions"), 0);
    assert_true(lacks(less, raw, what, sizeof what) > 3);
    json_decref(raw);
    json_decref(less);
}

/* The comparison can fail: less of the kernels, or none of them, is seen. */
static void less_would_be_seen(void **state)
{
    static struct told raw, other;
    (void)state;
    raw_recipe(&raw);
    assert_true(raw.amygdalin > 0.0 && raw.amygdalin_high > raw.amygdalin);
    foretell("schema_version: 1\ntitle: None (invented)\nmeasures: metric\nsteps:\n"
             "  - steep: jar\n    add: [" FRUIT "]\n    for: 4 weeks\n",
             &other);
    int missing = 0;
    for (int i = 0; i < raw.cautions.n; i++)
        missing += times_told(&other.cautions, &raw.cautions.item[i]) < 1;
    assert_true(missing >= 2);
    assert_false(other.amygdalin >= raw.amygdalin);
    int poison = 0;
    for (int i = 0; i < raw.cautions.n; i++)
        poison += strcmp(raw.cautions.item[i].code, "cyanogenic") == 0;
    assert_true(poison >= 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(less_would_be_seen),
        cmocka_unit_test(no_toast_lowers_a_bound),
        cmocka_unit_test(less_written_would_be_seen),
        cmocka_unit_test(no_toast_lowers_anything_written),
    };
    return cmocka_run_group_tests_name("toast_bound", tests, load_steep, unload_steep);
}
