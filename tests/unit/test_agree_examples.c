/* Readings held against the example recipes, each with what it is made of: cream, fruit, syrup, bitter roots. */

#include "catalogue_kit.h"

#include <glob.h>
#include <math.h>
#include <stdbool.h>

#include "core/strength.h"
#include "model/agree_inside.h"
#include "text/recipe_yaml.h"

typedef void held(const char *name, const struct st_foretold *told, const struct st_agree_drained *drained);

enum { DRAWS = 600 };

static void over_examples(held *f)
{
    glob_t found;
    int n = 0;
    assert_int_equal(glob("examples/*.yaml", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        struct st_buf text = { 0 };
        struct st_recipe_file file;
        struct st_problem problem;
        struct st_foretold told;
        const struct st_options o = { .seed = 5, .draws = DRAWS };
        assert_null(st_file_read(found.gl_pathv[i], 1u << 20, &text));
        assert_int_equal(st_recipe_read("", st_buf_text(&text), text.length, all, &file), 0);
        struct st_plan *p = st_plan_create(&file.recipe, &problem);
        assert_non_null(p);
        assert_true(st_plan_run(p, &o, &told) >= 0);
        struct st_agree_drained g;
        const bool strains = st_agree_drained_of(p, &file.recipe, o.seed, DRAWS, &g) >= 0;
        f(found.gl_pathv[i], &told, strains ? &g : NULL);
        st_agree_drained_done(&g);
        n++;
        st_foretold_done(&told);
        st_plan_free(p);
        st_recipe_done(&file);
        st_buf_done(&text);
    }
    globfree(&found);
    assert_true(n >= 8);
}

static struct st_observation seen(enum st_seen what, double value)
{
    return (struct st_observation){ .what = what, .value = value, .temperature_K = ST_T20, .of = "" };
}

/* What is foretold of a reading is what foresee tells of it, middle and band, though reckoned another way. */
static void as_foresee_has_it(const char *name, const struct st_foretold *told, const struct st_agree_drained *drained)
{
    const struct st_interval *sg = &told->fig[ST_FIG_SG], *ml = &told->fig[ST_FIG_VOLUME];
    const struct st_observation s[2] = { seen(ST_SEEN_SG, sg->value), seen(ST_SEEN_LIQUOR_ML, ml->value) };
    const struct st_interval *want[2] = { sg, ml };
    struct st_agreement o;
    assert_true(st_agree(told, s, 2, drained, &o) >= 0);
    assert_true(o.agree);
    for (int i = 0; i < 2; i++) {
        const struct st_interval *b = &o.reading[i].before;
        const double wide = want[i]->high - want[i]->low, got = b->high - b->low;
        assert_int_equal(o.reading[i].use, ST_AGREE_USED);
        if (!(fabs(b->value - want[i]->value) <= 0.2 * wide && got >= 0.75 * wide && got <= 1.35 * wide))
            fail_msg("%s: reading %d foretold %g, %g..%g; foresee has %g, %g..%g", name, i, b->value, b->low, b->high,
                     want[i]->value, want[i]->low, want[i]->high);
    }
}

static void foretold_as_foresee_has_it(void **state)
{
    (void)state;
    over_examples(as_foresee_has_it);
}

/* Good readings of a drink that is one of the draws: an answer comes, nothing widens, wild ones are doubted. */
static void of_a_draw(const char *name, const struct st_foretold *told, const struct st_agree_drained *drained)
{
    int agreed = 0;
    for (int t = 0; t < 10; t++) {
        struct st_observation s[4] = { seen(ST_SEEN_SG, told->draw[ST_FIG_SG][t]),
                                       seen(ST_SEEN_STRENGTH, told->draw[ST_FIG_STRENGTH][t]),
                                       seen(ST_SEEN_LIQUOR_ML, told->draw[ST_FIG_VOLUME][t]),
                                       seen(ST_SEEN_DRAINED_G, drained ? drained->g[0][t] : 1.0) };
        struct st_agreement o;
        s[3].jar = drained ? drained->jar[0] : "";
        if (st_agree(told, s, drained ? 4 : 3, drained, &o) < 0)
            fail_msg("%s: no answer to draw %d", name, t);
        agreed += o.agree;
        for (int f = 0; f < ST_AGREE_NFIG; f++)
            assert_true(!o.before[f].known || o.after[f].high - o.after[f].low <=
                                                  (o.before[f].high - o.before[f].low) * (1.0 + 1e-12) + 1e-12);
        s[1].value = fmin(s[1].value + 15.0, 95.0);
        assert_true(st_agree(told, s, drained ? 4 : 3, drained, &o) >= 0);
        assert_false(o.agree);
    }
    if (agreed < 9)
        fail_msg("%s: %d of 10 drinks as drawn agree", name, agreed);
}

static void readings_of_a_draw(void **state)
{
    (void)state;
    over_examples(of_a_draw);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(foretold_as_foresee_has_it),
        cmocka_unit_test(readings_of_a_draw),
    };
    return cmocka_run_group_tests(tests, load, unload);
}
