/* How ingredients give: every solid kind has its rows, rows fill each other in as they should, priors are as stated. */
#include "jar_kit.h"

#include "model/range.h"

static struct st_habit habit(const char *slug, enum st_kind kind, enum st_cut cut, enum st_of of)
{
    struct st_habit h;
    if (st_habit_find(kit_habits, slug, kind, cut, of, &h) < 0)
        fail_msg("no habit of %s, %s", st_kind_name(kind), st_cut_name(cut));
    return h;
}

static void every_solid_kind_has_figures_for_every_cut(void **state)
{
    (void)state;
    for (int k = 0; k < ST_NKIND; k++)
        for (int c = 0; c < ST_NCUT && st_kind_is_solid((enum st_kind)k); c++)
            for (int of = 0; of < ST_NOF; of++) {
                const struct st_habit h = habit(NULL, (enum st_kind)k, (enum st_cut)c, (enum st_of)of);
                if (!(h.a_m.value > 0 && h.a_m.times > 1 && h.d.value > 1e-14 && h.d.value < 1e-8 && h.d.times > 1 &&
                      h.w > 0 && h.w < 1 && h.k.value > 0 && h.biot.value > 0 && h.wash.value > 0 && h.ea_kj >= 20 &&
                      h.ea_kj <= 40 && h.d_ref > 0 && h.at_pct_vol >= 0 && h.source[0] && strchr("rmp", h.mark)))
                    fail_msg("%s %s %s is not whole", st_kind_name((enum st_kind)k), st_cut_name((enum st_cut)c),
                             st_of_name((enum st_of)of));
            }
    struct st_habit h;
    assert_int_equal(st_habit_find(kit_habits, NULL, ST_KIND_SPIRIT, ST_CUT_WHOLE, ST_OF_ANY, &h), ST_E_REFUSED);
    assert_int_equal(st_habit_find(kit_habits, NULL, ST_NKIND, ST_CUT_WHOLE, ST_OF_ANY, &h), ST_E_DOMAIN);
}

static void rows_of_one_ingredient_go_before_its_kind(void **state)
{
    (void)state;
    const struct st_habit pod = habit("vanilla_pod", ST_KIND_BEAN, ST_CUT_WHOLE, ST_OF_AROMA);
    assert_about(pod.d.value, 8.7e-12, 1e-15); /* [castillo_santos_2017] carried to 20 C */
    assert_about(pod.d.times, 2.0, 1e-12);
    assert_int_equal(pod.body, ST_BODY_CYLINDER);
    assert_int_equal(pod.mark, 'r');
    const struct st_habit bean = habit("tonka_bean", ST_KIND_BEAN, ST_CUT_WHOLE, ST_OF_AROMA);
    assert_true(bean.d.value < pod.d.value && bean.body == ST_BODY_SLAB && bean.mark == 'm');
    /* tissue of the pod, size of its own chopped row */
    const struct st_habit cut = habit("vanilla_pod", ST_KIND_BEAN, ST_CUT_CHOPPED, ST_OF_AROMA);
    assert_about(cut.d.value, pod.d.value, 1e-18);
    assert_about(cut.a_m.value, 2e-3, 1e-12);
    /* cloves have a row as bought, and are crushed like any seed, with their own tissue */
    const struct st_habit clove = habit("clove", ST_KIND_SEED, ST_CUT_CRUSHED, ST_OF_AROMA);
    assert_about(clove.a_m.value, 0.4e-3, 1e-12);
    assert_about(clove.d.value, 2e-12, 1e-18);
}

static void a_cut_that_no_row_knows_is_the_next_larger(void **state)
{
    (void)state;
    const struct st_habit h = habit(NULL, ST_KIND_WOOD, ST_CUT_CHOPPED, ST_OF_AROMA);
    assert_false(h.cut_known);
    assert_about(h.a_m.value, 2e-3, 1e-12);
    assert_true(habit(NULL, ST_KIND_WOOD, ST_CUT_GROUND, ST_OF_AROMA).cut_known);
}

/* Green fruit is fruit, not nut; frozen fruit has no skin and gives faster. */
static void fruit_green_and_frozen(void **state)
{
    (void)state;
    const struct st_habit fresh = habit(NULL, ST_KIND_FRESH_FRUIT, ST_CUT_WHOLE, ST_OF_LIQUID),
                          green = habit("walnut_green", ST_KIND_GREEN_FRUIT, ST_CUT_WHOLE, ST_OF_LIQUID),
                          nut = habit(NULL, ST_KIND_NUT, ST_CUT_WHOLE, ST_OF_LIQUID),
                          frozen = habit(NULL, ST_KIND_FROZEN_FRUIT, ST_CUT_WHOLE, ST_OF_LIQUID);
    assert_about(green.d.value, fresh.d.value, 1e-18);
    assert_true(green.d.value > 10.0 * nut.d.value);
    assert_true(isinf(frozen.biot.value) && isfinite(fresh.biot.value));
    assert_true(frozen.w > 3.0 * fresh.w && frozen.w_sd > fresh.w_sd && frozen.d.value >= fresh.d.value);
}

static void what_comes_late(void **state)
{
    const struct st_habit_row *row[ST_NOF];
    (void)state;
    assert_int_equal(st_habit_late(kit_habits, NULL, ST_KIND_PEEL_FRESH, ST_CUT_WHOLE, row, ST_NOF), 1);
    assert_int_equal(row[0]->of, ST_OF_BITTER);
    assert_non_null(strstr(row[0]->late, "white pith"));
    assert_int_equal(st_habit_late(kit_habits, NULL, ST_KIND_WOOD, ST_CUT_WHOLE, row, ST_NOF), 1);
    assert_int_equal(st_habit_late(kit_habits, "walnut_green", ST_KIND_GREEN_FRUIT, ST_CUT_WHOLE, row, ST_NOF), 0);
    /* what comes late is slower than the rest of its piece */
    for (int k = 0; k < ST_NKIND; k++) {
        const int n = st_habit_late(kit_habits, NULL, (enum st_kind)k, ST_CUT_WHOLE, row, ST_NOF);
        for (int i = 0; i < n; i++) {
            const struct st_habit late = habit(NULL, (enum st_kind)k, ST_CUT_WHOLE, row[i]->of),
                                  any = habit(NULL, (enum st_kind)k, ST_CUT_WHOLE, ST_OF_AROMA);
            assert_true(late.d.value / (late.a_m.value * late.a_m.value) <
                        0.5 * any.d.value / (any.a_m.value * any.a_m.value));
        }
    }
}

static void families_are_sorted(void **state)
{
    (void)state;
    assert_int_equal(st_of_family("red colour"), ST_OF_PIGMENT);
    assert_int_equal(st_of_family("astringent"), ST_OF_TANNIN);
    assert_int_equal(st_of_family("bitter"), ST_OF_BITTER);
    assert_int_equal(st_of_family("sweet"), ST_OF_LIQUID);
    assert_int_equal(st_of_family("vanilla"), ST_OF_AROMA);
    assert_int_equal(st_of_family(NULL), ST_OF_AROMA);
}

static void priors(void **state)
{
    struct st_theta_prior p;
    const struct st_range keeps = { 0.75, 0.383, 1.2, true, 'm', "" };
    (void)state;
    const struct st_habit h = habit(NULL, ST_KIND_SEED, ST_CUT_WHOLE, ST_OF_AROMA);
    st_theta_prior_of(&h, &keeps, &p);
    assert_about(p.sd[ST_THETA_D], log(5.0), 1e-12);
    assert_about(p.sd[ST_THETA_K], log(2.0), 1e-12); /* 0.7 */
    assert_about(p.sd[ST_THETA_W], 1.0, 1e-12);
    assert_about(p.sd[ST_THETA_C0], 0.5, 1e-12);
    assert_about(p.sd[ST_THETA_R], log(1.2 / 0.383) / (2 * ST_Z975), 1e-12);
    st_theta_prior_of(&h, NULL, &p);
    assert_about(p.sd[ST_THETA_R], 0.0, 0.0);
}

static char changed[1 << 18];

static void refused(const char *from, const char *to, const char *why)
{
    struct st_problem p = { .what = "" };
    const char *all = st_buf_text(&kit_rows), *at = strstr(all, from);
    assert_non_null(at);
    (void)snprintf(changed, sizeof changed, "%.*s%s%s", (int)(at - all), all, to, at + strlen(from));
    struct st_habits *h = st_habits_create(changed, strlen(changed), kit_compounds, &p);
    if (h || !strstr(p.why, why) || p.at.line < 1)
        fail_msg("'%s' for '%s': %s, line %d: %s", to, from, h ? "read" : "refused", p.at.line, p.why);
}

static void what_is_wrong_is_refused_with_its_line(void **state)
{
    (void)state;
    refused("wood\twhole\tany", "wood\tbroken\tany", "cut is `broken`");
    refused("wood\twhole\tany", "wood\twhole\tsmell", "of is `smell`");
    refused("wood\twhole\tany\tslab", "wood\twhole\tany\tcube", "body is `cube`");
    refused("wood\twhole\tany\tslab\t2 x1.5", "wood\twhole\tany\tslab\t2 x0.5", "a_mm is `2 x0.5`");
    refused("wood\twhole\tany\tslab\t2 x1.5", "wood\twhole\tany\tslab\t-2 x1.5", "a_mm is");
    refused("wood\twhole\tany\tslab\t2 x1.5\t0.3", "wood\twhole\tany\tslab\t2 x1.5\t1.3", "w is `1.3`");
    refused("\tvanillin\t", "\tvanilin\t", "ref is `vanilin`");
    refused("8.7e-12 x2\t67.7", "8.7e-12 x2\t", "without the strength");
    refused("\tr\t[castillo_santos_2017]", "\tz\t[castillo_santos_2017]", "mark is `z`");
    refused("\tr\t[castillo_santos_2017]", "\tr\t", "source");
}

/* Keys in brackets are in docs/sources.md. */
static void sources_are_listed(void **state)
{
    struct st_buf sources = { 0 };
    (void)state;
    assert_int_equal(st_file_read("docs/sources.md", 4u << 20, &sources), 0);
    for (int i = 0; i < kit_habits->n; i++)
        for (const char *at = strchr(kit_habits->row[i].source, '['); at; at = strchr(at + 1, '[')) {
            char key[80];
            const size_t n = strcspn(at + 1, "]");
            (void)snprintf(key, sizeof key, "%.*s", (int)n, at + 1);
            if (!strstr(st_buf_text(&sources), key))
                fail_msg("line %d: [%s] is not in docs/sources.md", kit_habits->row[i].line, key);
        }
    st_buf_done(&sources);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_solid_kind_has_figures_for_every_cut),
        cmocka_unit_test(rows_of_one_ingredient_go_before_its_kind),
        cmocka_unit_test(a_cut_that_no_row_knows_is_the_next_larger),
        cmocka_unit_test(fruit_green_and_frozen),
        cmocka_unit_test(what_comes_late),
        cmocka_unit_test(families_are_sorted),
        cmocka_unit_test(priors),
        cmocka_unit_test(what_is_wrong_is_refused_with_its_line),
        cmocka_unit_test(sources_are_listed),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
