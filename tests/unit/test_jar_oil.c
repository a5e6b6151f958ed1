/* Oils in weak liquids: what does not dissolve does not come out, however long it lies, whether a content of the marker
 * is known, or its oil's, or only what kind of thing it is. */
#include "jar_kit.h"

#include "model/oil_content.h"

static const struct st_jar_options MIDDLE = { .seed = 1, .shells = 30, .tolerance = 1e-6 };

static void jar_of(struct st_jar *j, const char *name, double g, double pct_vol, double days)
{
    st_jar_begin(j, &kit_books, days * DAY);
    kit_add(j, name, g, 0);
    st_jar_pour_spirit(j, 500, pct_vol, 0);
}

static const struct st_jar_curve *last_of(struct st_jar *j, const struct st_jar_options *o, const char *curve,
                                          struct st_jar_told *t)
{
    kit_run(j, o, t);
    return kit_curve(t, 0, curve);
}

/* ---- how much there is ---- */

static struct st_oil_content content_of(const char *name, const char *marker)
{
    const struct st_ingredient *in = kit_must(name);
    const struct st_compound *c = st_compound_find(kit_compounds, marker);
    struct st_oil_content out;
    struct st_range mg_g = { .known = false };
    assert_non_null(c);
    for (int i = 0; i < in->n_marker; i++)
        if (strcmp(in->marker[i].marker, marker) == 0)
            mg_g = in->marker[i].mg_g;
    st_oil_content_of(in, in->kind, c, mg_g, &out);
    return out;
}

static void what_is_known_decides_what_is_told(void **state)
{
    (void)state;
    /* [golukcu2024]: 13.7..25.4 mL/kg, 76..89 % limonene: with 0.84 g/mL and all at its end 8.7 to 19 mg/g */
    const struct st_oil_content lemon = content_of("fresh lemon peel", "limonene");
    assert_int_equal(lemon.from, ST_OIL_FROM_SHARE);
    assert_true(lemon.mg_g.known && lemon.mg_g.low > 8.7 && lemon.mg_g.high < 25.4 * 1.07 * 0.89);
    assert_true(lemon.mg_g.value < lemon.oil_mg_g.value && lemon.mg_g.value > 0.76 * lemon.oil_mg_g.value);
    assert_string_equal(lemon.mg_g.source, kit_must("fresh lemon peel")->oil.source);
    /* its citral: the oil is known, the share is not */
    const struct st_oil_content citral = content_of("fresh lemon peel", "citral");
    assert_int_equal(citral.from, ST_OIL_FROM_OIL);
    assert_false(citral.mg_g.known);
    assert_about(citral.oil_mg_g.value, lemon.oil_mg_g.value, 1e-12);
    /* the sheet's own content comes first */
    assert_int_equal(content_of("dried thyme", "thymol").from, ST_OIL_FROM_MARKER);
    /* nothing known: wide, and told as a guess */
    const struct st_oil_content lime = content_of("fresh lime peel", "limonene");
    assert_int_equal(lime.from, ST_OIL_FROM_KIND);
    assert_false(lime.mg_g.known);
    assert_true(lime.oil_mg_g.known && lime.oil_mg_g.mark == 'm' && lime.oil_mg_g.high > 8.0 * lime.oil_mg_g.low);
    /* no oil at all, or no marker that dissolves as oils do: nothing limits it */
    assert_int_equal(content_of("sour cherries", "cyanidin_3_glucoside").from, ST_OIL_FROM_NOWHERE);
    assert_false(content_of("sour cherries", "cyanidin_3_glucoside").oil_mg_g.known);
}

/* ---- the stronger, the more ---- */

static void the_stronger_the_more_limonene(void **state)
{
    static const double PCT[] = { 0, 20, 40, 60, 96 };
    double before = -1.0;
    (void)state;
    for (int i = 0; i < 5; i++) {
        struct st_jar j;
        struct st_jar_told t;
        jar_of(&j, "fresh lemon peel", 60, PCT[i], 14);
        const struct st_jar_curve *c = last_of(&j, &MIDDLE, "limonene", &t);
        const double out = c->at_plan.value * c->comes.value;
        print_message("limonene of 60 g lemon peel in 500 mL at %2.0f %% vol: %.4f of it out on day 14\n", PCT[i], out);
        assert_true(out > before);
        before = out;
        assert_true(t.closure <= 1e-9);
        if (PCT[i] < 30.0) { /* dissolves less than there is: never mostly out */
            assert_true(c->full > 1.0);
            assert_true(c->most_s.value > 1e200);
            assert_true(c->at_last.value < 0.2);
        }
        if (PCT[i] == 96.0) {
            assert_true(c->full == 0.0);
            assert_true(c->most_s.value < 14 * DAY && out > 0.9);
        }
        st_jar_told_done(&t);
    }
}

/* By hand: limonene in water, 13.8 mg/L times half a litre, of 60 g with the middle content.  The liquid is 20 C. */
static void water_holds_what_the_table_says(void **state)
{
    struct st_jar j;
    struct st_jar_told t;
    (void)state;
    jar_of(&j, "fresh lemon peel", 60, 0, 14);
    const struct st_jar_curve *c = last_of(&j, &MIDDLE, "limonene", &t);
    const struct st_oil_content lemon = content_of("fresh lemon peel", "limonene");
    const double ml = t.volume_ml.at[t.n_time - 1].value, oil = lemon.oil_mg_g.value * 60.0;
    const double holds = 13.8e-3 * ml / oil;
    assert_about(c->at_last.value * c->comes.value, holds, 0.03 * holds);
    /* of the whole oil a share as large as of each of its parts, so that water holds less than it would of the part alone
     */
    const double mg_l = c->mg_l.at[t.n_time - 1].value;
    assert_about(mg_l, 13.8 * lemon.mg_g.value / lemon.oil_mg_g.value, 0.4);
    st_jar_told_done(&t);
}

/* Everything with a terpene in it, and whatever is known of its oil, in water and in a tenth of spirit. */
static void a_terpene_is_never_mostly_out_in_what_does_not_dissolve_it(void **state)
{
    static const char *const TERPENE[] = { "limonene", "alpha_pinene" };
    static const double PCT[] = { 0, 10 };
    int n = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(kit_all); i++) {
        const struct st_ingredient *in = st_catalogue_at(kit_all, i);
        for (int m = 0; m < in->n_marker && st_kind_is_solid(in->kind); m++)
            for (size_t k = 0; k < 4; k++) {
                struct st_jar j;
                struct st_jar_told t;
                if (strcmp(in->marker[m].marker, TERPENE[k / 2]) != 0)
                    continue;
                st_jar_begin(&j, &kit_books, 30 * DAY);
                struct st_jar_piece *p = st_jar_add(&j, in, 60, 0);
                if (!p)
                    fail_msg("%s cannot be steeped", in->slug);
                p->cut = ST_CUT_CHOPPED;
                st_jar_pour_spirit(&j, 500, PCT[k % 2], 0);
                const struct st_jar_curve *c = last_of(&j, &MIDDLE, TERPENE[k / 2], &t);
                if (!(c->at_last.value < 0.5 && !isfinite(c->most_s.value) && c->full > 1.0))
                    fail_msg("%s of %s in %g %% vol: %.3f, full %.3f", TERPENE[k / 2], in->slug, PCT[k % 2],
                             c->at_last.value, c->full);
                st_jar_told_done(&t);
                n++;
            }
    }
    print_message("%d jars of things with a terpene\n", n);
    assert_true(n >= 40);
}

/* ---- more spirit, the same strength in the end ---- */

static double mixed_of(const struct st_jar *j)
{
    struct st_jar_told t;
    kit_run(j, &(struct st_jar_options){ .seed = 1, .until_s = 4000 * DAY, .shells = 12, .tolerance = 1e-4 }, &t);
    const double q = t.strength.at[t.n_time - 1].value;
    st_jar_told_done(&t);
    return q;
}

static void more_of_a_weak_spirit_gives_more_oil(void **state)
{
    static const char *const OF[] = { "fresh lemon peel", "fresh lime peel", "juniper berries", "cloves" };
    static const char *const CURVE[] = { "limonene", "limonene", "alpha_pinene", "eugenol" };
    (void)state;
    for (int k = 0; k < 4; k++)
        for (int s = 0; s < 3; s++) {
            static const double PCT[] = { 15, 30, 45 };
            struct st_jar a, b;
            struct st_jar_told ta, tb;
            jar_of(&a, OF[k], 80, PCT[s], 20);
            b = a;
            b.pour[0].factor = 1.5;
            const double want = mixed_of(&a);
            double low = 0.5 * PCT[s], high = PCT[s];
            for (int i = 0; i < 24; i++) {
                b.pour[0].strength_pct_vol = 0.5 * (low + high);
                if (mixed_of(&b) < want)
                    low = b.pour[0].strength_pct_vol;
                else
                    high = b.pour[0].strength_pct_vol;
            }
            const struct st_jar_curve *x = last_of(&a, &MIDDLE, CURVE[k], &ta);
            const struct st_jar_curve *y = last_of(&b, &MIDDLE, CURVE[k], &tb);
            for (int i = 0; i < ta.n_time; i++)
                if (!(y->share.at[i].value * y->comes.value >= x->share.at[i].value * x->comes.value - 3e-4))
                    fail_msg("%s at %g %% vol, day %.3f: %.5f with more spirit, %.5f with less", OF[k], PCT[s],
                             ta.t_s[i] / DAY, y->share.at[i].value * y->comes.value,
                             x->share.at[i].value * x->comes.value);
            assert_true(ta.closure <= 1e-9 && tb.closure <= 1e-9);
            st_jar_told_done(&ta);
            st_jar_told_done(&tb);
        }
}

/* ---- draws ---- */

static void a_guess_is_told_wide_and_in_shares(void **state)
{
    struct st_jar j;
    struct st_jar_told t;
    (void)state;
    jar_of(&j, "fresh lime peel", 60, 38, 14);
    const struct st_jar_options o = { .seed = 1, .draws = 200, .shells = 16, .tolerance = 1e-4 };
    const struct st_jar_curve *c = last_of(&j, &o, "limonene", &t);
    assert_false(c->known);
    assert_null(c->mg_l.at);
    assert_true(c->at_last.high > 3.0 * c->at_last.low);
    assert_true(t.closure <= 1e-9);
    st_jar_told_done(&t);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_known_decides_what_is_told),
        cmocka_unit_test(the_stronger_the_more_limonene),
        cmocka_unit_test(water_holds_what_the_table_says),
        cmocka_unit_test(a_terpene_is_never_mostly_out_in_what_does_not_dissolve_it),
        cmocka_unit_test(more_of_a_weak_spirit_gives_more_oil),
        cmocka_unit_test(a_guess_is_told_wide_and_in_shares),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
