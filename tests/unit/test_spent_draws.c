/* What strained solids weigh in every draw, by blocks, against the balance of one draw after the other. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "catalogue_kit.h"
#include "model/foresee.h"
#include "text/recipe_yaml.h"

enum { DRAWS = 300, MOST = 16 }; /* two blocks and a part of one */

static void as_one_by_one(void **state)
{
    static const char text[] = "schema_version: 1\ntitle: Two jars (invented)\nsteps:\n"
                               "  - steep: fruit\n    add: [500 g damsons, 500 mL vodka 40 %]\n    for: 8 weeks\n"
                               "  - steep: spice\n    add: [3 g cinnamon stick, 100 mL vodka 50 %]\n    for: 1 week\n"
                               "  - blend: drink\n    add: [all of fruit, all of spice, 100 g sugar]\n";
    struct st_recipe_file f;
    struct st_problem p = { .what = "" };
    struct st_balance balance[MOST];
    static double first[DRAWS], second[DRAWS], held[DRAWS], lost[DRAWS], strong[2][DRAWS];
    const struct st_drawn want[] = { { held, 0, ST_DRAWN_SPENT_ETHANOL_G },
                                     { lost, 0, ST_DRAWN_LOST_ETHANOL_G },
                                     { strong[0], 0, ST_DRAWN_STRENGTH },
                                     { strong[1], 2, ST_DRAWN_STRENGTH } };
    double *const g[] = { first, second };
    const int step[] = { 0, 1 };
    double apart = 0.0, least = (double)INFINITY, most = 0.0;
    (void)state;
    assert_int_equal(st_recipe_read("t", text, sizeof text - 1, all, &f), 0);
    assert_true(f.recipe.n_step <= MOST);
    struct st_plan *plan = st_plan_create(&f.recipe, &p);
    assert_non_null(plan);
    double *x = calloc((size_t)st_plan_n_inputs(plan) + 1, sizeof *x);
    assert_true(st_plan_spent(plan, 7, DRAWS, step, 2, g) >= 0);
    assert_true(st_plan_drawn(plan, 7, DRAWS, want, 4) >= 0);
    for (int i = 0; i < DRAWS; i++) {
        st_plan_inputs(plan, 7, (size_t)i, 1, x);
        assert_true(st_plan_balance(plan, x, balance) >= 0);
        for (int k = 0; k < 2; k++) {
            double sum = 0.0;
            for (int c = 0; c < ST_NCOMP; c++)
                sum += balance[step[k]].spent_g[c];
            apart = fmax(apart, fabs(sum - g[k][i]));
        }
        apart = fmax(apart, fabs(balance[0].spent_g[ST_ETHANOL] - held[i]));
        apart = fmax(apart, fabs(balance[0].lost_g[ST_ETHANOL] - lost[i]));
        apart = fmax(apart, fabs(balance[0].strength_in_steep - strong[0][i]));
        apart = fmax(apart, fabs(balance[2].strength - strong[1][i]));
        assert_true(strong[0][i] > 20.0 && strong[1][i] > 10.0 && held[i] > 1.0);
        least = fmin(least, first[i]);
        most = fmax(most, first[i]);
    }
    assert_true(apart < 1e-9);
    assert_true(most - least > 10.0); /* g: draws differ */
    free(x);
    st_plan_free(plan);
    st_recipe_done(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(as_one_by_one) };
    return cmocka_run_group_tests(tests, load, unload);
}
