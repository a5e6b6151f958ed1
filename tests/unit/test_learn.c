/* Learning from what a maker saw: closed cases, wild readings, what cannot be told apart, several batches, and whether
 * the intervals hold, on jars of a finer model of another kind (pieces of three sizes). */
#include "steep_kit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/learn.h"
#include "model/random.h"
#include "share.h"

static const double DAY_S = 86400.0;

static void make_jar(struct st_jar *j, const char *name, double g, double days)
{
    const struct st_ingredient *in = must(name);
    st_jar_begin(j, &books->jar, days * DAY_S);
    assert_non_null(st_jar_add(j, in, g, 0));
    assert_non_null(st_jar_pour_spirit(j, 500.0, 45.0, 0));
}

static struct st_observation seen(enum st_seen what, double day, double value)
{
    return (struct st_observation){ .what = what,
                                    .value = value,
                                    .t_s = day * DAY_S,
                                    .temperature_K = (double)NAN,
                                    .of = "",
                                    .by = "",
                                    .jar = "",
                                    .batch = "",
                                    .words = "" };
}

/* ---- a weight is what it is ---- */

static void test_drained_weight_teaches_retention_alone(void **state)
{
    struct st_jar j;
    struct st_jar_told told;
    struct st_learnt out;
    const int piece[] = { -1 };
    (void)state;
    make_jar(&j, "almonds", 100.0, 20.0);
    const struct st_jar_options o = { .draws = 0 };
    assert_true(st_jar_run(&j, &o, &told) >= 0);
    const double solids = told.end[0].solids_g.at[0].value;
    st_jar_told_done(&told);

    struct st_observation s = seen(ST_SEEN_DRAINED_G, 20.0, solids + 10.0); /* it kept 10 g more than foretold */
    s.sd = 1.0;
    const struct st_learn_batch b = { &j, &s, piece, 1 };
    assert_true(st_learn(&b, 1, &out) >= 0);
    assert_int_equal(out.n_used, 1);
    const struct st_learnt_thing *t = &out.thing[0];
    assert_true(t->mean[ST_THETA_R] > 0.02);
    assert_int_equal(t->grade[ST_THETA_D], ST_LEARNT_NOTHING);
    assert_true(fabs(t->mean[ST_THETA_C0]) < 0.05);
    assert_true(fabs(out.reading[0][0].before - solids) < 0.5);
    assert_true(fabs(out.reading[0][0].after - s.value) < 2.0);
    /* one parameter, nearly linear: weight of the prior of this batch against the reading's, [gelman2013] section 2.5
     */
    const double prior = hypot(t->prior_sd[ST_THETA_R], t->between[ST_THETA_R]),
                 kept = 45.0; /* retention 0.45, from memory */
    const double share = prior * prior / (prior * prior + 1.0 / (kept * kept));
    assert_true(fabs(out.reading[0][0].after - (solids + 10.0 * share)) < 0.6);
    st_learnt_done(&out);
}

static void test_nothing_usable_is_refused(void **state)
{
    struct st_jar j;
    struct st_learnt out;
    const int piece[] = { -1 };
    (void)state;
    make_jar(&j, "almonds", 100.0, 20.0);
    const struct st_observation s = seen(ST_SEEN_PH, 3.0, 3.2);
    const struct st_learn_batch b = { &j, &s, piece, 1 };
    assert_int_equal(st_learn(&b, 1, &out), ST_E_REFUSED);
    assert_int_equal(out.n_used, 0);
    st_learnt_done(&out);
    assert_int_equal(st_learn(&b, 0, &out), ST_E_DOMAIN);
    assert_int_equal(st_learn(&b, ST_LEARN_BATCHES + 1, &out), ST_E_DOMAIN);
}

/* ---- the order of tastes ---- */

static void test_too_weak_then_right_is_slower_than_right_at_once(void **state)
{
    struct st_jar j;
    struct st_learnt slow, fast;
    const int piece[] = { 0, 0, 0 };
    (void)state;
    make_jar(&j, "cloves", 5.0, 30.0);
    const struct st_observation late[] = { seen(ST_SEEN_TASTE, 1, -1), seen(ST_SEEN_TASTE, 5, -1),
                                           seen(ST_SEEN_TASTE, 25, 0) };
    const struct st_observation soon[] = { seen(ST_SEEN_TASTE, 1, 0), seen(ST_SEEN_TASTE, 5, 0),
                                           seen(ST_SEEN_TASTE, 25, 0) };
    const struct st_learn_batch a = { &j, late, piece, 3 }, b = { &j, soon, piece, 3 };
    assert_true(st_learn(&a, 1, &slow) >= 0);
    assert_true(st_learn(&b, 1, &fast) >= 0);
    assert_true(slow.thing[0].mean[ST_THETA_D] < fast.thing[0].mean[ST_THETA_D] - 0.1);
    assert_true(slow.thing[0].cov[0] < slow.thing[0].prior_sd[0] * slow.thing[0].prior_sd[0]);
    st_learnt_done(&slow);
    st_learnt_done(&fast);
}

/* ---- what is in the glass, not what was given ---- */

static void test_a_liquid_that_is_thinned_looks_paler(void **state)
{
    static struct st_jar j;
    struct st_learnt out;
    const int piece[] = { 0, 0, 0, 0 };
    (void)state;
    make_jar(&j, "cloves", 5.0, 20.0); /* 500 mL */
    assert_true(st_jar_split(&j, 0, 10.0 * DAY_S));
    assert_non_null(st_jar_pour_spirit(&j, 1500.0, 45.0, 1)); /* four times the volume from day 10 on */
    const struct st_observation s[] = { seen(ST_SEEN_COLOUR, 8, 10.0), seen(ST_SEEN_COLOUR, 9.5, 10.2),
                                        seen(ST_SEEN_COLOUR, 10.5, 2.6), seen(ST_SEEN_COLOUR, 12, 2.7) };
    const struct st_learn_batch b = { &j, s, piece, 4 };
    assert_true(st_learn(&b, 1, &out) >= 0);
    for (int i = 0; i < 4; i++) {
        assert_true(out.reading[0][i].used && !out.reading[0][i].odd);
        assert_true(fabs(out.reading[0][i].after / s[i].value - 1.0) < 0.25);
    }
    assert_true(out.early_wanted); /* none of them is early */
    st_learnt_done(&out);
}

/* A flask that holds 100 mL and the hydrometer speak of the same density: what the one says of the fruit, the other does. */
static void test_a_flask_is_learnt_from_as_a_hydrometer(void **state)
{
    static struct st_jar j;
    struct st_learnt out;
    const int piece[] = { -1, -1, -1 };
    (void)state;
    make_jar(&j, "cloves", 5.0, 20.0);
    struct st_observation s[] = { seen(ST_SEEN_SG, 8, 0.95), seen(ST_SEEN_FLASK_G, 8, 95.0),
                                  seen(ST_SEEN_SG_BOILED, 8, 1.0) };
    s[1].flask_ml = 100.0;
    const struct st_learn_batch b = { &j, s, piece, 3 };
    assert_true(st_learn(&b, 1, &out) >= 0);
    for (int i = 0; i < 3; i++)
        assert_true(out.reading[0][i].used);
    /* 0.99823 g/mL of water, less the buoyancy of 1.2 kg/m3 of air */
    const double rho = 998.203 * out.reading[0][0].after;
    if (fabs(out.reading[0][1].after - 0.1 * (rho - 1.2) / (1.0 - 1.2 / 8000.0)) > 1e-3)
        fail_msg("%g g in the flask, %g by the hydrometer", out.reading[0][1].after, out.reading[0][0].after);
    assert_true(out.reading[0][2].after > out.reading[0][0].after);
    st_learnt_done(&out);
}

/* ---- several makings ---- */

static void test_makings_are_put_together(void **state)
{
    struct st_jar j;
    struct st_learnt one, three;
    const int piece[] = { 0, 0, 0, 0 };
    (void)state;
    make_jar(&j, "cloves", 5.0, 30.0);
    const struct st_observation s[] = { seen(ST_SEEN_COLOUR, 0.5, 1.0), seen(ST_SEEN_COLOUR, 2, 2.0),
                                        seen(ST_SEEN_COLOUR, 8, 3.4), seen(ST_SEEN_COLOUR, 25, 4.0) };
    const struct st_learn_batch b[] = { { &j, s, piece, 4 }, { &j, s, piece, 4 }, { &j, s, piece, 4 } };
    assert_true(st_learn(b, 1, &one) >= 0);
    assert_true(st_learn(b, 3, &three) >= 0);
    assert_int_equal(three.thing[0].batches, 3);
    assert_int_equal(three.n_used, 12);
    const double sd1 = sqrt(one.thing[0].cov[0]), sd3 = sqrt(three.thing[0].cov[0]);
    assert_true(sd3 < 0.8 * sd1);
    assert_true(sd3 > three.thing[0].between[0] / sqrt(3.0) *
                          0.99); /* no surer than what differs from making to making allows */
    st_learnt_done(&one);
    st_learnt_done(&three);
}

/* ---- nothing widens, and nothing is told by chance ---- */

/* What the middle foretells of one reading of cloves and vanilla in one jar. */
static double foretold(const struct st_jar_told *t, enum st_seen what)
{
    switch (what) {
    case ST_SEEN_DRAINED_G: return t->end[0].solids_g.at[0].value;
    case ST_SEEN_LIQUOR_ML: return t->end[0].liquor_ml.at[0].value;
    case ST_SEEN_STRENGTH: return t->strength.at[t->n_time - 1].value;
    case ST_SEEN_MARK: return 5.0;
    case ST_SEEN_TASTE: return 0.0;
    default: return 3.0; /* a colour, on a scale of the maker's own */
    }
}

static void compare(const char *what, const char *of, const struct st_interval *a, const struct st_interval *b,
                    double x)
{
    if (!(a->high - a->low <= 1.02 * (b->high - b->low) + x))
        fail_msg("after a %s the band of %s is %.5g..%.5g, and was %.5g..%.5g", what, of, a->low, a->high, b->low,
                 b->high);
}

/* The same numbers are drawn before and after, so that their noise is in both: a fiftieth is left for what is not. */
static void no_wider(const char *what, const struct st_jar_told *before, const struct st_jar_told *after)
{
    const int n = before->n_time;
    assert_int_equal(after->n_time, n);
    for (int c = 0; c < before->n_curve; c++)
        for (int i = 1; i < n; i++) {
            const struct st_jar_curve *b = &before->curve[c], *a = &after->curve[c];
            compare(what, b->name, &a->share.at[i], &b->share.at[i], 0.005);
            if (b->known)
                compare(what, "mg/L", &a->mg_l.at[i], &b->mg_l.at[i], 0.01 * b->mg_l.at[n - 1].value);
        }
    compare(what, "strength", &after->strength.at[n - 1], &before->strength.at[n - 1], 0.005);
    compare(what, "the liquor", &after->end[0].liquor_ml.at[0], &before->end[0].liquor_ml.at[0], 0.1);
    compare(what, "the solids", &after->end[0].solids_g.at[0], &before->end[0].solids_g.at[0], 0.1);
}

static void two_spices(struct st_jar *j)
{
    make_jar(j, "vanilla pod", 20.0, 10.0);
    assert_non_null(st_jar_add(j, must("cloves"), 10.0, 0));
}

static void test_no_single_reading_widens_a_band(void **state)
{
    static const struct {
        enum st_seen what;
        int piece;
        double day;
    } ONE[] = { { ST_SEEN_DRAINED_G, -1, 10 }, { ST_SEEN_LIQUOR_ML, -1, 10 }, { ST_SEEN_STRENGTH, -1, 10 },
                { ST_SEEN_COLOUR, 0, 2 },      { ST_SEEN_COLOUR, 1, 5 },      { ST_SEEN_MARK, 0, 2 },
                { ST_SEEN_MARK, 1, 9 },        { ST_SEEN_TASTE, 0, 3 } };
    static struct st_jar j, k;
    struct st_jar_told before, after;
    const struct st_jar_options o = { .seed = 3, .draws = 400, .shells = 16, .tolerance = 1e-4 };
    (void)state;
    two_spices(&j);
    assert_true(st_jar_run(&j, &o, &before) >= 0);
    for (size_t i = 0; i < sizeof ONE / sizeof *ONE; i++) {
        struct st_learnt out;
        const struct st_observation s = seen(ONE[i].what, ONE[i].day, foretold(&before, ONE[i].what));
        const struct st_learn_batch b = { &j, &s, &ONE[i].piece, 1 };
        const char *name = st_seen_info(ONE[i].what)->name;
        assert_true(st_learn(&b, 1, &out) >= 0);
        k = j;
        (void)st_learnt_apply(&out, &k);
        assert_true(st_jar_run(&k, &o, &after) >= 0);
        no_wider(name, &before, &after);
        if (ONE[i].what == ST_SEEN_DRAINED_G) { /* told: narrower, by more than chance */
            const struct st_interval *x = &after.end[0].solids_g.at[0], *y = &before.end[0].solids_g.at[0];
            assert_true(x->high - x->low < 0.9 * (y->high - y->low));
        }
        st_jar_told_done(&after);
        st_learnt_done(&out);
    }
    st_jar_told_done(&before);
}

/* Even when the reading is not what was foretold, nothing is in more doubt than before. */
static void test_no_theta_is_in_more_doubt(void **state)
{
    static struct st_jar j;
    (void)state;
    two_spices(&j);
    for (int i = 0; i < 12; i++) {
        static const double VALUE[] = { 0.0, 2.0, 5.0, 9.0 };
        struct st_learnt out;
        const int piece = i % 2;
        const struct st_observation s = seen(ST_SEEN_MARK, 0.5 + 3 * (i / 4), VALUE[i % 4]);
        const struct st_learn_batch b = { &j, &s, &piece, 1 };
        assert_true(st_learn(&b, 1, &out) >= 0);
        for (int t = 0; t < out.n_thing; t++)
            for (int k = 0; k < ST_NTHETA; k++) {
                const struct st_learnt_thing *l = &out.thing[t];
                assert_true(sqrt(l->cov[k * ST_NTHETA + k]) <= l->prior_sd[k] * (1.0 + 1e-9));
            }
        st_learnt_done(&out);
    }
}

/* A colour is on a scale of its own: one of them says nothing of how much is in it, and must not seem to by chance. */
static void test_one_colour_says_nothing_of_the_content(void **state)
{
    static const char *const NAME[] = { "cloves", "coriander seed", "vanilla pod", "cinnamon stick", "orange peel" };
    const int piece[] = { 0 };
    double least = 1e9;
    (void)state;
    for (int i = 0; i < 30; i++) {
        static struct st_jar j;
        struct st_learnt out;
        make_jar(&j, NAME[i % 5], 20.0, 20.0);
        const struct st_observation s = seen(ST_SEEN_COLOUR, 0.3 + 0.6 * i, 1.0 + i);
        const struct st_learn_batch b = { &j, &s, piece, 1 };
        assert_true(st_learn(&b, 1, &out) >= 0);
        const struct st_learnt_thing *l = &out.thing[0];
        if (l->grade[ST_THETA_C0] != ST_LEARNT_NOTHING)
            fail_msg("%s on day %.1f: sd of the content is %.3f of what it was", NAME[i % 5], s.t_s / DAY_S,
                     sqrt(l->cov[ST_THETA_C0 * (ST_NTHETA + 1)]) / l->prior_sd[ST_THETA_C0]);
        least = fmin(least, out.effective);
        st_learnt_done(&out);
    }
    print_message("one colour: effective number of samples %.0f at least\n", least);
    assert_true(least >= 60.0);
}

/* ---- one thing in two lines, and figures that cannot be told apart ---- */

static void test_one_thing_in_two_lines_is_one_thing(void **state)
{
    static struct st_jar j;
    struct st_jar_told told;
    struct st_learnt two, one;
    const int piece[] = { -1 };
    double sum = 0.0;
    (void)state;
    make_jar(&j, "almonds", 60.0, 20.0);
    assert_non_null(st_jar_add(&j, must("almonds"), 40.0, 0));
    j.piece[1].cut = ST_CUT_CHOPPED;
    assert_true(st_jar_run(&j, &(struct st_jar_options){ .draws = 0 }, &told) >= 0);
    struct st_observation s = seen(ST_SEEN_DRAINED_G, 20.0, told.end[0].solids_g.at[0].value + 10.0);
    s.sd = 1.0;
    st_jar_told_done(&told);
    const struct st_learn_batch b = { &j, &s, piece, 1 };
    assert_true(st_learn(&b, 1, &two) >= 0);
    assert_int_equal(two.n_thing, 1);
    assert_int_equal(two.thing[0].batches, 1); /* one making, though in two lines */
    assert_true(two.thing[0].mean[ST_THETA_R] > 0.02);
    assert_int_equal(st_learnt_apply(&two, &j), 2); /* both lines have it */
    for (int k = 0; k < ST_NTHETA * ST_NTHETA; k++)
        sum += fabs(j.piece[0].theta.cov[k] - j.piece[1].theta.cov[k]);
    assert_true(sum == 0.0);

    /* as in one line of 100 g, but that two lines may keep a little differently */
    static struct st_jar whole;
    make_jar(&whole, "almonds", 100.0, 20.0);
    const struct st_learn_batch w = { &whole, &s, piece, 1 };
    assert_true(st_learn(&w, 1, &one) >= 0);
    assert_true(fabs(two.thing[0].mean[ST_THETA_R] - one.thing[0].mean[ST_THETA_R]) < 0.06);
    const double sd2 = sqrt(two.thing[0].cov[ST_THETA_R * (ST_NTHETA + 1)]);
    const double sd1 = sqrt(one.thing[0].cov[ST_THETA_R * (ST_NTHETA + 1)]);
    assert_true(sd2 > 0.9 * sd1 && sd2 < 1.25 * sd1);
    st_learnt_done(&one);
    st_learnt_done(&two);
}

static void test_what_cannot_be_told_apart_is_named(void **state)
{
    static struct st_jar j;
    struct st_learnt early, both;
    struct st_observation s[2];
    const int piece[] = { -1, -1 };
    (void)state;
    make_jar(&j, "damsons", 300.0, 30.0);
    /* one exact strength of the first day: its juice came out fast, or much of it was washed off at once */
    s[0] = seen(ST_SEEN_STRENGTH, 0.5, 38.0);
    s[0].sd = 0.1;
    s[1] = seen(ST_SEEN_DRAINED_G, 30.0, 250.0);
    const struct st_learn_batch a = { &j, s, piece, 2 };
    assert_true(st_learn(&a, 1, &early) >= 0);
    const struct st_learnt_thing *l = &early.thing[0];
    assert_int_equal(l->n_twin, 1);
    assert_int_equal(l->twin[0][0], ST_THETA_D);
    assert_int_equal(l->twin[0][1], ST_THETA_W);
    assert_true(l->cov[ST_THETA_D * ST_NTHETA + ST_THETA_W] < 0.0); /* the faster, the less was washed off */
    st_learnt_done(&early);
    /* a weight tells what is kept, and nothing else: no twins */
    const struct st_observation w = seen(ST_SEEN_DRAINED_G, 30.0, 250.0);
    const struct st_learn_batch b = { &j, &w, piece, 1 };
    assert_true(st_learn(&b, 1, &both) >= 0);
    assert_int_equal(both.thing[0].n_twin, 0);
    st_learnt_done(&both);
}

/* ---- another, finer model: three sizes of piece, 160 shells ---- */

enum { DAYS = 12 };
static const double ON_DAY[DAYS] = { 0.25, 0.5, 1, 1.5, 2, 3, 4, 6, 8, 12, 18, 25 };

struct truth {
    double share[DAYS], solids_g, strength;
};

static double deviate(uint64_t seed, uint32_t what, uint64_t k)
{
    double u;
    st_uniform_n(seed, what, k, 1, &u);
    return st_normal_from_uniform(u);
}

static double uniform(uint64_t seed, uint32_t what, uint64_t k)
{
    double u;
    st_uniform_n(seed, what, k, 1, &u);
    return u;
}

static void true_jar(const char *name, double g, double days, const double theta[ST_NTHETA], struct truth *out)
{
    static const double SIZE[] = { 0.8, 1.0, 1.25 };
    const struct st_ingredient *in = must(name);
    static struct st_jar j;
    struct st_jar_told told;
    double thetas[3 * ST_NTHETA], time[DAYS];
    struct st_habit h;

    st_jar_begin(&j, &books->jar, days * DAY_S);
    for (int k = 0; k < 3; k++) {
        struct st_jar_piece *p = st_jar_add(&j, in, g / 3.0, 0);
        assert_non_null(p);
        assert_true(st_jar_habit(&j, k, ST_OF_AROMA, &h) >= 0);
        p->size_mm = 1e3 * h.a_m.value * SIZE[k];
        memcpy(thetas + k * ST_NTHETA, theta, ST_NTHETA * sizeof *theta);
    }
    assert_non_null(st_jar_pour_spirit(&j, 500.0, 45.0, 0));
    for (int i = 0; i < DAYS; i++)
        time[i] = ON_DAY[i] * DAY_S;
    const struct st_jar_options o = { .time = time, .n_time = DAYS, .shells = 160, .tolerance = 1e-6 };
    assert_true(st_jar_run_thetas(&j, &o, 1, thetas, &told) >= 0);
    for (int i = 0; i < DAYS; i++) {
        int at = 0, n = 0;
        while (fabs(told.t_s[at] - time[i]) > 1.0)
            at++;
        out->share[i] = 0.0;
        for (int c = 0; c < told.n_curve; c++)
            if (!told.curve[c].late && told.curve[c].of != ST_OF_LIQUID) {
                out->share[i] += told.curve[c].share.raw[at];
                n++;
            }
        out->share[i] /= n;
    }
    out->solids_g = told.end[0].solids_g.raw[0];
    st_jar_told_done(&told);
}

/* What a maker would write down of it: colours, marks, the weight; one in fifteen colours is wild. */
static int observe(const struct truth *t, uint64_t k, double days, struct st_observation s[])
{
    int n = 0;
    const double b0 = 5.0 + 1.5 * deviate(7, 31, k), b1 = fmax(2.0 + 0.7 * deviate(7, 32, k), 0.3);
    for (int i = 0; i < DAYS; i++) {
        const uint64_t at = k * 100 + (uint64_t)i;
        const double wild = uniform(7, 33, at) < 1.0 / 15.0 ? (uniform(7, 34, at) < 0.5 ? 0.4 : 2.5) : 1.0;
        s[n++] = seen(ST_SEEN_COLOUR, ON_DAY[i], 3.7 * t->share[i] * wild * exp(0.15 * deviate(7, 35, at)));
        if (i % 2) {
            const double mark = b0 + b1 * log(t->share[i] / t->share[DAYS - 1]) + deviate(7, 36, at);
            s[n++] = seen(ST_SEEN_MARK, ON_DAY[i], fmin(fmax(mark, 0.0), 10.0));
        }
    }
    s[n++] = seen(ST_SEEN_DRAINED_G, days, t->solids_g * (1.0 + 0.02 * deviate(7, 37, k)));
    return n;
}

static void test_intervals_hold_on_another_model(void **state)
{
#if ST_SHARED
    enum { JARS = 12, COUNTS = 0 }; /* there only that it runs: it takes ten times as long */
#else
    enum { JARS = 240, COUNTS = 1 };
#endif
    static const char *const NAME[] = { "cloves", "coriander seed", "vanilla pod" };
    static const enum st_theta ASKED[] = { ST_THETA_D, ST_THETA_W, ST_THETA_R };
    int inside[ST_NTHETA] = { 0 }, asked = 0, held = 0;
    double narrower = 0.0;
    (void)state;
    for (uint64_t k = 0; k < JARS; k++) {
        struct st_jar j;
        struct truth t;
        struct st_learnt out;
        struct st_observation s[3 * DAYS];
        int piece[3 * DAYS] = { 0 };
        double theta0[ST_NTHETA], theta[ST_NTHETA];
        struct st_theta_prior prior;
        struct st_habit h;
        const double days = 25.0;

        make_jar(&j, NAME[k % 3], 20.0, days);
        assert_true(st_jar_habit(&j, 0, ST_OF_ANY, &h) >= 0);
        st_theta_prior_of(&h, &j.piece[0].retention, &prior);
        for (int i = 0; i < ST_NTHETA; i++) { /* the ingredient's, and of this batch */
            theta0[i] = st_learn_own(prior.sd[i]) * deviate(7, (uint32_t)i, k);
            theta[i] = theta0[i] + st_learn_between(prior.sd[i]) * deviate(7, (uint32_t)(10 + i), k);
        }
        true_jar(NAME[k % 3], 20.0, days, theta, &t);
        const struct st_learn_batch b = { &j, s, piece, observe(&t, k, days, s) };
        const enum st_status status = st_learn(&b, 1, &out);
        assert_true(status >= 0 || status == ST_E_NOCONV);
        const struct st_learnt_thing *l = &out.thing[0];
        for (size_t i = 0; i < sizeof ASKED / sizeof *ASKED; i++) {
            const int a = (int)ASKED[i];
            const bool is = fabs(theta0[a] - l->mean[a]) <= 1.959964 * sqrt(l->cov[a * ST_NTHETA + a]);
            inside[a] += is;
            held += is;
            asked++;
        }
        narrower += sqrt(l->cov[0]) / l->prior_sd[0] / JARS;
        st_learnt_done(&out);
    }
    print_message(
        "95 %% intervals: D %d, w %d, retention %d of %d jars; together %.1f %%; sd of ln D %.2f of the prior's\n",
        inside[ST_THETA_D], inside[ST_THETA_W], inside[ST_THETA_R], JARS, 100.0 * held / asked, narrower);
    if (!COUNTS)
        return;
    assert_true(held >= 0.91 * asked && held <= 0.98 * asked);
    for (size_t i = 0; i < sizeof ASKED / sizeof *ASKED; i++)
        assert_true(inside[ASKED[i]] >= 0.89 * JARS); /* each alone: 95 % less 4 standard errors of 1.4 % */
    assert_true(narrower < 0.7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_drained_weight_teaches_retention_alone),
        cmocka_unit_test(test_nothing_usable_is_refused),
        cmocka_unit_test(test_too_weak_then_right_is_slower_than_right_at_once),
        cmocka_unit_test(test_a_liquid_that_is_thinned_looks_paler),
        cmocka_unit_test(test_a_flask_is_learnt_from_as_a_hydrometer),
        cmocka_unit_test(test_makings_are_put_together),
        cmocka_unit_test(test_no_single_reading_widens_a_band),
        cmocka_unit_test(test_no_theta_is_in_more_doubt),
        cmocka_unit_test(test_one_colour_says_nothing_of_the_content),
        cmocka_unit_test(test_one_thing_in_two_lines_is_one_thing),
        cmocka_unit_test(test_what_cannot_be_told_apart_is_named),
        cmocka_unit_test(test_intervals_hold_on_another_model),
    };
    return cmocka_run_group_tests(tests, load_steep, unload_steep);
}
