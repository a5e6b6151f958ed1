/* No toasting lowers a bound on a poison: a recipe with kernels in it has the same cautions, and as much amygdalin at
 * most, with and without a toast step of any time and heat.  The recipe is invented. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "model/foresee.h"
#include "model/random.h"
#include "text/cautions.h"
#include "text/ingredients.h"
#include "text/recipe_yaml.h"
#include "util/file.h"

#define KERNELS "20 g bitter apricot kernels\", \"10 g cherry stones"
#define FRUIT   "\"600 g sour cherries, as bought, with stones\", 750 mL vodka 50 %"

static struct st_buf sheet;
static struct st_catalogue *all;

static int load(void **state)
{
    struct st_problem p = { 0 };
    (void)state;
    if (st_file_read("data/ingredients.sheet", 4u << 20, &sheet))
        return -1;
    all = st_catalogue_create(st_buf_text(&sheet), sheet.length, &p);
    return all ? 0 : -1;
}

static int unload(void **state)
{
    (void)state;
    st_catalogue_free(all);
    st_buf_done(&sheet);
    return 0;
}

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
    st_cautions_collect(&file.recipe, &f, &out->cautions);
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
    };
    return cmocka_run_group_tests_name("toast_bound", tests, load, unload);
}
