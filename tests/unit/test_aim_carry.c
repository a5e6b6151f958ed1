/* Limits of what a drink may hold, kept by aims: books made by hand, wishes at random. */

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "ledger_kit.h"
#include "model/aim_carry.h"

enum { ROUNDS = 7, WISHES = 60 };

/* Kernels, spirit, sugar and water in one step; amounts in some doubt. */
struct jar {
    struct st_ingredient kernel, spirit, sugar, water;
    struct st_line line[4];
    struct st_step step[1];
    struct st_recipe recipe;
    struct st_toxicant toxicant[1];
    struct st_content content[1];
    struct st_rule rule[3];
    struct st_rule_books books;
};

static struct st_amount doubted(struct st_amount a, double by)
{
    a.low = a.value * (1.0 - by);
    a.high = a.value * (1.0 + by);
    return a;
}

static void set_jar(struct jar *j, double kernels_g)
{
    memset(j, 0, sizeof *j);
    j->kernel = kit_fruit("kernel", 0.1, 0.05, 0.0, 0.3);
    j->spirit = kit_spirit(50);
    j->sugar = kit_sugar();
    j->water = kit_water();
    j->line[0] = kit_line(&j->kernel, doubted(kit_g(kernels_g), 0.1));
    j->line[1] = kit_line(&j->spirit, doubted(kit_ml(700), 0.03));
    j->line[2] = kit_line(&j->sugar, doubted(kit_g(150), 0.02));
    j->line[3] = kit_line(&j->water, doubted(kit_g(200), 0.02));
    j->step[0] = kit_step("jar", ST_DO_STEEP, j->line, 4);
    j->recipe = kit_recipe(j->step, 1);
    kit_sharp_tools(&j->recipe);
    j->toxicant[0] = kit_toxicant("poison", "");
    j->content[0] = kit_content("kernel", "poison", 1000);
    j->rule[0] = kit_rule("by-mass", "poison", ST_RULE_MG_KG, 35);
    j->rule[1] = kit_rule("by-strength", "poison", ST_RULE_MG_KG_PER_PCT_VOL, 1);
    j->rule[2] = kit_rule("by-dose", "poison", ST_RULE_MG_KG_BW_DAY, 0.02);
    j->books = (struct st_rule_books){
        .toxicant = j->toxicant, .n_toxicant = 1, .content = j->content, .n_content = 1, .rule = j->rule, .n_rule = 3
    };
}

static struct st_ledger *ledger_at(const struct jar *j, const struct st_recipe *r, struct st_foretold *f)
{
    struct st_problem problem;
    const struct st_options o = { .seed = 7, .draws = 400 };
    struct st_plan *p = st_plan_create(r, &problem);
    struct st_ledger *l = calloc(1, sizeof *l);
    assert_non_null(p);
    assert_true(st_plan_run(p, &o, f) >= 0);
    assert_int_equal(st_ledger_make(r, f, &j->books, ST_PLACE_EU, &KIT_DRINKER, NULL, 0, l), ST_OK);
    st_plan_free(p);
    return l;
}

static bool any_counts(const struct st_ledger *l)
{
    for (int i = 0; i < l->n_entry; i++)
        for (int k = 0; k < l->entry[i].n_test; k++)
            if (st_carry_counts(&l->entry[i].test[k]))
                return true;
    return false;
}

/* Solve and hold against the limits until none is passed that could be kept; how often it was held. */
static int solve_within(const struct jar *j, struct st_aim *a, const struct st_ledger *written,
                        struct st_aim_found *found, struct st_ledger **made)
{
    struct st_problem problem;
    int round = 0;
    *made = NULL;
    for (;; round++) {
        struct st_foretold f;
        assert_true(st_aim_solve(a, found, &problem) >= 0);
        struct st_recipe *r = st_aim_recipe(a, found->value);
        free(*made);
        *made = ledger_at(j, r, &f);
        const int more = round < ROUNDS ? st_aim_carry(a, found->value, &f, *made, written, round) : 0;
        st_foretold_done(&f);
        st_aim_recipe_free(r);
        if (more == 0)
            return round;
    }
}

static double random_in(uint32_t *seed, double low, double high)
{
    *seed = *seed * 1664525u + 1013904223u;
    return low + (high - low) * (*seed >> 8) / 16777216.0;
}

static void set_aim(struct st_aim *a, const struct jar *j, uint32_t *seed, bool kernels)
{
    const double strength = random_in(seed, 20, 45), volume = random_in(seed, 250, 1600);
    st_aim_init(a, &j->recipe);
    for (int i = kernels ? 0 : 1; i < 4; i++)
        assert_true(st_aim_free(a, 0, i));
    st_aim_wish(a, ST_FIG_STRENGTH, strength, strength, 0.5);
    st_aim_wish(a, ST_FIG_VOLUME, volume, volume, 0.02 * volume);
}

static void random_aims(double kernels_g, int *bound, int *missed)
{
    uint32_t seed = 11;
    struct jar j;
    struct st_foretold f;
    set_jar(&j, kernels_g);
    struct st_ledger *written = ledger_at(&j, &j.recipe, &f), *made;
    st_foretold_done(&f);
    for (int i = 0; i < WISHES; i++) {
        struct st_aim a;
        struct st_aim_found found, plain;
        struct st_problem problem;
        set_aim(&a, &j, &seed, i % 2 == 0);
        assert_true(st_aim_solve(&a, &plain, &problem) >= 0);
        const int rounds = solve_within(&j, &a, written, &found, &made);
        if (st_carry_is_worse(made, written))
            fail_msg("aim %d, %g g of kernels: passes what it could keep", i, kernels_g);
        if (!any_counts(written) && any_counts(made))
            fail_msg("aim %d, %g g of kernels: passes a limit that the recipe keeps", i, kernels_g);
        if (rounds == 0) /* nothing binds: not a bit is changed */
            assert_memory_equal(found.value, plain.value, (size_t)a.n_dial * sizeof *found.value);
        *bound += rounds > 0;
        *missed += rounds > 0 && !found.met;
        free(made);
    }
    free(written);
}

static void limits_are_kept(void **state)
{
    (void)state;
    int bound = 0, missed = 0;
    random_aims(12, &bound, &missed); /* the recipe is within all three */
    assert_in_range(bound, 5, WISHES - 5);
    assert_in_range(missed, 1, bound);
}

static void never_worse_than_the_recipe(void **state)
{
    (void)state;
    int bound = 0, missed = 0;
    random_aims(80, &bound, &missed); /* it passes all three */
    assert_in_range(bound, 5, WISHES - 5);
    bound = missed = 0;
    random_aims(30, &bound, &missed); /* about at them */
    assert_true(bound > 0);
}

static void nothing_binds_where_nothing_is(void **state)
{
    (void)state;
    int bound = 0, missed = 0;
    random_aims(0.5, &bound, &missed);
    assert_int_equal(bound, 0);
}

/* The one thing that stops it is named, with the toxicant and the rule; it does not give way. */
static void what_stops_is_named(void **state)
{
    (void)state;
    struct jar j;
    struct st_foretold f;
    struct st_aim a;
    struct st_aim_found found;
    static struct st_aim_way way[3];
    set_jar(&j, 12);
    struct st_ledger *written = ledger_at(&j, &j.recipe, &f), *made;
    st_foretold_done(&f);
    st_aim_init(&a, &j.recipe);
    for (int i = 1; i < 4; i++)
        assert_true(st_aim_free(&a, 0, i));
    st_aim_wish(&a, ST_FIG_VOLUME, 300, 300, 6);
    assert_true(solve_within(&j, &a, written, &found, &made) > 0);
    assert_false(found.met);
    assert_true(found.y[ST_FIG_VOLUME] > 306);
    assert_true(found.n_stop > 0 && found.stop[0].limit >= 0);
    const struct st_aim_limit *l = &a.limit[found.stop[0].limit];
    assert_int_equal(l->of, ST_LIMIT_CARRY);
    assert_ptr_equal(l->toxicant, &j.toxicant[0]);
    assert_false(l->as_written);
    const int n = st_aim_ways(&a, &found, way, 3);
    for (int i = 0; i < n; i++) {
        if (way[i].way == ST_WAY_LOOSEN)
            assert_true(found.stop[way[i].index].limit < 0);
        if (way[i].way == ST_WAY_FREE)
            assert_int_equal(way[i].dial.line, 0); /* fewer kernels */
    }
    assert_true(n > 0);
    free(made);
    free(written);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(limits_are_kept),
        cmocka_unit_test(never_worse_than_the_recipe),
        cmocka_unit_test(nothing_binds_where_nothing_is),
        cmocka_unit_test(what_stops_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
