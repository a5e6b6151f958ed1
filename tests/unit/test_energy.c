/* Energy of a drink by the factors of [eu_1169_2011] annex XIV: each component in a litre, its kJ and kcal in 100 mL. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan_kit.h"

static void near(const char *what, double got, double expected)
{
    if (!(fabs(got - expected) <= 1e-6 * (1.0 + expected)))
        fail_msg("%s: %.10g, expected %.10g", what, got, expected);
}

/* kJ/g and kcal/g as printed in the annex */
static const struct {
    const char *name;
    enum st_component c;
    double kj, kcal;
} FACTORS[] = {
    { "sucrose", ST_SUCROSE, 17, 4 },   { "glucose", ST_GLUCOSE, 17, 4 }, { "fructose", ST_FRUCTOSE, 17, 4 },
    { "lactose", ST_LACTOSE, 17, 4 },   { "polyol", ST_POLYOL, 10, 2.4 }, { "protein", ST_PROTEIN, 17, 4 },
    { "organic acid", ST_ACID, 13, 3 }, { "fat", ST_FAT, 37, 9 },
};

/* Foretells 50 g of what[0] (or 50 mL, if a spirit) made up with water to a litre. */
static struct st_foretold litre(const struct st_ingredient *what, struct st_amount amount)
{
    const struct st_ingredient water = kit_water();
    struct st_line line[2] = { kit_line(what, amount), kit_line(&water, kit_ml(1000)) };
    struct st_step step = kit_step("mix", ST_DO_BLEND, line, 2);
    const struct st_recipe r = kit_recipe(&step, 1);
    const struct st_options o = { 1, 16, false };
    struct st_problem problem = { { 0, 0 }, "", "", "", 0 };
    struct st_foretold f;
    line[1].amount.make_up_to = true;
    struct st_plan *p = st_plan_create(&r, &problem);
    if (!p)
        fail_msg("%s: %s: %s", what->slug, problem.what, problem.why);
    assert_true(st_plan_run(p, &o, &f) >= 0);
    st_plan_free(p);
    return f;
}

static void each_component(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof FACTORS / sizeof FACTORS[0]; i++) {
        struct st_ingredient in = kit_ingredient(FACTORS[i].name, ST_KIND_SUGAR);
        for (int c = 0; c < ST_NCOMP; c++)
            in.part[c] = kit_sharp(c == (int)FACTORS[i].c ? 1 : 0);
        in.sugars = kit_sharp(FACTORS[i].c >= ST_SUCROSE && FACTORS[i].c <= ST_LACTOSE ? 1 : 0);
        struct st_foretold f = litre(&in, kit_g(50));
        near(FACTORS[i].name, f.fig[ST_FIG_ENERGY_KJ].value, 5.0 * FACTORS[i].kj);
        near(FACTORS[i].name, f.fig[ST_FIG_ENERGY_KCAL].value, 5.0 * FACTORS[i].kcal);
        st_foretold_done(&f);
    }
}

static void ethanol(void **state)
{
    (void)state;
    const struct st_ingredient spirit = kit_spirit(100);
    struct st_foretold f = litre(&spirit, kit_ml(50));
    /* 50 mL of 0.789239 g/mL in a litre: 3.946 g in 100 mL */
    near("ethanol", f.fig[ST_FIG_ENERGY_KJ].value, 29 * 5 * 0.78923912);
    near("ethanol", f.fig[ST_FIG_ENERGY_KCAL].value, 7 * 5 * 0.78923912);
    st_foretold_done(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = { cmocka_unit_test(each_component), cmocka_unit_test(ethanol) };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
