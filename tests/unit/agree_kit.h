#ifndef ST_TESTS_AGREE_KIT_H
#define ST_TESTS_AGREE_KIT_H

/* A liqueur of fruit steeped in spirit, strained and sweetened, foretold with draws; truths of it from draws of another
 * seed; readings of a truth. */

#include "model/agree_inside.h"
#include "model/random.h"
#include "plan_kit.h"

struct agree_kit {
    struct st_ingredient fruit, spirit, sugar, water;
    struct st_line jar[2], drink[3];
    struct st_step step[2];
    struct st_recipe recipe;
    struct st_plan *plan;
    struct st_foretold told;
};

static inline void agree_kit_run(struct agree_kit *k, uint64_t seed, int draws, struct st_foretold *out)
{
    const struct st_options o = { .seed = seed, .draws = draws };
    assert_true(st_plan_run(k->plan, &o, out) >= 0);
}

static inline void agree_kit_begin(struct agree_kit *k)
{
    struct st_problem problem;
    memset(k, 0, sizeof *k);
    k->fruit = kit_fruit("fruit", 0.85, 0.11, 0.02, 0.6);
    k->fruit.part[ST_WATER] = kit_range(0.80, 0.85, 0.90);
    k->fruit.sugars = kit_range(0.09, 0.11, 0.14);
    k->fruit.part[ST_ACID] = kit_range(0.012, 0.02, 0.028);
    k->fruit.retention = kit_range(0.4, 0.6, 0.8);
    k->spirit = kit_spirit(50.0);
    k->sugar = kit_sugar();
    k->water = kit_water();
    k->jar[0] = kit_line(&k->fruit, kit_g(500.0));
    k->jar[1] = kit_line(&k->spirit, kit_ml(900.0));
    k->drink[0] = kit_from(0, ST_LIQUOR, kit_all());
    k->drink[1] = kit_line(&k->sugar, kit_g(220.0));
    k->drink[2] = kit_line(&k->water, kit_ml(150.0));
    k->step[0] = kit_step("jar", ST_DO_STEEP, k->jar, 2);
    k->step[1] = kit_step("drink", ST_DO_BLEND, k->drink, 3);
    kit_ideal(&k->step[0]);
    kit_ideal(&k->step[1]);
    k->recipe = kit_recipe(k->step, 2);
    k->plan = st_plan_create(&k->recipe, &problem);
    assert_non_null(k->plan);
    agree_kit_run(k, 7, 1500, &k->told);
}

static inline void agree_kit_done(struct agree_kit *k)
{
    st_foretold_done(&k->told);
    st_plan_free(k->plan);
}

static inline double kit_normal(uint32_t input, uint64_t draw)
{
    double u;
    st_uniform_n(618, input, draw, 1, &u);
    return st_normal_from_uniform(u);
}

/* Grams in draw i of a run. */
static inline void kit_truth(const struct st_foretold *t, int i, double m[ST_NCOMP])
{
    const double ml = t->draw[ST_FIG_VOLUME][i];
    memset(m, 0, ST_NCOMP * sizeof *m);
    m[ST_ETHANOL] = 0.01 * t->draw[ST_FIG_STRENGTH][i] * ml * 0.789239;
    m[ST_SUCROSE] = 1e-3 * t->draw[ST_FIG_SUGAR][i] * ml;
    m[ST_ACID] = 1e-3 * t->draw[ST_FIG_ACID][i] * ml;
    m[ST_WATER] = t->draw[ST_FIG_MASS][i] - m[ST_ETHANOL] - m[ST_SUCROSE] - m[ST_ACID];
}

static inline struct st_observation kit_read(const double m[ST_NCOMP], enum st_seen what, enum st_shows shows, double T)
{
    struct st_observation o = {
        .what = what, .temperature_K = T, .of = "", .by = "", .jar = "", .batch = "", .words = "", .flask_ml = 100.0
    };
    assert_true(st_drink_reading(m, shows, T, o.flask_ml, &o.value) >= 0);
    return o;
}

#endif
