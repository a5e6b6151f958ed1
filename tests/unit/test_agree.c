/* Does my reading agree: truths that are drawn, readings of them with noise, and what must come of it.  No outside figures
 * here: those are in tests/data/reconcile. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "agree_kit.h"
#include "core/chi_square.h"
#include "core/gauge.h"
#include "core/strength.h"
#include "model/agree.h"
#include "share.h"

static struct agree_kit K;
static struct st_foretold TRUTH; /* other draws of the same plan */
static struct agree_drink PRIOR;

enum { KINDS = 8, TRUTHS = ST_SHARE_OF(600, 6) };
static const struct {
    enum st_seen what;
    enum st_shows shows;
    double T;
} KIND[KINDS] = { { ST_SEEN_SG, ST_SHOWS_SG, 291.15 },
                  { ST_SEEN_BRIX, ST_SHOWS_BRIX, 294.15 },
                  { ST_SEEN_STRENGTH, ST_SHOWS_STRENGTH, 293.15 },
                  { ST_SEEN_LIQUOR_ML, ST_SHOWS_VOLUME, 295.15 },
                  { ST_SEEN_FLASK_G, ST_SHOWS_FLASK, 293.15 },
                  { ST_SEEN_SG_BOILED, ST_SHOWS_SG_BOILED, 298.15 },
                  { ST_SEEN_ACID, ST_SHOWS_ACID, 293.15 },
                  { ST_SEEN_LIQUOR_G, ST_SHOWS_MASS, 293.15 } };

static int begin(void **state)
{
    (void)state;
    agree_kit_begin(&K);
    agree_kit_run(&K, 99, TRUTHS, &TRUTH);
    assert_true(st_agree_before(&PRIOR, &K.told, NULL) >= 0);
    return 0;
}

static int end(void **state)
{
    (void)state;
    st_foretold_done(&TRUTH);
    agree_kit_done(&K);
    return 0;
}

static void near(double got, double want, double tol)
{
    if (!(fabs(got - want) <= tol))
        fail_msg("got %.15g, want %.15g +- %g", got, want, tol);
}

static void same(const struct st_interval *a, const struct st_interval *b, double tol)
{
    near(a->value, b->value, tol * fabs(b->value) + 1e-12);
    near(a->low, b->low, tol * fabs(b->value) + 1e-12);
    near(a->high, b->high, tol * fabs(b->value) + 1e-12);
}

static void agree(const struct st_observation s[], int n, struct st_agreement *out)
{
    assert_true(st_agree(&K.told, s, n, NULL, out) >= 0);
}

/* Readings of truth t, each with its usual error, that of the thermometer and the shared ones. */
static void read_all(int t, struct st_observation s[KINDS])
{
    double m[ST_NCOMP], warmer;
    kit_truth(&TRUTH, t, m);
    const double rule = sqrt(PRIOR.P[AGREE_RULE * (AGREE_N + 1)]) * kit_normal(50, (uint64_t)t),
                 optics = sqrt(PRIOR.P[AGREE_OPTICS * (AGREE_N + 1)]) * kit_normal(51, (uint64_t)t);
    for (int i = 0; i < KINDS; i++) {
        s[i] = kit_read(m, KIND[i].what, KIND[i].shows, KIND[i].T);
        assert_true(st_drink_reading(m, KIND[i].shows, KIND[i].T + 0.5, 100.0, &warmer) >= 0);
        s[i].value += (warmer - s[i].value) * kit_normal((uint32_t)(60 + i), (uint64_t)t);
        if (KIND[i].what == ST_SEEN_SG || KIND[i].what == ST_SEEN_FLASK_G || KIND[i].what == ST_SEEN_STRENGTH)
            s[i].value *= 1.0 + rule;
        if (KIND[i].what == ST_SEEN_LIQUOR_ML)
            s[i].value /= 1.0 + rule;
        if (KIND[i].what == ST_SEEN_BRIX)
            s[i].value += optics;
        s[i].sd = st_seen_usual_sd(s[i].what, s[i].value);
        s[i].value += s[i].sd * kit_normal((uint32_t)(70 + i), (uint64_t)t);
    }
}

static double true_figure(enum st_agree_figure f, int t)
{
    return TRUTH.draw[st_agree_figure_of(f)][t];
}

/* ---- coverage, levels ---- */

static void intervals_hold_and_p_is_even(void **state)
{
    (void)state;
    int held[ST_AGREE_NFIG] = { 0 }, alone[ST_AGREE_NFIG] = { 0 }, told[ST_AGREE_NFIG] = { 0 }, low = 0, doubted = 0;
    int tenth[10] = { 0 };
    double chi2 = 0.0, p;
    for (int t = 0; t < TRUTHS; t++) {
        struct st_observation s[KINDS];
        struct st_agreement o;
        read_all(t, s);
        agree(s, KINDS, &o);
        assert_int_equal(o.df, KINDS);
        low += o.p < 0.05;
        doubted += !o.agree;
        tenth[(int)fmin(10.0 * o.p, 9.0)]++;
        for (int f = 0; f < ST_AGREE_NFIG; f++) {
            const double x = true_figure((enum st_agree_figure)f, t);
            held[f] += x >= o.after[f].low && x <= o.after[f].high;
            told[f] += o.measured[f].known;
            alone[f] += o.measured[f].known && x >= o.measured[f].low && x <= o.measured[f].high;
        }
    }
    for (int f = 0; f < ST_AGREE_NFIG; f++) {
        assert_int_equal(told[f], TRUTHS);
        print_message("%s: %d of %d held after, %d of %d by the readings alone\n",
                      st_figure_info(st_agree_figure_of((enum st_agree_figure)f))->name, held[f], TRUTHS, alone[f],
                      told[f]);
        if (ST_SHARED)
            continue;
        near((double)held[f] / TRUTHS, 0.95, 0.036); /* 4 standard deviations of such a count */
        near((double)alone[f] / TRUTHS, 0.95, 0.036);
    }
    for (int i = 0; i < 10; i++)
        chi2 += (tenth[i] - 0.1 * TRUTHS) * (tenth[i] - 0.1 * TRUTHS) / (0.1 * TRUTHS);
    assert_int_equal(st_chi_square_above(chi2, 9, &p), ST_OK);
    print_message("p < 0.05 in %d, doubted %d of %d; ten classes of p: chi-square %.1f\n", low, doubted, TRUTHS, chi2);
    if (ST_SHARED)
        return;
    near((double)low / TRUTHS, 0.05, 0.036);
    assert_true(doubted < 0.09 * TRUTHS);
    assert_true(p > 1e-3);
}

/* What strength and sugar are wrong by together, with these kinds of readings alone: as the draws show, and as told. */
static void wrong_together(const int kind[], int n)
{
    double told = 0.0, q = 0.0, z = 0.0, qq = 0.0, zz = 0.0, qz = 0.0;
    for (int t = 0; t < TRUTHS; t++) {
        struct st_observation all[KINDS], s[KINDS];
        struct st_agreement o;
        read_all(t, all);
        for (int i = 0; i < n; i++)
            s[i] = all[kind[i]];
        agree(s, n, &o);
        told += o.correlation / TRUTHS;
        const double a = o.after[ST_AGREE_STRENGTH].value - true_figure(ST_AGREE_STRENGTH, t),
                     b = o.after[ST_AGREE_SUGAR].value - true_figure(ST_AGREE_SUGAR, t);
        q += a / TRUTHS;
        z += b / TRUTHS;
        qq += a * a / TRUTHS;
        zz += b * b / TRUTHS;
        qz += a * b / TRUTHS;
    }
    const double r = (qz - q * z) / sqrt((qq - q * q) * (zz - z * z));
    print_message("%d readings: correlation %.3f, told %.3f\n", n, r, told);
    near(atanh(told), atanh(r), 4.0 / sqrt(TRUTHS - 3.0)); /* 4 standard deviations of Fisher's z */
}

static void strength_and_sugar_are_wrong_together(void **state)
{
    (void)state;
    static const int INSTRUMENTS[] = { 0, 1 }, FLASK[] = { 4 }, STRENGTH[] = { 2 };
    wrong_together(INSTRUMENTS, 2);
    wrong_together(FLASK, 1);
    wrong_together(STRENGTH, 1);
}

/* ---- a wild reading ---- */

/* Wild by 5 standard deviations of what lies between it and all else: its own error over the root of its redundancy. */
static void a_wild_reading_is_found(void **state)
{
    (void)state;
    enum { TIMES = ST_SHARE_OF(60, 6) };
    int found = 0, named = 0, all = 0;
    for (int i = 0; i < KINDS; i++) {
        int here = 0;
        for (int t = 0; t < TIMES; t++) {
            struct st_observation s[KINDS];
            struct st_agreement o;
            read_all(t, s);
            agree(s, KINDS, &o);
            s[i].value += (t % 2 ? 5.0 : -5.0) * o.reading[i].u / sqrt(o.reading[i].redundancy);
            agree(s, KINDS, &o);
            named += !o.agree;
            here += o.doubt == ST_DOUBT_READING && o.suspect == i;
            all++;
        }
        print_message("%s: found %d of %d\n", st_seen_info(KIND[i].what)->key, here, TIMES);
        found += here;
    }
    if (ST_SHARED)
        return;
    assert_true(named >= 0.95 * all);
    if (found < 0.9 * all)
        fail_msg("found %d of %d", found, all);
}

static void both_are_given_when_it_fails(void **state)
{
    (void)state;
    struct st_observation s[KINDS];
    struct st_agreement o, rest;
    read_all(1, s);
    s[2].value += 4.0;
    agree(s, KINDS, &o);
    assert_int_equal(o.doubt, ST_DOUBT_READING);
    assert_int_equal(o.suspect, 2);
    assert_true(o.p < 0.05 && o.p_without >= 0.05);
    for (int i = 2; i < KINDS - 1; i++)
        s[i] = s[i + 1];
    agree(s, KINDS - 1, &rest);
    for (int f = 0; f < ST_AGREE_NFIG; f++) {
        assert_true(o.after[f].known && o.without[f].known);
        same(&o.without[f], &rest.after[f], 1e-6);
    }
    assert_true(fabs(o.after[0].value - o.without[0].value) > 0.1);
    near(o.p_without, rest.p, 1e-6);
}

/* ---- what must not matter, and what must not widen ---- */

static void order_does_not_matter(void **state)
{
    (void)state;
    for (int t = 0; t < 10; t++) {
        struct st_observation s[KINDS], back[KINDS];
        struct st_agreement a, b;
        read_all(t, s);
        if (t % 2)
            s[t % KINDS].value *= 1.08;
        for (int i = 0; i < KINDS; i++)
            back[i] = s[KINDS - 1 - i];
        agree(s, KINDS, &a);
        agree(back, KINDS, &b);
        for (int f = 0; f < ST_AGREE_NFIG; f++)
            same(&a.after[f], &b.after[f], 1e-7);
        near(a.chi2, b.chi2, 1e-6 * (1.0 + a.chi2));
        assert_int_equal(a.doubt, b.doubt);
        assert_int_equal(a.suspect < 0 ? -1 : KINDS - 1 - a.suspect, b.suspect);
    }
}

static void what_says_nothing_changes_nothing(void **state)
{
    (void)state;
    double m[ST_NCOMP];
    struct st_agreement o;
    kit_truth(&TRUTH, 3, m);
    struct st_observation s[6] = {
        kit_read(m, ST_SEEN_SG, ST_SHOWS_SG, 293.15),          kit_read(m, ST_SEEN_SG, ST_SHOWS_SG, 293.15),
        kit_read(m, ST_SEEN_SG, ST_SHOWS_SG, 293.15),          kit_read(m, ST_SEEN_SG, ST_SHOWS_SG, 293.15),
        kit_read(m, ST_SEEN_DRAINED_G, ST_SHOWS_MASS, 293.15), kit_read(m, ST_SEEN_STRENGTH, ST_SHOWS_STRENGTH, 293.15)
    };
    s[0].what = ST_SEEN_PH;
    s[1].what = ST_SEEN_COLOUR;
    s[2].of = "fruit";
    s[3].sd = 1e9;
    s[5].sd = (double)INFINITY;
    agree(s, 6, &o);
    assert_int_equal(o.reading[0].use, ST_AGREE_OTHER_KIND);
    assert_int_equal(o.reading[1].use, ST_AGREE_OTHER_KIND);
    assert_int_equal(o.reading[2].use, ST_AGREE_OF_ONE);
    assert_int_equal(o.reading[3].use, ST_AGREE_USED);
    assert_int_equal(o.reading[4].use, ST_AGREE_NOT_FORETOLD);
    assert_true(o.agree && o.doubt == ST_DOUBT_NONE);
    for (int f = 0; f < ST_AGREE_NFIG; f++) {
        same(&o.after[f], &o.before[f], 1e-9);
        assert_false(o.measured[f].known);
        assert_false(o.without[f].known);
    }
    agree(s, 0, &o);
    assert_true(o.agree && o.p == 1.0 && o.df == 0);
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        same(&o.after[f], &o.before[f], 0.0);
}

static void never_wider_while_all_agree(void **state)
{
    (void)state;
    for (int t = 0; t < 40; t++) {
        struct st_observation s[KINDS];
        double before[ST_AGREE_NFIG];
        struct st_agreement o;
        read_all(t, s);
        for (int f = 0; f < ST_AGREE_NFIG; f++)
            before[f] = (double)INFINITY;
        for (int n = 0; n <= KINDS; n++) {
            agree(s, n, &o);
            if (!o.agree)
                break;
            for (int f = 0; f < ST_AGREE_NFIG; f++) {
                const double wide = o.after[f].high - o.after[f].low;
                assert_true(wide <= (o.before[f].high - o.before[f].low) * (1.0 + 1e-12));
                if (wide > before[f] * 1.02)
                    fail_msg("%d readings leave %g, %d left %g", n, wide, n - 1, before[f]);
                before[f] = wide;
            }
        }
    }
}

/* What hydrometer and refractometer say by themselves is what the gauge says, which solves two equations in two unknowns. */
static void the_readings_alone_are_the_gauge(void **state)
{
    (void)state;
    for (int t = 0; t < 20; t++) {
        double m[ST_NCOMP], acid;
        struct st_agreement o;
        struct st_gauge_out g;
        double x
            [AGREE_N]; /* acid, the whole and the kinds of sugar as the recipe has them; how much sugar, alcohol: not */
        memcpy(x, PRIOR.x0, sizeof x);
        x[AGREE_SUGAR] += 10.0 * (t - 10);
        x[AGREE_ETHANOL] += 4.0 * (t % 7);
        x[AGREE_WATER] -= 10.0 * (t - 10) + 4.0 * (t % 7);
        st_agree_masses(&PRIOR, x, m);
        assert_true(st_drink_reading(m, ST_SHOWS_ACID, ST_T20, 0.0, &acid) >= 0);
        const struct st_observation s[2] = { kit_read(m, ST_SEEN_SG, ST_SHOWS_SG, 290.15),
                                             kit_read(m, ST_SEEN_BRIX, ST_SHOWS_BRIX, 296.15) };
        const struct st_gauge_in in = { .mode = ST_GAUGE_DENSITY_BRIX,
                                        .sg = s[0].value,
                                        .sg_T = 290.15,
                                        .brix = s[1].value,
                                        .brix_T = 296.15,
                                        .acid_g_l = acid,
                                        .invert_share = (m[ST_GLUCOSE] + m[ST_FRUCTOSE]) / st_mixture_sugars(m) };
        assert_true(st_gauge(&in, &g) >= 0);
        agree(s, 2, &o);
        assert_true(o.measured[ST_AGREE_STRENGTH].known && o.measured[ST_AGREE_SUGAR].known);
        near(o.measured[ST_AGREE_STRENGTH].value, g.strength, 0.02);
        near(o.measured[ST_AGREE_SUGAR].value, g.sugar_g_l, 0.2);
        assert_false(o.measured[ST_AGREE_VOLUME].known);
        assert_false(o.measured[ST_AGREE_ACID].known);
        assert_true(isnan(o.p_alone));
    }
}

/* ---- shared errors, temperature ---- */

static void three_refractometers_are_not_three_times_as_good(void **state)
{
    (void)state;
    double m[ST_NCOMP], left[2];
    struct st_agreement o;
    kit_truth(&TRUTH, 5, m);
    struct st_observation s[20];
    for (int i = 0; i < 20; i++)
        s[i] = kit_read(m, ST_SEEN_BRIX, ST_SHOWS_BRIX, 293.15);
    for (int k = 0; k < 2; k++) {
        agree(s, k ? 20 : 1, &o);
        assert_true(o.refractometer);
        left[k] = o.reading[0].after.high - o.reading[0].after.low;
    }
    assert_true(left[1] < left[0]);
    /* were they independent: u 0.2/sqrt(20) = 0.045, 95 % over 0.18 Brix; the shared error alone is 0.2 Brix and more */
    agree(s, 20, &o);
    const double sugar_20 = o.after[ST_AGREE_SUGAR].high - o.after[ST_AGREE_SUGAR].low;
    agree(s, 1, &o);
    assert_true(sugar_20 > 0.7 * (o.after[ST_AGREE_SUGAR].high - o.after[ST_AGREE_SUGAR].low));
}

static void temperature_is_respected(void **state)
{
    (void)state;
    double m[ST_NCOMP];
    struct st_agreement o;
    for (int c = 0; c < ST_NCOMP; c++)
        m[c] = 0.0;
    kit_truth(&TRUTH, 8, m);
    struct st_observation s[2] = { kit_read(m, ST_SEEN_SG, ST_SHOWS_SG, 279.15),
                                   kit_read(m, ST_SEEN_FLASK_G, ST_SHOWS_FLASK, 301.15) };
    agree(s, 2, &o);
    assert_true(o.agree && !o.warm_unsaid);
    near(o.reading[0].standard, 0.0, 1.5);
    const double told = o.reading[0].u;
    s[0].temperature_K = (double)NAN;
    agree(s, 2, &o);
    assert_true(o.warm_unsaid && o.reading[0].u > told);
    s[0].temperature_K = 293.15; /* a lie of 14 K */
    s[0].sd = s[1].sd = 0.0005;
    s[1].sd = 0.05;
    agree(s, 2, &o);
    assert_false(o.agree);
}

/* Half of a reading's error is its instrument's: ten are 1 / sqrt(0.75/10 + 0.25) = 1.75 times as good as one, not ten. */
static void the_same_instrument_again_says_little_more(void **state)
{
    (void)state;
    struct st_observation s[10];
    struct st_agreement one, ten;
    double m[ST_NCOMP];
    st_agree_masses(&PRIOR, PRIOR.x0, m);
    for (int i = 0; i < 10; i++)
        s[i] = kit_read(m, ST_SEEN_STRENGTH, ST_SHOWS_STRENGTH, 293.15);
    for (int i = 0; i < 10; i++)
        s[i].sd = 0.3;
    agree(s, 1, &one);
    agree(s, 10, &ten);
    near(one.reading[0].u, 0.3, 1e-12);
    near(ten.reading[0].u / sqrt(10.0), 0.3 * sqrt(0.75 / 10.0 + 0.25), 1e-12);
    assert_true(ten.after[ST_AGREE_STRENGTH].high - ten.after[ST_AGREE_STRENGTH].low >
                0.5 * (one.after[ST_AGREE_STRENGTH].high - one.after[ST_AGREE_STRENGTH].low));
}

/* ---- whom to doubt, and why ---- */

static struct st_observation *with(struct st_observation *s, const double m[ST_NCOMP], int leave)
{
    int n = 0;
    for (int i = 0; i < KINDS; i++)
        if (i != leave)
            s[n++] = kit_read(m, KIND[i].what, KIND[i].shows, 293.15);
    return s;
}

/* One reading of `what` gone wrong by `value` among seven good ones. */
static void slipped(enum st_seen what, double value, enum st_agree_slip slip, double slip_value, double tol)
{
    double m[ST_NCOMP];
    struct st_observation s[KINDS + 1];
    struct st_agreement o;
    st_agree_masses(&PRIOR, PRIOR.x0, m);
    int leave = -1;
    for (int i = 0; i < KINDS; i++)
        if (KIND[i].what == what)
            leave = i;
    with(s, m, leave);
    const int n = leave < 0 ? KINDS : KINDS - 1;
    s[n] = s[0];
    s[n].what = what;
    s[n].value = value;
    agree(s, n + 1, &o);
    if (o.doubt != ST_DOUBT_READING || o.suspect != n || o.slip != slip)
        fail_msg("%s of %g: doubt %d, suspect %d of %d, slip %d (%g), wanted %d", st_seen_info(what)->key, value,
                 o.doubt, o.suspect, n, o.slip, o.slip_value, slip);
    near(o.slip_value, slip_value, tol);
}

static double shown(enum st_shows what, double T)
{
    double m[ST_NCOMP], y;
    st_agree_masses(&PRIOR, PRIOR.x0, m);
    assert_true(st_drink_reading(m, what, T, 100.0, &y) >= 0);
    return y;
}

static void slips_are_guessed(void **state)
{
    (void)state;
    const double sg = shown(ST_SHOWS_SG, 293.15), brix = shown(ST_SHOWS_BRIX, 293.15),
                 strength = shown(ST_SHOWS_STRENGTH, 293.15), sugar = shown(ST_SHOWS_SUGAR, 293.15),
                 grams = shown(ST_SHOWS_MASS, 293.15), rho = shown(ST_SHOWS_DENSITY, 293.15),
                 ml = shown(ST_SHOWS_VOLUME, 293.15), boiled = shown(ST_SHOWS_SG_BOILED, 293.15);
    slipped(ST_SEEN_SG, shown(ST_SHOWS_SG, 306.15), ST_SLIP_WARM, 306.15, 1.5);
    slipped(ST_SEEN_SG, sg + 0.0100, ST_SLIP_ONE_MARK, 0.010, 0.0);
    slipped(ST_SEEN_SG, sg - 0.0300, ST_SLIP_NONE, 0.0, 0.0);
    slipped(ST_SEEN_BRIX, 100.0 * sugar / rho, ST_SLIP_SUGAR_ALONE, 100.0 * sugar / rho, 0.6);
    slipped(ST_SEEN_STRENGTH, 2.0 * strength, ST_SLIP_PROOF, 2.0 * strength, 1.0);
    slipped(ST_SEEN_STRENGTH, 100.0 * strength / 100.0 * 789.24 / rho, ST_SLIP_BY_MASS, strength * 789.24 / rho, 0.2);
    slipped(ST_SEEN_STRENGTH, 0.0, ST_SLIP_SPIRIT_HYDROMETER, 0.0, 0.5);
    slipped(ST_SEEN_SUGAR, 0.01 * brix * rho, ST_SLIP_BRIX_AS_SUGAR, 0.01 * brix * rho, 2.0);
    slipped(ST_SEEN_ACID, 20.0, ST_SLIP_NONE, 0.0, 0.0);
    slipped(ST_SEEN_LIQUOR_ML, 0.8 * ml, ST_SLIP_LOST, 0.2 * ml, 0.02 * ml);
    slipped(ST_SEEN_LIQUOR_G, grams + 420.0, ST_SLIP_VESSEL_WEIGHED, 420.0, 25.0);
    slipped(ST_SEEN_FLASK_G, 1.06 * shown(ST_SHOWS_FLASK, 293.15), ST_SLIP_WRONG_FLASK, 106.0, 0.3);
    slipped(ST_SEEN_FLASK_G, 48.0 + shown(ST_SHOWS_FLASK, 293.15), ST_SLIP_VESSEL_WEIGHED, 48.0, 0.3);
    slipped(ST_SEEN_SG_BOILED, 1.0 + (boiled - 1.0) / 0.8, ST_SLIP_NOT_MADE_UP, 0.8, 0.03);
    slipped(ST_SEEN_SG_BOILED, boiled - 0.015, ST_SLIP_NOT_BOILED_OFF, sg, 0.002);
}

/* Sugar left out of the recipe's drink: the readings say so with one voice. */
static void the_recipe_is_doubted_when_the_readings_agree(void **state)
{
    (void)state;
    double m[ST_NCOMP];
    struct st_observation s[KINDS];
    struct st_agreement o;
    st_agree_masses(&PRIOR, PRIOR.x0, m);
    m[ST_SUCROSE] -= 110.0;
    with(s, m, -1);
    agree(s, KINDS, &o);
    assert_int_equal(o.doubt, ST_DOUBT_RECIPE);
    assert_int_equal(o.suspect, -1);
    assert_true(o.p_alone > 0.5);
    double sugar, strength;
    assert_true(st_drink_reading(m, ST_SHOWS_SUGAR, ST_T20, 0.0, &sugar) >= 0);
    assert_true(st_drink_reading(m, ST_SHOWS_STRENGTH, ST_T20, 0.0, &strength) >= 0);
    assert_true(o.without[ST_AGREE_SUGAR].low < sugar && o.without[ST_AGREE_SUGAR].high > sugar);
    assert_true(o.without[ST_AGREE_STRENGTH].low < strength && o.without[ST_AGREE_STRENGTH].high > strength);
    assert_true(o.without[ST_AGREE_SUGAR].high < o.before[ST_AGREE_SUGAR].low);
}

static void one_reading_against_the_recipe_is_either(void **state)
{
    (void)state;
    double m[ST_NCOMP];
    struct st_agreement o;
    kit_truth(&TRUTH, 2, m);
    struct st_observation s = kit_read(m, ST_SEEN_SG, ST_SHOWS_SG, 293.15);
    s.value += 0.03;
    agree(&s, 1, &o);
    assert_int_equal(o.doubt, ST_DOUBT_EITHER);
    assert_int_equal(o.suspect, 0);
    for (int f = 0; f < ST_AGREE_NFIG; f++)
        same(&o.without[f], &o.before[f], 1e-9);
    assert_true(isnan(o.p_alone));
    for (int f = 0; f < ST_AGREE_NFIG; f++) /* a density alone is that of many drinks */
        assert_false(o.measured[f].known);
}

/* Two hydrometers that contradict each other, and the recipe knows neither better: one is the other's rival. */
static void two_that_contradict_are_both_named(void **state)
{
    (void)state;
    struct st_agreement o;
    struct st_observation s[2] = { { .what = ST_SEEN_SG,
                                     .value = K.told.fig[ST_FIG_SG].value + 0.004,
                                     .sd = 0.0004,
                                     .temperature_K = 293.15,
                                     .of = "" },
                                   { .what = ST_SEEN_SG,
                                     .value = K.told.fig[ST_FIG_SG].value - 0.004,
                                     .sd = 0.0004,
                                     .temperature_K = 293.15,
                                     .of = "" } };
    agree(s, 2, &o);
    assert_false(o.agree);
    assert_int_equal(o.doubt, ST_DOUBT_READING);
    assert_true(o.suspect >= 0 && o.rival == 1 - o.suspect);
}

/* ---- drained solids ---- */

static void drained_solids_follow_the_draws(void **state)
{
    (void)state;
    struct st_agree_drained all, few;
    assert_int_equal(st_agree_drained_of(K.plan, &K.recipe, 7, 1500, &all), ST_OK);
    assert_int_equal(st_agree_drained_of(K.plan, &K.recipe, 7, 100, &few), ST_OK);
    assert_int_equal(all.n, 1);
    const double *g = all.g[0], *again = few.g[0];
    double mean_g = 0.0, mean_ml = 0.0, both = 0.0, gg = 0.0, vv = 0.0;
    for (int i = 0; i < 1500; i++) {
        mean_g += g[i] / 1500;
        mean_ml += K.told.draw[ST_FIG_MASS][i] / 1500;
        if (i < 100)
            assert_true(g[i] == again[i]);
    }
    for (int i = 0; i < 1500; i++) {
        const double a = g[i] - mean_g, b = K.told.draw[ST_FIG_MASS][i] - mean_ml;
        both += a * b;
        gg += a * a;
        vv += b * b;
    }
    assert_true(both / sqrt(gg * vv) < -0.8); /* what the fruit keeps is not in the drink */
    struct st_observation s = {
        .what = ST_SEEN_DRAINED_G, .value = mean_g + 60.0, .temperature_K = (double)NAN, .of = ""
    };
    struct st_agreement o;
    assert_true(st_agree(&K.told, &s, 1, &all, &o) >= 0);
    assert_int_equal(o.reading[0].use, ST_AGREE_USED);
    assert_true(o.after[ST_AGREE_VOLUME].value < o.before[ST_AGREE_VOLUME].value - 20.0);
    assert_true(o.after[ST_AGREE_VOLUME].high - o.after[ST_AGREE_VOLUME].low <
                0.8 * (o.before[ST_AGREE_VOLUME].high - o.before[ST_AGREE_VOLUME].low));
    st_agree_drained_done(&all);
    st_agree_drained_done(&few);
}

/* A second jar beside the first: what each is foretold to keep is read of each, and never of both together. */
static void drained_solids_are_of_their_steep(void **state)
{
    (void)state;
    struct st_line more[2] = { kit_line(&K.fruit, kit_g(200.0)), kit_line(&K.spirit, kit_ml(400.0)) };
    struct st_line drink[4] = { kit_from(0, ST_LIQUOR, kit_all()), kit_from(1, ST_LIQUOR, kit_all()), K.drink[1],
                                K.drink[2] };
    struct st_step step[3] = { K.step[0], kit_step("second", ST_DO_STEEP, more, 2),
                               kit_step("drink", ST_DO_BLEND, drink, 4) };
    struct st_recipe r = kit_recipe(step, 3);
    struct st_problem problem;
    struct st_foretold told;
    struct st_agree_drained d;
    struct st_agreement o;
    kit_ideal(&step[1]);
    kit_ideal(&step[2]);
    struct st_plan *plan = st_plan_create(&r, &problem);
    assert_non_null(plan);
    const struct st_options with = { .seed = 7, .draws = 400 };
    assert_true(st_plan_run(plan, &with, &told) >= 0);
    assert_int_equal(st_agree_drained_of(plan, &r, 7, 400, &d), ST_OK);
    assert_int_equal(d.n, 2);
    double mean[2] = { 0.0, 0.0 };
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < 400; i++)
            mean[k] += d.g[k][i] / 400;
    assert_true(mean[0] > 1.5 * mean[1]);
    struct st_observation s[2] = { { .what = ST_SEEN_DRAINED_G, .value = mean[0], .temperature_K = (double)NAN },
                                   { .what = ST_SEEN_DRAINED_G, .value = mean[1], .temperature_K = (double)NAN } };
    s[0].jar = "jar";
    s[1].jar = "second";
    s[0].of = s[1].of = "";
    assert_true(st_agree(&told, s, 2, &d, &o) >= 0);
    assert_true(o.agree);
    for (int k = 0; k < 2; k++)
        near(o.reading[k].before.value, mean[k], 0.02 * mean[k]);
    s[1].jar = ""; /* of which of them? */
    assert_true(st_agree(&told, s, 2, &d, &o) >= 0);
    assert_int_equal(o.reading[1].use, ST_AGREE_WHICH_STEEP);
    assert_int_equal(o.df, 1);
    st_agree_drained_done(&d);
    st_foretold_done(&told);
    st_plan_free(plan);
}

/* ---- refusals ---- */

static void what_cannot_be_is_refused(void **state)
{
    (void)state;
    struct st_observation s[ST_AGREE_MOST + 1];
    struct st_agreement o, before;
    struct st_foretold bare = K.told;
    for (int i = 0; i <= ST_AGREE_MOST; i++)
        s[i] = (struct st_observation){ .what = ST_SEEN_SG, .value = 1.04, .temperature_K = 293.15, .of = "" };
    memset(&o, 1, sizeof o);
    before = o;
    assert_int_equal(st_agree(&K.told, s, ST_AGREE_MOST + 1, NULL, &o), ST_E_DOMAIN);
    s[1].value = (double)NAN;
    assert_int_equal(st_agree(&K.told, s, 2, NULL, &o), ST_E_DOMAIN);
    bare.draws = 20;
    assert_int_equal(st_agree(&bare, s, 1, NULL, &o), ST_E_DOMAIN);
    bare = K.told;
    bare.draw[ST_FIG_VOLUME] = NULL;
    assert_int_equal(st_agree(&bare, s, 1, NULL, &o), ST_E_REFUSED);
    assert_memory_equal(&o, &before, sizeof o);
    s[0].temperature_K = 330.0; /* no rule for warm spirit */
    agree(s, 1, &o);
    assert_int_equal(o.reading[0].use, ST_AGREE_NOT_FORETOLD);
    s[0] = (struct st_observation){ .what = ST_SEEN_FLASK_G, .value = 100.0, .temperature_K = 293.15, .of = "" };
    agree(s, 1, &o);
    assert_int_equal(o.reading[0].use, ST_AGREE_NOT_FORETOLD);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(intervals_hold_and_p_is_even),
        cmocka_unit_test(strength_and_sugar_are_wrong_together),
        cmocka_unit_test(a_wild_reading_is_found),
        cmocka_unit_test(both_are_given_when_it_fails),
        cmocka_unit_test(order_does_not_matter),
        cmocka_unit_test(what_says_nothing_changes_nothing),
        cmocka_unit_test(never_wider_while_all_agree),
        cmocka_unit_test(the_readings_alone_are_the_gauge),
        cmocka_unit_test(three_refractometers_are_not_three_times_as_good),
        cmocka_unit_test(temperature_is_respected),
        cmocka_unit_test(the_same_instrument_again_says_little_more),
        cmocka_unit_test(slips_are_guessed),
        cmocka_unit_test(the_recipe_is_doubted_when_the_readings_agree),
        cmocka_unit_test(one_reading_against_the_recipe_is_either),
        cmocka_unit_test(two_that_contradict_are_both_named),
        cmocka_unit_test(drained_solids_follow_the_draws),
        cmocka_unit_test(drained_solids_are_of_their_steep),
        cmocka_unit_test(what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, begin, end);
}
