/* Sizes of cuts: halves and quarters of a ball as spheres, and no ingredient that a finer cut makes slower. */
#include "jar_kit.h"

#include "core/bath.h"
#include "share.h"

/* ---- a half and a quarter of a ball are told as spheres ---- */

/* D t/R^2 at which 90 % is out of a piece of radius a (in R) and Biot number, in a large bath. */
static double fourier_90(double a, double biot)
{
    static double work[1 << 16];
    struct st_bath b;
    static const enum st_body SPHERE = ST_BODY_SPHERE;
    st_lanes one, in;
    double low = 0.0, before = 0.0;
    assert_true(st_bath_work(1, 60) <= sizeof work / sizeof work[0]);
    assert_int_equal(st_bath_begin(&b, 1, &SPHERE, 60, work), ST_OK);
    for (int l = 0; l < ST_BATH_LANES; l++) {
        b.piece[0].volume[l] = one[l] = 1.0;
        b.piece[0].rate[l] = 1.0 / (a * a);
        b.piece[0].biot[l] = biot;
        b.volume[l] = 1e9;
    }
    b.piece[0].in = true;
    assert_int_equal(st_bath_fill(&b, 0, one), ST_OK);
    for (int i = 0; i < 4000; i++) {
        assert_true(st_bath_run(&b, 0.001, 1e-6) >= 0);
        st_bath_in_piece(&b, 0, in);
        if (1.0 - in[0] >= 0.9)
            return low + 0.001 * (0.9 - before) / (1.0 - in[0] - before);
        before = 1.0 - in[0];
        low += 0.001;
    }
    return (double)INFINITY;
}

/* Exact times of a half and a quarter of a ball, cut faces bare, skin of Biot k R/D on the round face: modes
 * j_l(q r) P_l^m(cos v) sin(m u), m 2 and 2 x odd in the quarter, l odd in the half, worked out apart from the program
 * (spherical Bessel functions; 31 orders, 12 roots each). */
static void a_half_and_a_quarter_as_spheres(void **state)
{
    static const struct {
        enum st_kind kind;
        enum st_cut cut;
        double skin, exact;
    } AT[] = {
        { ST_KIND_FRESH_FRUIT, ST_CUT_WHOLE, 1.6, 0.6423 },
        { ST_KIND_FRESH_FRUIT, ST_CUT_HALVED, 1.6, 0.2223 },
        { ST_KIND_FRESH_FRUIT, ST_CUT_QUARTERED, 1.6, 0.1114 },
        { ST_KIND_GREEN_FRUIT, ST_CUT_WHOLE, 5, 0.3245 },
        { ST_KIND_GREEN_FRUIT, ST_CUT_HALVED, 5, 0.1415 },
        { ST_KIND_GREEN_FRUIT, ST_CUT_QUARTERED, 5, 0.0804 },
        { ST_KIND_FROZEN_FRUIT, ST_CUT_WHOLE, (double)INFINITY, 0.1830 },
        { ST_KIND_FROZEN_FRUIT, ST_CUT_HALVED, (double)INFINITY, 0.0843 },
        { ST_KIND_FROZEN_FRUIT, ST_CUT_QUARTERED, (double)INFINITY, 0.0502 },
    };
    (void)state;
    for (size_t i = 0; i < sizeof AT / sizeof AT[0]; i++) {
        struct st_habit whole, h;
        assert_true(st_habit_find(kit_habits, NULL, AT[i].kind, ST_CUT_WHOLE, ST_OF_LIQUID, &whole) >= 0);
        assert_true(st_habit_find(kit_habits, NULL, AT[i].kind, AT[i].cut, ST_OF_LIQUID, &h) >= 0);
        if (AT[i].cut == ST_CUT_WHOLE) /* the skin that the exact times are of */
            assert_true(isinf(AT[i].skin) ? isinf(h.biot.value) : fabs(h.biot.value - AT[i].skin) < 1e-12);
        const double got = fourier_90(h.a_m.value / whole.a_m.value, h.biot.value);
        print_message("%s, %s: 90 %% out at %.4f R^2/D, exact %.4f\n", st_kind_name(AT[i].kind), st_cut_name(AT[i].cut),
                      got, AT[i].exact);
        /* a stands for 3 V/S, rounded Biot numbers: a tenth of the time, where D is known x/: 3 */
        assert_true(fabs(got / AT[i].exact - 1.0) < (AT[i].cut == ST_CUT_WHOLE ? 0.005 : 0.10));
    }
}

/* ---- sizes of what is weighed ---- */

static double half_mm(const char *name, enum st_cut cut)
{
    struct st_jar j;
    struct st_habit h;
    st_jar_begin(&j, &kit_books, DAY);
    kit_add(&j, name, 300, 0)->cut = cut;
    assert_true(st_jar_habit(&j, 0, ST_OF_LIQUID, &h) >= 0);
    return 1e3 * h.a_m.value;
}

static void cuts_of_fruit_that_is_weighed(void **state)
{
    (void)state;
    /* 25 g at 1.05 g/mL: 17.85 mm */
    const double R = cbrt(3.0 * 25.0 / (4.0 * acos(-1.0) * 1.05)) * 10.0;
    assert_about(half_mm("green walnuts", ST_CUT_WHOLE), R, 1e-9);
    assert_about(half_mm("green walnuts", ST_CUT_PRICKED), R, 1e-9);
    assert_about(half_mm("green walnuts", ST_CUT_HALVED), R * 2.0 / 3.0, 1e-9);
    assert_about(half_mm("green walnuts", ST_CUT_QUARTERED), R / 2.0, 1e-9);
    assert_about(half_mm("green walnuts", ST_CUT_SLICED), 3.0, 1e-9); /* as the knife makes them */
    /* a sloe of 1.5 g is a ball of 7 mm: nothing of it is larger than its share of that */
    const double sloe = cbrt(3.0 * 1.5 / (4.0 * acos(-1.0) * 1.05)) * 10.0;
    assert_about(half_mm("sloes", ST_CUT_SLICED), 3.0 * sloe / 9.0, 1e-9);
    assert_about(half_mm("sloes", ST_CUT_CHOPPED), 4.0 * sloe / 9.0, 1e-9);
}

/* Turned into frozen fruit it gives as frozen fruit does, whatever row its name has. */
static void a_raspberry_that_is_frozen(void **state)
{
    struct st_jar j;
    struct st_habit fresh, frozen;
    (void)state;
    st_jar_begin(&j, &kit_books, DAY);
    struct st_jar_piece *p = kit_add(&j, "raspberries", 300, 0);
    assert_true(st_jar_habit(&j, 0, ST_OF_LIQUID, &fresh) >= 0);
    p->kind = ST_KIND_FROZEN_FRUIT;
    assert_true(st_jar_habit(&j, 0, ST_OF_LIQUID, &frozen) >= 0);
    assert_about(frozen.a_m.value, fresh.a_m.value, 1e-12);
    assert_true(frozen.w > 2.0 * fresh.w && frozen.d.value > fresh.d.value);
}

/* ---- peel ---- */

static bool has_curve_of(const struct st_jar_told *t, enum st_of of)
{
    for (int c = 0; c < t->n_curve; c++)
        if (t->curve[c].of == of)
            return true;
    return false;
}

/* The bitterness of the pith only where pith is in; zest gives its oil sooner (common practice, no source). */
static void zest_has_no_white(void **state)
{
    static const char *const OF[] = { "lemon peel", "bitter orange peel, fresh", "grapefruit peel",
                                      "dried bitter orange peel" };
    static const enum st_cut WITH[] = { ST_CUT_WHOLE, ST_CUT_SLICED, ST_CUT_STRIPS, ST_CUT_CHOPPED, ST_CUT_CRUSHED },
                             NONE[] = { ST_CUT_ZEST, ST_CUT_GRATED_ZEST };
    (void)state;
    for (size_t i = 0; i < sizeof OF / sizeof OF[0]; i++) {
        double whole = 0.0;
        for (size_t k = 0; k < 7; k++) {
            struct st_jar j;
            struct st_jar_told t;
            st_jar_begin(&j, &kit_books, 20 * DAY);
            kit_add(&j, OF[i], 30, 0)->cut = k < 5 ? WITH[k] : NONE[k - 5];
            st_jar_pour_spirit(&j, 500, 60, 0);
            kit_run(&j, &(struct st_jar_options){ .seed = 1 }, &t);
            if (has_curve_of(&t, ST_OF_BITTER) != (k < 5))
                fail_msg("%s, %s: bitterness is %stold", OF[i], st_cut_name(j.piece[0].cut), k < 5 ? "not " : "");
            whole = k == 0 ? t.curve[0].most_s.value : whole;
            assert_true(k < 5 || t.curve[0].most_s.value < 0.5 * whole);
            st_jar_told_done(&t);
        }
    }
}

/* ---- finer is never slower ---- */

enum { CURVES = 32 };

/* When 90 % of each curve is out, s. */
static int most_of(const struct st_ingredient *in, enum st_kind kind, enum st_cut cut, double most[CURVES])
{
    struct st_jar j;
    struct st_jar_told t;
    const struct st_jar_options o = { .seed = 1, .shells = 20, .tolerance = 1e-5, .until_s = 1000 * DAY };
    st_jar_begin(&j, &kit_books, 40 * DAY);
    struct st_jar_piece *p = st_jar_add(&j, in, 20, 0);
    if (!p)
        return 0;
    p->kind = kind;
    p->cut = cut;
    st_jar_pour_spirit(&j, 2000, 45, 0);
    kit_run(&j, &o, &t);
    const int n = t.n_curve < CURVES ? t.n_curve : CURVES;
    for (int c = 0; c < n; c++)
        most[c] = t.curve[c].most_s.value;
    st_jar_told_done(&t);
    return n;
}

static void never_slower(const struct st_ingredient *in, enum st_kind kind)
{
    static const enum st_cut ORDER[] = { ST_CUT_WHOLE,  ST_CUT_PRICKED, ST_CUT_HALVED,  ST_CUT_QUARTERED,
                                         ST_CUT_SLICED, ST_CUT_CHOPPED, ST_CUT_CRUSHED, ST_CUT_GROUND };
    double before[CURVES], now[CURVES];
    const int n = most_of(in, kind, ORDER[0], before);
    for (size_t k = 1; n > 0 && k < sizeof ORDER / sizeof ORDER[0]; k++) {
        assert_int_equal(most_of(in, kind, ORDER[k], now), n);
        for (int c = 0; c < n; c++)
            if (!(now[c] <= before[c] * 1.001)) /* the strength of the liquid moves a little */
                fail_msg("%s (%s), curve %d: %s after %.4g h, %s after %.4g h", in->slug, st_kind_name(kind), c,
                         st_cut_name(ORDER[k]), now[c] / 3600, st_cut_name(ORDER[k - 1]), before[c] / 3600);
        memcpy(before, now, sizeof before);
    }
}

/* whole >= pricked >= halved >= quartered >= sliced >= chopped >= crushed >= ground in time to 90 %, for everything solid of
 * the sheet, and for fruit as fresh and as frozen. */
static void finer_is_never_slower_to_nine_tenths(void **state)
{
    int tried = 0;
    (void)state;
    for (size_t i = 0; i < st_catalogue_count(kit_all); i += ST_SHARED ? 3 : 1) {
        const struct st_ingredient *in = st_catalogue_at(kit_all, i);
        if (!st_kind_is_solid(in->kind))
            continue;
        never_slower(in, in->kind);
        if (in->kind == ST_KIND_FRESH_FRUIT)
            never_slower(in, ST_KIND_FROZEN_FRUIT);
        tried++;
    }
    print_message("%d ingredients\n", tried);
    assert_true(tried > ST_SHARE_OF(200, 3));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_half_and_a_quarter_as_spheres),      cmocka_unit_test(cuts_of_fruit_that_is_weighed),
        cmocka_unit_test(a_raspberry_that_is_frozen),           cmocka_unit_test(zest_has_no_white),
        cmocka_unit_test(finer_is_never_slower_to_nine_tenths),
    };
    return cmocka_run_group_tests(tests, kit_load, kit_unload);
}
